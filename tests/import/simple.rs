//! Lines of many points become lines of few nodes, corners kept.

use crate::{assert_close, sides, svg};
use kurbo::{ParamCurveNearest as _, Point};
use pleatwright::import::{FoundLine, SIMPLIFIED_MM};
use std::f64::consts::TAU;

fn traced(points: impl Iterator<Item = (f64, f64)>, is_closed: bool) -> (Vec<Point>, FoundLine) {
    let points: Vec<Point> = points.map(Point::from).collect();
    let list: String = points.iter().map(|p| format!("{:.6},{:.6} ", p.x, p.y)).collect();
    let shape = if is_closed { "polygon" } else { "polyline" };
    let text = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="500mm" height="500mm" viewBox="0 0 500 500"><{shape} stroke="red" points="{list}"/></svg>"#
    );
    let lines = svg(&text).unwrap();
    assert_eq!((lines.len(), lines[0].is_closed), (1, is_closed));
    (points, lines[0].clone())
}

fn farthest_mm(points: &[Point], line: &FoundLine) -> f64 {
    let off = |p: Point| line.path.segments().map(|side| side.nearest(p, 1e-4).distance_sq).fold(f64::INFINITY, f64::min).sqrt();
    points.iter().map(|p| off(*p)).fold(0.0, f64::max)
}

#[test]
fn a_sampled_ring_becomes_a_few_curves() {
    for count in [200, 3000] {
        let at = |k: i32| TAU * f64::from(k) / f64::from(count);
        let (points, line) = traced((0..count).map(|k| (250.0 + 150.0 * at(k).cos(), 250.0 + 90.0 * at(k).sin())), true);
        assert!(sides(&line) <= 24, "{} sides of {count} points", sides(&line));
        assert!(farthest_mm(&points, &line) <= 1.5 * SIMPLIFIED_MM, "{} mm", farthest_mm(&points, &line));
        // No corner where it was cut open.
        let ends: Vec<_> = line.path.segments().map(|side| side.to_cubic()).collect();
        for (before, after) in ends.iter().zip(ends.iter().cycle().skip(1)) {
            let (a, b) = (before.p3 - before.p2, after.p1 - after.p0);
            assert!(a.cross(b).atan2(a.dot(b)).abs() < 0.03, "a corner at {:?}", after.p0);
        }
    }
}

/// A heart traced finely: its two corners stay corners, exactly where they were.
#[test]
fn corners_are_kept() {
    let half = |k: i32| {
        let t = f64::from(k) / 400.0;
        let (sin, cos) = (std::f64::consts::PI * t).sin_cos();
        (250.0 + 120.0 * sin, 200.0 + 160.0 * t - 60.0 * sin * cos)
    };
    let right = (0..=400).map(half);
    let left = (1..400).rev().map(half).map(|(x, y)| (500.0 - x, y));
    let (points, line) = traced(right.chain(left), true);
    assert!(sides(&line) < 40, "{}", sides(&line));
    assert!(farthest_mm(&points, &line) <= 1.5 * SIMPLIFIED_MM);
    for corner in [points[0], points[400]] {
        assert!(line.path.segments().any(|side| side.to_cubic().p0.distance(corner) < 1e-4), "{corner:?} is gone");
    }
}

#[test]
fn polygons_and_straight_lines_stay_what_they_are() {
    let star = (0..10).map(|k| {
        let (radius, angle) = (if k % 2 == 0 { 200.0 } else { 90.0 }, TAU * f64::from(k) / 10.0);
        (250.0 + radius * angle.cos(), 250.0 + radius * angle.sin())
    });
    let (points, line) = traced(star, true);
    assert_eq!(sides(&line), 10);
    assert_close!(farthest_mm(&points, &line), 0.0, 1e-4);
    // Points along a straight side say nothing; the corner does.
    let bent = (0..=300).map(|k| (f64::from(k), 10.0)).chain((1..=100).map(|k| (300.0, 10.0 + f64::from(k))));
    let (_, line) = traced(bent, false);
    assert_eq!(sides(&line), 2, "{:?}", line.path);
    assert_close!(line.length_mm, 400.0, 1e-3);
}

/// Straight sides with rounded corners between, sampled: the sides stay straight and go on into the rounds without a corner.
#[test]
fn straight_sides_go_on_into_sampled_rounds() {
    let quarter = |middle: (f64, f64), from: f64| {
        (0..=20).map(move |k| {
            let angle = (from + 4.5 * f64::from(k)).to_radians();
            (middle.0 + 20.0 * angle.cos(), middle.1 + 20.0 * angle.sin())
        })
    };
    let corners = [((300.0, 120.0), -90.0), ((300.0, 300.0), 0.0), ((120.0, 300.0), 90.0), ((120.0, 120.0), 180.0)];
    let (points, line) = traced(corners.into_iter().flat_map(|(middle, from)| quarter(middle, from)), true);
    assert!(sides(&line) <= 16, "{}: {:?}", sides(&line), line.path);
    assert!(farthest_mm(&points, &line) <= 1.5 * SIMPLIFIED_MM);
    assert_close!(line.length_mm, 4.0 * 180.0 + TAU * 20.0, 0.1);
    let cubics: Vec<_> = line.path.segments().map(|side| side.to_cubic()).collect();
    let turn = |k: usize| {
        let (a, b) = (cubics[k].p3 - cubics[k].p2, cubics[(k + 1) % cubics.len()].p1 - cubics[(k + 1) % cubics.len()].p0);
        a.cross(b).atan2(a.dot(b)).abs()
    };
    assert!((0..cubics.len()).all(|k| turn(k) < 0.02), "{:?}", (0..cubics.len()).map(turn).collect::<Vec<_>>());
}
