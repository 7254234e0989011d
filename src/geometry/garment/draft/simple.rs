//! Whether an outline crosses itself.

use kurbo::{BezPath, Line, PathEl, Point};

/// How far the polygon that is tested may lie from the curves, in mm: well below what cloth or chalk can show.
const FLATNESS_MM: f64 = 0.1;

/// Points nearer to each other than this are one point, in mm: flattening can end a curve with an edge of no length.
const SAME_MM: f64 = 1e-6;

/// A point where the path, closed along the centre line, meets itself or leaves its half of the plane; `None` if it is simple.
///
/// The curves are tested as polygons within [`FLATNESS_MM`] of them: every pair of edges, which for the hundred or so edges of a
/// garment costs some ten microseconds.
pub(super) fn crossing(path: &BezPath) -> Option<Point> {
    let points = flattened(path);
    if let Some(outside) = points.iter().find(|p| !p.is_finite() || p.x < -FLATNESS_MM) {
        return Some(*outside);
    }
    let n = points.len();
    let edges: Vec<Line> = (0..n).map(|i| Line::new(points[i], points[(i + 1) % n])).collect();
    for (i, &edge) in edges.iter().enumerate() {
        let last = if i == 0 { n - 1 } else { n };
        for &other in edges.iter().take(last).skip(i + 2) {
            if let Some(at) = meeting(edge, other) {
                return Some(at);
            }
        }
    }
    None
}

fn flattened(path: &BezPath) -> Vec<Point> {
    let mut points: Vec<Point> = Vec::new();
    kurbo::flatten(path, FLATNESS_MM, |el| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = el
            && points.last().is_none_or(|last| last.distance(p) > SAME_MM || p.is_nan())
        {
            points.push(p);
        }
    });
    points
}

/// Where two edges meet, ends included.
fn meeting(a: Line, b: Line) -> Option<Point> {
    let (da, db, gap) = (a.p1 - a.p0, b.p1 - b.p0, b.p0 - a.p0);
    let cross = da.cross(db);
    if cross.abs() <= f64::EPSILON * da.hypot() * db.hypot() {
        return overlap(a, b);
    }
    let (t, u) = (gap.cross(db) / cross, gap.cross(da) / cross);
    ((0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u)).then(|| a.p0 + da * t)
}

/// A point that two parallel edges share, if they lie on one line and overlap.
fn overlap(a: Line, b: Line) -> Option<Point> {
    let along = a.p1 - a.p0;
    let length_mm = along.hypot();
    if (b.p0 - a.p0).cross(along).abs() > 1e-9 * length_mm.max(1.0) {
        return None;
    }
    let within = |p: Point| (0.0..=along.hypot2()).contains(&(p - a.p0).dot(along));
    let spans = (a.p0 - b.p0).dot(b.p1 - b.p0) >= 0.0 && (a.p0 - b.p1).dot(b.p0 - b.p1) >= 0.0;
    [b.p0, b.p1].into_iter().find(|&p| within(p)).or_else(|| spans.then_some(a.p0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn polygon(points: &[(f64, f64)]) -> BezPath {
        let mut path = BezPath::new();
        path.move_to(points[0]);
        for &p in &points[1..] {
            path.line_to(p);
        }
        path
    }

    #[test]
    fn a_square_is_simple() {
        assert_eq!(crossing(&polygon(&[(0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (0.0, 5.0)])), None);
    }

    #[test]
    fn a_bow_tie_is_not_and_says_where() {
        let at = crossing(&polygon(&[(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)]));
        assert_eq!(at, Some(Point::new(2.0, 2.0)));
    }

    #[test]
    fn an_edge_that_runs_back_over_another_is_not() {
        assert!(
            crossing(&polygon(&[(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (8.0, 2.0), (8.0, 0.0), (2.0, 0.0), (0.0, 5.0)])).is_some()
        );
    }

    #[test]
    fn leaving_the_half_plane_or_the_numbers_is_not() {
        assert!(crossing(&polygon(&[(0.0, 0.0), (-3.0, 1.0), (4.0, 4.0), (0.0, 4.0)])).is_some());
        assert!(crossing(&polygon(&[(0.0, 0.0), (f64::NAN, 1.0), (0.0, 4.0)])).is_some());
    }
}
