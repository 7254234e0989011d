//! The bound rods of a load.

use serde::Serialize;

/// The bound rods of a load, as they lie in a vessel.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct RodBulk {
    /// Dry cloth, g.
    pub dry_g: f64,
    /// Diameter of the thickest bound rod, mm.
    pub thickest_mm: f64,
    /// Length of the longest bound rod, mm.
    pub longest_mm: f64,
    /// Volume of the rods as bound, air among the layers included, mm3.
    pub volume_mm3: f64,
}

impl RodBulk {
    /// Of several rods together.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            dry_g: self.dry_g + other.dry_g,
            thickest_mm: self.thickest_mm.max(other.thickest_mm),
            longest_mm: self.longest_mm.max(other.longest_mm),
            volume_mm3: self.volume_mm3 + other.volume_mm3,
        }
    }
}
