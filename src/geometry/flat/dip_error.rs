//! Why a part of a bundle can't be dipped.

use super::dip_part::DipPart;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};

/// Why a part of a bundle can't be dipped.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DipError {
    /// The garment is folded in a way that gives no flat bundle.
    NoFlatBundle,
    /// An edge or a corner that the bundle lacks.
    NoSuchPart {
        /// What was named.
        part: DipPart,
        /// Its number.
        number: u32,
        /// How many there are.
        most: u32,
    },
    /// A depth out of range.
    Depth {
        /// The given value, mm.
        value_mm: f64,
        /// Least allowed, mm.
        least_mm: f64,
        /// How deep the bundle is that way, mm.
        most_mm: f64,
    },
}

displayed_as_in_files!(DipError);

impl DipError {
    /// Which of a dip's values can't be.
    #[must_use]
    pub fn field(&self) -> Field {
        match self {
            Self::NoFlatBundle => Field::default(),
            Self::NoSuchPart { .. } => Field::from("part"),
            Self::Depth { .. } => Field::from("depth_mm"),
        }
    }
}

impl Refused for DipError {
    fn told(&self, voice: Voice) -> Told {
        let told = match self {
            Self::NoFlatBundle => Told::new(
                "edges and corners are those of a flat bundle, and this fold gives none",
                "fold stripes, squares, triangles, wedges or halves, or leave the dips out",
            ),
            Self::NoSuchPart { part, most, .. } => {
                Told::new(format!("the bundle lacks {part}"), format!("give a number from 1 to {most}"))
            }
            Self::Depth { value_mm, least_mm, most_mm } => Told::length(voice, *value_mm, [*least_mm, *most_mm]),
        };
        told.at(self.field().said(voice))
    }
}
