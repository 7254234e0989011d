//! How much cloth lies in a wedge of the puck.
//!
//! The plan turns each circle about the pinch by an angle of its own, which keeps areas: in distance `r` and direction in the puck `psi`
//! an area is the integral of `r dr dpsi`, and by Green's theorem that of `r^2/2 dpsi` round the cloth's outline. The two sides of a
//! wedge, along which `psi` is still, add nothing: a wedge's cloth is the integral over what of the outline lies within it, and its
//! slope the sum of `r^2/2` where the outline is crossed.

use super::plan::Plan;
use crate::geometry::{Cut, Outline};
use kurbo::{ParamCurve as _, PathSeg, Point};
use std::f64::consts::TAU;

/// Length of outline between two points by which it is measured, mm, about (our own choice); together the pieces have the exact area.
const STEP_MM: f64 = 0.5;

/// An outline as the puck has it.
#[derive(Debug, Clone)]
pub(super) struct WedgeCutter {
    pieces: Vec<Piece>,
    area_mm2: f64,
    /// The exact area over that of the pieces.
    correction: f64,
}

/// A short piece of outline: the direction in the puck in which it begins, within one turn, by how much it goes on, and half the squares
/// of its ends' distances from the pinch.
#[derive(Debug, Clone, Copy)]
struct Piece {
    from_rad: f64,
    turn_rad: f64,
    half_squares_mm2: [f64; 2],
}

impl Piece {
    /// Half the square at a share of it.
    fn at(&self, share: f64) -> f64 {
        self.half_squares_mm2[0] + share * (self.half_squares_mm2[1] - self.half_squares_mm2[0])
    }

    /// The integral over a stretch of it, from one share to another.
    fn integral(&self, from: f64, to: f64) -> f64 {
        0.5 * (self.at(from) + self.at(to)) * (to - from) * self.turn_rad
    }
}

impl WedgeCutter {
    /// Prepares an outline about a pinch, whose plan this is; `lag` is the way in which cloth lags behind.
    pub(super) fn new(outline: &Outline, pinch: Point, plan: &Plan, lag: f64) -> Self {
        let polar = |at: Point| {
            let from_pinch = at - pinch;
            let r_mm = from_pinch.hypot();
            (from_pinch, r_mm, lag * plan.lag_rad(r_mm))
        };
        let mut pieces = Vec::new();
        for segment in outline.segments() {
            let steps = steps(segment);
            for step in 0..steps {
                let at = |step: u32| polar(segment.eval(f64::from(step) / f64::from(steps)));
                let ((start, start_mm, start_lag), (end, end_mm, end_lag)) = (at(step), at(step + 1));
                let turn_rad = start.cross(end).atan2(start.dot(end)) + end_lag - start_lag;
                let from_rad = (start.x.atan2(-start.y) + start_lag).rem_euclid(TAU);
                let half_squares_mm2 = [start_mm, end_mm].map(|r_mm| 0.5 * r_mm * r_mm);
                pieces.push(Piece { from_rad, turn_rad, half_squares_mm2 });
            }
        }
        let summed_mm2: f64 = pieces.iter().map(|piece| piece.integral(0.0, 1.0)).sum();
        let area_mm2 = outline.area_mm2();
        Self { pieces, area_mm2, correction: area_mm2 / summed_mm2 }
    }

    /// The cloth from the direction 0 to `to_rad`, at most a whole turn, and its slope, mm2 and mm2/rad.
    fn within(&self, to_rad: f64) -> (f64, f64) {
        let (mut area, mut slope) = (0.0, 0.0);
        for piece in self.pieces.iter().filter(|piece| piece.turn_rad != 0.0) {
            let (low, high) =
                (piece.from_rad.min(piece.from_rad + piece.turn_rad), piece.from_rad.max(piece.from_rad + piece.turn_rad));
            let share = |at_rad: f64| ((at_rad - piece.from_rad) / piece.turn_rad).clamp(0.0, 1.0);
            let mut turn = (low / TAU).floor() * TAU;
            while turn < high {
                let (from, to) = (low.max(turn), high.min(turn + to_rad));
                if to > from {
                    let [a, b] = [share(from), share(to)];
                    area += piece.integral(a.min(b), a.max(b));
                }
                let end = turn + to_rad;
                if low <= end && end < high {
                    slope += piece.turn_rad.signum() * piece.at(share(end));
                }
                turn += TAU;
            }
        }
        (self.correction * area, self.correction * slope)
    }

    /// The cloth of the puck from its zero to a distance along its rim, whose radius is given, mm.
    pub(super) fn cut(&self, along_mm: f64, radius_mm: f64) -> Cut {
        let to_rad = along_mm / radius_mm;
        if to_rad <= 0.0 {
            return Cut { cloth_mm: (self.within(0.0).1 / radius_mm).max(0.0), area_mm2: 0.0 };
        }
        let (area_mm2, slope) = self.within(to_rad.min(TAU));
        let area_mm2 = if to_rad >= TAU { self.area_mm2 } else { area_mm2.clamp(0.0, self.area_mm2) };
        Cut { cloth_mm: (slope / radius_mm).max(0.0), area_mm2 }
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a garment's outline has some thousand steps")]
fn steps(segment: PathSeg) -> u32 {
    let long_mm = match segment {
        PathSeg::Line(line) => (line.p1 - line.p0).hypot(),
        curve => {
            let cubic = curve.to_cubic();
            (cubic.p1 - cubic.p0).hypot() + (cubic.p2 - cubic.p1).hypot() + (cubic.p3 - cubic.p2).hypot()
        }
    };
    (long_mm / STEP_MM).ceil().clamp(1.0, 1e6) as u32
}
