//! Binds and colours that were found for a wish, taken over at once.

use crate::geometry::SpacingSpec;
use crate::layout::{Colours, FoldSpec, Layout};

/// How a garment is pleated, tied and coloured.
#[derive(Debug, Clone, PartialEq)]
pub struct Tying {
    /// Its fold: the guide may lie elsewhere than before.
    pub fold: FoldSpec,
    /// Its binds.
    pub binds: SpacingSpec,
    /// The dyes on its sections.
    pub colours: Colours,
}

impl Tying {
    /// That of a layout.
    #[must_use]
    pub fn of(layout: &Layout) -> Self {
        let raw = layout.raw();
        Self { fold: raw.fold.clone(), binds: raw.binds.clone(), colours: raw.colours.clone() }
    }
}
