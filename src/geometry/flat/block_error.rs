//! Why blocks can't be put onto a bundle.

use crate::geometry::OutlineError;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};

/// Why blocks can't be put onto a bundle.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BlockError {
    /// The garment is folded in a way that gives no flat bundle.
    NoFlatBundle,
    /// A size or a distance out of range.
    Length {
        /// Which.
        key: &'static str,
        /// The given value, mm.
        value_mm: f64,
        /// Least allowed, mm.
        least_mm: f64,
        /// Greatest allowed, mm.
        most_mm: f64,
    },
    /// A turn out of range.
    Angle {
        /// The given value, degrees.
        value_deg: f64,
    },
    /// A drawn line that is no outline of a block.
    Drawn(OutlineError),
    /// None of the bundle's cloth lies under them.
    OffTheBundle,
}

displayed_as_in_files!(BlockError);

impl BlockError {
    /// Which of the blocks' values can't be.
    #[must_use]
    pub fn field(&self) -> Field {
        match self {
            Self::NoFlatBundle => Field::default(),
            Self::Length { key: key @ ("along_mm" | "across_mm"), .. } => Field::from(*key),
            Self::Length { key, .. } => Field::from("shape").then(*key),
            Self::Angle { .. } => Field::from("turn_deg"),
            Self::Drawn(_) => Field::from("shape.path"),
            Self::OffTheBundle => Field::from("along_mm"),
        }
    }
}

impl Refused for BlockError {
    fn told(&self, voice: Voice) -> Told {
        let told = match self {
            Self::NoFlatBundle => Told::new(
                "blocks hold a flat bundle, and this fold gives none",
                "fold stripes, wedges, squares, triangles or halves, or leave the blocks out",
            ),
            Self::Length { value_mm, least_mm, most_mm, .. } => Told::length(voice, *value_mm, [*least_mm, *most_mm]),
            Self::Angle { value_deg } => {
                Told::new(format!("{} is not an angle", voice.number(*value_deg)), "give -360 to 360 degrees")
            }
            Self::Drawn(error) => error.told(voice),
            Self::OffTheBundle => Told::new("no cloth lies under the blocks", "move them onto the bundle"),
        };
        told.at(self.field().said(voice))
    }
}
