//! The projection: maps recovered, corners refused, and the same geometry as on the sheets.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

#[path = "../common/mod.rs"]
mod common;
mod files;
mod maps;
mod template;

use kurbo::Point;
use pleatwright::projection::{MarkSet, Projector, Rectangle};

/// A map of the plane by its nine numbers, computed as it is defined.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Planted(pub(crate) [f64; 9]);

impl Planted {
    pub(crate) fn apply(&self, at: Point) -> Point {
        let [a, b, c, d, e, f, g, h, i] = self.0;
        let weight = g * at.x + h * at.y + i;
        Point::new((a * at.x + b * at.y + c) / weight, (d * at.x + e * at.y + f) / weight)
    }

    /// Turned, grown, tilted and moved, as a projector over a table sees it: px from mm.
    pub(crate) fn seen(turn_rad: f64, px_per_mm: f64, tilt: [f64; 2], middle: Point) -> Self {
        let (sin, cos) = turn_rad.sin_cos();
        let [g, h] = tilt;
        Self([
            px_per_mm * cos + middle.x * g,
            -px_per_mm * sin + middle.x * h,
            middle.x,
            px_per_mm * sin + middle.y * g,
            px_per_mm * cos + middle.y * h,
            middle.y,
            g,
            h,
            1.0,
        ])
    }
}

/// A projector whose marks lie where the planted map has them.
pub(crate) fn projector(planted: &Planted, picture: [u32; 2], set: MarkSet) -> Projector {
    let mut projector = Projector::new("over the table".to_owned(), picture);
    projector.rectangle = Rectangle { width_mm: 420.0, height_mm: 297.0 };
    projector.marks = set.places().iter().map(|[x, y]| planted.apply(Point::new(210.0 * x, 148.5 * y))).collect();
    projector
}
