//! A way of folding up a garment: the bundle that comes of it, and what is marked on the garment as it lies to get there.
//!
//! Everything that is drawn, printed or taken hold of asks only this trait, and never which fold it serves.

use super::{Bundle, Lay, Panel, Stretch};
use kurbo::{Line, Point, Vec2};

/// A crease on the laid cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crease {
    /// Where it runs, mm.
    pub line: Line,
    /// Whether it is folded over, a ridge as the cloth lies; if not it is folded under, a valley.
    pub is_over: bool,
    /// Whether it ends where the cloth of two sides meets, and no other crease ends there: the cloth beyond can't lie flat.
    pub ends_alone: bool,
    /// When it is folded, from 1; creases that are folded in one go have the same number.
    pub number: u32,
    /// The direction, of length 1, in which what is folded over is laid, onto what lies there; none of pleats, which go to and fro.
    pub toward: Option<Vec2>,
}

/// A point of the laid cloth about which a string swings parallels, or their parts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pin {
    /// Where it is pinned, mm.
    pub at: Point,
    /// Where along the bundle the string has no length, mm.
    pub origin_mm: f64,
    /// Whether the string shortens along the bundle, as within a bend that is hollow from there; if not it lengthens.
    pub is_shortening: bool,
}

impl Pin {
    /// The string from the pin to the chalk for a distance along the bundle, mm; none where nothing is swung about it.
    #[must_use]
    pub fn string_mm(&self, along_mm: f64) -> Option<f64> {
        let string_mm = if self.is_shortening { self.origin_mm - along_mm } else { along_mm - self.origin_mm };
        (string_mm > 0.0).then_some(string_mm)
    }
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
    fn pins(&self) -> Vec<Pin>;

    /// The line that is folded along, where it lies on cloth; none of a fold about a point.
    fn source(&self) -> Vec<Stretch> {
        Vec::new()
    }

    /// Where on the cloth its sides meet, so that creases end there; none where they run on to the edge.
    fn ridge(&self) -> Vec<Line> {
        Vec::new()
    }
}
