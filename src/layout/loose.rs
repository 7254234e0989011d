//! The cloth that none of several ties takes.

use super::Swatch;
use crate::geometry::{MM2_PER_M2, PanelPair};

/// Loose cloth: what lies about several ties.
#[derive(Debug, Clone, PartialEq)]
pub struct Loose {
    /// How much of it each panel has, mm2.
    pub area_mm2: PanelPair<f64>,
    /// What it is dyed with; none where it gets no dye.
    pub swatch: Option<Swatch>,
    /// How many layers of it lie on each other: those of the garment laid flat.
    pub layers: u32,
}

impl Loose {
    /// Its mass, dry, g, for cloth of `grams_per_m2`.
    #[must_use]
    pub fn mass_g(&self, grams_per_m2: f64) -> f64 {
        self.area_mm2.sum() * grams_per_m2 / MM2_PER_M2
    }
}
