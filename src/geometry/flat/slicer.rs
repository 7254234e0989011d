//! How much of closed curves lies below a straight cut, and how long the cut is: both exact.
//!
//! By Green's theorem the area at `x` below `cut` is the integral of `min(x, cut) dy` round the curves, and its slope, the length of the
//! cut, that of `dy` over what lies beyond. Curves are cut first where `x` turns, so that each piece crosses any cut at most once.

use super::clip::{Loops, roots};
use crate::geometry::Cut;
use kurbo::common::solve_quadratic;
use kurbo::{CubicBez, Line, ParamCurve as _, ParamCurveArea as _, PathSeg};

/// Closed curves prepared for cuts at any `x`.
#[derive(Debug, Clone, Default)]
pub(crate) struct Slicer {
    pieces: Vec<Piece>,
}

/// A stretch of boundary along which `x` only grows or only shrinks.
#[derive(Debug, Clone, Copy)]
struct Piece {
    curve: PathSeg,
    from: f64,
    to: f64,
    /// The integral of `x dy` along it.
    below: f64,
    rise: f64,
}

impl Piece {
    fn new(curve: PathSeg) -> Self {
        let (start, end) = (curve.start(), curve.end());
        Self { curve, from: start.x, to: end.x, below: below(curve), rise: end.y - start.y }
    }

    /// What it adds to the area below a cut and to the cut's length.
    fn measure(&self, cut: f64) -> (f64, f64) {
        if self.from.max(self.to) <= cut {
            return (self.below, 0.0);
        }
        if self.from.min(self.to) >= cut {
            return (cut * self.rise, self.rise);
        }
        let at = self.crossing(cut);
        let (first, second) = (self.curve.subsegment(0.0..at), self.curve.subsegment(at..1.0));
        let (lower, upper) = if self.from < self.to { (first, second) } else { (second, first) };
        let rise = upper.end().y - upper.start().y;
        (below(lower) + cut * rise, rise)
    }

    fn crossing(&self, cut: f64) -> f64 {
        let straight = (cut - self.from) / (self.to - self.from);
        match self.curve {
            PathSeg::Line(_) => straight,
            curve => {
                let CubicBez { p0, p1, p2, p3 } = curve.to_cubic();
                roots([p0, p1, p2, p3].map(|node| node.x - cut)).first().copied().unwrap_or(straight)
            }
        }
    }
}

/// The integral of `x dy`: half that of `x dy - y dx`, and half of what `x y` grows by.
fn below(curve: PathSeg) -> f64 {
    let (start, end) = (curve.start(), curve.end());
    curve.signed_area() + 0.5 * (end.x * end.y - start.x * start.y)
}

impl Slicer {
    /// Adds closed curves, `x` across the cuts and `y` along them, both in mm.
    pub(crate) fn add(&mut self, loops: &Loops) {
        for &segment in loops.iter().flatten() {
            match segment {
                PathSeg::Line(Line { p0, p1 }) if p0 != p1 => self.pieces.push(Piece::new(segment)),
                PathSeg::Line(_) => {}
                curve => self.add_curve(curve.to_cubic()),
            }
        }
    }

    fn add_curve(&mut self, cubic: CubicBez) {
        let [a, b, c, d] = [cubic.p0.x, cubic.p1.x, cubic.p2.x, cubic.p3.x];
        // A third of the slope of x.
        let mut turns = solve_quadratic(b - a, 2.0 * (a - 2.0 * b + c), d - 3.0 * c + 3.0 * b - a).to_vec();
        turns.retain(|turn| (0.0..1.0).contains(turn));
        turns.sort_by(f64::total_cmp);
        let mut from = 0.0;
        for to in turns.into_iter().chain([1.0]).filter(|&to| to > 0.0) {
            if to > from {
                self.pieces.push(Piece::new(PathSeg::Cubic(cubic.subsegment(from..to))));
                from = to;
            }
        }
    }

    /// The area below a cut, and its length; clamped where rounding leaves a nothing of the wrong sign.
    pub(crate) fn measure(&self, cut_mm: f64) -> Cut {
        let (area, length) = self.pieces.iter().fold((0.0, 0.0), |(area, length), piece| {
            let (more, longer) = piece.measure(cut_mm);
            (area + more, length + longer)
        });
        Cut { cloth_mm: length.max(0.0), area_mm2: area.max(0.0) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::flat::clip::loops;
    use kurbo::{Circle, Shape as _};

    #[test]
    fn a_disc_is_cut_along_its_chords() {
        let mut slicer = Slicer::default();
        slicer.add(&loops(&Circle::new((20.0, 5.0), 10.0).to_path(1e-9)));
        for away in [-10.5, -9.5, -3.0, 0.0, 6.0, 10.5] {
            let at = f64::clamp(away, -10.0, 10.0);
            let angle = 2.0 * (-at / 10.0_f64).acos();
            let Cut { cloth_mm, area_mm2 } = slicer.measure(20.0 + away);
            assert!((area_mm2 - 50.0 * (angle - angle.sin())).abs() < 1e-6, "{area_mm2} at {away}");
            assert!((cloth_mm - 2.0 * (100.0 - at * at).sqrt()).abs() < 1e-5, "{cloth_mm} at {away}");
        }
    }
}
