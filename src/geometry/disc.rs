//! How much of an outline lies within a radius of a centre, and how much of the circle lies in the outline: both exact.
//!
//! Green's theorem round the boundary of (outline within disc). The boundary's stretches inside the disc each give
//! `1/2 (x dy - y dx)`; a stretch outside is replaced by the arc that it subtends, `1/2 r^2 dtheta`. The derivative of that area
//! by `r` is `r` times the subtended angles alone, for the two forms agree where the boundary crosses the circle; so one pass gives
//! the area and the length of arc. Lines and cubics are cut at their nearest and farthest points first: each piece then crosses
//! any circle at most once.

use super::Outline;
use kurbo::{CubicBez, Line, ParamCurve, ParamCurveArea, ParamCurveDeriv, PathSeg, Point, Vec2};
use polycool::Poly;

/// The part of an outline within a radius, and of the circle within the outline.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct DiscMeasure {
    /// Area of outline and disc together, mm2.
    pub area_mm2: f64,
    /// Length of the circle inside the outline, mm.
    pub arc_mm: f64,
}

/// An outline prepared for circles about one centre.
#[derive(Debug, Clone)]
pub struct DiscCutter {
    pieces: Vec<Piece>,
    farthest_mm: f64,
}

impl DiscCutter {
    /// Prepares `outline` for circles about `centre` (mm), which may lie inside, outside or on the curve.
    #[must_use]
    pub fn new(outline: &Outline, centre: Point) -> Self {
        let mut pieces = Vec::new();
        for segment in outline.segments() {
            push_monotone(&mut pieces, segment, centre.to_vec2());
        }
        let farthest_mm = pieces.iter().map(|piece| piece.start_mm.max(piece.end_mm)).fold(0.0, f64::max);
        Self { pieces, farthest_mm }
    }

    /// Distance from the centre to the farthest point of the outline, mm.
    #[must_use]
    pub fn farthest_mm(&self) -> f64 {
        self.farthest_mm
    }

    /// Distance from the centre to the nearest point of the outline, mm: circles up to it are whole, or meet nothing.
    #[must_use]
    pub fn nearest_mm(&self) -> f64 {
        self.pieces.iter().map(|piece| piece.start_mm.min(piece.end_mm)).fold(f64::INFINITY, f64::min)
    }

    /// Area and arc for the radius `radius_mm >= 0`. Exact but for rounding (relative error about 1e-12).
    #[must_use]
    pub fn measure(&self, radius_mm: f64) -> DiscMeasure {
        let (mut inside_mm2, mut angle_rad) = (0.0, 0.0);
        for piece in &self.pieces {
            let (area, angle) = piece.cut(radius_mm);
            inside_mm2 += area;
            angle_rad += angle;
        }
        // Clamped: rounding may leave a nothing of the wrong sign where circle and outline do not meet.
        let arc_mm = (radius_mm * angle_rad).max(0.0);
        DiscMeasure { area_mm2: (inside_mm2 + 0.5 * radius_mm * radius_mm * angle_rad).max(0.0), arc_mm }
    }

    /// Where the circle crosses the outline: angles in rad in `(-pi, pi]` from the x axis towards y, unsorted.
    pub fn crossings_rad(&self, radius_mm: f64) -> impl Iterator<Item = f64> + '_ {
        self.pieces.iter().filter_map(move |piece| {
            let (low, high) = (piece.start_mm.min(piece.end_mm), piece.start_mm.max(piece.end_mm));
            (low < radius_mm && radius_mm < high).then(|| piece.curve.eval(piece.crossing(radius_mm)).to_vec2().atan2())
        })
    }
}

/// A stretch of boundary, relative to the centre, along which the distance from the centre only grows or only shrinks.
#[derive(Debug, Clone, Copy)]
struct Piece {
    curve: PathSeg,
    start_mm: f64,
    end_mm: f64,
    area_mm2: f64,
    angle_rad: f64,
}

impl Piece {
    fn new(curve: PathSeg) -> Self {
        let (start_mm, end_mm) = (curve.eval(0.0).to_vec2().hypot(), curve.eval(1.0).to_vec2().hypot());
        Self { curve, start_mm, end_mm, area_mm2: curve.signed_area(), angle_rad: swept_angle_rad(curve, SWEEP_HALVINGS) }
    }

    /// Green area of the part inside the circle, and angle subtended by the part outside.
    fn cut(&self, radius_mm: f64) -> (f64, f64) {
        if self.start_mm.max(self.end_mm) <= radius_mm {
            return (self.area_mm2, 0.0);
        }
        if self.start_mm.min(self.end_mm) >= radius_mm {
            return (0.0, self.angle_rad);
        }
        let t = self.crossing(radius_mm);
        let (first, second) = (self.curve.subsegment(0.0..t), self.curve.subsegment(t..1.0));
        let (inside, outside) = if self.start_mm < self.end_mm { (first, second) } else { (second, first) };
        (inside.signed_area(), swept_angle_rad(outside, SWEEP_HALVINGS))
    }

    /// The parameter at which the piece, which spans `radius_mm`, crosses that circle: Newton's method kept in a shrinking bracket.
    fn crossing(&self, radius_mm: f64) -> f64 {
        let (mut low, mut high) = (0.0, 1.0);
        let rising = self.start_mm < self.end_mm;
        let mut t = (radius_mm - self.start_mm) / (self.end_mm - self.start_mm);
        for _ in 0..CROSSING_STEPS {
            let (p, slope) = point_and_slope(self.curve, t);
            let excess = p.hypot2() - radius_mm * radius_mm;
            if excess == 0.0 {
                break;
            }
            if (excess > 0.0) == rising {
                high = t;
            } else {
                low = t;
            }
            let newton = t - excess / (2.0 * p.dot(slope));
            let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
            if (next - t).abs() <= f64::EPSILON {
                break;
            }
            t = next;
        }
        t
    }
}

/// Newton needs about five steps; bisection alone would need 53.
const CROSSING_STEPS: u32 = 80;
/// How often a curve may be halved until it subtends clearly less than half a turn. A curve that passes within 2^-24 of its own
/// length of the centre has its remaining angle taken from its end points.
const SWEEP_HALVINGS: u32 = 24;

fn point_and_slope(curve: PathSeg, t: f64) -> (Vec2, Vec2) {
    match curve {
        PathSeg::Line(line) => (line.eval(t).to_vec2(), line.p1 - line.p0),
        PathSeg::Quad(quad) => (quad.eval(t).to_vec2(), quad.deriv().eval(t).to_vec2()),
        PathSeg::Cubic(cubic) => (cubic.eval(t).to_vec2(), cubic.deriv().eval(t).to_vec2()),
    }
}

/// Signed angle, as seen from the origin, from the start to the end of a curve, followed along it.
fn swept_angle_rad(curve: PathSeg, halvings: u32) -> f64 {
    let cubic = match curve {
        PathSeg::Line(line) => return angle_between_rad(line.p0.to_vec2(), line.p1.to_vec2()),
        PathSeg::Quad(quad) => quad.raise(),
        PathSeg::Cubic(cubic) => cubic,
    };
    let points = [cubic.p0, cubic.p1, cubic.p2, cubic.p3].map(Point::to_vec2);
    let ahead = points[0] + points[3];
    if halvings == 0 || points.iter().all(|p| p.dot(ahead) > 0.0) {
        return angle_between_rad(points[0], points[3]);
    }
    let (first, second) = cubic.subdivide();
    swept_angle_rad(PathSeg::Cubic(first), halvings - 1) + swept_angle_rad(PathSeg::Cubic(second), halvings - 1)
}

fn angle_between_rad(from: Vec2, to: Vec2) -> f64 {
    from.cross(to).atan2(from.dot(to))
}

fn push_monotone(pieces: &mut Vec<Piece>, segment: PathSeg, centre: Vec2) {
    match segment {
        PathSeg::Line(line) => push_line(pieces, Line::new(line.p0 - centre, line.p1 - centre)),
        PathSeg::Quad(_) | PathSeg::Cubic(_) => push_cubic(pieces, shifted(segment.to_cubic(), centre)),
    }
}

fn shifted(c: CubicBez, by: Vec2) -> CubicBez {
    CubicBez::new(c.p0 - by, c.p1 - by, c.p2 - by, c.p3 - by)
}

fn push_line(pieces: &mut Vec<Piece>, line: Line) {
    let along = line.p1 - line.p0;
    if along.hypot2() == 0.0 {
        return;
    }
    let nearest = -line.p0.to_vec2().dot(along) / along.hypot2();
    if nearest > 0.0 && nearest < 1.0 {
        let foot = line.eval(nearest);
        pieces.push(Piece::new(PathSeg::Line(Line::new(line.p0, foot))));
        pieces.push(Piece::new(PathSeg::Line(Line::new(foot, line.p1))));
    } else {
        pieces.push(Piece::new(PathSeg::Line(line)));
    }
}

fn push_cubic(pieces: &mut Vec<Piece>, cubic: CubicBez) {
    let mut from = 0.0;
    for t in turning_points(cubic).into_iter().chain([1.0]) {
        if t > from {
            pieces.push(Piece::new(PathSeg::Cubic(cubic.subsegment(from..t))));
            from = t;
        }
    }
}

/// The inner parameters, ascending, at which the distance from the origin turns: roots of `P . P'`, a quintic.
pub(super) fn turning_points(c: CubicBez) -> Vec<f64> {
    let [p0, p1, p2, p3] = [c.p0, c.p1, c.p2, c.p3].map(Point::to_vec2);
    // P = a + b t + g t^2 + h t^3
    let (a, b, g, h) = (p0, 3.0 * (p1 - p0), 3.0 * (p2 - 2.0 * p1 + p0), p3 - 3.0 * p2 + 3.0 * p1 - p0);
    let coefficients = [
        a.dot(b),
        2.0 * a.dot(g) + b.dot(b),
        3.0 * (a.dot(h) + b.dot(g)),
        4.0 * b.dot(h) + 2.0 * g.dot(g),
        5.0 * g.dot(h),
        3.0 * h.dot(h),
    ];
    let mut roots = Poly::new(coefficients).roots_between(0.0, 1.0, 1e-12).to_vec();
    roots.sort_by(f64::total_cmp);
    roots
}
