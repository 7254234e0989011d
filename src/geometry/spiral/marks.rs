//! What is marked on the laid cloth: the pinch and the lines between wedges.

use super::puck::Spiral;
use crate::geometry::{Arc, Lay, Panel, Stretch};
use kurbo::{Line, Point};
use std::f64::consts::TAU;

/// How far straight pieces may stray from the line that they stand for, mm.
const STRAY_MM: f64 = 0.02;
/// Longest piece, mm: a line that winds about the pinch can't be missed.
const LONGEST_MM: f64 = 20.0;
/// Shortest piece that is marked, mm.
const SHORTEST_MM: f64 = 1e-6;
/// Pieces of a pinch circle that runs off the cloth.
const CIRCLE_PIECES: u32 = 180;

/// The line on cloth that comes to lie in one direction of the puck.
pub(super) fn wedge_line(spiral: &Spiral, lay: &Lay, panels: &[Panel], psi_rad: f64) -> Vec<Stretch> {
    let (pinch_mm, far_mm) = (spiral.spec().pinch_radius_mm, spiral.plan().far_mm());
    let at = |r_mm: f64| spiral.on_wedge_line(r_mm, psi_rad);
    let mut points = vec![at(0.0), at(pinch_mm)];
    // Halved until the middle lies where it should; the next step begins with twice the last.
    let (mut r_mm, mut step_mm) = (pinch_mm, LONGEST_MM);
    while r_mm < far_mm {
        let from = at(r_mm);
        step_mm = f64::min(2.0 * step_mm, far_mm - r_mm);
        let strays = |step_mm: f64| {
            let to = at(r_mm + step_mm);
            let off = |share: f64| off_mm(at(r_mm + share * step_mm), Line::new(from, to));
            from.distance(to) > LONGEST_MM || [0.3, 0.5, 0.7].map(off).into_iter().any(|off_mm| off_mm > STRAY_MM)
        };
        while strays(step_mm) && step_mm > SHORTEST_MM {
            step_mm *= 0.5;
        }
        r_mm += step_mm;
        points.push(at(r_mm));
    }
    on_cloth(&points, lay, panels)
}

/// How far a point lies from a line through two others, mm.
fn off_mm(at: Point, line: Line) -> f64 {
    let run = line.p1 - line.p0;
    (at - line.p0).cross(run).abs() / run.hypot().max(f64::MIN_POSITIVE)
}

/// The circle that the fingers hold, as far as it lies on cloth.
pub(super) fn pinch_circle(spiral: &Spiral, lay: &Lay) -> Vec<Stretch> {
    let (centre, radius_mm) = (spiral.centre_as_laid(), spiral.spec().pinch_radius_mm);
    let arc = Arc { centre, radius_mm, from_rad: 0.0, to_rad: TAU };
    let points: Vec<Point> =
        (0..=CIRCLE_PIECES).map(|piece| arc.point_at_rad(f64::from(piece) / f64::from(CIRCLE_PIECES) * TAU)).collect();
    if points.iter().all(|&point| lay.is_cloth(point)) {
        return vec![Stretch::Arc(arc)];
    }
    on_cloth(&points, lay, &Panel::BOTH)
}

fn on_cloth(points: &[Point], lay: &Lay, panels: &[Panel]) -> Vec<Stretch> {
    let pieces = points.windows(2).flat_map(|ends| lay.pieces_on(panels, Line::new(ends[0], ends[1])));
    pieces.filter(|line| (line.p1 - line.p0).hypot() > SHORTEST_MM).map(Stretch::Straight).collect()
}
