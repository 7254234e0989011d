//! The photograph with a handle on each point: dragged, moved by arrow keys, seen enlarged while it is held.

use super::marking::{Handle, Mark};
use super::tiles::{enlarged, fitting, inset_side};
use super::{PhotoView, Ready};
use crate::app::canvas::View;
use crate::app::theme::Palette;
use crate::layout::Layout;
use crate::photo::{MarkedPoint, named_points, seen_outline};
use crate::projection::{Homography, Pair};
use egui::{
    Align2, Color32, EventFilter, FontId, Key, Modifiers, Painter, PointerButton, Pos2, Rect, Response, Role, Sense, Shape,
    Stroke, StrokeKind, TextureOptions, Ui, Vec2, WidgetInfo, pos2, vec2,
};
use kurbo::Point;

/// What pointer and keys do on a photograph, for the help.
pub(crate) const MARKING: [(&str, &str); 6] = [
    ("Drag a point or a corner of the sheet", "Move it; it shows enlarged while you hold it"),
    ("Tab, Shift+Tab", "Choose the next point, the one before"),
    ("Arrow keys", "Move the chosen point by a pixel (Shift: ten)"),
    ("Delete", "Leave the chosen point out, or take it in again"),
    ("Wheel, pinch", "Zoom in or out at the pointer"),
    ("Drag the picture", "Move the view; the middle or right button does so anywhere"),
];

/// Size of what a point is taken hold of by, and of its ring, points.
const HANDLE: f32 = 26.0;
const RING: f32 = 7.0;
/// How many pixels the enlarged part has along a side, and how wide each is, kept pixels.
const INSET_PIXELS: u16 = 80;
const INSET_STEP: f64 = 0.5;
/// How many pixels a key moves a point by with Shift.
pub(super) const LONG_STEP: f64 = 10.0;
pub(super) const ARROWS: [(Key, f64, f64); 4] =
    [(Key::ArrowLeft, -1.0, 0.0), (Key::ArrowRight, 1.0, 0.0), (Key::ArrowUp, 0.0, -1.0), (Key::ArrowDown, 0.0, 1.0)];
/// How finely the plan's outline is drawn, mm.
const FLATNESS_MM: f64 = 1.0;

impl PhotoView {
    /// The photograph, and what hands and keys do to its points.
    pub(super) fn points(&mut self, area: Rect, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let response = ui.interact(area, ui.scope_id().with("photograph"), Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, format!("Photograph {}", self.name)));
        let Some(ready) = &mut self.ready else { return };
        ready.tiles.keep_up(ui.ctx());
        let view = self.view.get_or_insert_with(|| fitting(ready.photograph.kept(), area));
        if !self.is_moved {
            *view = fitting(ready.photograph.kept(), area);
        }
        self.is_moved |= looked(view, &response, ui);
        let view = *view;
        let painter = ui.painter_at(area);
        ready.tiles.paint(&view, area, &painter);
        if response.clicked() {
            response.request_focus();
        }
        if ready.history.is_none() {
            return;
        }
        if response.hovered() && !response.dragged() && response.has_focus() {
            self.chosen = None;
        }
        ready.plan_outline(&self.layout);
        ready.paint_outline(&view, area, &painter, palette);
        let held = ready.handles(&mut self.chosen, &view, area, palette, ui);
        if let Some(mark) = held {
            ready.inset(mark, &view, area, &painter, palette, ui);
        }
    }

    /// Turns the view to a mark where it does not show, and gives it the keys.
    pub(super) fn turn_to(&mut self, mark: Mark) {
        self.chosen = Some(mark);
        if let Some(ready) = &mut self.ready {
            ready.wanted = Some(mark);
        }
    }
}

/// Looks closer or elsewhere; whether a hand did.
pub(super) fn looked(view: &mut View, response: &Response, ui: &Ui) -> bool {
    let mut is_moved = false;
    if response.contains_pointer() {
        let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta, input.zoom_delta()));
        let factor = f64::from(pinch) * (f64::from(scroll.y) * 0.004).exp();
        if let Some(pointer) = ui.input(|input| input.pointer.hover_pos()).filter(|_| (factor - 1.0).abs() > 1e-6) {
            view.zoom_at(response.rect, pointer, factor);
            is_moved = true;
        }
    }
    if [PointerButton::Primary, PointerButton::Middle, PointerButton::Secondary]
        .into_iter()
        .any(|button| response.dragged_by(button))
    {
        view.pan(dragged(response));
        is_moved = true;
    }
    is_moved
}

/// How far the pointer came since the last frame. A drag counts as one only after a few points; what is held does not lag behind by them.
pub(super) fn dragged(response: &Response) -> Vec2 {
    let since_press = response.drag_started().then(|| response.ctx.input(|input| input.pointer.press_origin())).flatten();
    let at = response.interact_pointer_pos();
    since_press.zip(at).map_or(response.drag_delta(), |(from, to)| to - from)
}

impl Ready {
    fn screen(&self, view: &View, area: Rect, whole: Point) -> Pos2 {
        view.screen_from_mm(area, self.photograph.kept_from_whole(whole))
    }

    /// All handles; the one that a hand or the keys hold.
    fn handles(&mut self, chosen: &mut Option<Mark>, view: &View, area: Rect, palette: &Palette, ui: &mut Ui) -> Option<Mark> {
        let Some(history) = &self.history else { return None };
        let painter = ui.painter_at(area);
        let marks: Vec<Mark> = history.now.all().collect();
        let mut held = None;
        for mark in marks {
            let Some(at) = self.history.as_ref().and_then(|history| history.now.place(mark)) else { continue };
            let rect = Rect::from_center_size(self.screen(view, area, at), Vec2::splat(HANDLE));
            let response = ui.interact(rect.intersect(area), ui.scope_id().with(("mark", mark)), Sense::click_and_drag());
            self.tell(mark, &response);
            if self.wanted == Some(mark) {
                self.wanted = None;
                response.request_focus();
            }
            if response.drag_started() || response.clicked() {
                response.request_focus();
            }
            if response.gained_focus() || response.has_focus() {
                *chosen = Some(mark);
            }
            self.drag(mark, view, &response);
            if response.has_focus() {
                self.keys(mark, &response, ui);
            }
            if response.dragged() || response.has_focus() {
                held = Some(mark);
            }
            self.paint(mark, (view, area), *chosen == Some(mark) || response.hovered(), &painter, palette);
        }
        held
    }

    /// Its name and state, for who does not see it.
    fn tell(&self, mark: Mark, response: &Response) {
        let Some(history) = &self.history else { return };
        let name = history.now.name(mark);
        let state = match mark {
            Mark::Point(at) => history.now.points.get(at).map_or("", state),
            Mark::Corner(_) => "",
        };
        let words = if state.is_empty() { name } else { format!("{name}, {state}") };
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &words));
    }

    fn drag(&mut self, mark: Mark, view: &View, response: &Response) {
        let (Some(history), picture) = (&mut self.history, self.photograph.whole()) else { return };
        if response.dragged_by(PointerButton::Primary) {
            history.take_hold(format!("Move {}", history.now.name(mark)));
            let by = dragged(response);
            let by = self.photograph.step() * kurbo::Vec2::new(view.mm(by.x), view.mm(by.y));
            if let Some(at) = history.now.place(mark) {
                history.now.put(mark, at + by, picture);
            }
        }
        if response.drag_stopped() {
            history.let_go();
        }
    }

    fn keys(&mut self, mark: Mark, response: &Response, ui: &Ui) {
        let (Some(history), picture) = (&mut self.history, self.photograph.whole()) else { return };
        let own = EventFilter { tab: false, horizontal_arrows: true, vertical_arrows: true, escape: true };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, own));
        for (key, x, y) in ARROWS {
            // With Shift first: a key without it is taken for one with it.
            let [long, short] =
                ui.input_mut(|input| [Modifiers::SHIFT, Modifiers::NONE].map(|held| input.count_and_consume_key(held, key)));
            let count = |times: usize| u32::try_from(times).map_or(0.0, f64::from);
            let steps = LONG_STEP * count(long) + count(short);
            if let Some(at) = history.now.place(mark).filter(|_| steps > 0.0) {
                history.take_hold(format!("Move {}", history.now.name(mark)));
                history.now.put(mark, at + steps * kurbo::Vec2::new(x, y), picture);
            }
        }
        let is_held = ui.input(|input| ARROWS.iter().any(|(key, ..)| input.key_down(*key)));
        if !is_held && !response.dragged() {
            history.let_go();
        }
        let deletes = ui.input_mut(|input| {
            input.consume_key(Modifiers::NONE, Key::Delete) || input.consume_key(Modifiers::NONE, Key::Backspace)
        });
        if let Mark::Point(at) = mark
            && deletes
        {
            self.leave_out(at);
        }
        if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            response.surrender_focus();
        }
    }

    /// Leaves a point out, or takes it in again.
    pub(super) fn leave_out(&mut self, at: usize) {
        let Some(history) = &mut self.history else { return };
        let Some(handle) = history.now.points.get(at) else { return };
        let label = format!("{} {}", if handle.is_out { "Take in" } else { "Leave out" }, handle.name);
        history.change(&label, |marking| marking.points[at].is_out ^= true);
    }

    fn paint(&self, mark: Mark, (view, area): (&View, Rect), is_chosen: bool, painter: &Painter, palette: &Palette) {
        let Some(history) = &self.history else { return };
        let Some(at) = history.now.place(mark) else { return };
        let at = self.screen(view, area, at);
        let is_out = matches!(mark, Mark::Point(point) if history.now.points.get(point).is_some_and(|handle| handle.is_out));
        let tone = match (is_chosen, is_out) {
            (true, _) => palette.accent,
            (_, true) => Color32::from_gray(150),
            _ => Color32::WHITE,
        };
        let dark = Color32::from_black_alpha(190);
        for (width, colour) in [(4.0, dark), (if is_chosen { 2.2 } else { 1.6 }, tone)] {
            let stroke = Stroke::new(width, colour);
            if matches!(mark, Mark::Corner(_)) {
                painter.rect_stroke(Rect::from_center_size(at, Vec2::splat(2.0 * RING - 2.0)), 0.0, stroke, StrokeKind::Middle);
            } else {
                painter.circle_stroke(at, RING, stroke);
            }
            // The middle stays free: the place itself is to be seen.
            for way in [vec2(1.0, 0.0), vec2(-1.0, 0.0), vec2(0.0, 1.0), vec2(0.0, -1.0)] {
                painter.line_segment([at + 2.5 * way, at + (RING + 4.0) * way], stroke);
            }
        }
        let is_sheet = matches!(mark, Mark::Corner(_));
        if is_chosen || !is_sheet {
            let guess = matches!(mark, Mark::Point(point) if history.now.points.get(point).is_some_and(|handle| state(handle) == "a guess"));
            let words = format!("{}{}", history.now.name(mark), if guess { "?" } else { "" });
            let galley = painter.layout_no_wrap(words, FontId::proportional(13.0), tone);
            // Away from the garment's middle, where other points are.
            let (anchor, way) =
                if self.is_leftward(at.x, view, area) { (Align2::RIGHT_BOTTOM, -1.0) } else { (Align2::LEFT_BOTTOM, 1.0) };
            let place = anchor.anchor_size(at + vec2(way * (RING + 3.0), -3.0), galley.size());
            painter.rect_filled(place.expand2(vec2(3.0, 1.0)), 3.0, dark);
            painter.galley(place.min, galley, tone);
        }
    }

    /// Whether a place of the screen lies to the left of the points' middle.
    fn is_leftward(&self, x: f32, view: &View, area: Rect) -> bool {
        let points =
            self.history.iter().flat_map(|history| &history.now.points).map(|handle| self.screen(view, area, handle.at).x);
        let (sum, count) = points.fold((0.0, 0.0_f32), |(sum, count), x| (sum + x, count + 1.0));
        x < sum / count.max(1.0)
    }

    /// The part round a mark enlarged, in the corner of the picture that is farthest from it.
    fn inset(&mut self, mark: Mark, view: &View, area: Rect, painter: &Painter, palette: &Palette, ui: &Ui) {
        let Some(about) = self.history.as_ref().and_then(|history| history.now.place(mark)) else { return };
        if self.enlarged_at != Some(about) {
            let image = enlarged(&self.photograph, about, INSET_PIXELS, INSET_STEP, &self.bytes);
            match &mut self.enlarged {
                Some(texture) => texture.set(image, TextureOptions::NEAREST),
                None => self.enlarged = Some(ui.ctx().load_texture("enlarged", image, TextureOptions::NEAREST)),
            }
            self.enlarged_at = Some(about);
        }
        let Some(texture) = &self.enlarged else { return };
        let (at, side) = (self.screen(view, area, about), inset_side(area));
        let is_right = at.x < area.center().x;
        let x = if is_right { area.right() - side - 10.0 } else { area.left() + 10.0 };
        let rect = Rect::from_min_size(pos2(x, area.top() + 10.0), Vec2::splat(side));
        let rect = if rect.expand(HANDLE).contains(at) { rect.translate(vec2(0.0, area.height() - side - 20.0)) } else { rect };
        painter.rect_filled(rect.expand(3.0), 4.0, palette.accent);
        painter.image(texture.id(), rect, Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0)), Color32::WHITE);
        for (width, colour) in [(3.0, Color32::from_black_alpha(170)), (1.2, palette.accent)] {
            for way in [vec2(1.0, 0.0), vec2(-1.0, 0.0), vec2(0.0, 1.0), vec2(0.0, -1.0)] {
                painter.line_segment([rect.center() + 5.0 * way, rect.center() + 0.22 * side * way], Stroke::new(width, colour));
            }
        }
    }

    /// Where the marks have the plan's outline, computed anew where they changed.
    fn plan_outline(&mut self, layout: &Layout) {
        let Some(history) = &self.history else { return };
        let marks = history.now.marks();
        if self.outline.as_ref().is_some_and(|(of, _)| *of == marks) {
            return;
        }
        let named = named_points(layout, marks.side);
        let pair = |mark: &MarkedPoint| {
            let point = named.iter().find(|point| point.name == mark.name)?;
            Some(Pair { from: point.at, to: mark.at })
        };
        let pairs: Vec<Pair> = marks.points.iter().filter_map(pair).collect();
        // Without the lens's bend: it is drawn anew in each frame of a drag.
        let map = Homography::fit(&pairs);
        let mut lines: Vec<Vec<Point>> = Vec::new();
        if let (Ok(map), Some(outline)) = (map, seen_outline(layout, marks.side)) {
            let mut first = None;
            kurbo::flatten(outline, FLATNESS_MM, |element| match element {
                kurbo::PathEl::MoveTo(at) => {
                    first = map.apply(at);
                    lines.push(first.into_iter().collect());
                }
                kurbo::PathEl::LineTo(at) => lines.last_mut().into_iter().for_each(|line| line.extend(map.apply(at))),
                _ => lines.last_mut().into_iter().for_each(|line| line.extend(first)),
            });
        }
        self.outline = Some((marks, lines));
    }

    /// The plan's outline, and the sheet's sides.
    fn paint_outline(&self, view: &View, area: Rect, painter: &Painter, palette: &Palette) {
        let sheet = self.history.as_ref().and_then(|history| history.now.sheet.as_ref());
        let sheet = sheet.map(|sheet| {
            let [a, b, c, d] = sheet.corners;
            vec![a, b, c, d, a]
        });
        let outlines = self.outline.iter().flat_map(|(_, lines)| lines);
        for line in outlines.chain(&sheet) {
            let line: Vec<Pos2> = line.iter().map(|at| self.screen(view, area, *at)).collect();
            painter.line(line.clone(), Stroke::new(3.0, Color32::from_black_alpha(90)));
            painter.extend(Shape::dashed_line(&line, Stroke::new(1.3, palette.accent), 6.0, 5.0));
        }
    }
}

/// What is known of a point, in a word or two.
pub(super) fn state(handle: &Handle) -> &'static str {
    if handle.is_out { "left out" } else { handle.origin.words() }
}
