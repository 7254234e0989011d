//! Spacing presets: progressions kept under a name, to be used on another garment.

use super::{Placed, Progression, SpacingContext, SpacingError, SpacingSpec, place_binds};
use crate::geometry::LARGEST_RADIUS_MM;
use crate::measure::RuleMarks;
use std::f64::consts::FRAC_PI_2;

/// A named spacing. Edits by hand belong to one garment and are not part of it.
#[derive(Debug, Clone, PartialEq)]
pub struct SpacingPreset {
    /// What it is called.
    pub name: String,
    /// What it is good for.
    pub note: String,
    /// The guide arc's radius it was made for, mm, above 0.
    pub guide_radius_mm: f64,
    /// From the guide arc to the burst centre.
    pub inward: Progression,
    /// From the guide arc to the edge of the cloth.
    pub outward: Progression,
    /// The marks that radii are rounded to.
    pub marks: RuleMarks,
    /// Gaps below this can't be tied, mm; none where the thread and its wraps decide.
    pub smallest_gap_mm: Option<f64>,
}

/// What happens to a preset's lengths on another guide arc.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Fit {
    /// Lengths stay as they are.
    #[default]
    Kept,
    /// Lengths grow and shrink with the guide arc's radius; counts, ratios and exponents stay.
    Scaled,
}

impl SpacingPreset {
    /// The preset's spacing for a guide arc of another radius, without edits.
    ///
    /// Marks and smallest gap stay in any case: they belong to rule and thread.
    ///
    /// # Errors
    /// [`SpacingError::GuideRadius`] if either radius is not above 0 and at most [`LARGEST_RADIUS_MM`].
    pub fn apply(&self, guide_radius_mm: f64, fit: Fit) -> Result<SpacingSpec, SpacingError> {
        for radius_mm in [self.guide_radius_mm, guide_radius_mm] {
            if !(radius_mm > 0.0 && radius_mm <= LARGEST_RADIUS_MM) {
                return Err(SpacingError::GuideRadius { radius_mm });
            }
        }
        let by = match fit {
            Fit::Kept => 1.0,
            Fit::Scaled => guide_radius_mm / self.guide_radius_mm,
        };
        Ok(SpacingSpec {
            inward: self.inward.scaled(by),
            outward: self.outward.scaled(by),
            marks: self.marks,
            smallest_gap_mm: self.smallest_gap_mm,
            edits: Vec::new(),
        })
    }

    /// The preset's binds on a half disc of cloth about its own guide arc, whose radius is `reach` times the arc's: for a picture.
    ///
    /// # Errors
    /// As [`SpacingPreset::apply`], and what [`place_binds`] refuses.
    pub fn on_half_disc(&self, reach: f64) -> Result<Placed, SpacingError> {
        let spec = self.apply(self.guide_radius_mm, Fit::Kept)?;
        let farthest_mm = reach * self.guide_radius_mm;
        let cloth_area = |radius_mm: f64| FRAC_PI_2 * radius_mm.min(farthest_mm).powi(2);
        let context =
            SpacingContext { guide_radius_mm: self.guide_radius_mm, zero_mm: 0.0, farthest_mm, cloth_area: &cloth_area };
        place_binds(&spec, &context)
    }

    /// Keeps a spacing under a name; its edits are left out.
    #[must_use]
    pub fn of(name: String, note: String, guide_radius_mm: f64, spec: &SpacingSpec) -> Self {
        let (inward, outward) = (spec.inward.clone(), spec.outward.clone());
        Self { name, note, guide_radius_mm, inward, outward, marks: spec.marks, smallest_gap_mm: spec.smallest_gap_mm }
    }
}
