//! Colours with their names.

use super::{Component, Srgb};

/// A named colour: of the garment, or of a dye at full strength on white cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Swatch {
    /// Plain words for it.
    pub name: String,
    /// How it looks.
    pub srgb: Srgb,
    /// What a mixed dye is made of; none of an unmixed one, and of a garment's colour.
    pub components: Vec<Component>,
}

impl Swatch {
    /// A colour that is not mixed.
    #[must_use]
    pub fn plain(name: impl Into<String>, srgb: Srgb) -> Self {
        Self { name: name.into(), srgb, components: Vec::new() }
    }

    /// The same colour without what it is mixed of: as cloth has it.
    #[must_use]
    pub fn unmixed(self) -> Self {
        Self { components: Vec::new(), ..self }
    }
}
