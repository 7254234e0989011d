//! The colour that a garment has before a discharge: garments of one ground share a bath.

use crate::layout::{Layout, Srgb};

/// What decides whether garments may share a discharge.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::plan) enum Ground {
    /// White, unbleached, or no colour given.
    Undyed,
    /// Of this colour.
    Coloured(Srgb),
    /// Of any colour: the maker mixes them.
    AnyColour,
}

/// Least of red, green and blue of undyed cloth, and most between them: off-white and unbleached cloth are within (our own judgement).
const LEAST_CHANNEL: u8 = 190;
const MOST_BETWEEN: u8 = 50;

impl Ground {
    /// The ground of a layout's garment.
    pub(in crate::plan) fn of(layout: &Layout) -> Self {
        let Some(colour) = &layout.raw().garment.colour else { return Self::Undyed };
        let Srgb { red, green, blue } = colour.srgb;
        let (least, most) = (red.min(green).min(blue), red.max(green).max(blue));
        if least >= LEAST_CHANNEL && most - least <= MOST_BETWEEN { Self::Undyed } else { Self::Coloured(colour.srgb) }
    }

    /// The same where the maker mixes grounds: undyed cloth stays apart.
    pub(super) fn mixed(self) -> Self {
        match self {
            Self::Undyed => Self::Undyed,
            Self::Coloured(_) | Self::AnyColour => Self::AnyColour,
        }
    }
}
