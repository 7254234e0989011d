//! The seam between cloth and rod: what every way of folding a garment into a rod must answer.
//!
//! A fold carries a point of the cloth to a place in the rod and back, exactly. All that comes after it (rod, binds, sections,
//! dye, print) asks only this trait and never which fold it serves.

use super::{Panel, PanelPair};
use kurbo::Point;

/// A point of the cloth in the garment's frame (see [`crate::geometry`]).
///
/// On the centre line of a folded garment the sign of `x_mm` still tells the halves apart: `-0.0` is the wearer's right half.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClothPoint {
    /// Which panel.
    pub panel: Panel,
    /// Distance from the centre line, mm; negative on the wearer's right.
    pub x_mm: f64,
    /// Distance below the shoulder point, mm.
    pub y_mm: f64,
}

impl ClothPoint {
    /// The place in the plane, mm.
    #[must_use]
    pub fn position(&self) -> Point {
        Point::new(self.x_mm, self.y_mm)
    }
}

/// A place in the folded rod.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodPoint {
    /// Distance along the rod, mm; for a burst the distance from its centre.
    pub along_mm: f64,
    /// Place across the pleat, in `[0, 1]` from one crease to the other.
    pub across: f64,
    /// Place in the stack of layers, from 0.
    pub place: u32,
}

/// What one cut across the rod meets, for one panel: both halves together.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RodCut {
    /// Length of cloth cut, mm.
    pub cloth_mm: f64,
    /// Area of the panel's cloth from the rod's tip to the cut, mm2.
    pub area_mm2: f64,
}

/// A way of folding a garment into a rod.
pub trait Fold {
    /// How many pleats lie on each other.
    fn pleats(&self) -> u32;

    /// How many layers of cloth each pleat has.
    fn layers(&self) -> u32;

    /// Where a point of the cloth's plane comes to lie.
    fn to_rod(&self, point: ClothPoint) -> RodPoint;

    /// Which point of the cloth's plane lies there: the inverse of [`Fold::to_rod`]. Whether there is cloth at that point,
    /// [`Fold::has_cloth`] tells.
    fn to_cloth(&self, point: RodPoint) -> ClothPoint;

    /// Whether the garment has cloth at that point.
    fn has_cloth(&self, point: ClothPoint) -> bool;

    /// Width of a pleat, crease to crease, at a distance along the rod, both mm.
    fn pleat_width_mm(&self, along_mm: f64) -> f64;

    /// What a cut across the rod meets in each panel.
    fn cut(&self, along_mm: f64) -> PanelPair<RodCut>;

    /// Length of the rod: how far along it cloth is found, mm.
    fn length_mm(&self) -> f64;

    /// For a point of the cloth near a fold of the garment itself that is no crease of a pleat: the point that lies on it, on the other
    /// side of that fold, and how far both are from it, mm. `None` for every point where there is no such fold.
    fn over_fold(&self, _point: ClothPoint) -> Option<(ClothPoint, f64)> {
        None
    }

    /// How many places the stack has: pleats times layers.
    fn places(&self) -> u32 {
        self.pleats() * self.layers()
    }
}
