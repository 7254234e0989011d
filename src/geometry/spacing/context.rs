//! What the spacing has to know of burst and cloth.

use std::fmt;

use super::SpacingError;

/// What the spacing has to know of burst and cloth.
#[derive(Clone, Copy)]
pub struct SpacingContext<'a> {
    /// Radius of the guide arc, mm, above 0: where along the bundle the first bind sits.
    pub guide_radius_mm: f64,
    /// Where along the bundle a rule is laid on with its zero, mm: from there marks count, and places given by hand. 0 at the centre of a
    /// burst.
    pub zero_mm: f64,
    /// The farthest cloth from the burst centre, mm, above 0.
    pub farthest_mm: f64,
    /// The area of cloth, over all layers, within a radius in mm: mm2, never falling, asked from 0 to the farthest cloth.
    pub cloth_area: &'a dyn Fn(f64) -> f64,
}

impl fmt::Debug for SpacingContext<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("SpacingContext")
            .field("guide_radius_mm", &self.guide_radius_mm)
            .field("farthest_mm", &self.farthest_mm)
            .finish_non_exhaustive()
    }
}

impl SpacingContext<'_> {
    pub(super) fn check(&self) -> Result<(), SpacingError> {
        let (radius_mm, farthest_mm) = (self.guide_radius_mm, self.farthest_mm);
        if !(radius_mm.is_finite() && radius_mm > 0.0) {
            return Err(SpacingError::GuideRadius { radius_mm });
        }
        if !(farthest_mm.is_finite() && farthest_mm > 0.0) {
            return Err(SpacingError::Farthest { farthest_mm });
        }
        Ok(())
    }
}
