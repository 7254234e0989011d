//! An outline as seen from a line: its stretches by the piece of the line that is nearest, along which the distance from the line only
//! grows or only shrinks. Each of them then meets any parallel at most once.

use super::chain::Chain;
use super::piece::Piece;
use crate::geometry::{Outline, disc};
use kurbo::common::solve_quadratic;
use kurbo::{CubicBez, ParamCurve as _, ParamCurveArclen as _, ParamCurveArea as _, ParamCurveDeriv as _, PathSeg, Point, Vec2};

/// A stretch of an outline.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    curve: CubicBez,
    /// The piece of the line that is nearest all along it.
    pub(super) piece: usize,
    /// Signed distances of its ends from the line, mm.
    pub(super) start_mm: f64,
    pub(super) end_mm: f64,
    area_mm2: f64,
}

/// What a parallel makes of an edge.
#[derive(Debug, Clone, Copy)]
pub(super) struct EdgeCut {
    /// Area that the part nearer to the line's inner side adds by Green's theorem, mm2.
    pub(super) area_mm2: f64,
    /// The share of the edge's piece at which the parallel meets it, if it does.
    pub(super) at_share: Option<f64>,
}

/// Between points of an outline at which the nearest piece is asked for, mm: what is nearer for less than this escapes, by a distance
/// that is no more than a few hundredths.
const STEP_MM: f64 = 4.0;
/// Edges that end and begin nearer than this meet, mm.
const SAME_MM: f64 = 1e-9;
/// Shortest stretch, as a share of its segment: rounding.
const SHORTEST: f64 = 1e-13;
/// Newton needs about five steps; bisection alone would need 53.
const STEPS: u32 = 80;

/// The edges of an outline.
pub(super) fn edges(chain: &Chain, outline: &Outline) -> Vec<Edge> {
    let mut edges = Vec::new();
    for segment in outline.segments() {
        let cubic = even_cubic(segment);
        let nearest = |t: f64| (t, chain.nearest(cubic.eval(t)).0);
        let steps = (cubic.arclen(1.0) / STEP_MM).ceil().clamp(1.0, 10_000.0);
        let mut stretches = Vec::new();
        let mut from = nearest(0.0);
        let mut at = 0.0;
        while at < steps {
            at += 1.0;
            let to = nearest(at / steps);
            halve(&mut stretches, chain, &cubic, from, to);
            from = to;
        }
        let mut from = 0.0;
        for Stretch { to, piece } in stretches {
            push_monotone(&mut edges, chain, cubic.subsegment(from..to), piece);
            from = to;
        }
    }
    // One distance where two edges meet: a parallel meets both there or neither.
    for at in 1..edges.len() {
        if edges[at].curve.p0.distance(edges[at - 1].curve.p3) < SAME_MM {
            edges[at].start_mm = edges[at - 1].end_mm;
        }
    }
    edges
}

/// A stretch of a segment, from where the one before ends.
struct Stretch {
    to: f64,
    /// The piece that is nearest all along it.
    piece: usize,
}

/// A straight line as a cubic of even speed; kurbo's own rests at its ends.
fn even_cubic(segment: PathSeg) -> CubicBez {
    match segment {
        PathSeg::Line(line) => CubicBez::new(line.p0, line.eval(1.0 / 3.0), line.eval(2.0 / 3.0), line.p1),
        PathSeg::Quad(_) | PathSeg::Cubic(_) => segment.to_cubic(),
    }
}

/// Halves a stretch of a segment until the same piece is nearest to both its ends.
fn halve(stretches: &mut Vec<Stretch>, chain: &Chain, cubic: &CubicBez, from: (f64, usize), to: (f64, usize)) {
    if from.1 == to.1 || to.0 - from.0 < SHORTEST {
        match stretches.last_mut() {
            Some(last) if last.piece == from.1 => last.to = to.0,
            _ => stretches.push(Stretch { to: to.0, piece: from.1 }),
        }
        return;
    }
    let t = 0.5 * (from.0 + to.0);
    let middle = (t, nearest_of(chain, cubic.eval(t), from, to));
    halve(stretches, chain, cubic, from, middle);
    halve(stretches, chain, cubic, middle, to);
}

/// The nearest piece to a point between two others; where those are close, one of theirs.
fn nearest_of(chain: &Chain, point: Point, from: (f64, usize), to: (f64, usize)) -> usize {
    if to.0 - from.0 > CLOSE {
        return chain.nearest(point).0;
    }
    let [a, b] = [from.1, to.1].map(|piece| chain.distance_to_mm(piece, point).map(f64::abs));
    match (a, b) {
        (Some(a), Some(b)) => {
            if a <= b {
                from.1
            } else {
                to.1
            }
        }
        (Some(_), None) => from.1,
        (None, Some(_)) => to.1,
        (None, None) => chain.nearest(point).0,
    }
}

/// Stretches shorter than this, as a share of their segment, see only the pieces at their ends.
const CLOSE: f64 = 1e-5;

/// Cuts a stretch with one nearest piece where its distance from it turns.
fn push_monotone(edges: &mut Vec<Edge>, chain: &Chain, curve: CubicBez, piece: usize) {
    let on = &chain.pieces()[piece];
    let turns = match on {
        Piece::Strip(_) => level_points(curve, on.normal(0.0)),
        Piece::Fan(fan) => disc::turning_points(CubicBez::new(
            curve.p0 - fan.centre.to_vec2(),
            curve.p1 - fan.centre.to_vec2(),
            curve.p2 - fan.centre.to_vec2(),
            curve.p3 - fan.centre.to_vec2(),
        )),
    };
    let mut from = 0.0;
    for t in turns.into_iter().chain([1.0]).filter(|t| (0.0..=1.0).contains(t)) {
        if t > from {
            let part = curve.subsegment(from..t);
            let (start_mm, end_mm) = (on.carrier_distance_mm(part.p0), on.carrier_distance_mm(part.p3));
            edges.push(Edge { curve: part, piece, start_mm, end_mm, area_mm2: part.signed_area() });
            from = t;
        }
    }
}

/// The inner parameters, ascending, at which a curve runs level across a direction.
fn level_points(curve: CubicBez, normal: Vec2) -> Vec<f64> {
    let slope = curve.deriv();
    let [a, b, c] = [slope.p0, slope.p1, slope.p2].map(|p| p.to_vec2().dot(normal));
    let mut roots = solve_quadratic(a, 2.0 * (b - a), a - 2.0 * b + c).to_vec();
    roots.retain(|t| (0.0..1.0).contains(t));
    roots.sort_by(f64::total_cmp);
    roots
}

impl Edge {
    /// Cuts it at the parallel at a distance from the line.
    pub(super) fn cut(&self, chain: &Chain, distance_mm: f64) -> EdgeCut {
        if self.start_mm.max(self.end_mm) < distance_mm {
            return EdgeCut { area_mm2: self.area_mm2, at_share: None };
        }
        if self.start_mm.min(self.end_mm) >= distance_mm {
            return EdgeCut { area_mm2: 0.0, at_share: None };
        }
        let piece = &chain.pieces()[self.piece];
        let t = self.crossing(piece, distance_mm);
        let within = if self.start_mm < self.end_mm { self.curve.subsegment(0.0..t) } else { self.curve.subsegment(t..1.0) };
        EdgeCut { area_mm2: within.signed_area(), at_share: Some(piece.share(self.curve.eval(t))) }
    }

    /// The parameter at which its distance from the piece is the one given: Newton's method kept in a shrinking bracket.
    fn crossing(&self, piece: &Piece, distance_mm: f64) -> f64 {
        let (mut low, mut high) = (0.0, 1.0);
        let is_rising = self.start_mm < self.end_mm;
        let slope = self.curve.deriv();
        let mut t = (distance_mm - self.start_mm) / (self.end_mm - self.start_mm);
        for _ in 0..STEPS {
            let at = self.curve.eval(t);
            let excess_mm = piece.carrier_distance_mm(at) - distance_mm;
            if excess_mm == 0.0 {
                break;
            }
            if (excess_mm > 0.0) == is_rising {
                high = t;
            } else {
                low = t;
            }
            let newton = t - excess_mm / slope.eval(t).to_vec2().dot(piece.outward(at));
            let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
            if (next - t).abs() <= f64::EPSILON {
                break;
            }
            t = next;
        }
        t
    }
}
