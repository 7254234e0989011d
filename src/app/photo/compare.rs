//! The photograph straightened, the plan and their difference beside each other, or the photograph over the plan behind a curtain.

use super::holder::Held;
use super::{PhotoView, Shown};
use crate::app::canvas::View;
use crate::app::screen::screen;
use crate::app::theme::Palette;
use egui::{
    Align2, Color32, CursorIcon, EventFilter, FontId, Key, Modifiers, Painter, PointerButton, Pos2, Rect, Role, Sense, Shape,
    Stroke, TextureHandle, Ui, Vec2, WidgetInfo, pos2, vec2,
};
use kurbo::Point;

/// Room above a picture for its name, and round it, points.
const HEAD: f32 = 22.0;
const MARGIN: f32 = 6.0;
/// How far a key moves the curtain, as a share of the breadth.
const STEP: f32 = 0.02;
const LONG_STEP: f32 = 0.1;
/// Half the breadth of what the curtain is taken hold of by, points.
const GRIP: f32 = 9.0;
/// Rings closer than this on the screen have neither bars nor numbers, points.
const LEAST_APART: f32 = 15.0;

/// What the three pictures are.
pub(super) const PICTURES: [&str; 3] = ["Photograph, straightened", "Plan", "Difference"];

impl PhotoView {
    /// The pictures of what was measured.
    pub(super) fn compared(&mut self, area: Rect, ui: &mut Ui) {
        let Some(held) = &self.held else { return };
        let frame = held.frame;
        let [width_mm, height_mm] = [frame.width, frame.height].map(|side| side as f64 * frame.pixel_mm);
        let bounds = kurbo::Rect::new(frame.left_mm, frame.top_mm, frame.left_mm + width_mm, frame.top_mm + height_mm);
        let rooms = match self.shown {
            Shown::Curtain => vec![area],
            _ => thirds(area, vec2(screen(width_mm), screen(height_mm))),
        };
        let first = below_head(rooms[0]);
        let view = self.plan_view.get_or_insert_with(|| View::fitting(bounds, first, false));
        if !self.is_plan_moved {
            *view = View::fitting(bounds, first, false);
        }
        for (index, room) in rooms.iter().enumerate() {
            let response = ui.interact(below_head(*room), ui.scope_id().with(("compared", index)), Sense::click_and_drag());
            let label = if self.shown == Shown::Curtain { "Photograph over plan" } else { PICTURES[index] };
            response.widget_info(|| WidgetInfo::labeled(Role::Image, true, label));
            if let Some(pointer) = response.hover_pos() {
                let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta, input.zoom_delta()));
                let factor = f64::from(pinch) * (f64::from(scroll.y) * 0.004).exp();
                if (factor - 1.0).abs() > 1e-6 {
                    view.zoom_at(response.rect, pointer, factor);
                    self.is_plan_moved = true;
                }
            }
            if response.dragged() {
                view.pan(response.drag_delta());
                self.is_plan_moved = true;
            }
        }
        let view = *view;
        let palette = Palette::of(ui.ctx());
        if self.shown == Shown::Curtain {
            self.curtain_drawn(&view, area, palette, ui);
            return;
        }
        for (index, room) in rooms.into_iter().enumerate() {
            let painter = ui.painter_at(room);
            let head = pos2(room.left() + 8.0, room.top() + 3.0);
            painter.text(head, Align2::LEFT_TOP, PICTURES[index], FontId::proportional(14.0), palette.ink);
            let room = below_head(room);
            let painter = painter.with_clip_rect(room);
            picture(&held.pictures[index], held, &view, room, &painter);
            if index < 2 && !self.rings_hidden {
                rings(held, &view, room, &painter, palette);
            }
        }
    }

    /// The photograph to the left of the curtain, the plan to its right.
    fn curtain_drawn(&mut self, view: &View, area: Rect, palette: &Palette, ui: &mut Ui) {
        let room = below_head(area);
        let x = |share: f32| room.left() + share * room.width();
        let grip = Rect::from_x_y_ranges(x(self.curtain) - GRIP..=x(self.curtain) + GRIP, room.y_range());
        let response = ui.interact(grip, ui.scope_id().with("curtain"), Sense::click_and_drag());
        let share = f64::from(100.0 * self.curtain).round();
        response.widget_info(|| WidgetInfo::slider(true, share, "Curtain"));
        if response.dragged_by(PointerButton::Primary)
            && let Some(at) = response.interact_pointer_pos()
        {
            self.curtain = ((at.x - room.left()) / room.width().max(1.0)).clamp(0.0, 1.0);
        }
        if response.clicked() || response.drag_started() {
            response.request_focus();
        }
        if response.has_focus() {
            let own = EventFilter { tab: false, horizontal_arrows: true, vertical_arrows: false, escape: false };
            ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, own));
            for (key, way) in [(Key::ArrowLeft, -1.0), (Key::ArrowRight, 1.0)] {
                let [long, short] =
                    ui.input_mut(|input| [Modifiers::SHIFT, Modifiers::NONE].map(|held| input.consume_key(held, key)));
                let by = if long {
                    LONG_STEP
                } else if short {
                    STEP
                } else {
                    0.0
                };
                self.curtain = (self.curtain + way * by).clamp(0.0, 1.0);
            }
        }
        if response.hovered() || response.dragged() {
            ui.set_cursor_icon(CursorIcon::ResizeHorizontal);
        }
        let Some(held) = &self.held else { return };
        let at = x(self.curtain);
        let painter = ui.painter_at(area);
        let ends = [
            (0, room.with_max_x(at), Align2::LEFT_TOP, room.left() + 8.0),
            (1, room.with_min_x(at), Align2::RIGHT_TOP, room.right() - 8.0),
        ];
        for (index, clip, anchor, head) in ends {
            let painter = painter.with_clip_rect(clip);
            picture(&held.pictures[index], held, view, room, &painter);
            let head = pos2(head, area.top() + 3.0);
            ui.painter().text(head, anchor, PICTURES[index], FontId::proportional(14.0), palette.ink);
        }
        if !self.rings_hidden {
            rings(held, view, room, &painter.with_clip_rect(room), palette);
        }
        let is_held = response.has_focus() || response.hovered() || response.dragged();
        let line = [pos2(at, room.top()), pos2(at, room.bottom())];
        painter.line_segment(line, Stroke::new(4.0, Color32::from_black_alpha(150)));
        painter.line_segment(line, Stroke::new(if is_held { 3.0 } else { 2.0 }, palette.accent));
        painter.circle(pos2(at, room.center().y), GRIP, palette.accent, Stroke::new(1.5, Color32::from_black_alpha(150)));
    }
}

fn below_head(room: Rect) -> Rect {
    room.with_min_y(room.top() + HEAD).shrink(MARGIN)
}

/// Three rooms: beside each other, two and one, or above each other, whichever shows pictures of this size largest.
fn thirds(area: Rect, size: Vec2) -> Vec<Rect> {
    let cells = |columns: u8| {
        let rows = 3_u8.div_ceil(columns);
        let cell = area.size() / vec2(f32::from(columns), f32::from(rows));
        let room = cell - vec2(2.0 * MARGIN, HEAD + 2.0 * MARGIN);
        ((room.x / size.x).min(room.y / size.y), columns, cell)
    };
    let best = [3, 2, 1].map(cells).into_iter().max_by(|a, b| a.0.total_cmp(&b.0));
    let (_, columns, cell) = best.unwrap_or_else(|| cells(3));
    let room = |index: u8| {
        let place = vec2(f32::from(index % columns), f32::from(index / columns));
        Rect::from_min_size(area.min + cell * place, cell)
    };
    (0..3).map(room).collect()
}

fn picture(texture: &TextureHandle, held: &Held, view: &View, room: Rect, painter: &Painter) {
    let frame = held.frame;
    let [width_mm, height_mm] = [frame.width, frame.height].map(|side| side as f64 * frame.pixel_mm);
    let at = |x: f64, y: f64| view.screen_from_mm(room, Point::new(x, y));
    let rect = Rect::from_min_max(at(frame.left_mm, frame.top_mm), at(frame.left_mm + width_mm, frame.top_mm + height_mm));
    painter.image(texture.id(), rect, Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0)), Color32::WHITE);
}

/// Rings as planned, dashed, and as they were found, with a bar for how far off each may be.
fn rings(held: &Held, view: &View, room: Rect, painter: &Painter, palette: &Palette) {
    let dark = Color32::from_black_alpha(150);
    let at = |point: &Point| view.screen_from_mm(room, *point);
    let mut last: Option<Pos2> = None;
    for line in &held.lines {
        for stretch in &line.planned {
            let stretch: Vec<Pos2> = stretch.iter().map(at).collect();
            painter.extend(Shape::dashed_line(&stretch, Stroke::new(1.2, Color32::from_white_alpha(200)), 3.0, 3.0));
        }
        for stretch in line.found.iter().flatten() {
            let stretch: Vec<Pos2> = stretch.iter().map(at).collect();
            painter.line(stretch.clone(), Stroke::new(2.6, dark));
            painter.line(stretch, Stroke::new(1.4, palette.accent));
        }
        let Some(bar) = line.bar.map(|ends| ends.map(|end| at(&end))) else { continue };
        let middle = bar[0].lerp(bar[1], 0.5);
        if last.is_some_and(|last| last.distance(middle) < LEAST_APART) {
            continue;
        }
        last = Some(middle);
        let across = 3.0 * (bar[1] - bar[0]).normalized().rot90();
        for (width, colour) in [(3.6, dark), (1.8, Color32::WHITE)] {
            painter.line_segment(bar, Stroke::new(width, colour));
            for end in bar {
                painter.line_segment([end - across, end + across], Stroke::new(width, colour));
            }
        }
        let galley = painter.layout_no_wrap(line.bind.to_string(), FontId::proportional(12.0), Color32::WHITE);
        let place = Rect::from_min_size(middle + vec2(6.0, -6.0), galley.size());
        painter.rect_filled(place.expand2(vec2(2.0, 0.0)), 3.0, dark);
        painter.galley(place.min, galley, Color32::WHITE);
    }
}
