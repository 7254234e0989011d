//! The straight line that a crease runs along: which side is folded over it, and where that comes to lie.

use kurbo::{Affine, Point, Vec2};

/// A straight line with a far side, which a fold lays onto the near one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FoldLine {
    at: Point,
    /// Of length 1, towards the far side.
    normal: Vec2,
}

/// Lines nearer to each other than this are one, mm over a few metres: rounding.
const SAME_MM: f64 = 1e-6;

impl FoldLine {
    /// The line through a point across a direction, in which its far side lies.
    pub(crate) fn new(at: Point, towards: Vec2) -> Self {
        Self { at, normal: towards.normalize() }
    }

    /// How far a point lies beyond it, mm; below 0 on the near side.
    pub(crate) fn beyond_mm(&self, point: Point) -> f64 {
        (point - self.at).dot(self.normal)
    }

    /// A point on it.
    pub(crate) fn at(&self) -> Point {
        self.at
    }

    /// The direction of its far side, of length 1.
    pub(crate) fn normal(&self) -> Vec2 {
        self.normal
    }

    /// The direction that it runs in, of length 1: its far side lies to the right as one looks along it, `y` being down.
    pub(crate) fn direction(&self) -> Vec2 {
        Vec2::new(self.normal.y, -self.normal.x)
    }

    /// The reflection in it: `p - 2 ((p - at) . n) n`.
    pub(crate) fn mirror(&self) -> Affine {
        let Vec2 { x, y } = self.normal;
        let shift = 2.0 * self.at.to_vec2().dot(self.normal) * self.normal;
        Affine::new([1.0 - 2.0 * x * x, -2.0 * x * y, -2.0 * x * y, 1.0 - 2.0 * y * y, shift.x, shift.y])
    }

    /// The line that an isometry carries it to.
    pub(crate) fn carried(&self, isometry: Affine) -> Self {
        Self { at: isometry * self.at, normal: turned(isometry, self.normal) }
    }

    /// The same line with its sides exchanged.
    pub(crate) fn reversed(&self) -> Self {
        Self { normal: -self.normal, ..*self }
    }

    /// Whether another runs along the same line, whichever of its sides is the far one.
    pub(crate) fn is_along(&self, other: &Self) -> bool {
        self.normal.cross(other.normal).abs() < SAME_MM * 1e-3 && self.beyond_mm(other.at).abs() < SAME_MM
    }
}

/// The direction that an isometry carries another to; the difference of two points carried would lose digits.
pub(crate) fn turned(isometry: Affine, direction: Vec2) -> Vec2 {
    let [xx, yx, xy, yy, ..] = isometry.as_coeffs();
    Vec2::new(xx * direction.x + xy * direction.y, yx * direction.x + yy * direction.y)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reflection_undoes_itself_and_keeps_its_line() {
        let line = FoldLine::new(Point::new(30.0, -12.0), Vec2::new(3.0, 4.0));
        let on = line.at() + 50.0 * line.direction();
        assert!(line.beyond_mm(on).abs() < 1e-12 && (line.mirror() * on).distance(on) < 1e-12);
        let off = Point::new(7.0, 8.0);
        assert!((line.mirror() * (line.mirror() * off)).distance(off) < 1e-12);
        assert!((line.beyond_mm(line.mirror() * off) + line.beyond_mm(off)).abs() < 1e-12);
        assert!(line.carried(line.mirror()).is_along(&line.reversed()));
    }
}
