//! Curves as arcs that go on into each other: pairs of arcs with the curve's own directions where they begin and end.
//!
//! The pair is the one whose two tangents at the joint are equally long (K. M. Bolton, Biarc curves, Computer-Aided Design 7, 1975; from
//! memory). A curve is halved until its arcs lie within the tolerance: from then on its feet, parallels, lengths and areas are closed
//! forms, and no parallel of it has a cusp of its own.

use super::piece::{Fan, Piece, Strip, normal_of};
use kurbo::{CubicBez, ParamCurve as _, ParamCurveDeriv as _, Point, Vec2};

/// How often a curve is halved at the most: to a four thousandth.
const MOST_HALVINGS: u32 = 12;
/// Points of a curve that are held against its arcs.
const SAMPLES: u32 = 13;
/// Turn of an arc above which it is halved all the same, rad: what turns more strays between samples.
const LARGEST_TURN_RAD: f64 = 1.6;
/// Turn below which an arc counts as straight, rad: the centre would be so far away that distances from it lose digits, while the cloth's
/// own length times an eighth of this is far below any tolerance.
const STRAIGHT_RAD: f64 = 1e-4;
/// What is shorter than this is left out, mm.
const NOTHING_MM: f64 = 1e-9;

/// Arcs and straight pieces within `tolerance_mm` of a cubic, from its start to its end.
pub(crate) fn fit(cubic: CubicBez, tolerance_mm: f64) -> Vec<Piece> {
    let mut pieces = Vec::new();
    push(&mut pieces, cubic, tolerance_mm, 0);
    pieces
}

fn push(pieces: &mut Vec<Piece>, cubic: CubicBez, tolerance_mm: f64, halvings: u32) {
    let [Some(leaving), Some(arriving)] = ends(cubic) else { return };
    let pair = pair(cubic.p0, leaving, cubic.p3, arriving);
    if halvings < MOST_HALVINGS && strays(cubic, &pair, tolerance_mm) {
        let (first, second) = cubic.subdivide();
        push(pieces, first, tolerance_mm, halvings + 1);
        push(pieces, second, tolerance_mm, halvings + 1);
    } else {
        pieces.extend(pair);
    }
}

fn strays(cubic: CubicBez, pair: &[Piece], tolerance_mm: f64) -> bool {
    let off_mm = |step: u32| {
        let at = cubic.eval((f64::from(step) + 0.5) / f64::from(SAMPLES));
        pair.iter().filter_map(|piece| piece.distance_mm(at)).map(f64::abs).fold(f64::INFINITY, f64::min)
    };
    pair.iter().any(|piece| piece.turn_rad().abs() > LARGEST_TURN_RAD) || (0..SAMPLES).any(|step| off_mm(step) > tolerance_mm)
}

/// The directions in which a cubic leaves its start and reaches its end; none where it has no length.
pub(crate) fn ends(cubic: CubicBez) -> [Option<Vec2>; 2] {
    let unit = |v: Vec2| (v.hypot() > NOTHING_MM).then(|| v / v.hypot());
    let leaving = [cubic.p1, cubic.p2, cubic.p3].into_iter().find_map(|p| unit(p - cubic.p0));
    let arriving = [cubic.p2, cubic.p1, cubic.p0].into_iter().find_map(|p| unit(cubic.p3 - p));
    [leaving, arriving]
}

/// Two arcs from a point left in one direction to a point reached in another.
fn pair(from: Point, leaving: Vec2, to: Point, arriving: Vec2) -> Vec<Piece> {
    let (chord, both) = (to - from, leaving + arriving);
    // The tangents' length d solves d^2 (2 - 2 t0.t1) + 2 d v.(t0 + t1) - v.v = 0.
    let (squared, linear) = (2.0 * (1.0 - leaving.dot(arriving)), chord.dot(both));
    let reach_mm = if squared < 1e-12 {
        let denominator = 4.0 * chord.dot(arriving);
        if denominator.abs() > 1e-15 { chord.hypot2() / denominator } else { 0.5 * chord.hypot() }
    } else {
        ((linear * linear + squared * chord.hypot2()).max(0.0).sqrt() - linear) / squared
    };
    let joint = from.midpoint(to) + 0.5 * reach_mm * (leaving - arriving);
    let first = arc(from, leaving, joint);
    let onward = first.map_or(leaving, |(_, onward)| onward);
    let second = arc(joint, onward, to);
    first.into_iter().chain(second).map(|(piece, _)| piece).collect()
}

/// The arc that leaves a point in a direction and ends in another, and the direction in which it ends.
fn arc(from: Point, leaving: Vec2, to: Point) -> Option<(Piece, Vec2)> {
    let chord = to - from;
    let chord_mm = chord.hypot();
    if chord_mm < NOTHING_MM {
        return None;
    }
    let turn_rad = 2.0 * leaving.cross(chord).atan2(leaving.dot(chord));
    if turn_rad.abs() < STRAIGHT_RAD {
        return Some((Piece::Strip(Strip::between(from, to)?), Vec2::from_angle(leaving.atan2() + turn_rad)));
    }
    let (radius_mm, normal) = (chord_mm / (2.0 * (0.5 * turn_rad).sin()), normal_of(leaving));
    let fan = Fan::from_start(from, normal, radius_mm, turn_rad);
    Some((Piece::Fan(fan), Vec2::from_angle(leaving.atan2() + turn_rad)))
}

/// Whether a cubic is a straight line but for rounding.
pub(crate) fn is_straight(cubic: CubicBez) -> bool {
    let Some(along) = ends(cubic)[0] else { return true };
    let slope = cubic.deriv();
    [cubic.p1, cubic.p2, cubic.p3].into_iter().all(|p| along.cross(p - cubic.p0).abs() < NOTHING_MM)
        && [0.0, 0.25, 0.5, 0.75, 1.0].into_iter().all(|t| slope.eval(t).to_vec2().dot(along) >= -NOTHING_MM)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arcs_lie_within_the_tolerance_and_go_on_into_each_other() {
        let cubic = CubicBez::new((0.0, 255.0), (20.0, 175.0), (155.0, 165.0), (160.0, 270.0));
        for tolerance_mm in [0.2, 0.05, 0.01] {
            let pieces = fit(cubic, tolerance_mm);
            for step in 0..=2000 {
                let at = cubic.eval(f64::from(step) / 2000.0);
                let off_mm = pieces.iter().filter_map(|piece| piece.distance_mm(at)).map(f64::abs).fold(f64::INFINITY, f64::min);
                assert!(off_mm <= 1.05 * tolerance_mm, "{off_mm} mm at {at:?}, {tolerance_mm} asked");
            }
            for two in pieces.windows(2) {
                assert!(two[0].point(1.0, 0.0).distance(two[1].point(0.0, 0.0)) < 1e-9);
                assert!((two[0].normal(1.0) - two[1].normal(0.0)).hypot() < 1e-6);
            }
        }
    }

    #[test]
    fn degenerate_cubics_become_what_they_are() {
        let p = Point::new(3.0, 4.0);
        assert!(fit(CubicBez::new(p, p, p, p), 0.05).is_empty());
        let straight = CubicBez::new((0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (9.0, 9.0));
        assert!(is_straight(straight) && !is_straight(CubicBez::new((0.0, 0.0), (9.0, 9.0), (0.0, 0.0), (5.0, 5.0))));
        // A cusp, a loop, a hairpin: whatever they become, it begins and ends where they do.
        for (b, c) in [((100.0, 100.0), (0.0, 100.0)), ((200.0, 100.0), (-100.0, 100.0)), ((400.0, 0.0), (400.0, 0.0))] {
            let cubic = CubicBez::new((0.0, 0.0), b, c, (100.0, 0.0));
            let pieces = fit(cubic, 0.05);
            let ends = (pieces[0].point(0.0, 0.0), pieces[pieces.len() - 1].point(1.0, 0.0));
            assert!(ends.0.distance(cubic.p0) < 1e-9 && ends.1.distance(cubic.p3) < 1e-6, "{ends:?}");
        }
    }
}
