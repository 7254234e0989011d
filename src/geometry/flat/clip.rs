//! Closed curves cut along straight lines, exactly: lines and cubics stay what they are.

use super::fold_line::FoldLine;
use kurbo::{BezPath, CubicBez, Line, ParamCurve as _, PathSeg, Point};
use polycool::Poly;

/// Closed curves, each a ring of segments that begin where the one before them ends.
pub(crate) type Loops = Vec<Vec<PathSeg>>;

/// Closed curves as a path.
pub(super) fn path_of(loops: &[Vec<PathSeg>]) -> BezPath {
    let mut path = BezPath::new();
    for segments in loops {
        path.extend(BezPath::from_path_segments(segments.iter().copied()));
        path.close_path();
    }
    path
}

/// Segments shorter than this as a share of the curve that they are cut from are left out.
const LEAST_SHARE: f64 = 1e-12;

/// The closed curves of a path.
pub(crate) fn loops(path: &BezPath) -> Loops {
    path.subpaths().map(|curve| kurbo::segments(curve.iter().copied()).collect()).collect()
}

/// What of closed curves lies on the near side of a line, closed along it (Sutherland and Hodgman 1974, from memory).
///
/// Where a curve falls apart its parts hang together by pieces of the line that are run through there and back: areas and
/// integrals round it are those of the parts.
pub(crate) fn near_side(loops: &[Vec<PathSeg>], line: &FoldLine) -> Loops {
    loops.iter().map(|segments| near_side_of(segments, line)).filter(|segments| !segments.is_empty()).collect()
}

fn near_side_of(segments: &[PathSeg], line: &FoldLine) -> Vec<PathSeg> {
    let mut kept: Vec<PathSeg> = Vec::with_capacity(segments.len() + 2);
    for segment in segments {
        let mut from = 0.0;
        for to in crossings(*segment, line).into_iter().chain([1.0]) {
            if to - from > LEAST_SHARE && line.beyond_mm(segment.eval(0.5 * (from + to))) < 0.0 {
                let part = segment.subsegment(from..to);
                bridge(&mut kept, part.start());
                kept.push(part);
            }
            from = to;
        }
    }
    if let Some(first) = kept.first().map(PathSeg::start) {
        bridge(&mut kept, first);
    }
    kept
}

/// Goes straight on to a point where the last segment ends elsewhere.
fn bridge(kept: &mut Vec<PathSeg>, to: Point) {
    if let Some(from) = kept.last().map(PathSeg::end).filter(|&from| from != to) {
        kept.push(PathSeg::Line(Line::new(from, to)));
    }
}

/// Where a segment crosses a line, as shares of it in rising order.
fn crossings(segment: PathSeg, line: &FoldLine) -> Vec<f64> {
    let at = |point: Point| line.beyond_mm(point);
    match segment {
        PathSeg::Line(Line { p0, p1 }) => {
            let (from, to) = (at(p0), at(p1));
            if (from < 0.0) == (to < 0.0) { vec![] } else { vec![from / (from - to)] }
        }
        PathSeg::Quad(quad) => roots([quad.raise().p0, quad.raise().p1, quad.raise().p2, quad.raise().p3].map(at)),
        PathSeg::Cubic(CubicBez { p0, p1, p2, p3 }) => roots([p0, p1, p2, p3].map(at)),
    }
}

/// Where a cubic with these values at its nodes is 0, between 0 and 1, in rising order.
pub(super) fn roots(nodes: [f64; 4]) -> Vec<f64> {
    if nodes.iter().all(|&node| node >= 0.0) || nodes.iter().all(|&node| node <= 0.0) {
        return Vec::new();
    }
    let [a, b, c, d] = nodes;
    let cubic = Poly::new([a, 3.0 * (b - a), 3.0 * (a - 2.0 * b + c), d - 3.0 * c + 3.0 * b - a]);
    let mut found = cubic.roots_between(0.0, 1.0, ROOT).to_vec();
    found.sort_by(f64::total_cmp);
    found
}

/// How exactly roots are found, as shares of a curve.
const ROOT: f64 = 1e-13;

/// Area that closed curves enclose, in the units of their coordinates.
#[cfg(test)]
pub(crate) fn area(loops: &[Vec<PathSeg>]) -> f64 {
    loops.iter().flatten().map(kurbo::ParamCurveArea::signed_area).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Circle, Shape as _, Vec2};

    /// A circle's segment: `r^2 (a - sin a) / 2`, the angle being that subtended by the chord (a handbook's formula).
    #[test]
    fn a_circle_is_cut_into_segments() {
        let circle = loops(&Circle::new((3.0, -2.0), 10.0).to_path(1e-9));
        for away in [-9.0, -2.5, 0.0, 4.0, 9.9] {
            let normal = Vec2::new(0.6, 0.8);
            let line = FoldLine::new(Point::new(3.0, -2.0) + away * normal, normal);
            let angle = 2.0 * (-away / 10.0_f64).acos();
            let expected = 50.0 * (angle - angle.sin());
            let near = area(&near_side(&circle, &line));
            assert!((near - expected).abs() < 1e-6, "{near} of {expected} at {away}");
            let both = near + area(&near_side(&circle, &line.reversed()));
            assert!((both - area(&circle)).abs() < 1e-10);
        }
    }

    /// A comb, cut across its teeth, falls apart and loses nothing.
    #[test]
    fn a_curve_that_falls_apart_keeps_its_area() {
        let mut path = BezPath::new();
        path.move_to((0.0, 0.0));
        for corner in [(6.0, 0.0), (6.0, 9.0), (5.0, 9.0), (5.0, 1.0), (1.0, 1.0), (1.0, 9.0), (0.0, 9.0)] {
            path.line_to(corner);
        }
        path.close_path();
        let line = FoldLine::new(Point::new(0.0, 4.0), Vec2::new(0.0, 1.0));
        assert!((area(&near_side(&loops(&path), &line)) - (6.0 + 2.0 * 3.0)).abs() < 1e-12);
        assert!((area(&near_side(&loops(&path), &line.reversed())) - 10.0).abs() < 1e-12);
    }
}
