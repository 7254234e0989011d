//! The photograph with the garment's outline: its points and the sheet's corners dragged, moved by keys, added and removed.

use super::super::hands::{ARROWS, LONG_STEP, dragged, looked};
use super::super::picture::OnScreen;
use super::super::tiles::fitting;
use super::marked::{Grip, Marked};
use super::{OutlineView, Ready};
use crate::app::theme::Palette;
use egui::{
    Color32, EventFilter, Key, Modifiers, Painter, PointerButton, Pos2, Rect, Response, Role, Sense, Shape, Stroke, StrokeKind,
    Ui, Vec2, WidgetInfo,
};

/// What pointer and keys do on a photograph that an outline is taken from, for the help.
pub(crate) const OUTLINING: [(&str, &str); 5] = [
    ("Drag a point of the outline", "Move it onto the edge of the cloth"),
    ("Drag a corner of the sheet", "Put it where the paper's corner is"),
    ("Double-click the picture", "Add a point to the outline there"),
    ("Arrow keys", "Move what is chosen by a pixel (Shift: ten)"),
    ("Delete", "Remove the chosen point"),
];

/// Size of what is taken hold of, of a point's dot and of a corner's box, points.
const HANDLE: f32 = 18.0;
const DOT: f32 = 3.5;
const BOX: f32 = 9.0;

impl OutlineView {
    pub(super) fn picture(&mut self, area: Rect, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let response = ui.interact(area, ui.scope_id().with("outline"), Sense::click_and_drag());
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
            let mut added = 0;
            ready.history.change("Add a point", |marked| added = marked.add(table.whole(at)));
            ready.wanted = Some(Grip::Node(added));
        }
        ready.trace();
        ready.paint(&table, &painter, palette);
        ready.grips(&mut self.chosen, &table, palette, ui);
    }
}

impl Ready {
    fn grips(&mut self, chosen: &mut Option<Grip>, table: &OnScreen<'_>, palette: &Palette, ui: &mut Ui) {
        let painter = ui.painter_at(table.area);
        for grip in self.history.now.grips() {
            let Some(at) = self.history.now.place(grip) else { continue };
            let room = Rect::from_center_size(table.screen(at), Vec2::splat(HANDLE));
            let response = ui.interact(room.intersect(table.area), ui.scope_id().with(("grip", grip)), Sense::click_and_drag());
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, Marked::name(grip)));
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
            self.paint_grip(grip, table, *chosen == Some(grip) || response.hovered(), &painter, palette);
        }
    }

    fn drag(&mut self, grip: Grip, table: &OnScreen<'_>, response: &Response) {
        if response.dragged_by(PointerButton::Primary) {
            self.history.take_hold(format!("Move {}", Marked::name(grip)));
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
                self.history.take_hold(format!("Move {}", Marked::name(grip)));
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
        if let Grip::Node(node) = grip
            && deletes
        {
            self.history.change("Remove a point", |marked| marked.remove(node));
            return true;
        }
        if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            response.surrender_focus();
        }
        false
    }

    /// The sheet, the outline as it is marked, and over it the garment that is taken.
    fn paint(&self, table: &OnScreen<'_>, painter: &Painter, palette: &Palette) {
        let now = &self.history.now;
        let closed =
            |points: &[kurbo::Point]| -> Vec<Pos2> { points.iter().chain(points.first()).map(|at| table.screen(*at)).collect() };
        let (sheet, marked) = (closed(&now.sheet.corners), closed(&now.nodes));
        painter.line(sheet.clone(), Stroke::new(3.0, Color32::from_black_alpha(110)));
        painter.extend(Shape::dashed_line(&sheet, Stroke::new(1.4, palette.accent), 6.0, 5.0));
        painter.line(marked.clone(), Stroke::new(3.0, Color32::from_black_alpha(110)));
        painter.line(marked, Stroke::new(1.2, Color32::WHITE));
        if let Some(half) = self.half() {
            let taken = closed(&half.seen);
            painter.line(taken.clone(), Stroke::new(4.0, Color32::from_black_alpha(110)));
            painter.line(taken, Stroke::new(2.0, palette.accent));
        }
    }

    fn paint_grip(&self, grip: Grip, table: &OnScreen<'_>, is_chosen: bool, painter: &Painter, palette: &Palette) {
        let Some(at) = self.history.now.place(grip).map(|at| table.screen(at)) else { return };
        let ink = if is_chosen { palette.accent } else { Color32::WHITE };
        let dark = Color32::from_black_alpha(190);
        match grip {
            Grip::Node(_) => {
                painter.circle_filled(at, DOT + 1.5, dark);
                painter.circle_filled(at, if is_chosen { DOT + 1.0 } else { DOT }, ink);
            }
            Grip::Sheet(_) => {
                let handle = Rect::from_center_size(at, Vec2::splat(BOX));
                painter.rect_filled(handle.expand(1.5), 1.0, dark);
                painter.rect_stroke(handle, 0.0, Stroke::new(1.8, ink), StrokeKind::Inside);
            }
        }
    }
}
