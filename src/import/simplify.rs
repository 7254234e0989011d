//! Lines of thousands of points as few curves.
//!
//! Points that lie so close that they can only be samples of a curve are joined by the curve through them, corners are kept, and what then
//! runs smoothly is fitted by as few cubics as `kurbo` needs within the tolerance.

use super::limits::SPECK_MM;
use kurbo::simplify::SimplifyBezPath;
use kurbo::{BezPath, CubicBez, ParamCurve as _, ParamCurveArclen as _, ParamCurveNearest as _, PathEl, PathSeg, Point, Vec2};

/// Most that sampled points turn from one to the next, rad (own choice).
const SAMPLED_RAD: f64 = 0.5;
/// Most that a curve through sampled points stands off the straight way between two, as a multiple of the tolerance (own choice: curves are
/// mostly flattened within a tenth of a millimetre).
const SAMPLED_OFF: f64 = 2.0;
/// Where curves turn less than this, they go on into each other, rad: about 1 degree (own choice).
const SMOOTH_RAD: f64 = 0.02;
/// A straight side that sampled points run on from with less than this turn gives them their direction, rad (own choice).
const TANGENT_RAD: f64 = 0.2;
/// What is shorter is nothing, mm.
const NOTHING_MM: f64 = 1e-6;
/// How far a fit may lie from what it is made of, as a multiple of the tolerance, before it is not taken.
const STRAYS: f64 = 1.5;

/// A path of one part with few nodes, within `tolerance_mm` of its points and curves, and of straight sides that are longer than samples
/// lie apart.
#[must_use]
pub fn simplified(path: &BezPath, tolerance_mm: f64) -> BezPath {
    let is_closed = path.elements().last() == Some(&PathEl::ClosePath);
    let mut sides: Vec<PathSeg> = path.segments().map(cubic_or_line).filter(|side| size(side) > NOTHING_MM).collect();
    let count = sides.len();
    if count == 0 {
        return path.clone();
    }
    let goes_on = |at: usize, sides: &[PathSeg]| is_smooth(&sides[at], &sides[(at + 1) % count], tolerance_mm);
    // A closed line begins at a corner, where it has one.
    if is_closed && let Some(corner) = (0..count).find(|&at| !goes_on(at, &sides)) {
        sides.rotate_left((corner + 1) % count);
    }
    let mut runs: Vec<&[PathSeg]> = Vec::new();
    let mut from = 0;
    for at in 0..count {
        if at + 1 == count || !goes_on(at, &sides) {
            runs.push(&sides[from..=at]);
            from = at + 1;
        }
    }
    let is_round = is_closed && runs.len() == 1 && goes_on(count - 1, &sides);
    let mut whole = BezPath::new();
    whole.move_to(sides[0].start());
    for (index, run) in runs.iter().enumerate() {
        let before = beside(&runs, index, false, is_closed).map(|side| tangents(side)[1]);
        let after = beside(&runs, index, true, is_closed).map(|side| tangents(side)[0]);
        let drawn = if is_round { curve(run, Around::Itself) } else { curve(run, Around::Sides([before, after])) };
        whole.extend(fitted(&drawn, tolerance_mm).elements().iter().skip(1).copied());
    }
    if is_closed {
        whole.close_path();
    }
    whole
}

fn cubic_or_line(side: PathSeg) -> PathSeg {
    match side {
        PathSeg::Quad(quad) => PathSeg::Cubic(quad.raise()),
        other => other,
    }
}

/// How much room a side takes at the least, mm.
fn size(side: &PathSeg) -> f64 {
    match side {
        PathSeg::Line(line) => line.length(),
        _ => side.arclen(NOTHING_MM),
    }
}

/// The directions in which a side leaves and arrives.
fn tangents(side: &PathSeg) -> [Vec2; 2] {
    let unit = |v: Vec2| if v.hypot() > 0.0 { v / v.hypot() } else { Vec2::ZERO };
    let CubicBez { p0, p1, p2, p3 } = side.to_cubic();
    let longest = |ways: [Vec2; 3]| ways.into_iter().find(|way| way.hypot() > NOTHING_MM).unwrap_or_default();
    [unit(longest([p1 - p0, p2 - p0, p3 - p0])), unit(longest([p3 - p2, p3 - p1, p3 - p0]))]
}

fn turn_rad(before: Vec2, after: Vec2) -> f64 {
    before.cross(after).atan2(before.dot(after)).abs()
}

/// Whether one side goes on into the next: as curves do, or as samples of a curve.
fn is_smooth(side: &PathSeg, next: &PathSeg, tolerance_mm: f64) -> bool {
    let turn_rad = turn_rad(tangents(side)[1], tangents(next)[0]);
    match (side, next) {
        (PathSeg::Line(a), PathSeg::Line(b)) => {
            // The arc over a chord `c` with the turn `a` from chord to chord is about `a c / 8` high.
            turn_rad < SAMPLED_RAD && a.length().max(b.length()) * turn_rad / 8.0 <= SAMPLED_OFF * tolerance_mm
        }
        _ => turn_rad < SMOOTH_RAD && [side, next].into_iter().all(is_regular),
    }
}

/// Whether it sets out and arrives with some speed: fits need that.
fn is_regular(side: &PathSeg) -> bool {
    let cubic = side.to_cubic();
    matches!(side, PathSeg::Line(_)) || [cubic.p1 - cubic.p0, cubic.p3 - cubic.p2].into_iter().all(|way| way.hypot() > NOTHING_MM)
}

/// The side beside a run, where that is no sampled one itself.
fn beside<'a>(runs: &[&'a [PathSeg]], index: usize, is_after: bool, is_closed: bool) -> Option<&'a PathSeg> {
    let other = match (is_after, index) {
        (true, _) if index + 1 < runs.len() => index + 1,
        (true, _) if is_closed => 0,
        (false, 1..) => index - 1,
        (false, 0) if is_closed => runs.len() - 1,
        _ => return None,
    };
    let run = runs[other];
    let side = if is_after { run.first() } else { run.last() }?;
    (other != index && (run.len() == 1 || matches!(side, PathSeg::Cubic(_)))).then_some(side)
}

/// What comes before and after a run.
enum Around {
    /// The run's own end and beginning.
    Itself,
    /// The directions of the sides there, where they are known.
    Sides([Option<Vec2>; 2]),
}

/// The smooth curve along a run: its curves as they are, and one through the points of its straight sides.
fn curve(run: &[PathSeg], around: Around) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(run[0].start());
    if let [PathSeg::Line(line)] = run {
        path.line_to(line.p1);
        return path;
    }
    let ways = ways(run, around);
    for (side, way) in run.iter().zip(ways.windows(2)) {
        match side {
            PathSeg::Line(line) => {
                // The handles of a circle's arc: 4/3 tan (a / 4) radii, in chords (textbook).
                let quarter = 0.25 * turn_rad(way[0], way[1]);
                let handle_mm = line.length() / (3.0 * quarter.cos().powi(2));
                path.curve_to(line.p0 + handle_mm * way[0], line.p1 - handle_mm * way[1], line.p1);
            }
            _ => path.push(side.as_path_el()),
        }
    }
    path
}

/// The directions at the points of a run.
fn ways(run: &[PathSeg], around: Around) -> Vec<Vec2> {
    let between = |side: &PathSeg, next: &PathSeg| match (side, next) {
        // That of the circle through the three points, nearly: the shorter side says more.
        (PathSeg::Line(a), PathSeg::Line(b)) => {
            let way = b.length() * tangents(side)[1] + a.length() * tangents(next)[0];
            way / way.hypot()
        }
        (PathSeg::Line(_), _) => tangents(next)[0],
        _ => tangents(side)[1],
    };
    let (first, last) = (&run[0], &run[run.len() - 1]);
    let inner = run.windows(2).map(|pair| between(&pair[0], &pair[1]));
    let mut ways: Vec<Vec2> = std::iter::once(Vec2::ZERO).chain(inner).chain([Vec2::ZERO]).collect();
    let end = ways.len() - 1;
    match around {
        Around::Itself => {
            ways[0] = between(last, first);
            ways[end] = ways[0];
        }
        Around::Sides([before, after]) => {
            ways[0] = end_way(first, tangents(first)[0], ways[1], before);
            ways[end] = end_way(last, tangents(last)[1], ways[end - 1], after);
        }
    }
    ways
}

/// The direction at an end of a run: of a curve its own; of samples that of the straight side beside them, or of the arc with the direction
/// at their next point.
fn end_way(side: &PathSeg, own: Vec2, next: Vec2, beside: Option<Vec2>) -> Vec2 {
    match (side, beside) {
        (PathSeg::Line(_), Some(way)) if turn_rad(way, own) < TANGENT_RAD => way,
        (PathSeg::Line(_), _) => 2.0 * own.dot(next) * own - next,
        _ => own,
    }
}

/// A smooth curve by as few cubics as keep it within the tolerance; a straight line where it is one.
fn fitted(drawn: &BezPath, tolerance_mm: f64) -> BezPath {
    let sides: Vec<PathSeg> = drawn.segments().collect();
    let (Some(first), Some(last)) = (sides.first(), sides.last()) else { return drawn.clone() };
    let (start, end) = (first.start(), last.end());
    let straight = kurbo::Line::new(start, end);
    let off_mm = |p: Point| straight.nearest(p, NOTHING_MM).distance_sq.sqrt();
    let controls = |side: &PathSeg| {
        let cubic = side.to_cubic();
        [cubic.p0, cubic.p1, cubic.p2, cubic.p3]
    };
    if straight.length() > SPECK_MM && sides.iter().flat_map(controls).all(|p| off_mm(p) < 0.2 * tolerance_mm) {
        return [PathEl::MoveTo(start), PathEl::LineTo(end)].into_iter().collect();
    }
    if sides.len() < 3 {
        return drawn.clone();
    }
    let mut fit = kurbo::fit_to_bezpath(&SimplifyBezPath::new(drawn), tolerance_mm);
    if let Some(PathEl::MoveTo(p)) = fit.elements_mut().first_mut() {
        *p = start;
    }
    if let Some(PathEl::CurveTo(_, _, p) | PathEl::LineTo(p)) = fit.elements_mut().last_mut() {
        *p = end;
    }
    let fits: Vec<PathSeg> = fit.segments().collect();
    let is_better = fit.is_finite() && fits.len() < sides.len() && !strays(&sides, &fits, STRAYS * tolerance_mm);
    if is_better { fit } else { drawn.clone() }
}

/// Whether a fit leaves what it is made of, both walked along.
fn strays(sides: &[PathSeg], fits: &[PathSeg], most_mm: f64) -> bool {
    let mut at = 0;
    let off_mm = |fit: &PathSeg, p: Point| fit.nearest(p, 1e-3).distance_sq.sqrt();
    sides.iter().flat_map(|side| [0.0, 0.5].map(|share| side.eval(share))).any(|p| {
        let mut here_mm = off_mm(&fits[at], p);
        while at + 1 < fits.len() {
            let next_mm = off_mm(&fits[at + 1], p);
            if next_mm > here_mm {
                break;
            }
            (at, here_mm) = (at + 1, next_mm);
        }
        here_mm > most_mm
    })
}
