//! Parallels of lines against closed forms of textbooks and against polygon buffers.

use crate::assert_close;
use crate::bodies::{ellipse, half_heart, path, spec, square, star, tee};
use geo::algorithm::buffer::{BufferStyle, LineJoin};
use geo::{Area, BooleanOps, Buffer};
use kurbo::{BezPath, Point, Vec2};
use pleatwright::geometry::*;
use std::f64::consts::{PI, TAU};

const MIDDLE: Point = Point::new(0.0, 1000.0);

fn on_large_cloth(kind: LineKind, path: BezPath) -> LineFold {
    LineFold::new(&spec(Centring::Open, kind, path), square(2000.0)).unwrap()
}

/// Length of the parallel at a signed distance, and the cloth within.
fn at(fold: &LineFold, distance_mm: f64) -> Cut {
    fold.cut(distance_mm + fold.line_mm()).front
}

/// Source: Steiner's formula for parallels of convex rings (J. Steiner, 1840): c = c0 + 2 pi d, A = A0 + c0 d + pi d2.
#[test]
fn convex_rings_keep_steiners_formula() {
    let triangle = star(MIDDLE, 3, 200.0, 100.0);
    for (name, ring) in [("ellipse", ellipse(MIDDLE, 150.0, 90.0)), ("triangle", triangle)] {
        let fold = on_large_cloth(LineKind::Ring, ring);
        let zero = at(&fold, 0.0);
        for d in [0.01, 7.0, 40.0, 160.0, 700.0] {
            let grown = at(&fold, d);
            assert_close!(grown.cloth_mm, zero.cloth_mm + TAU * d, 1e-9, "{name} at {d}");
            let area_mm2 = zero.area_mm2 + zero.cloth_mm * d + PI * d * d;
            assert_close!(grown.area_mm2, area_mm2, 1e-9 * area_mm2.max(1.0), "{name} at {d}");
        }
    }
}

/// Source: the same for segments: c = 2 l + 2 pi d, A = 2 l d + pi d2.
#[test]
fn strokes_keep_steiners_formula() {
    let mut line = BezPath::new();
    line.move_to((-100.0, 1000.0));
    line.line_to((100.0, 1010.0));
    let length_mm = 200.0_f64.hypot(10.0);
    let fold = on_large_cloth(LineKind::Stroke, line);
    for d in [0.5, 10.0, 80.0, 500.0] {
        assert_close!(at(&fold, d).cloth_mm, 2.0 * length_mm + TAU * d, 1e-9);
        assert_close!(at(&fold, d).area_mm2, 2.0 * length_mm * d + PI * d * d, 1e-6);
    }
    assert_eq!(at(&fold, 0.0), Cut::default());
}

/// Source: the turning number of a simple closed curve is 1 (H. Hopf, 1935), half of it from fold to fold.
#[test]
fn rings_turn_once() {
    let half = LineFold::new(&spec(Centring::Nested, LineKind::Ring, half_heart()), tee()).unwrap();
    assert_close!(half.turning_rad(), PI, 1e-9);
    for ring in [ellipse(MIDDLE, 150.0, 90.0), star(MIDDLE, 5, 190.0, 95.0), cardioid(40.0)] {
        for ring in [ring.clone(), ring.reverse_subpaths()] {
            assert_close!(on_large_cloth(LineKind::Ring, ring).turning_rad(), TAU, 1e-6);
        }
    }
}

/// A cardioid, cusp towards the middle, as cubics through 96 of its points with its own tangents (Hermite).
fn cardioid(a: f64) -> BezPath {
    let point = |t: f64| MIDDLE + a * Vec2::new(2.0 * t.cos() - (2.0 * t).cos(), 2.0 * t.sin() - (2.0 * t).sin());
    let slope = |t: f64| a * Vec2::new(-2.0 * t.sin() + 2.0 * (2.0 * t).sin(), 2.0 * t.cos() - 2.0 * (2.0 * t).cos());
    let step = TAU / 96.0;
    let mut path = BezPath::new();
    path.move_to(point(0.0));
    for k in 0..96 {
        let (from, to) = (f64::from(k) * step, f64::from(k + 1) * step);
        let end = if k == 95 { point(0.0) } else { point(to) };
        path.curve_to(point(from) + step / 3.0 * slope(from), end - step / 3.0 * slope(to), end);
    }
    path.close_path();
    path
}

/// Source: length 16 a and area 6 pi a2 of a cardioid (handbooks of curves); its cusp turns back by half a turn.
#[test]
fn a_cardioid_is_as_long_and_as_large_as_the_handbook_says() {
    let fold = on_large_cloth(LineKind::Ring, cardioid(40.0));
    let zero = at(&fold, 0.0);
    assert_close!(zero.cloth_mm, 640.0, 0.05);
    // Within 0.05 mm of a line of 640 mm.
    assert_close!(zero.area_mm2, 6.0 * PI * 1600.0, 0.05 * 640.0);
    assert_close!(fold.turning_rad(), TAU, 1e-6);
}

/// Perimeter of an ellipse by the arithmetic-geometric mean (C. F. Gauss; textbook).
fn ellipse_perimeter(a: f64, b: f64) -> f64 {
    let (mut x, mut y, mut power, mut sum) = (a, b, 0.5, 0.0);
    while (x - y).abs() > 1e-13 * a {
        let half = 0.5 * (x - y);
        (x, y) = (0.5 * (x + y), (x * y).sqrt());
        power *= 2.0;
        sum += power * half * half;
    }
    let c2 = a * a - b * b;
    TAU * (a * a - 0.5 * c2 - sum) / x
}

/// Sources: area and perimeter of the ellipse in closed form; distance from it by Newton's method on its own equation.
#[test]
fn an_ellipse_is_the_ellipse_within_the_tolerance() {
    let (a, b) = (150.0, 90.0);
    let fold = on_large_cloth(LineKind::Ring, ellipse(MIDDLE, a, b));
    let zero = at(&fold, 0.0);
    assert_close!(zero.cloth_mm, ellipse_perimeter(a, b), 0.05);
    assert_close!(zero.area_mm2, PI * a * b, 0.05 * zero.cloth_mm);
    for k in 0..400 {
        let around = f64::from(k) * TAU / 400.0;
        let p = Vec2::new((a + 120.0) * around.cos(), (b + 120.0) * around.sin());
        let mut t = around;
        for _ in 0..40 {
            let (on, slope) = (Vec2::new(a * t.cos(), b * t.sin()), Vec2::new(-a * t.sin(), b * t.cos()));
            t -= (on - p).dot(slope) / (slope.hypot2() - (on - p).dot(on));
        }
        let true_mm = (Vec2::new(a * t.cos(), b * t.sin()) - p).hypot();
        assert_close!(fold.along_as_laid_mm(MIDDLE + p) - fold.line_mm(), true_mm, LINE_TOLERANCE_MM + 1e-3);
    }
}

/// How far polygons may stray from the curves that they stand for, mm.
const FLAT_MM: f64 = 0.02;

fn grown(polygon: &geo::Polygon<f64>, by_mm: f64) -> geo::MultiPolygon<f64> {
    polygon.buffer_with_style(BufferStyle::new(by_mm).line_join(LineJoin::Round(0.02)))
}

fn geo_polygon(path: &BezPath, tolerance_mm: f64) -> geo::Polygon<f64> {
    let mut ring = Vec::new();
    kurbo::flatten(path.elements().iter().copied(), tolerance_mm, |element| {
        if let kurbo::PathEl::MoveTo(p) | kurbo::PathEl::LineTo(p) = element {
            ring.push((p.x, p.y));
        }
    });
    geo::Polygon::new(ring.into(), vec![])
}

/// Source: polygon buffers of the `geo` crate, which shares no code with ours; its arcs are chords of a fiftieth of a radian.
#[test]
fn star_and_heart_agree_with_polygon_buffers() {
    let mut heart = half_heart();
    for curve in half_heart().reverse_subpaths().segments() {
        let kurbo::PathSeg::Cubic(c) = curve else { panic!("the heart is of cubics") };
        let mirrored = |p: Point| Point::new(-p.x, p.y);
        heart.curve_to(mirrored(c.p1), mirrored(c.p2), mirrored(c.p3));
    }
    heart.close_path();
    for (name, ring) in [("star", star(Point::new(0.0, 320.0), 5, 190.0, 95.0)), ("heart", heart)] {
        let fold = LineFold::new(&spec(Centring::Open, LineKind::Ring, ring.clone()), square(640.0)).unwrap();
        let cloth = geo_polygon(square(640.0).front.whole().path(), 1e-3);
        for d in [-60.0, -20.0, 20.0, 100.0, 190.0] {
            let other = grown(&geo_polygon(&ring, FLAT_MM), d).intersection(&cloth);
            let (own, other_mm2) = (at(&fold, d), other.unsigned_area());
            assert_close!(own.area_mm2, other_mm2, 2e-3 * other_mm2, "{name} at {d}");
        }
    }
}

/// The area within a parallel grows by its length: between any two distances it is that integrated.
#[test]
fn the_slope_of_the_area_is_the_length() {
    let fold = LineFold::new(&spec(Centring::Nested, LineKind::Ring, half_heart()), tee()).unwrap();
    for d in [-70.0, -30.0, 10.0, 90.0, 170.0, 260.0] {
        let cut = |d: f64| fold.cut(d + fold.line_mm()).sum_of(|cut| cut.area_mm2);
        let slope_mm = (cut(d + 1e-3) - cut(d - 1e-3)) / 2e-3;
        let cloth_mm = fold.cut(d + fold.line_mm()).sum_of(|cut| cut.cloth_mm);
        assert_close!(slope_mm, cloth_mm, 1e-6 * cloth_mm.max(1.0), "at {d}");
    }
}

trait SumOf {
    fn sum_of(&self, of: impl Fn(&Cut) -> f64) -> f64;
}

impl SumOf for PanelPair<Cut> {
    fn sum_of(&self, of: impl Fn(&Cut) -> f64) -> f64 {
        of(&self.front) + of(&self.back)
    }
}

/// Parallels to the garment's own edge: of a square they are smaller squares, all its cloth within them.
#[test]
fn the_edge_of_the_cloth_can_be_the_line() {
    let edge = square(640.0).front.whole().path().clone();
    let fold = LineFold::new(&spec(Centring::Open, LineKind::Ring, edge), square(640.0)).unwrap();
    assert_close!(fold.line_mm(), 320.0, 1e-3);
    for d in [-1.0, -50.0, -200.0, -319.0] {
        let side_mm = 640.0 + 2.0 * d;
        assert_close!(at(&fold, d).cloth_mm, 4.0 * side_mm, 1e-6, "at {d}");
        assert_close!(at(&fold, d).area_mm2, side_mm * side_mm, 1e-6 * 640.0 * 640.0, "at {d}");
    }
    assert_close!(at(&fold, 1.0).area_mm2, 640.0 * 640.0, 1e-6);
    // Of a tee, folded in half, along its whole profile from the fold to the fold.
    let profile = tee().front.profile().clone();
    let fold = LineFold::new(&spec(Centring::Nested, LineKind::Ring, profile), tee()).unwrap();
    let cut = |d: f64| at(&fold, d);
    for d in [-5.0, -40.0, -90.0, -160.0] {
        let slope_mm = (cut(d + 1e-3).area_mm2 - cut(d - 1e-3).area_mm2) / 2e-3;
        assert_close!(slope_mm, cut(d).cloth_mm, 1e-6 * cut(d).cloth_mm, "at {d}");
    }
}

/// Length of parts drawn by a ruler: the wave's parallels on either side, against buffers of `geo` of its two halves of the cloth.
#[test]
fn a_line_across_parts_the_cloth() {
    let wave = path(
        (-330.0, 360.0),
        &[
            [(-250.0, 200.0), (-150.0, 200.0), (-70.0, 340.0)],
            [(-10.0, 445.0), (110.0, 445.0), (170.0, 320.0)],
            [(205.0, 245.0), (270.0, 245.0), (330.0, 310.0)],
        ],
    );
    let fold = LineFold::new(&spec(Centring::Open, LineKind::Across, wave.clone()), square(640.0)).unwrap();
    let mut below = wave;
    below.line_to((2000.0, 360.0 + 1670.0 * 65.0 / 60.0));
    below.line_to((2000.0, 3000.0));
    below.line_to((-2000.0, 3000.0));
    below.line_to((-330.0 - 1670.0 * 0.5, 360.0 + 1670.0));
    below.close_path();
    let cloth = geo_polygon(square(640.0).front.whole().path(), 1e-3);
    for d in [-150.0, -40.0, 0.0, 40.0, 150.0] {
        let part = if d == 0.0 {
            geo::MultiPolygon::new(vec![geo_polygon(&below, FLAT_MM)])
        } else {
            grown(&geo_polygon(&below, FLAT_MM), d)
        };
        let part = part.intersection(&cloth);
        assert_close!(at(&fold, d).area_mm2, part.unsigned_area(), 2e-3 * part.unsigned_area(), "at {d}");
    }
    assert_close!(at(&fold, 900.0).area_mm2, 640.0 * 640.0, 1e-6);
}
