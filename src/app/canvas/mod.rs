//! The sheet of cloth to work on.

mod dyeing;
mod gaps;
mod hand;
mod menu;
mod nudge;
mod others;
mod paint;
mod reading;
mod scene;
mod tags;
mod tint;
mod twist;
mod view;

use self::gaps::Gaps;
use self::others::{OtherTie, others};
use self::paint::{Brush, Handle, Marked};
use self::tint::Tint;
use super::context::{Ask, Context};
use super::theme::Palette;
use crate::edit::{GivenOrder, Target};
use crate::geometry::{CreaseGrip, Neighbours};
use crate::layout::Layout;
use crate::telling::capitalised;
use egui::{Color32, CursorIcon, Role, Sense, Ui, WidgetInfo, vec2};
use kurbo::Point;
use std::sync::Arc;

pub(crate) use self::dyeing::DyeInHand;
pub(crate) use self::hand::HANDLING;
pub(crate) use self::nudge::{Nudge, arrows};
pub(crate) use self::paint::chalk_on;
pub(crate) use self::scene::{Fill, Scene, Showing};
pub(crate) use self::tint::picture as tinted;
pub(crate) use self::view::View;

/// Room beside a fold for the tags, points.
const ROOM_FOR_TAGS: f32 = 34.0;
/// How near the pointer has to come, screen points.
pub(crate) const REACH: f32 = 9.0;
/// The state of the canvas that is no part of the layout.
#[derive(Debug, Default)]
pub(crate) struct Canvas {
    /// How the garment is shown.
    pub(crate) showing: Showing,
    /// What the keys act on.
    pub(crate) selected: Option<Target>,
    /// What binds beside a dragged one do.
    pub(crate) neighbours: Neighbours,
    /// In which order the values of either side's spacing were given, inward first.
    pub(crate) given: [GivenOrder; 2],
    /// Where the hand holds the slider from even to tighter.
    pub(crate) tighter: Option<f64>,
    /// The plot of the gaps, which moves binds as the cloth does.
    pub(crate) gaps: Gaps,
    /// The place under the pointer, in the laid garment's plane.
    pub(crate) pointed: Option<Point>,
    /// Whether the sections show in their colours.
    pub(crate) tinted: bool,
    /// Whether the points of the maker's own line show, to be moved.
    pub(crate) drawing: bool,
    tint: Tint,
    view: Option<View>,
    /// Whether a hand has moved the view since it was fitted; until then it fits whatever room there is.
    moved: bool,
    /// How much room the view had last, points.
    room: egui::Vec2,
    scene: Option<(Arc<Layout>, Arc<Scene>)>,
    /// The other ties, as the scene shows them.
    others: Vec<OtherTie>,
    /// Where the binds' tags lie on the screen, with their numbers.
    tags: Vec<(egui::Rect, u32)>,
    dragged: Option<Held>,
    /// The crease that the hand holds, as it lay when it was pressed.
    grip: Option<CreaseGrip>,
    /// Whether the hand pulls the table.
    panned: bool,
    nudge: Nudge,
    measured: Option<[Point; 2]>,
    /// What is covered of the lower right corner, points.
    covered: egui::Vec2,
    /// What the menu is about that a right click opened.
    asked: Asked,
    /// The section that a click asked a dye for, and where.
    dyeing: Option<(u32, egui::Pos2)>,
}

/// What lay under the pointer when it asked for a menu.
#[derive(Debug, Clone, Copy, Default)]
struct Asked {
    target: Option<Target>,
    /// The place, in the laid garment's plane, mm.
    place: Point,
    /// The section, if it is on cloth.
    section: Option<u32>,
}

/// Something that a hand holds.
#[derive(Debug, Clone, Copy)]
struct Held {
    target: Target,
    /// From where it was taken hold of to its middle, on the laid cloth, mm.
    offset: kurbo::Vec2,
    /// The same for a ring, along the bundle, mm.
    off_mm: f64,
}

impl Canvas {
    pub(crate) fn new(showing: Showing) -> Self {
        Self { showing, ..Self::default() }
    }

    /// Looks at the whole garment again.
    pub(crate) fn fit(&mut self) {
        self.moved = false;
    }

    /// Leaves this much of the lower right corner free, points, while the view fits by itself.
    pub(crate) fn leave_free(&mut self, corner: egui::Vec2, ui: &Ui) {
        if (self.covered - corner).abs().max_elem() > 0.5 {
            self.covered = corner;
            ui.ctx().request_repaint();
        }
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
        let fit = |room| View::fitting_within(scene.bounds, area, room, scene.showing == Showing::Back);
        // Beside what covers a corner, or above it, whichever shows the cloth larger.
        let [beside, above] =
            [room.with_max_x(room.right() - self.covered.x), room.with_max_y(room.bottom() - self.covered.y)].map(fit);
        let fitting = if beside.points_per_mm >= above.points_per_mm { beside } else { above };
        // A dragged edge must not pull the view along.
        let stays = self.moved || self.dragged.is_some();
        let mut view = self.view.filter(|_| stays).unwrap_or(fitting);
        let room_before = std::mem::replace(&mut self.room, area.size());
        if self.moved && room_before != area.size() && room_before.min_elem() > 0.0 {
            // A moved view grows and shrinks with its room as the whole garment would.
            let before = egui::Rect::from_min_size(area.min, room_before);
            let [now, then] = [area, before].map(|room| View::fitting(scene.bounds, room, false).points_per_mm);
            view.zoom_at(area, area.center(), now / then);
        }
        // What lies under the press is taken hold of before anything moves.
        self.take_hold(ctx, asks, ui, &response, &view);
        self.look(&mut view, &response, ui);
        self.view = Some(view);
        let pointed = response.hover_pos().map(|at| laid(&view, area, at, ctx.layout, self.showing));
        self.pointed =
            pointed.or_else(|| response.interact_pointer_pos().map(|at| laid(&view, area, at, ctx.layout, self.showing)));
        // While something is held, nothing else is pointed at.
        let hovered =
            response.hover_pos().filter(|_| self.dragged.is_none()).and_then(|at| self.under(ctx.layout, &view, area, at));
        self.handle(ctx, asks, ui, &response, &view);
        self.keys(ctx, asks, ui, &response);
        let marked = Marked {
            selected: self.selected.and_then(|target| Handle::of(target, ctx.layout)),
            hovered: hovered.and_then(|target| Handle::of(target, ctx.layout)),
        };
        let cloth = cloth_colour(ctx.layout, palette);
        let tint = self.tinted.then(|| self.tint.texture(ctx.whole, &scene, cloth, ui.ctx()));
        let thread = twist::texture(ui.ctx(), palette.thread);
        let brush = Brush { painter: &painter, area, view: &view, palette, cloth, thread, tint };
        self.tags = brush.scene(&scene, marked);
        brush.others(&self.others);
        if self.drawing {
            brush.points(&scene, marked, self.selected.and_then(Target::point));
        }
        if let Some(ends) = self.measured {
            brush.measure(ends, &ctx.lengths.format(ends[0].distance(ends[1])));
        }
        brush.rulers(ctx.lengths);
        self.dye(ctx, asks, ui, &response, &brush, &scene);
        self.menu(ctx, asks, ui, &response, &view);
        if hovered.is_some() {
            ui.ctx().set_cursor_icon(CursorIcon::Grab);
        }
        let label = format!("Garment, {}", self.showing.name());
        response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &label));
        self.announce(ctx, ui, area, &view);
        if let Some(held) = self.dragged {
            reading::beside_hand(ctx, held.target, &response);
        } else if let (Some(target), Some(_)) = (hovered, pointed) {
            response.on_hover_ui_at_pointer(|ui| reading::of(ctx, target, ui));
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
        let scene = Arc::new(Scene::new(ctx.layout, self.showing));
        self.others = others(ctx, self.showing);
        self.scene = Some((ctx.layout.clone(), scene.clone()));
        scene
    }

    /// What can be taken hold of under a screen point: a bind by its tag, or what lies there on the cloth.
    fn under(&self, layout: &Layout, view: &View, area: egui::Rect, at: egui::Pos2) -> Option<Target> {
        let tag = self.tags.iter().find(|(rect, _)| rect.contains(at)).map(|(_, number)| *number as usize);
        let tagged = tag.and_then(|number| layout.binds().binds.get(number.checked_sub(1)?));
        let on_cloth = || Target::at(layout, laid(view, area, at, layout, self.showing), view.mm(REACH));
        let of_line = || {
            let at = view.mm_from_screen(area, at);
            Target::point_at(layout, at, view.mm(REACH), self.selected)
        };
        let drawn = if self.drawing && self.showing == Showing::AsLaid { of_line() } else { None };
        drawn.or_else(|| tagged.map(|bind| Target::of_bind(bind.id))).or_else(on_cloth)
    }

    /// Gives each handle a name for those who do not see it, and for tests.
    fn announce(&self, ctx: &Context<'_>, ui: &Ui, area: egui::Rect, view: &View) {
        let words = ctx.layout.words();
        let centre = ctx.layout.middle_as_laid();
        let guide_mm = ctx.layout.guide_mm();
        for &(rect, number) in &self.tags {
            let response = ui.interact(rect, ui.scope_id().with(("tag", number)), Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(Role::Label, true, format!("Tag of bind {number}")));
        }
        let guide = centre.filter(|_| ctx.layout.burst().is_some()).map(|centre| centre + kurbo::Vec2::new(guide_mm, 0.0));
        if let Some(points) = ctx.layout.line_points().filter(|_| self.drawing && self.showing == Showing::AsLaid) {
            for (number, point) in (1..).zip(points.iter()) {
                let at = view.screen_from_mm(area, point.at);
                let rect = egui::Rect::from_center_size(at, vec2(2.0 * REACH, 2.0 * REACH)).intersect(area);
                let response = ui.interact(rect, ui.scope_id().with(("point", number)), Sense::hover());
                response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Point {number} of the line")));
            }
        }
        self.announce_creases(ctx, ui, area, view);
        for (what, at) in [(words.middle, centre), (words.guide, guide)] {
            let Some(at) = at else { continue };
            let name = format!("{} handle", capitalised(what));
            let rect =
                egui::Rect::from_center_size(view.screen_from_mm(area, at), vec2(2.0 * REACH, 2.0 * REACH)).intersect(area);
            let response = ui.interact(rect, ui.scope_id().with(what), Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
        }
    }
}

impl Canvas {
    /// Gives each fold of a flat bundle a name where its crease is taken hold of, in its middle and by its end.
    fn announce_creases(&self, ctx: &Context<'_>, ui: &Ui, area: egui::Rect, view: &View) {
        let Some((_, scene)) = &self.scene else { return };
        for &(target, at) in &scene.crease_handles {
            let rect = egui::Rect::from_center_size(view.screen_from_mm(area, at), vec2(REACH, REACH)).intersect(area);
            let response = ui.interact(rect, ui.scope_id().with(target), Sense::hover());
            let name = capitalised(&target.name(ctx.layout));
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{name} handle")));
        }
    }
}

/// The place of the laid garment under a screen point: opened out, both halves stand for the one that is laid.
fn laid(view: &View, area: egui::Rect, at: egui::Pos2, layout: &Layout, showing: Showing) -> Point {
    let point = view.mm_from_screen(area, at);
    if showing == Showing::AsLaid { point } else { layout.lay().plane_as_laid(point) }
}

fn cloth_colour(layout: &Layout, palette: &Palette) -> Color32 {
    let swatch = layout.raw().garment.colour.as_ref();
    swatch.map_or(palette.plain_cloth, |swatch| super::theme::tone(swatch.srgb))
}
