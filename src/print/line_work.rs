//! The patterns as real lines and dots clipped to their area.
//!
//! Anchored to the drawing's origin, so that the pattern runs on across sheets and neighbouring pieces.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

use kurbo::{Affine, BezPath, Line, ParamCurveNearest, Point, Rect, Shape as _};

use super::flatten::FLATTEN_MM;
use super::pattern::Pattern;
use super::shape::{Dots, Shape};

/// Distance between lines, in mm. Own choice: told apart at arm's length.
const LINE_STEP_MM: f64 = 2.5;
/// Distance between lines of the open patterns, in mm.
const WIDE_STEP_MM: f64 = 4.0;
/// Distance between dots, in mm.
const DOT_STEP_MM: f64 = 2.5;
/// Radius of a small dot, in mm.
const DOT_RADIUS_MM: f64 = 0.35;
/// Distance between spots, in mm.
const SPOT_STEP_MM: f64 = 5.0;
/// Radius of a spot, in mm.
const SPOT_RADIUS_MM: f64 = 1.0;

impl Pattern {
    /// The lines and dots that fill the closed `outline` (even-odd).
    #[must_use]
    pub fn line_work(self, outline: &BezPath) -> Vec<Shape> {
        let edges = edges(outline);
        let lines = |angles_rad: &[f64], step_mm: f64| {
            let mut path = BezPath::new();
            for &angle_rad in angles_rad {
                hatch(&edges, angle_rad, step_mm, &mut path);
            }
            if path.is_empty() { Vec::new() } else { vec![Shape::Path(path)] }
        };
        match self {
            Self::Blank => Vec::new(),
            Self::Rising => lines(&[-FRAC_PI_4], LINE_STEP_MM),
            Self::Falling => lines(&[FRAC_PI_4], WIDE_STEP_MM),
            Self::Crossed => lines(&[-FRAC_PI_4, FRAC_PI_4], LINE_STEP_MM),
            Self::Level => lines(&[0.0], LINE_STEP_MM),
            Self::Upright => lines(&[FRAC_PI_2], LINE_STEP_MM),
            Self::Squares => lines(&[0.0, FRAC_PI_2], WIDE_STEP_MM),
            Self::Dots => dots(&edges, DOT_STEP_MM, DOT_RADIUS_MM),
            Self::Spots => dots(&edges, SPOT_STEP_MM, SPOT_RADIUS_MM),
            Self::Solid if edges.is_empty() => Vec::new(),
            Self::Solid => vec![Shape::Solid(outline.clone())],
        }
    }
}

/// The straight edges of a closed outline, each subpath closed.
fn edges(outline: &BezPath) -> Vec<Line> {
    let mut edges = Vec::new();
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    let mut go = |from: Point, to: Point| {
        if from != to {
            edges.push(Line::new(from, to));
        }
    };
    kurbo::flatten(outline, FLATTEN_MM, |el| match el {
        kurbo::PathEl::MoveTo(p) => {
            go(last, start);
            (start, last) = (p, p);
        }
        kurbo::PathEl::LineTo(p) => {
            go(last, p);
            last = p;
        }
        _ => {
            go(last, start);
            last = start;
        }
    });
    go(last, start);
    edges
}

/// Adds the parts inside of all lines at `angle_rad`, `step_mm` apart.
fn hatch(edges: &[Line], angle_rad: f64, step_mm: f64, path: &mut BezPath) {
    let level_from_drawing = Affine::rotate(-angle_rad);
    let drawing_from_level = Affine::rotate(angle_rad);
    let level: Vec<Line> = edges.iter().map(|e| level_from_drawing * *e).collect();
    let Some(bounds) = level.iter().map(Line::bounding_box).reduce(|a, b| a.union(b)) else { return };
    // Half a step off the origin: an area whose edge lies on a whole step gets no line along that edge.
    let mut k = (bounds.y0 / step_mm - 0.5).ceil();
    while (k + 0.5) * step_mm < bounds.y1 {
        let y = (k + 0.5) * step_mm;
        for pair in crossings(&level, y).chunks_exact(2).filter(|pair| pair[1] - pair[0] > FLATTEN_MM) {
            path.move_to(drawing_from_level * Point::new(pair[0], y));
            path.line_to(drawing_from_level * Point::new(pair[1], y));
        }
        k += 1.0;
    }
}

/// Where the edges cross the level `y`, sorted; always an even number of them for closed outlines.
fn crossings(edges: &[Line], y: f64) -> Vec<f64> {
    let mut xs: Vec<f64> = edges
        .iter()
        .filter(|e| (e.p0.y <= y) != (e.p1.y <= y))
        .map(|e| e.p0.x + (y - e.p0.y) / (e.p1.y - e.p0.y) * (e.p1.x - e.p0.x))
        .collect();
    xs.sort_by(f64::total_cmp);
    xs
}

/// Staggered dots that lie wholly inside.
fn dots(edges: &[Line], step_mm: f64, radius_mm: f64) -> Vec<Shape> {
    let Some(bounds) = edges.iter().map(Line::bounding_box).reduce(|a, b| a.union(b)) else { return Vec::new() };
    let mut centers = Vec::new();
    let mut row = (bounds.y0 / step_mm).ceil();
    while row * step_mm < bounds.y1 {
        let y = row * step_mm;
        let shift = if row.rem_euclid(2.0) < 0.5 { 0.25 } else { 0.75 };
        for pair in crossings(edges, y).chunks_exact(2) {
            let mut column = (pair[0] / step_mm - shift).ceil();
            while (column + shift) * step_mm < pair[1] {
                centers.push(Point::new((column + shift) * step_mm, y));
                column += 1.0;
            }
        }
        row += 1.0;
    }
    centers.retain(|c| clear_of(edges, *c, radius_mm));
    if centers.is_empty() { Vec::new() } else { vec![Shape::Dots(Dots { centers, radius_mm })] }
}

fn clear_of(edges: &[Line], center: Point, radius_mm: f64) -> bool {
    let near = Rect::from_center_size(center, (2.0 * radius_mm, 2.0 * radius_mm));
    edges.iter().all(|e| {
        !e.bounding_box().inflate(1e-9, 1e-9).overlaps(near) || e.nearest(center, 1e-6).distance_sq >= radius_mm * radius_mm
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring() -> BezPath {
        let mut path = kurbo::Circle::new((30.0, 30.0), 20.0).to_path(1e-3);
        path.extend(kurbo::Circle::new((30.0, 30.0), 10.0).to_path(1e-3));
        path
    }

    #[test]
    fn hatches_measure_the_area() {
        // The length of all lines times their distance is the area, up to the ends: 300 pi mm2 for this ring.
        for (pattern, step, layers) in [(Pattern::Rising, 2.5, 1.0), (Pattern::Squares, 4.0, 2.0), (Pattern::Level, 2.5, 1.0)] {
            let [Shape::Path(path)] = &pattern.line_work(&ring())[..] else { panic!("one path") };
            let length: f64 = path.segments().map(|s| kurbo::ParamCurveArclen::arclen(&s, 1e-6)).sum();
            let area = length * step / layers;
            assert!((area / (300.0 * std::f64::consts::PI) - 1.0).abs() < 0.08, "{pattern:?}: {area}");
        }
    }

    #[test]
    fn everything_stays_inside() {
        for pattern in Pattern::MARKED {
            for shape in pattern.line_work(&ring()) {
                let points: Vec<(Point, f64)> = match shape {
                    Shape::Path(p) => {
                        p.segments().flat_map(|s| [s.as_line().expect("lines only").midpoint()]).map(|p| (p, 0.0)).collect()
                    }
                    Shape::Dots(d) => d.centers.iter().map(|c| (*c, d.radius_mm)).collect(),
                    _ => continue,
                };
                assert!(!points.is_empty());
                for (p, r) in points {
                    let from_center = p.distance(Point::new(30.0, 30.0));
                    assert!(from_center + r <= 20.01 && from_center - r >= 9.99, "{pattern:?} {p:?}");
                }
            }
        }
    }

    #[test]
    fn an_empty_or_flat_outline_gets_nothing() {
        let mut flat = BezPath::new();
        flat.move_to((0.0, 0.0));
        flat.line_to((10.0, 0.0));
        for pattern in Pattern::MARKED {
            assert!(pattern.line_work(&BezPath::new()).is_empty());
            assert!(matches!(pattern.line_work(&flat)[..], [] | [Shape::Solid(_)]));
        }
    }
}
