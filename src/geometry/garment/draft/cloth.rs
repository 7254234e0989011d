//! Flat cloth: a rectangle, its upper edge at the level of the frame's origin.
//!
//! # Limits
//! - Square corners, straight edges; hems and fringes are not told apart.

use kurbo::{BezPath, Point};

use super::pen::Pen;
use crate::geometry::garment::Measure::{ClothHeight, ClothWidth};
use crate::geometry::garment::Measurements;

/// A flat cloth.
pub(super) fn outline(m: &Measurements) -> BezPath {
    let corner = Point::new(m.of(ClothWidth) / 2.0, m.of(ClothHeight));
    let mut pen = Pen::at(Point::ORIGIN);
    pen.line_to(Point::new(corner.x, 0.0));
    pen.line_to(corner);
    pen.line_to(Point::new(0.0, corner.y));
    pen.finish()
}
