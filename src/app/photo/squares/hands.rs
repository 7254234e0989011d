//! The photograph with its squares: dragged, made larger and smaller, moved by keys, added and removed.

use super::super::hands::{ARROWS, LONG_STEP, dragged, looked};
use super::super::picture::OnScreen;
use super::super::tiles::fitting;
use super::drawn::{Drawn, Grip};
use super::{Ready, SquaresView};
use crate::app::theme::{Palette, tone};
use crate::photo::White;
use egui::{
    Color32, CornerRadius, EventFilter, FontId, Key, Modifiers, Painter, PointerButton, Pos2, Rect, Response, Role, Sense,
    Stroke, StrokeKind, Ui, Vec2, WidgetInfo, vec2,
};

/// What pointer and keys do on a photograph of dyed squares, for the help.
pub(crate) const SQUARES: [(&str, &str); 6] = [
    ("Drag a square, or a corner of it", "Move it, or make it larger or smaller"),
    ("Drag a corner of the sheet", "Put it where the paper's corner is"),
    ("Double-click the picture", "Add a square there"),
    ("Tab, Shift+Tab", "Choose the next square, the one before"),
    ("Arrow keys", "Move what is chosen by a pixel (Shift: ten)"),
    ("Delete", "Remove the chosen square"),
];

/// Size of what a corner is taken hold of by, and of what shows of it, points.
const HANDLE: f32 = 22.0;
const SHOWN: f32 = 9.0;

impl SquaresView {
    pub(super) fn picture(&mut self, area: Rect, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let response = ui.interact(area, ui.scope_id().with("squares"), Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, format!("Photograph {}", self.name)));
        let Some(ready) = &mut self.ready else { return };
        ready.tiles.keep_up(ui.ctx());
        let view = self.view.get_or_insert_with(|| fitting(ready.photograph.kept(), area));
        if !self.is_moved {
            *view = fitting(ready.photograph.kept(), area);
        }
        self.is_moved |= looked(view, &response, ui);
        let photograph = ready.photograph.clone();
        let table = OnScreen { photograph: &photograph, view: *view, area };
        let painter = ui.painter_at(area);
        ready.tiles.paint(&table.view, area, &painter);
        if response.clicked() {
            response.request_focus();
            self.chosen = None;
        }
        if let Some(at) = response.interact_pointer_pos().filter(|_| response.double_clicked()) {
            let (at, picture) = (table.whole(at), ready.photograph.whole());
            ready.history.change("Add a square", |drawn| drawn.add_at(at, picture));
            ready.wanted = ready.history.now.squares.len().checked_sub(1).map(Grip::Square);
        }
        ready.measure();
        ready.paint_sheet(&table, &painter, palette);
        ready.paint_squares(&table, self.chosen.and_then(Grip::square), &painter, palette);
        ready.grips(&mut self.chosen, &table, palette, ui);
    }

    /// Turns to a square, and gives it the keys.
    pub(super) fn turn_to(&mut self, square: usize) {
        self.chosen = Some(Grip::Square(square));
        if let Some(ready) = &mut self.ready {
            ready.wanted = self.chosen;
        }
    }
}

impl Ready {
    fn grips(&mut self, chosen: &mut Option<Grip>, table: &OnScreen<'_>, palette: &Palette, ui: &mut Ui) {
        let painter = ui.painter_at(table.area);
        for grip in self.history.now.grips(chosen.and_then(Grip::square)) {
            let Some(at) = self.history.now.place(grip) else { continue };
            let room = match grip {
                Grip::Square(square) => table.rect(self.history.now.squares[square].place),
                _ => Rect::from_center_size(table.screen(at), Vec2::splat(HANDLE)),
            };
            let response = ui.interact(room.intersect(table.area), ui.scope_id().with(("grip", grip)), Sense::click_and_drag());
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, self.history.now.name(grip)));
            if self.wanted == Some(grip) {
                self.wanted = None;
                response.request_focus();
            }
            if response.drag_started() || response.clicked() {
                response.request_focus();
            }
            if response.gained_focus() || response.has_focus() {
                *chosen = Some(grip);
            }
            self.drag(grip, table, &response);
            if response.has_focus() && self.keys(grip, &response, ui) {
                *chosen = None;
                return;
            }
            if !matches!(grip, Grip::Square(_)) {
                self.paint_corner(grip, table, *chosen == Some(grip) || response.hovered(), &painter, palette);
            }
        }
    }

    fn drag(&mut self, grip: Grip, table: &OnScreen<'_>, response: &Response) {
        if response.dragged_by(PointerButton::Primary) {
            self.history.take_hold(format!("Move {}", self.history.now.name(grip)));
            self.history.now.shift(grip, table.whole_by(dragged(response)), self.photograph.whole());
        }
        if response.drag_stopped() {
            self.history.let_go();
        }
    }

    /// What keys do to what is chosen; whether it is gone.
    fn keys(&mut self, grip: Grip, response: &Response, ui: &Ui) -> bool {
        let own = EventFilter { tab: false, horizontal_arrows: true, vertical_arrows: true, escape: true };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, own));
        for (key, x, y) in ARROWS {
            // With Shift first: a key without it is taken for one with it.
            let [long, short] =
                ui.input_mut(|input| [Modifiers::SHIFT, Modifiers::NONE].map(|held| input.count_and_consume_key(held, key)));
            let count = |times: usize| u32::try_from(times).map_or(0.0, f64::from);
            let steps = LONG_STEP * count(long) + count(short);
            if steps > 0.0 {
                self.history.take_hold(format!("Move {}", self.history.now.name(grip)));
                self.history.now.shift(grip, steps * kurbo::Vec2::new(x, y), self.photograph.whole());
            }
        }
        let is_held = ui.input(|input| ARROWS.iter().any(|(key, ..)| input.key_down(*key)));
        if !is_held && !response.dragged() {
            self.history.let_go();
        }
        let deletes = ui.input_mut(|input| {
            input.consume_key(Modifiers::NONE, Key::Delete) || input.consume_key(Modifiers::NONE, Key::Backspace)
        });
        if let Some(square) = grip.square().filter(|_| deletes) {
            self.remove(square);
            return true;
        }
        if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            response.surrender_focus();
        }
        false
    }

    pub(super) fn remove(&mut self, square: usize) {
        let label = format!("Remove {}", self.history.now.name(Grip::Square(square)));
        self.history.change(&label, |drawn: &mut Drawn| {
            drawn.squares.remove(square);
        });
    }

    fn paint_sheet(&self, table: &OnScreen<'_>, painter: &Painter, palette: &Palette) {
        let White::Sheet(sheet) = &self.history.now.white else { return };
        let [a, b, c, d] = sheet.corners;
        let line: Vec<Pos2> = [a, b, c, d, a].into_iter().map(|at| table.screen(at)).collect();
        painter.line(line.clone(), Stroke::new(3.0, Color32::from_black_alpha(110)));
        painter.extend(egui::Shape::dashed_line(&line, Stroke::new(1.4, palette.accent), 6.0, 5.0));
    }

    fn paint_squares(&self, table: &OnScreen<'_>, chosen: Option<usize>, painter: &Painter, palette: &Palette) {
        let dark = Color32::from_black_alpha(190);
        for (index, square) in self.history.now.squares.iter().enumerate() {
            let rect = table.rect(square.place);
            let ink = if chosen == Some(index) { palette.accent } else { Color32::WHITE };
            painter.rect_stroke(rect, 0.0, Stroke::new(4.0, dark), StrokeKind::Middle);
            painter.rect_stroke(rect, 0.0, Stroke::new(1.8, ink), StrokeKind::Middle);
            let galley = painter.layout_no_wrap(square.name.clone(), FontId::proportional(13.0), Color32::WHITE);
            let patch = self.colours().get(index).map(|colour| tone(colour.srgb));
            let before = if patch.is_some() { galley.size().y + 4.0 } else { 0.0 };
            let size = galley.size() + vec2(before, 0.0);
            // Below the cloth, so that this stays to be seen.
            let tag = Rect::from_min_size(rect.left_bottom() + vec2(0.0, 4.0), size);
            painter.rect_filled(tag.expand2(vec2(4.0, 2.0)), 3.0, dark);
            if let Some(patch) = patch {
                let side = Rect::from_min_size(tag.min, Vec2::splat(galley.size().y));
                painter.rect(side, CornerRadius::same(2), patch, Stroke::new(1.0, Color32::WHITE), StrokeKind::Inside);
            }
            painter.galley(tag.min + vec2(before, 0.0), galley, Color32::WHITE);
        }
    }

    fn paint_corner(&self, grip: Grip, table: &OnScreen<'_>, is_chosen: bool, painter: &Painter, palette: &Palette) {
        let Some(at) = self.history.now.place(grip) else { return };
        let handle = Rect::from_center_size(table.screen(at), Vec2::splat(SHOWN));
        let ink = if is_chosen { palette.accent } else { Color32::WHITE };
        painter.rect_filled(handle.expand(1.5), 1.0, Color32::from_black_alpha(190));
        painter.rect_stroke(handle, 0.0, Stroke::new(1.8, ink), StrokeKind::Inside);
    }
}
