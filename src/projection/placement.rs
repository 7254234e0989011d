//! Where the garment lies on the table.

use kurbo::{Affine, Point, Vec2};
use std::f64::consts::PI;

/// Where the garment, as it is laid, lies on the table: turned about its origin, then moved. It stays where it is when the layout is edited.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Placement {
    /// Where the origin of the garment's frame lies on the table, mm.
    pub origin: Point,
    /// How far the garment is turned, rad, from the table's x axis towards its y axis; above -π, at most π.
    pub turn_rad: f64,
}

impl Placement {
    /// From the garment's frame to the table.
    #[must_use]
    pub fn table_from_garment(&self) -> Affine {
        Affine::translate(self.origin.to_vec2()) * Affine::rotate(self.turn_rad)
    }

    /// The garment turned by `turn_rad`, with one of its points at a point of the table.
    #[must_use]
    pub fn of(garment: Point, table: Point, turn_rad: f64) -> Self {
        let turned = Affine::rotate(turn_rad) * garment;
        Self { origin: (table - turned).to_point(), turn_rad: within_a_turn(turn_rad) }
    }

    /// Moved over the table, mm.
    #[must_use]
    pub fn moved(self, by: Vec2) -> Self {
        Self { origin: self.origin + by, ..self }
    }

    /// Turned further by an angle, rad, about a point of the garment, which stays where it lies.
    #[must_use]
    pub fn turned(self, by_rad: f64, about: Point) -> Self {
        Self::of(about, self.table_from_garment() * about, self.turn_rad + by_rad)
    }
}

/// The same angle above -π and at most π.
fn within_a_turn(angle_rad: f64) -> f64 {
    let turned = angle_rad.rem_euclid(2.0 * PI);
    if turned > PI { turned - 2.0 * PI } else { turned }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_garment_is_turned_about_a_point_of_its_own() {
        let placed = Placement::of(Point::new(10.0, 300.0), Point::new(-50.0, 20.0), 0.5);
        assert!((placed.table_from_garment() * Point::new(10.0, 300.0)).distance(Point::new(-50.0, 20.0)) < 1e-9);
        let about = Point::new(120.0, 40.0);
        let turned = placed.turned(1.25, about);
        assert!((turned.table_from_garment() * about).distance(placed.table_from_garment() * about) < 1e-9);
        assert!((turned.turn_rad - 1.75).abs() < 1e-12);
        let moved = turned.moved(Vec2::new(3.0, -4.0));
        assert!((moved.table_from_garment() * about).distance(turned.table_from_garment() * about) - 5.0 < 1e-9);
    }

    #[test]
    fn a_full_turn_is_none() {
        let begun = Placement::default();
        let turned = (0..8).fold(begun, |placed, _| placed.turned(PI / 4.0, Point::new(3.0, 5.0)));
        assert!(turned.turn_rad.abs() < 1e-12 && turned.origin.distance(begun.origin) < 1e-9, "{turned:?}");
    }
}
