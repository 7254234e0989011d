//! Which places of the stack are joined at their creases.

use crate::geometry::Bundle;
use kurbo::Vec2;

/// For each place the one that its cloth goes on into at either crease, if any, and how many layers are wrapped over that.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mates {
    at_start: Vec<Option<u32>>,
    at_end: Vec<Option<u32>>,
    wrapped: Vec<[u32; 2]>,
}

impl Mates {
    /// As the fold tells them.
    #[must_use]
    pub fn of(fold: &dyn Bundle) -> Self {
        let (at_start, at_end) = (0..fold.places()).map(|place| fold.mates(place).into()).unzip();
        let wrapped = |place| [-1.0, 1.0].map(|side| fold.wrapped(place, Vec2::new(0.0, side)));
        Self { at_start, at_end, wrapped: (0..fold.places()).map(wrapped).collect() }
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
    /// Layers of cloth wrapped over a place's two creases, that where `across` is 0 and that where it is 1.
    #[must_use]
    pub fn wrapped_over(&self, place: usize) -> [usize; 2] {
        self.wrapped.get(place).map_or([0; 2], |wrapped| wrapped.map(|layers| layers as usize))
    }
}
