//! Which places of the stack are joined at their creases.

use crate::geometry::{ClothPoint, Fold, RodPoint};

/// For each place the one that its cloth goes on into at either crease, if any.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mates {
    at_start: Vec<Option<u32>>,
    at_end: Vec<Option<u32>>,
}

/// How far beyond a crease the cloth is looked for, across the pleat.
const BEYOND: f64 = 0.02;

impl Mates {
    /// Finds them by going straight on over the crease on the cloth, at a distance along the rod.
    #[must_use]
    pub fn of(fold: &dyn Fold, along_mm: f64) -> Self {
        let find = |across: f64, inward: f64| {
            (0..fold.places()).map(|place| mate(fold, along_mm, place, across, inward)).collect::<Vec<_>>()
        };
        Self { at_start: find(0.0, BEYOND), at_end: find(1.0, 1.0 - BEYOND) }
    }

    /// The place joined to this one at the crease where `across` is 0.
    #[must_use]
    pub fn at_start(&self, place: usize) -> Option<usize> {
        self.at_start.get(place).copied().flatten().map(|place| place as usize)
    }

    /// The place joined to this one at the crease where `across` is 1.
    #[must_use]
    pub fn at_end(&self, place: usize) -> Option<usize> {
        self.at_end.get(place).copied().flatten().map(|place| place as usize)
    }
}

impl Mates {
    /// Layers of cloth wrapped over the crease that joins a place to its mate: those of its bundle, `layers` to a pleat, that enclose
    /// more than it does.
    #[must_use]
    pub fn wrapped_over(&self, place: usize, mate: Option<usize>, layers: usize) -> usize {
        let Some(mate) = mate else { return 0 };
        layers.saturating_sub(1).saturating_sub(enclosed(place, mate) / 2)
    }
}

fn mate(fold: &dyn Fold, along_mm: f64, place: u32, crease: f64, inward: f64) -> Option<u32> {
    let at = |across: f64| fold.to_cloth(RodPoint { along_mm, across, place });
    let (on_crease, within) = (at(crease), at(inward));
    let beyond =
        ClothPoint { panel: within.panel, x_mm: 2.0 * on_crease.x_mm - within.x_mm, y_mm: 2.0 * on_crease.y_mm - within.y_mm };
    Some(fold.to_rod(beyond).place).filter(|&mate| mate != place)
}

/// How many places of the stack lie between two joined ones: the cloth that a crease is wrapped round.
#[must_use]
pub fn enclosed(place: usize, mate: usize) -> usize {
    place.abs_diff(mate).saturating_sub(1)
}
