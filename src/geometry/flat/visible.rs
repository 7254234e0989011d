//! What is seen from above of flat pieces that lie on each other: the parts of their outlines that no upper one hides.

use kurbo::{BezPath, Line, ParamCurve as _, PathEl, Point, Rect, Vec2};

/// A closed outline as corners, without the first one again.
pub(super) type Ring = Vec<Point>;

/// How far a curve's straight pieces may stray from it, mm: less than is seen in a picture.
const FLAT_MM: f64 = 0.6;
/// What is no farther apart than this lies on each other, mm.
const ON_IT_MM: f64 = 0.05;
/// Outlines shorter than this are not seen, mm.
const SHORTEST_MM: f64 = 0.2;

/// The closed curves of a path as corners.
pub(super) fn rings(path: &BezPath) -> Vec<Ring> {
    let mut rings: Vec<Ring> = Vec::new();
    kurbo::flatten(path, FLAT_MM, |el| match el {
        PathEl::MoveTo(p) => rings.push(vec![p]),
        PathEl::LineTo(p) => {
            if let Some(ring) = rings.last_mut().filter(|ring| ring.last().is_none_or(|last| last.distance(p) > 1e-6)) {
                ring.push(p);
            }
        }
        _ => {}
    });
    rings.retain(|ring| ring.len() > 2);
    rings
}

fn sides(ring: &[Point]) -> impl Iterator<Item = Line> {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(&from, &to)| Line::new(from, to))
}

fn bounds(rings: &[Ring]) -> Rect {
    let corners = rings.iter().flatten().map(|&corner| Rect::from_points(corner, corner));
    corners.reduce(|a, b| a.union(b)).unwrap_or_default()
}

/// Whether a point lies within outlines, by the number of times that they run round it.
fn contains(rings: &[Ring], at: Point) -> bool {
    let mut winding = 0;
    for side in rings.iter().flat_map(|ring| sides(ring)) {
        let (from, to) = (side.p0 - at, side.p1 - at);
        if (from.y <= 0.0) != (to.y <= 0.0) {
            let is_left = from.cross(to) > 0.0;
            winding += match (from.y <= 0.0, is_left) {
                (true, true) => 1,
                (false, false) => -1,
                _ => 0,
            };
        }
    }
    winding != 0
}

/// Whether outlines lie within others, or on their edge.
pub(super) fn is_within(own: &[Ring], other: &[Ring]) -> bool {
    let room = bounds(other).inflate(ON_IT_MM, ON_IT_MM);
    let is_on = |at: Point| other.iter().flat_map(|ring| sides(ring)).any(|side| away(side, at) <= ON_IT_MM);
    own.iter().flatten().all(|&corner| room.contains(corner) && (contains(other, corner) || is_on(corner)))
}

fn away(side: Line, at: Point) -> f64 {
    let run = side.p1 - side.p0;
    let share = ((at - side.p0).dot(run) / run.hypot2().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    at.distance(side.eval(share))
}

/// From its first to its last point within outlines, the stretch of a line.
pub(super) fn stretch_within(all: &[Vec<Ring>], line: Line) -> Option<Line> {
    let mut cuts: Vec<f64> = all.iter().flatten().flat_map(|ring| sides(ring)).filter_map(|side| crossing(line, side)).collect();
    cuts.sort_by(f64::total_cmp);
    let is_inside = |cut: &&[f64]| {
        let middle = line.eval(0.5 * (cut[0] + cut[1]));
        cut[1] - cut[0] > 1e-9 && all.iter().any(|rings| contains(rings, middle))
    };
    let first = cuts.windows(2).find(is_inside)?[0];
    let last = cuts.windows(2).rev().find(is_inside)?[1];
    Some(line.subsegment(first..last))
}

/// Where along a line another crosses it, from 0 to 1.
fn crossing(line: Line, side: Line) -> Option<f64> {
    let (run, other) = (line.p1 - line.p0, side.p1 - side.p0);
    let between = run.cross(other);
    if between.abs() < 1e-9 {
        return None;
    }
    let from = side.p0 - line.p0;
    let (own, there) = (from.cross(other) / between, from.cross(run) / between);
    ((0.0..=1.0).contains(&own) && (-1e-9..=1.0 + 1e-9).contains(&there)).then_some(own)
}

/// The parts of the outlines of pieces, from the bottom up, that are seen from above.
pub(super) fn seen_of(all: &[Vec<Ring>]) -> Vec<Line> {
    let boxes: Vec<Rect> = all.iter().map(|rings| bounds(rings)).collect();
    let mut seen = Vec::new();
    for (number, own) in all.iter().enumerate() {
        for side in own.iter().flat_map(|ring| sides(ring)) {
            let room = Rect::from_points(side.p0, side.p1).inflate(ON_IT_MM, ON_IT_MM);
            let above: Vec<&[Ring]> =
                (number + 1..all.len()).filter(|&upper| boxes[upper].overlaps(room)).map(|upper| &all[upper][..]).collect();
            seen_parts(side, own, &above, &mut seen);
        }
    }
    seen
}

/// The parts of one side that no upper piece hides, and that are an edge of its own piece: one that was cut through a gap runs along the cut there
/// and back.
fn seen_parts(side: Line, own: &[Ring], above: &[&[Ring]], seen: &mut Vec<Line>) {
    let run = side.p1 - side.p0;
    let length_mm = run.hypot();
    if length_mm < 1e-9 {
        return;
    }
    let aside = ON_IT_MM * Vec2::new(-run.y, run.x) / length_mm;
    let mut cuts: Vec<f64> = above
        .iter()
        .flat_map(|rings| rings.iter())
        .flat_map(|ring| sides(ring))
        .filter_map(|other| crossing(side, other))
        .collect();
    let corners = own.iter().flatten().filter(|&&corner| away(side, corner) < 1e-6);
    cuts.extend(corners.map(|&corner| (corner - side.p0).dot(run) / (length_mm * length_mm)));
    cuts.extend([0.0, 1.0]);
    cuts.sort_by(f64::total_cmp);
    for cut in cuts.windows(2).filter(|cut| (cut[1] - cut[0]) * length_mm > SHORTEST_MM) {
        let middle = side.eval(0.5 * (cut[0] + cut[1]));
        let is_edge = contains(own, middle + aside) != contains(own, middle - aside);
        let is_hidden = above.iter().any(|rings| contains(rings, middle + aside) && contains(rings, middle - aside));
        if is_edge && !is_hidden {
            seen.push(side.subsegment(cut[0]..cut[1]));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Ring> {
        vec![vec![Point::new(x0, y0), Point::new(x1, y0), Point::new(x1, y1), Point::new(x0, y1)]]
    }

    fn length_mm(lines: &[Line]) -> f64 {
        lines.iter().map(|line| (line.p1 - line.p0).hypot()).sum()
    }

    #[test]
    fn an_upper_piece_hides_what_lies_under_it() {
        let (lower, upper) = (square(0.0, 0.0, 10.0, 10.0), square(4.0, 6.0, 20.0, 30.0));
        // Of the lower one's 40 mm, 6 of its foot and 4 of its right side lie under the upper one.
        assert!((length_mm(&seen_of(&[lower.clone(), upper.clone()])) - (30.0 + 80.0)).abs() < 1e-6);
        assert!((length_mm(&seen_of(&[upper, lower])) - (40.0 + 80.0 - 6.0 - 4.0)).abs() < 1e-6);
    }

    /// Two parts that hang together by a line along a cut have no edge there.
    #[test]
    fn a_cut_through_a_gap_is_no_edge() {
        let p = |x: f64, y: f64| Point::new(x, y);
        let there_and_back = vec![vec![
            p(0.0, 0.0),
            p(10.0, 0.0),
            p(20.0, 0.0),
            p(20.0, -5.0),
            p(25.0, -5.0),
            p(25.0, 0.0),
            p(20.0, 0.0),
            p(10.0, 0.0),
            p(10.0, 10.0),
            p(0.0, 10.0),
        ]];
        // The square's 40 mm and the small one's 20, without the 10 between them there and back.
        assert!((length_mm(&seen_of(&[there_and_back])) - 60.0).abs() < 1e-6);
    }

    #[test]
    fn a_line_is_held_to_its_outlines() {
        let all = [square(0.0, 0.0, 10.0, 10.0), square(20.0, 0.0, 30.0, 10.0)];
        let stretch = stretch_within(&all, Line::new((-100.0, 5.0), (100.0, 5.0))).unwrap();
        assert!((stretch.p0.x).abs() < 1e-9 && (stretch.p1.x - 30.0).abs() < 1e-9);
        assert!(stretch_within(&all, Line::new((-100.0, 15.0), (100.0, 15.0))).is_none());
        assert!(is_within(&square(1.0, 1.0, 10.0, 9.0), &all[0]) && !is_within(&all[0], &all[1]));
    }
}
