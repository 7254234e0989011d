//! Entities of a DXF: items of a drawing as LINE, LWPOLYLINE, SPLINE, CIRCLE, ARC and TEXT.

use kurbo::{BezPath, PathEl, Point};

use super::tags::{BOLD, MODEL_SPACE, REGULAR, Tags};
use crate::print::drawing::Item;
use crate::print::font::Face;
use crate::print::shape::{Anchor, Arc, Shape, Text};
use crate::print::style::Layer;

fn begin(tags: &mut Tags, kind: &str, layer: Layer, class: &str) {
    tags.put(0, kind);
    tags.new_handle();
    tags.owner(MODEL_SPACE);
    tags.put(100, "AcDbEntity");
    tags.put(8, tags.names.of(layer));
    tags.put(100, class);
}

/// Writes an item as one or more entities.
pub(super) fn entity(tags: &mut Tags, item: &Item) {
    let layer = item.layer;
    match &item.shape {
        Shape::Line(line) => {
            begin(tags, "LINE", layer, "AcDbLine");
            tags.point(10, line.p0);
            tags.point(11, line.p1);
        }
        Shape::Circle(c) => circle(tags, layer, c.center, c.radius),
        Shape::Arc(a) => arc(tags, layer, a),
        Shape::Dots(dots) => {
            for center in &dots.centers {
                circle(tags, layer, *center, dots.radius_mm);
            }
        }
        Shape::Path(path) | Shape::Solid(path) => write_path(tags, layer, path),
        Shape::Image(image) => write_path(tags, layer, &image.edge()),
        Shape::Text(words) => text(tags, layer, words),
        Shape::Area { .. } => {}
    }
}

fn circle(tags: &mut Tags, layer: Layer, center: Point, radius_mm: f64) {
    begin(tags, "CIRCLE", layer, "AcDbCircle");
    tags.point(10, center);
    tags.real(40, radius_mm);
}

/// DXF arcs run counter-clockwise from start to end.
fn arc(tags: &mut Tags, layer: Layer, arc: &Arc) {
    if arc.sweep_rad.abs() >= std::f64::consts::TAU - 1e-12 {
        circle(tags, layer, arc.center, arc.radius_mm);
        return;
    }
    let (from, to) = (-arc.start_rad, -(arc.start_rad + arc.sweep_rad));
    let (from, to) = if arc.sweep_rad > 0.0 { (to, from) } else { (from, to) };
    begin(tags, "ARC", layer, "AcDbCircle");
    tags.point(10, arc.center);
    tags.real(40, arc.radius_mm);
    tags.put(100, "AcDbArc");
    tags.real(50, from.to_degrees().rem_euclid(360.0));
    tags.real(51, to.to_degrees().rem_euclid(360.0));
}

/// Runs of lines become polylines, runs of curves become splines.
fn write_path(tags: &mut Tags, layer: Layer, path: &BezPath) {
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    let mut run = Run::Lines(Vec::new());
    for el in path {
        match el {
            PathEl::MoveTo(p) => {
                run.finish(tags, layer, false);
                (start, last) = (p, p);
            }
            PathEl::LineTo(p) => {
                run.lines(tags, layer, last).push(p);
                last = p;
            }
            PathEl::QuadTo(c, p) => {
                let (c1, c2) = (last.lerp(c, 2.0 / 3.0), p.lerp(c, 2.0 / 3.0));
                run.curves(tags, layer, last).extend([c1, c2, p]);
                last = p;
            }
            PathEl::CurveTo(c1, c2, p) => {
                run.curves(tags, layer, last).extend([c1, c2, p]);
                last = p;
            }
            PathEl::ClosePath => {
                let whole = matches!(&run, Run::Lines(points) if points.first() == Some(&start));
                if !whole && last != start {
                    run.lines(tags, layer, last).push(start);
                }
                run.finish(tags, layer, whole);
                last = start;
            }
        }
    }
    run.finish(tags, layer, false);
}

/// Points of the polyline, or control points of the spline, being collected.
enum Run {
    Lines(Vec<Point>),
    Curves(Vec<Point>),
}

impl Run {
    fn lines(&mut self, tags: &mut Tags, layer: Layer, from: Point) -> &mut Vec<Point> {
        if matches!(self, Self::Curves(_)) {
            self.finish(tags, layer, false);
            *self = Self::Lines(Vec::new());
        }
        self.points_from(from)
    }

    fn curves(&mut self, tags: &mut Tags, layer: Layer, from: Point) -> &mut Vec<Point> {
        if matches!(self, Self::Lines(_)) {
            self.finish(tags, layer, false);
            *self = Self::Curves(Vec::new());
        }
        self.points_from(from)
    }

    fn points_from(&mut self, from: Point) -> &mut Vec<Point> {
        let (Self::Lines(points) | Self::Curves(points)) = self;
        if points.is_empty() {
            points.push(from);
        }
        points
    }

    /// Writes what has been collected and starts again.
    fn finish(&mut self, tags: &mut Tags, layer: Layer, closed: bool) {
        match self {
            Self::Lines(points) => {
                if points.len() > 1 {
                    polyline(tags, layer, points, closed);
                }
                points.clear();
            }
            Self::Curves(points) => {
                if points.len() > 3 {
                    spline(tags, layer, points);
                }
                points.clear();
            }
        }
    }
}

fn polyline(tags: &mut Tags, layer: Layer, points: &[Point], closed: bool) {
    let points = if closed && points.first() == points.last() { &points[..points.len() - 1] } else { points };
    begin(tags, "LWPOLYLINE", layer, "AcDbPolyline");
    tags.put(90, points.len());
    tags.put(70, u8::from(closed));
    for p in points {
        tags.real(10, p.x);
        tags.real(20, -p.y);
    }
}

/// Cubic Bezier curves end to end are a spline of degree 3 whose inner knots count threefold.
fn spline(tags: &mut Tags, layer: Layer, controls: &[Point]) {
    let pieces = (controls.len() - 1) / 3;
    begin(tags, "SPLINE", layer, "AcDbSpline");
    // 8: planar.
    tags.put(70, 8);
    tags.put(71, 3);
    tags.put(72, controls.len() + 4);
    tags.put(73, controls.len());
    tags.put(74, 0);
    for knot in 0..=pieces {
        let times = if knot == 0 || knot == pieces { 4 } else { 3 };
        for _ in 0..times {
            tags.real(40, knot as f64);
        }
    }
    for p in controls {
        tags.point(10, *p);
    }
}

fn text(tags: &mut Tags, layer: Layer, text: &Text) {
    begin(tags, "TEXT", layer, "AcDbText");
    tags.point(10, text.drawing_from_text() * Point::ZERO);
    tags.real(40, text.cap_height_mm);
    tags.put(1, encoded(&text.text));
    tags.real(50, (-text.rotation_rad.to_degrees()).rem_euclid(360.0));
    tags.put(
        7,
        match text.face {
            // Two styles are all that the sheets need; slanted words and code are set only in the handbook.
            Face::Regular | Face::Italic | Face::Code => REGULAR,
            Face::Bold => BOLD,
        },
    );
    let justified = match text.anchor {
        Anchor::Start => 0,
        Anchor::Middle => 1,
        Anchor::End => 2,
    };
    tags.put(72, justified);
    if justified != 0 {
        tags.point(11, text.position);
    }
    tags.put(100, "AcDbText");
}

/// ASCII as it is, all else by number, control characters left out.
fn encoded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut units = [0; 2];
    for c in text.chars().filter(|c| !c.is_control()) {
        match c {
            ' '..='~' => out.push(c),
            _ => out.extend(c.encode_utf16(&mut units).iter().map(|unit| format!("\\U+{unit:04X}"))),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stay_on_one_ascii_line() {
        assert_eq!(encoded("Ø 12\nmm \u{1F9F5}"), "\\U+00D8 12mm \\U+D83E\\U+DDF5");
    }
}
