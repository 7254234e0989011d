//! The sheet of cloth to work on.

mod gaps;
mod hand;
mod paint;
mod scene;
mod tags;
mod tint;
mod view;

use self::gaps::Gaps;
use self::paint::{Brush, Handle, Marked};
use self::tint::Tint;
use super::context::{Ask, Context};

use super::theme::Palette;
use crate::edit::{GivenOrder, Target};
use crate::geometry::{Burst, Neighbours};
use crate::layout::Layout;
use egui::{Color32, CursorIcon, Role, Sense, Ui, WidgetInfo, vec2};
use kurbo::Point;
use std::sync::Arc;

pub(crate) use self::hand::HANDLING;
pub(crate) use self::paint::chalk_on;
pub(crate) use self::scene::{Fill, Scene, Showing};
pub(crate) use self::tint::picture as tinted;
pub(crate) use self::view::View;

/// Room beside a fold for the tags, points.
const ROOM_FOR_TAGS: f32 = 34.0;
/// How near the pointer has to come, screen points.
const REACH: f32 = 9.0;
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
    tint: Tint,
    view: Option<View>,
    /// Whether a hand has moved the view since it was fitted; until then it fits whatever room there is.
    moved: bool,
    scene: Option<(Arc<Layout>, Arc<Scene>)>,
    dragged: Option<Held>,
    /// Whether the hand pulls the table.
    panned: bool,
    /// Whether an arrow key is held down that moves something.
    nudging: bool,
    measured: Option<[Point; 2]>,
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
        // What lies under the press is taken hold of before anything moves.
        self.take_hold(ctx, asks, ui, &response, &view);
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

    /// Gives each handle a name for those who do not see it, and for tests.
    fn announce(&self, ctx: &Context<'_>, ui: &Ui, area: egui::Rect, view: &View) {
        let centre = ctx.layout.burst().map(Burst::centre_as_laid);
        let guide_mm = ctx.layout.guide_mm();
        let handles = [
            ("Burst centre handle", centre),
            ("Guide arc handle", centre.map(|centre| centre + kurbo::Vec2::new(guide_mm, 0.0))),
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
    if showing == Showing::AsLaid { point } else { layout.lay().plane_as_laid(point) }
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
    if let Some(burst) = ctx.figures.burst.as_ref().filter(|_| target == Target::Centre) {
        ui.label(burst.top.height(burst.centre_below_shoulder_mm, ctx.lengths));
        ui.label(format!("{} above the middle", format(burst.centre_above_middle_mm)));
        return;
    }
    let number = target.bind_number(ctx.layout);
    match number.and_then(|number| ctx.figures.binds.get(number - 1).zip(ctx.figures.sections.get(number - 1))) {
        Some((bind, section)) => {
            ui.label(format!("{} from the centre", format(bind.radius_mm)));
            ui.label(format!("girth {}, {} wraps", format(bind.rod.bound_girth_mm), bind.wraps));
            ui.label(format!("gap inside {}", format(bind.gap_inside_mm)));
            ui.label(format!(
                "section inside {:.1} g{}",
                section.mass_g,
                section.colour.as_ref().map_or_else(String::new, |c| format!(", {c}"))
            ));
        }
        None => {
            ui.label(format!("{} from the centre", format(target.radius_mm(ctx.layout).unwrap_or(0.0))));
        }
    }
}
