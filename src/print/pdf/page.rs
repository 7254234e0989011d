//! One placed drawing in PDF operators.
//!
//! All points are computed here in `f64` and written in PDF units rounded to a thousandth (0.0004 mm); no scale is left to the file,
//! so that a reader finds every length as it is. What lies wholly outside the clip is not written.

use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Size, Transform};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape as _};

use super::text::Fonts;
use super::unit::f32_pt;
use crate::print::drawing::Item;
use crate::print::flatten::FLATTEN_MM;
use crate::print::image::Image;
use crate::print::page::Placed;
use crate::print::shape::Shape;
use crate::print::style::Layer;

/// Draws what shows of a placed drawing.
pub(super) fn draw(surface: &mut Surface<'_>, placed: &Placed, fonts: &mut Fonts) {
    let is_clipped = placed.clip.is_some_and(|clip| {
        let path = path_of(&clip.to_path(FLATTEN_MM), placed.page_from_drawing);
        path.map(|path| surface.push_clip_path(&path, &FillRule::NonZero)).is_some()
    });
    let visible: Vec<&Item> = placed
        .drawing
        .items
        .iter()
        .filter(|(_, reach)| placed.clip.is_none_or(|clip| touch(clip, *reach)))
        .map(|(item, _)| item)
        .collect();
    for layer in visible.chunk_by(|a, b| a.layer == b.layer) {
        draw_layer(surface, layer, placed, fonts);
    }
    if is_clipped {
        surface.pop();
    }
}

fn touch(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// Items of one layer: all its lines as one path, then dots, solid shapes and words.
fn draw_layer(surface: &mut Surface<'_>, items: &[&Item], placed: &Placed, fonts: &mut Fonts) {
    let Some(layer) = items.first().map(|i| i.layer) else { return };
    let mut pen = Pen::new(placed, layer);
    let mut solid = PathBuilder::new();
    for item in items {
        match &item.shape {
            Shape::Line(line) => pen.add(&line.to_path(FLATTEN_MM)),
            Shape::Path(path) => pen.add(path),
            Shape::Circle(circle) => pen.add(&circle.to_path(FLATTEN_MM / 10.0)),
            Shape::Arc(arc) => pen.add(&arc.to_path()),
            Shape::Solid(path) => add_to(&mut solid, path, placed.page_from_drawing),
            Shape::Dots(_) | Shape::Text(_) | Shape::Area { .. } | Shape::Image(_) => {}
        }
    }
    let grey = layer.style().grey;
    surface.set_fill(None);
    if let Some(path) = pen.builder.finish() {
        surface.set_stroke(Some(stroke(layer, placed.scale())));
        surface.draw_path(&path);
    }
    draw_dots(surface, items, placed, grey);
    surface.set_stroke(None);
    surface.set_fill(Some(ink(grey)));
    if let Some(path) = solid.finish() {
        surface.draw_path(&path);
    }
    for item in items {
        match &item.shape {
            Shape::Text(text) => fonts.draw(surface, text, placed.page_from_drawing),
            Shape::Image(image) => draw_image(surface, image, placed.page_from_drawing),
            _ => {}
        }
    }
}

/// Draws pixels as they are, without smoothing of our own.
fn draw_image(surface: &mut Surface<'_>, image: &Image, page_from_drawing: Affine) {
    let page_from_unit = (page_from_drawing * image.drawing_from_unit).as_coeffs().map(f32_pt);
    let [a, b, c, d, x, y] = page_from_unit;
    let pixels = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
    let drawn =
        krilla::image::Image::from_rgba8(image.pixels.rgba(), pixels(image.pixels.width()), pixels(image.pixels.height()));
    let Some(unit) = Size::from_wh(1.0, 1.0) else { return };
    surface.push_transform(&Transform::from_row(a, b, c, d, x, y));
    surface.draw_image(drawn, unit);
    surface.pop();
}

fn ink(grey: u8) -> Fill {
    Fill { paint: luma::Color::new(grey).into(), opacity: NormalizedF32::ONE, rule: FillRule::EvenOdd }
}

fn stroke(layer: Layer, scale: f64) -> Stroke {
    let style = layer.style();
    let array: Vec<f32> = style.dash_mm.iter().map(|mm| f32_pt(mm * scale)).collect();
    Stroke {
        paint: luma::Color::new(style.grey).into(),
        width: f32_pt(style.width_mm * scale),
        line_cap: LineCap::Butt,
        line_join: LineJoin::Round,
        dash: (!array.is_empty()).then_some(StrokeDash { array, offset: 0.0 }),
        ..Stroke::default()
    }
}

/// Dots are strokes of next to no length with round ends: two points each instead of four curves.
fn draw_dots(surface: &mut Surface<'_>, items: &[&Item], placed: &Placed, grey: u8) {
    for item in items {
        let Shape::Dots(dots) = &item.shape else { continue };
        let mut builder = PathBuilder::new();
        let seen = |c: &&Point| {
            let reach = Rect::from_center_size(**c, (2.0 * dots.radius_mm, 2.0 * dots.radius_mm));
            placed.clip.is_none_or(|clip| touch(clip, reach))
        };
        for center in dots.centers.iter().filter(seen) {
            let (x, y) = xy(placed.page_from_drawing, *center);
            builder.move_to(x, y);
            builder.line_to(x + DOT_LENGTH_PT, y);
        }
        let Some(path) = builder.finish() else { continue };
        surface.set_stroke(Some(Stroke {
            paint: luma::Color::new(grey).into(),
            width: f32_pt(2.0 * dots.radius_mm * placed.scale()),
            line_cap: LineCap::Round,
            ..Stroke::default()
        }));
        surface.draw_path(&path);
    }
}

/// Length of a dot's stroke: some viewers leave out strokes without length.
const DOT_LENGTH_PT: f32 = 0.01;

impl Placed {
    /// Page mm per drawing mm.
    fn scale(&self) -> f64 {
        self.page_from_drawing.determinant().abs().sqrt()
    }
}

/// Collects the lines of a layer.
struct Pen {
    builder: PathBuilder,
    page_from_drawing: Affine,
    /// Segments that miss this are left out; `None` keeps all.
    ///
    /// Dashed lines are kept whole: their dashes must fall alike on neighbouring sheets.
    keep: Option<Rect>,
}

impl Pen {
    fn new(placed: &Placed, layer: Layer) -> Self {
        let style = layer.style();
        let keep = placed.clip.filter(|_| style.dash_mm.is_empty()).map(|c| c.inflate(style.width_mm, style.width_mm));
        Self { builder: PathBuilder::new(), page_from_drawing: placed.page_from_drawing, keep }
    }

    fn add(&mut self, path: &BezPath) {
        match self.keep {
            Some(keep) if !keep.contains_rect_of(path) => self.add_seen(path, keep),
            _ => add_to(&mut self.builder, path, self.page_from_drawing),
        }
    }

    /// Adds the segments that may be seen, starting anew after each gap.
    fn add_seen(&mut self, path: &BezPath, keep: Rect) {
        let mut last = None;
        for segment in path.segments() {
            if !touch(segment.bounding_box(), keep) {
                last = None;
                continue;
            }
            if last != Some(kurbo::ParamCurve::start(&segment)) {
                add_el(&mut self.builder, PathEl::MoveTo(kurbo::ParamCurve::start(&segment)), self.page_from_drawing);
            }
            add_el(&mut self.builder, segment.as_path_el(), self.page_from_drawing);
            last = Some(kurbo::ParamCurve::end(&segment));
        }
    }
}

/// Whether a box holds all of a path, judged by its control points.
trait ContainsRectOf {
    fn contains_rect_of(&self, path: &BezPath) -> bool;
}

impl ContainsRectOf for Rect {
    fn contains_rect_of(&self, path: &BezPath) -> bool {
        self.union(path.control_box()) == *self
    }
}

fn xy(page_from_drawing: Affine, p: Point) -> (f32, f32) {
    let p = page_from_drawing * p;
    (f32_pt(p.x), f32_pt(p.y))
}

fn add_el(builder: &mut PathBuilder, el: PathEl, page_from_drawing: Affine) {
    let to = |p| xy(page_from_drawing, p);
    match el {
        PathEl::MoveTo(p) => {
            let (x, y) = to(p);
            builder.move_to(x, y);
        }
        PathEl::LineTo(p) => {
            let (x, y) = to(p);
            builder.line_to(x, y);
        }
        PathEl::QuadTo(c, p) => {
            let ((cx, cy), (x, y)) = (to(c), to(p));
            builder.quad_to(cx, cy, x, y);
        }
        PathEl::CurveTo(c, d, p) => {
            let ((cx, cy), (dx, dy), (x, y)) = (to(c), to(d), to(p));
            builder.cubic_to(cx, cy, dx, dy, x, y);
        }
        PathEl::ClosePath => builder.close(),
    }
}

fn add_to(builder: &mut PathBuilder, path: &BezPath, page_from_drawing: Affine) {
    for el in path {
        add_el(builder, el, page_from_drawing);
    }
}

fn path_of(path: &BezPath, page_from_drawing: Affine) -> Option<Path> {
    let mut builder = PathBuilder::new();
    add_to(&mut builder, path, page_from_drawing);
    builder.finish()
}
