//! A way of folding up a garment: the bundle that comes of it, and what is marked on the garment as it lies to get there.
//!
//! Everything that is drawn, printed or taken hold of asks only this trait, and never which fold it serves.

use super::{Bundle, Lay, Panel, Stretch};
use kurbo::{Line, Point};

/// A crease on the laid cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crease {
    /// Where it runs, mm.
    pub line: Line,
    /// Whether it is folded over, a ridge as the cloth lies; if not it is folded under, a valley.
    pub is_over: bool,
}

/// A way of folding up a garment.
pub trait Fold: Bundle {
    /// The garment as it lies before.
    fn lay(&self) -> &Lay;

    /// Where on the laid cloth a cut across the bundle runs, on any of the panels named.
    fn parallel(&self, panels: &[Panel], along_mm: f64) -> Vec<Stretch>;

    /// Where along the bundle a point of the laid garment's plane lies, mm; beyond the cloth as if it went on.
    fn along_as_laid_mm(&self, laid: Point) -> f64;

    /// The creases on the laid cloth, from `from_mm` along the bundle on.
    fn creases(&self, from_mm: f64) -> Vec<Crease>;

    /// The points of the laid cloth about which a string swings the parallels; none where no string serves.
    fn pins(&self) -> Vec<Point>;
}
