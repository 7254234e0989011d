//! A flat bundle from above, to scale: its outline with the sections in their colours, the binds across it, the blocks on it.

use super::pen::Pen;
use crate::app::flat::flat;
use crate::app::screen::screen;
use crate::app::theme::{WOOD, tone};
use crate::edit::{BlockHandle, WrapEnd};
use crate::geometry::{BundleFace, FlatFold};
use egui::{Align2, Color32, FontId, Mesh, Pos2, Rect, Shape, Stroke, pos2, vec2};
use kurbo::Point;

/// Columns that a bundle's outline is drawn with between two corners or binds.
const COLUMNS: u32 = 24;
/// Room above the bundle for the binds' numbers, points.
const ABOVE: f32 = 22.0;
/// Room below it for the number of a corner.
const BELOW: f32 = 16.0;
/// How much of the cloth shows through a block, so that its sections are seen.
const BLOCK_OVER: f32 = 0.72;
/// How much of a thread's colour it keeps under the bundle.
const UNDER: f32 = 0.7;
/// How far a block's drawn edge may stray from the true one, mm.
const FLAT_MM: f64 = 0.1;

/// Takes the bundle's frame (mm) to the screen (points) and back.
#[derive(Debug, Clone, Copy)]
pub(super) struct BundleView {
    middle_mm: Point,
    middle: Pos2,
    /// Screen points for one mm.
    scale: f64,
}

impl BundleView {
    /// The bundle, its first end at the left, as large as it goes into the room.
    pub(super) fn fitting(fold: &FlatFold, rect: Rect) -> Self {
        let corners = fold.outline();
        let bounds =
            corners.iter().fold(kurbo::Rect::from_origin_size(corners[0], (0.0, 0.0)), |all, corner| all.union_pt(*corner));
        let room = rect.with_min_y(rect.top() + ABOVE).with_max_y(rect.bottom() - BELOW).shrink(4.0);
        let scale = (f64::from(room.width()) / bounds.width()).min(f64::from(room.height()) / bounds.height());
        Self { middle_mm: bounds.center(), middle: room.center(), scale }
    }

    pub(super) fn screen_from_mm(&self, p: Point) -> Pos2 {
        let from_middle = self.scale * (p - self.middle_mm);
        self.middle + vec2(screen(from_middle.x), screen(from_middle.y))
    }

    pub(super) fn mm_from_screen(&self, at: Pos2) -> Point {
        let from_middle = at - self.middle;
        self.middle_mm + kurbo::Vec2::new(f64::from(from_middle.x), f64::from(from_middle.y)) / self.scale
    }

    /// Length of so many screen points, mm.
    pub(super) fn mm(&self, points: f32) -> f64 {
        f64::from(points) / self.scale
    }
}

impl Pen<'_> {
    /// The bundle with all that holds it, as large as it goes into the room.
    pub(super) fn bundle(&self, rect: Rect) {
        let Some(fold) = self.ctx.layout.flat() else { return };
        self.bundle_in(fold, &BundleView::fitting(fold, rect));
    }

    /// The same where a view has it.
    pub(super) fn bundle_in(&self, fold: &FlatFold, view: &BundleView) {
        let at = |p: Point| view.screen_from_mm(p);
        for (section, colour) in self.ctx.figures.sections.iter().zip(self.ctx.layout.section_colours()) {
            let swatch = colour.and_then(|index| self.ctx.layout.raw().colours.rotation.get(index));
            let colour = swatch.map_or(self.cloth(), |swatch| tone(swatch.srgb));
            stretch(fold, [section.inner_mm, section.outer_mm], colour, &at, self);
        }
        self.dipped(fold, &at);
        let outline: Vec<Pos2> = fold.outline().iter().map(|&corner| at(corner)).collect();
        self.painter.add(Shape::closed_line(outline, Stroke::new(1.4, self.palette.edge)));
        self.wound(view.scale, &at);
        self.blocks(&at);
        self.ties(fold, view.scale, &at);
        self.dip_numbers(fold, &at);
    }

    /// The handle that turns the blocks, and what of them is handled.
    pub(super) fn block_handles(&self, view: &BundleView, marked: Option<BlockHandle>) {
        let layout = self.ctx.layout;
        let (Some(block), Some(knob)) = (layout.blocks(), BlockHandle::Turn.place(layout)) else { return };
        let Some(middle) = BlockHandle::Blocks.place(layout) else { return };
        let at = |p: Point| view.screen_from_mm(p);
        let accent = |handle| if marked == Some(handle) { self.palette.accent } else { self.palette.edge };
        if marked == Some(BlockHandle::Blocks) {
            for line in flat(&block.path(), FLAT_MM) {
                let points = line.iter().map(|&p| at(p)).collect();
                self.painter.add(Shape::closed_line(points, Stroke::new(2.4, self.palette.accent)));
            }
        }
        self.painter.line_segment([at(middle), at(knob)], Stroke::new(1.2, accent(BlockHandle::Turn)));
        self.painter.circle(at(knob), 5.5, accent(BlockHandle::Turn), Stroke::new(1.2, self.palette.ink));
    }

    /// The ends of a wound thread, to take hold of.
    pub(super) fn wrap_ends(&self, view: &BundleView, marked: Option<WrapEnd>) {
        for end in WrapEnd::BOTH {
            let Some(at) = end.place(self.ctx.layout) else { continue };
            let fill = if marked == Some(end) { self.palette.accent } else { self.palette.edge };
            self.painter.circle(view.screen_from_mm(at), 5.5, fill, Stroke::new(1.2, self.palette.ink));
        }
    }

    /// A wound thread: over the upper face as it lies, dashed under the lower one.
    fn wound(&self, scale: f64, at: &impl Fn(Point) -> Pos2) {
        let Some(wrap) = self.ctx.layout.wrap() else { return };
        let [dark, light] = self.palette.thread;
        let breadth = screen(self.ctx.layout.thread().diameter_mm * scale).max(2.2);
        for line in wrap.lines(BundleFace::Lower) {
            let under = Stroke::new(1.4, light.gamma_multiply(UNDER));
            self.painter.extend(Shape::dashed_line(&[at(line.p0), at(line.p1)], under, 5.0, 4.0));
        }
        for line in wrap.lines(BundleFace::Upper) {
            let ends = [at(line.p0), at(line.p1)];
            self.painter.line_segment(ends, Stroke::new(breadth, light));
            self.painter.extend(Shape::dashed_line(&ends, Stroke::new(1.0, dark), 4.0, 4.0));
        }
    }

    fn blocks(&self, at: &impl Fn(Point) -> Pos2) {
        let Some(block) = self.ctx.layout.blocks() else { return };
        let stroke = Stroke::new(2.0, WOOD.lerp_to_gamma(Color32::BLACK, 0.45));
        for line in flat(&block.path(), FLAT_MM) {
            let points: Vec<Pos2> = line.iter().map(|&p| at(p)).collect();
            self.painter.add(Shape::convex_polygon(points.clone(), WOOD.gamma_multiply(BLOCK_OVER), Stroke::NONE));
            self.painter.add(Shape::closed_line(points, stroke));
        }
    }

    fn ties(&self, fold: &FlatFold, scale: f64, at: &impl Fn(Point) -> Pos2) {
        let thread = self.ctx.layout.thread();
        let [dark, light] = self.palette.thread;
        let mut last = f32::NEG_INFINITY;
        for bind in &self.ctx.figures.binds {
            let Some(chord) = fold.chord(bind.radius_mm) else { continue };
            let ends = [at(chord.p0) - vec2(0.0, 2.0), at(chord.p1) + vec2(0.0, 2.0)];
            let breadth = screen(f64::from(bind.wraps) * thread.diameter_mm * scale).max(2.2);
            self.painter.line_segment(ends, Stroke::new(breadth, dark));
            self.painter.extend(Shape::dashed_line(&ends, Stroke::new(1.0, light), 3.0, 3.0));
            let (size, ink) = if bind.on_guide_arc { (14.5, self.palette.ink) } else { (12.5, self.palette.faint) };
            if ends[0].x - last > size {
                let above = pos2(ends[0].x, ends[0].y - 3.0);
                self.painter.text(above, Align2::CENTER_BOTTOM, bind.number, FontId::proportional(size), ink);
                last = ends[0].x;
            }
        }
    }
}

/// The cloth between two cuts across the bundle.
fn stretch(fold: &FlatFold, [from_mm, to_mm]: [f64; 2], colour: Color32, at: &impl Fn(Point) -> Pos2, pen: &Pen<'_>) {
    let mut mesh = Mesh::default();
    let mut joined = false;
    for column in 0..=COLUMNS {
        let share = f64::from(column) / f64::from(COLUMNS);
        // Its very ends meet the outline in a corner.
        let along_mm = from_mm + (to_mm - from_mm) * share.clamp(1e-6, 1.0 - 1e-6);
        let Some(chord) = fold.chord(along_mm) else {
            joined = false;
            continue;
        };
        mesh.colored_vertex(at(chord.p0), colour);
        mesh.colored_vertex(at(chord.p1), colour.lerp_to_gamma(Color32::BLACK, 0.16));
        let next = u32::try_from(mesh.vertices.len()).unwrap_or(u32::MAX);
        if joined {
            mesh.add_triangle(next - 4, next - 3, next - 2);
            mesh.add_triangle(next - 3, next - 2, next - 1);
        }
        joined = true;
    }
    pen.painter.add(mesh);
}
