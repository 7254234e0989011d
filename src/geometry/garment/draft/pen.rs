//! The drafting pen: lines and cubics between given points, with given directions.

use kurbo::{BezPath, Point, Vec2};

pub(super) const UP: Vec2 = Vec2::new(0.0, -1.0);
pub(super) const DOWN: Vec2 = Vec2::new(0.0, 1.0);
/// Away from the centre line.
pub(super) const OUTWARD: Vec2 = Vec2::new(1.0, 0.0);
/// Toward the centre line.
pub(super) const INWARD: Vec2 = Vec2::new(-1.0, 0.0);

/// How much of the longer leg of a bend its handle covers; a quarter of an ellipse has 0.5523 (memory).
const FULLNESS: f64 = 0.6;
/// Sine of a turn that is none, far above the rounding errors of a direction.
const STRAIGHT: f64 = 1e-9;

/// A path under way.
#[derive(Debug)]
pub(super) struct Pen {
    path: BezPath,
    at: Point,
}

impl Pen {
    pub(super) fn at(start: Point) -> Self {
        let mut path = BezPath::new();
        path.move_to(start);
        Self { path, at: start }
    }

    pub(super) fn line_to(&mut self, to: Point) {
        // A straight hem or a strap without a fall would otherwise leave lines of no length in the path.
        if to != self.at {
            self.path.line_to(to);
            self.at = to;
        }
    }

    /// A cubic that leaves along `leave` and arrives along `arrive` (unit vectors), its handles `handle_mm` long.
    pub(super) fn curve_to(&mut self, to: Point, leave: Vec2, arrive: Vec2, handle_mm: [f64; 2]) {
        self.path.curve_to(self.at + leave * handle_mm[0], to - arrive * handle_mm[1], to);
        self.at = to;
    }

    /// A curve for a corner cut round: each handle covers its part `fullness` of the way to the other end along its direction,
    /// which for square directions and a fullness of 0.5523 makes a quarter of an ellipse.
    pub(super) fn round_to(&mut self, to: Point, leave: Vec2, arrive: Vec2, fullness: [f64; 2]) {
        let chord = to - self.at;
        let reach_mm = |direction: Vec2, fullness: f64| chord.dot(direction).max(0.0) * fullness;
        self.curve_to(to, leave, arrive, [reach_mm(leave, fullness[0]), reach_mm(arrive, fullness[1])]);
    }

    /// A curve that bends one way only, from one direction into the other: unit vectors whose lines meet ahead of the first end and
    /// behind the second, where each handle's leg ends.
    ///
    /// A handle covers [`FULLNESS`] of the longer leg; of a leg that is short beside the other it covers more, up to the whole, so that
    /// the turn is spread as widely as the shorter leg lets it.
    pub(super) fn bend_to(&mut self, to: Point, leave: Vec2, arrive: Vec2) {
        let chord = to - self.at;
        let turn = leave.cross(arrive);
        let legs_mm = [chord.cross(arrive) / turn, leave.cross(chord) / turn];
        let longer_mm = legs_mm[0].max(legs_mm[1]);
        let handle_mm = if turn.abs() > STRAIGHT {
            legs_mm.map(|leg_mm| leg_mm * (1.0 - (1.0 - FULLNESS) * leg_mm / longer_mm))
        } else {
            [chord.hypot() / 3.0; 2]
        };
        self.curve_to(to, leave, arrive, handle_mm);
    }

    pub(super) fn finish(self) -> BezPath {
        self.path
    }
}

/// The unit vector along the way from one point to another; zero if they coincide.
pub(super) fn toward(from: Point, to: Point) -> Vec2 {
    let way = to - from;
    let length_mm = way.hypot();
    if length_mm > 0.0 { way / length_mm } else { Vec2::ZERO }
}

/// The unit vector between two directions, at the part `t` of the way from the first to the second.
pub(super) fn between(first: Vec2, second: Vec2, t: f64) -> Vec2 {
    toward(Point::ORIGIN, first.lerp(second, t).to_point())
}
