//! The plan of a puck: how far from its centre the cloth comes to lie, and by how much it is turned, by its distance from the pinch.
//!
//! About the pinch, cloth at a distance `r` in a direction `phi` comes to lie at `rho(r)` in the direction `phi + tau(r)`. Of all maps of
//! that kind this one leaves the puck evenly full: `rho = P sqrt(A(r) / A)`, where `A(r)` is the cloth of all layers within `r`, exactly,
//! and `P` the puck's radius. In the frames along and across the radius its derivative is
//!
//! ```text
//!     | a  0 |      a = rho'        b = rho / r       s = rho tau'
//!     | s  b |      cloth can't stretch: no singular value may be above 1, so s^2 <= (1 - a^2)(1 - b^2)
//! ```
//!
//! The tightest twist takes all of that at every distance but within the pinch; what a maker winds is a share of it, the same
//! everywhere. Pleats run in the direction that is drawn together least: at `1/2 atan2(2 s b, a^2 + s^2 - b^2)` from the radius, which in the
//! tightest twist is not drawn together at all.

use std::f64::consts::TAU;

/// From node to node, mm, about: the most turns of a disc are then within about a thousandth of a turn of their closed form (computed).
const STEP_MM: f64 = 0.5;
/// The steepest that pleats are taken to run against the radius, as a tangent: hardly twisted cloth has no direction of its own.
const STEEPEST: f64 = 2.0;
/// Halvings by which a distance is found again, to rounding.
const HALVINGS: u32 = 60;

/// Where the cloth of a garment lies about a point: exactly what lies within a distance, and how much of the circle there is on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Within {
    /// Cloth of all layers within a distance, mm2.
    pub(super) area_mm2: f64,
    /// Length of the circle on cloth, all layers, mm.
    pub(super) arc_mm: f64,
}

/// What the plan has at a distance from the pinch.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Node {
    /// Distance in the puck, mm, and its slope.
    rho_mm: f64,
    slope: f64,
    /// Angle by which the cloth lags behind the pinch in the tightest twist, rad; its slope just outside, rad/mm.
    lag_rad: f64,
    lag_slope: f64,
    /// Angle by which pleats have turned about the pinch, rad; its slope just outside, rad/mm.
    run_rad: f64,
    run_slope: f64,
}

/// The plan of a puck.
#[derive(Debug, Clone)]
pub(super) struct Plan {
    step_mm: f64,
    pinch: usize,
    nodes: Vec<Node>,
    radius_mm: f64,
    /// What is wound of the tightest twist.
    share: f64,
}

/// The parts of the derivative at a distance from the pinch.
#[derive(Debug, Clone, Copy)]
struct Drawn {
    along: f64,
    across: f64,
    /// The most that `s` can be.
    tightest: f64,
}

impl Drawn {
    fn new(rho_mm: f64, slope: f64, r_mm: f64) -> Self {
        let (along, across) = (slope.clamp(0.0, 1.0), (rho_mm / r_mm).clamp(f64::MIN_POSITIVE, 1.0));
        Self { along, across, tightest: ((1.0 - along * along) * (1.0 - across * across)).sqrt() }
    }

    /// The largest stretch when a share of the tightest twist is wound: the greater singular value.
    fn stretch(&self, share: f64) -> f64 {
        let (a, b, s) = (self.along, self.across, share * self.tightest);
        let (sum, product) = (a * a + b * b + s * s, a * b);
        (0.5 * (sum + (sum * sum - 4.0 * product * product).max(0.0).sqrt())).sqrt()
    }

    /// The tangent of the angle from the radius at which cloth is drawn together least.
    fn run(&self, share: f64) -> f64 {
        let (a, b, s) = (self.along, self.across, share * self.tightest);
        (0.5 * (2.0 * s * b).atan2(a * a + s * s - b * b)).tan().min(STEEPEST)
    }
}

impl Plan {
    /// The plan of cloth that reaches as far as `far_mm` about a pinch, with so many turns, or as many as there can be if none are given.
    pub(super) fn new(
        within: impl Fn(f64) -> Within,
        far_mm: f64,
        pinch_radius_mm: f64,
        radius_mm: f64,
        turns: Option<f64>,
    ) -> Self {
        // The pinch ends at a node.
        let pinch_steps = (pinch_radius_mm / STEP_MM).ceil().max(1.0);
        let step_mm = pinch_radius_mm / pinch_steps;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some thousand steps at the most")]
        let (pinch, steps) = (pinch_steps as usize, (far_mm / step_mm).ceil().max(pinch_steps + 1.0) as usize);
        let all_mm2 = within(far_mm).area_mm2;
        let mut plan = Self { step_mm, pinch, nodes: vec![Node::default(); steps + 1], radius_mm, share: 1.0 };
        for number in 1..=steps {
            let Within { area_mm2, arc_mm } = within(number as f64 * step_mm);
            let rho_mm = radius_mm * (area_mm2 / all_mm2).min(1.0).sqrt();
            let slope = if rho_mm > 0.0 { 0.5 * radius_mm * radius_mm * arc_mm / (all_mm2 * rho_mm) } else { 0.0 };
            plan.nodes[number] = Node { rho_mm, slope, ..Node::default() };
        }
        plan.nodes[0].slope = plan.nodes[1].rho_mm / step_mm;
        plan.sum(|drawn, rho_mm, _| drawn.tightest / rho_mm, |node| (&mut node.lag_rad, &mut node.lag_slope));
        if let Some(turns) = turns {
            plan.share = turns / plan.most_turns().max(f64::MIN_POSITIVE);
        }
        let share = plan.share;
        plan.sum(|drawn, _, r_mm| drawn.run(share) / r_mm, |node| (&mut node.run_rad, &mut node.run_slope));
        plan
    }

    /// Sums a slope up from the pinch outward; within it nothing turns.
    fn sum(&mut self, slope: impl Fn(&Drawn, f64, f64) -> f64, of: impl Fn(&mut Node) -> (&mut f64, &mut f64)) {
        let (mut sum, mut before) = (0.0, None);
        for number in self.pinch..self.nodes.len() {
            let (r_mm, node) = (number as f64 * self.step_mm, &mut self.nodes[number]);
            let here = slope(&Drawn::new(node.rho_mm, node.slope, r_mm), node.rho_mm.max(f64::MIN_POSITIVE), r_mm);
            sum += before.map_or(0.0, |before| 0.5 * (before + here) * self.step_mm);
            let (total, own) = of(node);
            (*total, *own, before) = (sum, here, Some(here));
        }
    }

    /// The most turns that the cloth allows without stretching.
    pub(super) fn most_turns(&self) -> f64 {
        self.nodes.last().map_or(0.0, |node| node.lag_rad) / TAU
    }

    /// The largest stretch anywhere outside the pinch.
    pub(super) fn largest_stretch(&self) -> f64 {
        let of = |number: usize| {
            let node = self.nodes[number];
            Drawn::new(node.rho_mm, node.slope, number as f64 * self.step_mm).stretch(self.share)
        };
        (self.pinch..self.nodes.len()).map(of).fold(0.0, f64::max)
    }

    /// How far out cloth is found, mm.
    pub(super) fn far_mm(&self) -> f64 {
        (self.nodes.len() - 1) as f64 * self.step_mm
    }

    /// The node before a distance, and how far it lies beyond, mm; what is beyond the cloth counts as at its end.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the nodes")]
    fn between(&self, r_mm: f64) -> (usize, f64) {
        let at = (r_mm / self.step_mm).clamp(0.0, (self.nodes.len() - 1) as f64);
        let node = (at as usize).min(self.nodes.len() - 2);
        (node, (at - node as f64) * self.step_mm)
    }

    /// How far from the puck's centre cloth comes to lie, mm.
    pub(super) fn rho_mm(&self, r_mm: f64) -> f64 {
        let (node, on_mm) = self.between(r_mm);
        self.in_step_mm(node, on_mm)
    }

    /// The same within a step: a cubic with the ends' slopes, which can't leave their values where both rise (Hermite).
    fn in_step_mm(&self, node: usize, on_mm: f64) -> f64 {
        let (from, to, t) = (self.nodes[node], self.nodes[node + 1], on_mm / self.step_mm);
        let (rise, s) = (to.rho_mm - from.rho_mm, 1.0 - t);
        // Three times the chord's slope is the most with which a cubic stays monotone (Fritsch and Carlson 1980, from memory).
        let held = |slope: f64| (slope * self.step_mm).min(3.0 * rise);
        from.rho_mm + rise * t * t * (3.0 - 2.0 * t) + s * t * (held(from.slope) * s - held(to.slope) * t)
    }

    /// The distance from the pinch of what lies so far from the puck's centre, mm.
    pub(super) fn r_mm(&self, rho_mm: f64) -> f64 {
        let node = self.nodes.partition_point(|node| node.rho_mm <= rho_mm).clamp(1, self.nodes.len() - 1) - 1;
        let (mut low, mut high) = (0.0, self.step_mm);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if self.in_step_mm(node, middle) <= rho_mm {
                low = middle;
            } else {
                high = middle;
            }
        }
        node as f64 * self.step_mm + low
    }

    /// The angle by which cloth lags behind the pinch, rad.
    pub(super) fn lag_rad(&self, r_mm: f64) -> f64 {
        let (node, on_mm) = self.between(r_mm);
        let (from, to) = (self.nodes[node], self.nodes[node + 1]);
        // Within the pinch nothing lags; its last node has the slope of what begins there.
        let slopes = if node < self.pinch { [0.0; 2] } else { [from.lag_slope, to.lag_slope] };
        self.share * risen(from.lag_rad, slopes, on_mm, self.step_mm)
    }

    /// The angle by which a pleat has turned about the pinch, rad, and the tangent of its angle from the radius.
    pub(super) fn run(&self, r_mm: f64) -> (f64, f64) {
        let (node, on_mm) = self.between(r_mm);
        let (from, to) = (self.nodes[node], self.nodes[node + 1]);
        let slopes = if node < self.pinch { [0.0; 2] } else { [from.run_slope, to.run_slope] };
        let slope = slopes[0] + (slopes[1] - slopes[0]) * on_mm / self.step_mm;
        (risen(from.run_rad, slopes, on_mm, self.step_mm), r_mm * slope)
    }

    /// The puck's radius, mm.
    pub(super) fn radius_mm(&self) -> f64 {
        self.radius_mm
    }
}

/// What a value has become on the way through a step over which its slope goes linearly.
fn risen(from: f64, slopes: [f64; 2], on: f64, step: f64) -> f64 {
    from + on * (slopes[0] + 0.5 * (slopes[1] - slopes[0]) * on / step)
}
