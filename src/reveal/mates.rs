//! Which places of the stack are joined at their creases.

use crate::geometry::Bundle;

/// For each place the one that its cloth goes on into at either crease, if any.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mates {
    at_start: Vec<Option<u32>>,
    at_end: Vec<Option<u32>>,
}

impl Mates {
    /// As the fold tells them.
    #[must_use]
    pub fn of(fold: &dyn Bundle) -> Self {
        let (at_start, at_end) = (0..fold.places()).map(|place| fold.mates(place).into()).unzip();
        Self { at_start, at_end }
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

/// How many places of the stack lie between two joined ones: the cloth that a crease is wrapped round.
#[must_use]
pub fn enclosed(place: usize, mate: usize) -> usize {
    place.abs_diff(mate).saturating_sub(1)
}
