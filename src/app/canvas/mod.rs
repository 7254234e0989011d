//! The sheet of cloth to work on: what the pointer and the keys do to it.

mod paint;
mod scene;
mod tint;
mod view;

use self::paint::{Brush, Handle, Marked};
use self::tint::Tint;
use super::context::{Ask, Context};
use super::panel::Gaps;
use super::theme::Palette;
use crate::edit::{DragRules, EditCommand, Target};
use crate::geometry::Neighbours;
use crate::layout::Layout;
use egui::{Color32, CursorIcon, Key, Modifiers, PointerButton, Response, Role, Sense, Ui, WidgetInfo, vec2};
use kurbo::Point;
use std::sync::Arc;

pub(crate) use self::paint::chalk_on;
pub(crate) use self::scene::{Fill, Scene, Showing};
pub(crate) use self::tint::picture as tinted;
pub(crate) use self::view::{View, screen};

/// Room beside a fold for the tags, points.
const ROOM_FOR_TAGS: f32 = 34.0;
/// How near the pointer has to come, screen points.
const REACH: f32 = 9.0;
/// Steps of the keys, mm.
const NUDGE_MM: f64 = 1.0;
const LONG_NUDGE_MM: f64 = 10.0;

/// What pointer and keys do on the cloth, for the help.
pub(crate) const HANDLING: [(&str, &str); 13] = [
    ("Drag the cross", "Move the burst centre; it snaps to the centre line and the middle, with Shift it goes anywhere"),
    ("Drag a ring", "Move a bind, the guide arc or a further arc"),
    ("Click a ring", "Select it, for the keys"),
    ("Double click the cloth", "Add a bind there"),
    ("Ctrl and click a ring", "Remove that bind"),
    ("Delete", "Remove the selected bind or arc"),
    ("Arrow keys", "Move what is selected by 1 mm, with Shift by 10 mm"),
    ("Page Down, Page Up", "Select the next ring outward, inward"),
    ("Home", "Select the burst centre"),
    ("Alt and drag", "Measure a distance"),
    ("Wheel, pinch", "Look closer or from farther, at the pointer"),
    ("Drag the table", "Move it; so does the middle or the right button anywhere"),
    ("Escape", "Select nothing"),
];

/// The state of the canvas that is no part of the layout.
#[derive(Debug, Default)]
pub(crate) struct Canvas {
    /// How the garment is shown.
    pub(crate) showing: Showing,
    /// What the keys act on.
    pub(crate) selected: Option<Target>,
    /// What binds beside a dragged one do.
    pub(crate) neighbours: Neighbours,
    /// The plot of the gaps, which moves binds as the cloth does.
    pub(crate) gaps: Gaps,
    /// The place under the pointer, in the laid garment's plane.
    pub(crate) pointed: Option<Point>,
    /// Whether the sections show in their colours.
    pub(crate) tinted: bool,
    tint: Tint,
    view: Option<View>,
    /// Whether a hand has moved the view since it was fitted; until then it fits whatever room there is.
    moved: bool,
    scene: Option<(Arc<Layout>, Arc<Scene>)>,
    dragged: Option<(Target, kurbo::Vec2)>,
    measured: Option<[Point; 2]>,
}

impl Canvas {
    pub(crate) fn new(showing: Showing) -> Self {
        Self { showing, ..Self::default() }
    }

    /// Looks at the whole garment again.
    pub(crate) fn fit(&mut self) {
        self.moved = false;
    }

    /// Looks closer or from farther at the middle.
    pub(crate) fn zoom(&mut self, factor: f64) {
        self.moved = true;
        if let Some(view) = &mut self.view {
            let area = egui::Rect::from_min_size(egui::Pos2::ZERO, vec2(100.0, 100.0));
            view.zoom_at(area, area.center(), factor);
        }
    }

    pub(crate) fn show(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let (response, painter) = ui.allocate_painter(ui.available_size(), Sense::click_and_drag());
        let area = response.rect;
        let palette = Palette::of(ui.ctx());
        painter.rect_filled(area, 0.0, palette.table);
        let scene = self.scene(ctx);
        // Rulers lie along two edges, and beside a fold hang the binds' tags.
        let beside = if scene.folded { ROOM_FOR_TAGS } else { 0.0 };
        let room = egui::Rect::from_min_max(area.min + vec2(paint::RULER + beside, paint::RULER), area.max);
        let fitting = View::fitting_within(scene.bounds, area, room, scene.showing == Showing::Back);
        // A dragged edge must not pull the view along.
        let stays = self.moved || self.dragged.is_some();
        let mut view = self.view.filter(|_| stays).unwrap_or(fitting);
        self.look(&mut view, &response, ui);
        self.view = Some(view);
        let pointed = response.hover_pos().map(|at| laid(&view, area, at, ctx.layout, self.showing));
        self.pointed =
            pointed.or_else(|| response.interact_pointer_pos().map(|at| laid(&view, area, at, ctx.layout, self.showing)));
        let hovered = pointed.and_then(|point| Target::at(ctx.layout, point, view.mm(REACH)));
        self.handle(ctx, asks, ui, &response, &view);
        self.keys(ctx, asks, ui, &response);
        let marked = Marked {
            selected: self.selected.and_then(|target| Handle::of(target, ctx.layout)),
            hovered: hovered.and_then(|target| Handle::of(target, ctx.layout)),
        };
        let cloth = cloth_colour(ctx.layout, palette);
        let tint = self.tinted.then(|| self.tint.texture(ctx.layout, &scene, cloth, ui.ctx()));
        let brush = Brush { painter: &painter, area, view: &view, palette, cloth, tint };
        brush.scene(&scene, marked);
        if let Some(ends) = self.measured {
            brush.measure(ends, &ctx.lengths.format(ends[0].distance(ends[1])));
        }
        brush.rulers(ctx.lengths);
        if hovered.is_some() && self.dragged.is_none() {
            ui.ctx().set_cursor_icon(CursorIcon::Grab);
        }
        let label = format!("Garment, {}", self.showing.name());
        response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &label));
        self.announce(ctx, ui, area, &view);
        if let (Some(target), Some(_)) = (hovered, pointed) {
            response.on_hover_ui_at_pointer(|ui| reading(ctx, target, ui));
        }
    }

    /// What there is to paint, made anew when the layout or the way it is shown changed.
    fn scene(&mut self, ctx: &Context<'_>) -> Arc<Scene> {
        if let Some((layout, scene)) = &self.scene {
            if Arc::ptr_eq(layout, ctx.layout) && scene.showing == self.showing {
                return scene.clone();
            }
            if scene.showing != self.showing {
                self.moved = false;
            }
        }
        let scene = Arc::new(Scene::new(ctx.layout, ctx.figures, self.showing));
        self.scene = Some((ctx.layout.clone(), scene.clone()));
        scene
    }

    /// Zoom to the pointer, and pan with the middle or right button, or with the left on the bare table.
    fn look(&mut self, view: &mut View, response: &Response, ui: &Ui) {
        if response.hovered() {
            let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta, input.zoom_delta()));
            let pointer = ui.input(|input| input.pointer.hover_pos());
            let factor = f64::from(pinch) * (f64::from(scroll.y) * 0.004).exp();
            if let Some(pointer) = pointer.filter(|_| (factor - 1.0).abs() > 1e-6) {
                view.zoom_at(response.rect, pointer, factor);
                self.moved = true;
            }
            if scroll.x != 0.0 {
                view.pan(vec2(scroll.x, 0.0));
                self.moved = true;
            }
        }
        let by_hand = response.dragged_by(PointerButton::Middle) || response.dragged_by(PointerButton::Secondary);
        let bare = response.dragged_by(PointerButton::Primary) && self.dragged.is_none() && self.measured.is_none();
        if by_hand || bare {
            view.pan(response.drag_delta());
            self.moved = true;
        }
    }

    fn handle(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &Ui, response: &Response, view: &View) {
        let modifiers = ui.input(|input| input.modifiers);
        let at = response.interact_pointer_pos().map(|at| laid(view, response.rect, at, ctx.layout, self.showing));
        if response.drag_started_by(PointerButton::Primary) {
            let start = ui.input(|input| input.pointer.press_origin());
            let start = start.map(|at| laid(view, response.rect, at, ctx.layout, self.showing));
            self.start(ctx, asks, start, modifiers, view);
        }
        if let (Some((target, offset)), Some(at)) = (self.dragged, at)
            && response.dragged_by(PointerButton::Primary)
        {
            let rules = DragRules {
                snap_mm: if modifiers.shift { 0.0 } else { view.mm(REACH) },
                step_mm: ctx.step_mm(),
                neighbours: self.neighbours,
            };
            asks.push(Ask::Edit(target.dragged_to(ctx.layout, at + offset, rules)));
        }
        if let (Some(ends), Some(at)) = (&mut self.measured, at)
            && response.dragged_by(PointerButton::Primary)
        {
            ends[1] = at;
        }
        if response.drag_stopped() && self.dragged.take().is_some() {
            asks.push(Ask::EndGesture);
        }
        if response.clicked() {
            response.request_focus();
            self.measured = None;
            self.selected = at.and_then(|at| Target::at(ctx.layout, at, view.mm(REACH)));
            if let Some(Target::Bind(id)) = self.selected.filter(|_| modifiers.command) {
                asks.push(Ask::Edit(EditCommand::RemoveBind(id)));
                self.selected = None;
            }
        }
        if response.double_clicked()
            && let Some(at) = at.filter(|at| Target::at(ctx.layout, *at, view.mm(REACH)).is_none())
        {
            let radius_mm = at.distance(ctx.layout.burst().centre_as_laid());
            asks.push(Ask::Edit(EditCommand::AddBind(radius_mm.round().max(1.0))));
        }
    }

    /// A press takes hold of what is there; with Alt it begins to measure instead.
    fn start(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, start: Option<Point>, modifiers: Modifiers, view: &View) {
        self.measured = None;
        let Some(start) = start else { return };
        if modifiers.alt {
            self.measured = Some([start, start]);
            return;
        }
        if let Some(target) = Target::at(ctx.layout, start, view.mm(REACH)) {
            self.selected = Some(target);
            let offset = if target == Target::Centre { ctx.layout.burst().centre_as_laid() - start } else { kurbo::Vec2::ZERO };
            self.dragged = Some((target, offset));
            asks.push(Ask::BeginGesture(format!("move {}", target.name(ctx.layout))));
        }
    }

    fn keys(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &Ui, response: &Response) {
        if !response.has_focus() {
            return;
        }
        // The arrows move what is selected instead of the focus.
        let arrows = egui::EventFilter { horizontal_arrows: true, vertical_arrows: true, ..egui::EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
        let directions =
            [(Key::ArrowLeft, -1.0, 0.0), (Key::ArrowRight, 1.0, 0.0), (Key::ArrowUp, 0.0, -1.0), (Key::ArrowDown, 0.0, 1.0)];
        for (key, x, y) in directions {
            let (short, long) =
                ui.input_mut(|input| (input.consume_key(Modifiers::NONE, key), input.consume_key(Modifiers::SHIFT, key)));
            let step_mm = if long { LONG_NUDGE_MM } else { NUDGE_MM };
            if short || long {
                let by = step_mm * kurbo::Vec2::new(x, y);
                asks.extend(self.selected.and_then(|target| target.nudged(ctx.layout, by, self.neighbours)).map(Ask::Edit));
            }
        }
        if ui.input_mut(|input| {
            input.consume_key(Modifiers::NONE, Key::Delete) || input.consume_key(Modifiers::NONE, Key::Backspace)
        }) {
            match self.selected {
                Some(Target::Bind(id)) => {
                    asks.push(Ask::Edit(EditCommand::RemoveBind(id)));
                    self.selected = None;
                }
                Some(Target::FurtherArc(index)) => {
                    let mut arcs = ctx.layout.burst().further_arcs_mm().to_vec();
                    arcs.remove(index.min(arcs.len().saturating_sub(1)));
                    asks.push(Ask::Edit(EditCommand::SetFurtherArcs(arcs)));
                    self.selected = None;
                }
                _ => {}
            }
        }
        if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            self.selected = None;
            self.measured = None;
        }
        self.step_selection(ctx, ui);
    }

    /// Page Down and Page Up go from ring to ring, outward and inward; Home takes the centre.
    fn step_selection(&mut self, ctx: &Context<'_>, ui: &Ui) {
        let (outward, inward, home) = ui.input_mut(|input| {
            let mut pressed = |key| input.consume_key(Modifiers::NONE, key);
            (pressed(Key::PageDown), pressed(Key::PageUp), pressed(Key::Home))
        });
        if home {
            self.selected = Some(Target::Centre);
        }
        if !outward && !inward {
            return;
        }
        let binds = &ctx.layout.binds().binds;
        let now = self.selected.and_then(|target| target.bind_number(ctx.layout)).unwrap_or(0);
        let next = if outward { (now + 1).min(binds.len()) } else { now.saturating_sub(1) };
        self.selected = match next.checked_sub(1).and_then(|index| binds.get(index)) {
            Some(bind) if bind.is_guide() => Some(Target::GuideArc),
            Some(bind) => Some(Target::Bind(bind.id)),
            None => Some(Target::Centre),
        };
    }

    /// Gives each handle a name for those who do not see it, and for tests.
    fn announce(&self, ctx: &Context<'_>, ui: &Ui, area: egui::Rect, view: &View) {
        let centre = ctx.layout.burst().centre_as_laid();
        let guide = ctx.layout.binds().binds.iter().find(|bind| bind.is_guide()).copied();
        let handles = [
            ("Handle of the burst centre", Some(centre)),
            ("Handle of the guide arc", guide.map(|bind| centre + kurbo::Vec2::new(bind.radius_mm, 0.0))),
        ];
        for (name, at) in handles {
            let Some(at) = at else { continue };
            let rect =
                egui::Rect::from_center_size(view.screen_from_mm(area, at), vec2(2.0 * REACH, 2.0 * REACH)).intersect(area);
            let response = ui.interact(rect, ui.scope_id().with(name), Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
        }
    }
}

/// The place of the laid garment under a screen point: opened out, both halves stand for the one that is laid.
fn laid(view: &View, area: egui::Rect, at: egui::Pos2, layout: &Layout, showing: Showing) -> Point {
    let point = view.mm_from_screen(area, at);
    if showing == Showing::AsLaid { point } else { Point::new(layout.burst().x_as_laid_mm(point.x), point.y) }
}

fn cloth_colour(layout: &Layout, palette: &Palette) -> Color32 {
    let swatch = layout.raw().garment.colour.as_ref();
    swatch.map_or(palette.plain_cloth, |swatch| super::theme::tone(swatch.srgb))
}

/// What the pointer reads of a target.
fn reading(ctx: &Context<'_>, target: Target, ui: &mut Ui) {
    ui.set_min_width(190.0);
    ui.strong(target.name(ctx.layout));
    let format = |mm| ctx.lengths.format(mm);
    if target == Target::Centre {
        let burst = &ctx.figures.burst;
        ui.label(format!("{} below the shoulder point", format(burst.centre_below_shoulder_mm)));
        ui.label(format!("{} above the middle", format(burst.centre_above_middle_mm)));
        return;
    }
    let number = target.bind_number(ctx.layout);
    match number.and_then(|number| ctx.figures.binds.get(number - 1).zip(ctx.figures.sections.get(number - 1))) {
        Some((bind, section)) => {
            ui.label(format!("string {}", format(bind.radius_mm)));
            ui.label(format!("girth {}, {} wraps", format(bind.rod.bound_girth_mm), bind.wraps));
            ui.label(format!("gap inside {}", format(bind.gap_inside_mm)));
            ui.label(format!(
                "section inside {:.1} g{}",
                section.mass_g,
                section.colour.as_ref().map_or_else(String::new, |c| format!(", {c}"))
            ));
        }
        None => {
            ui.label(format!("string {}", format(target.radius_mm(ctx.layout).unwrap_or(0.0))));
        }
    }
}
