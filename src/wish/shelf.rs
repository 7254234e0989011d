//! The dyes to choose among.

use super::error::{WishError, WishProblem};
use crate::layout::{Layout, Swatch};
use crate::reveal::colour::{Dye, DyeSet, Ground, Lab};
use crate::reveal::solver::MOST_FIELDS;

/// The number of what stands for no dye, and its name among the others: white on white, which adds nothing. In a layout such sections are left bare.
pub(super) const NOTHING: usize = 0;
const NO_DYE: &str = "no dye";

/// The ground, and the dyes by their numbers: first none, then those of the shelf.
#[derive(Debug, Clone)]
pub(super) struct Shelf {
    pub(super) ground: Ground,
    pub(super) is_discharged: bool,
    pub(super) swatches: Vec<Swatch>,
}

impl Shelf {
    /// These dyes, or where there are none the layout's own.
    pub(super) fn of(dyes: &[Swatch], layout: &Layout) -> Result<Self, WishError> {
        let dyes = if dyes.is_empty() { &layout.raw().colours.rotation } else { dyes };
        let none = Swatch { name: NO_DYE.to_owned(), srgb: Ground::WHITE };
        let dyes: Vec<Swatch> = dyes.iter().filter(|dye| dye.name != NO_DYE).cloned().collect();
        // One of the fields that are solved at once is kept for no dye.
        if !(1..MOST_FIELDS).contains(&dyes.len()) {
            let problem = WishProblem::Dyes { count: dyes.len(), most: MOST_FIELDS - 1 };
            return Err(WishError { field: "dyes".into(), problem });
        }
        let is_discharged = layout.process().discharge.is_some();
        let ground = Ground::of_layout(layout);
        let ground = if is_discharged { ground } else { Ground::plain(ground.garment) };
        Ok(Self { ground, is_discharged, swatches: std::iter::once(none).chain(dyes).collect() })
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.swatches.iter().skip(1).any(|swatch| swatch.name == name)
    }

    pub(super) fn names(&self) -> Vec<String> {
        self.swatches.iter().skip(1).map(|swatch| swatch.name.clone()).collect()
    }

    /// A single dye on the ground.
    pub(super) fn alone(&self, dye: usize) -> DyeSet {
        DyeSet::new(self.ground, &[Dye::over_white(self.swatches[dye].srgb)])
    }

    /// The garment's own colour.
    pub(super) fn garment(&self) -> Lab {
        Lab::from(self.ground.garment)
    }

    /// The ground that dye goes onto.
    pub(super) fn bare(&self) -> Lab {
        Lab::from(self.ground.discharged)
    }

    /// A dye at its swatch's strength on that ground; the ground itself for one that is not there.
    pub(super) fn dyed(&self, name: &str) -> Lab {
        let dye = self.swatches.iter().position(|swatch| swatch.name == name).unwrap_or_default();
        self.alone(dye).lab(&[1.0], 1.0)
    }

    /// The same dyes on white cloth.
    pub(super) fn on_white(&self) -> Self {
        Self { ground: Ground::plain(Ground::WHITE), is_discharged: false, ..self.clone() }
    }
}
