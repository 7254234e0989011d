//! A smooth field of shifts on a lattice, to be read fast.

use kurbo::{Point, Rect, Vec2};
use rayon::prelude::*;

/// Shifts at the points of a square lattice.
#[derive(Debug, Clone)]
pub(super) struct Lattice {
    first: Point,
    step_mm: f64,
    across: usize,
    shifts: Vec<Vec2>,
}

impl Lattice {
    /// Reads a field at the points of a lattice over a box.
    pub(super) fn of(area: Rect, step_mm: f64, field: impl Fn(Point) -> Vec2 + Sync) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a garment's size in steps; casts saturate")]
        let count = |length_mm: f64| (length_mm / step_mm).ceil().max(1.0) as usize + 1;
        let (across, down) = (count(area.width()), count(area.height()));
        let first = area.origin();
        let at = |index: usize| first + step_mm * Vec2::new((index % across) as f64, (index / across) as f64);
        let shifts = (0..across * down).into_par_iter().map(|index| field(at(index))).collect();
        Self { first, step_mm, across, shifts }
    }

    /// The shift at a point, between the four nearest of the lattice; beyond its box as at its edge.
    #[inline]
    pub(super) fn at(&self, point: Point) -> Vec2 {
        let down = self.shifts.len() / self.across;
        let place = (point - self.first) / self.step_mm;
        let x = place.x.clamp(0.0, self.across as f64 - 1.001);
        let y = place.y.clamp(0.0, down as f64 - 1.001);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the lattice")]
        let (column, row) = (x as usize, y as usize);
        let (right, below) = (x - column as f64, y - row as f64);
        let here = row * self.across + column;
        let upper = self.shifts[here].lerp(self.shifts[here + 1], right);
        let lower = self.shifts[here + self.across].lerp(self.shifts[here + self.across + 1], right);
        upper.lerp(lower, below)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A field that is linear in both is read exactly, and as at the edge beyond it.
    #[test]
    fn a_linear_field_is_read_exactly() {
        let field = |at: Point| Vec2::new(0.1 * at.x - 0.02 * at.y, 3.0 + 0.05 * at.y);
        let lattice = Lattice::of(Rect::new(-40.0, -10.0, 61.0, 90.0), 10.0, field);
        for at in [Point::new(-40.0, -10.0), Point::new(0.3, 17.7), Point::new(55.0, 88.0)] {
            assert!((lattice.at(at) - field(at)).hypot() < 1e-9, "{at}");
        }
        assert!((lattice.at(Point::new(-900.0, 0.0)) - field(Point::new(-40.0, 0.0))).hypot() < 1e-9);
    }
}
