//! Why a thread can't be wound round a bundle.

use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};

/// Why a thread can't be wound round a bundle.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum WrapError {
    /// The garment is folded in a way that gives no flat bundle.
    NoFlatBundle,
    /// A place or a gap out of range.
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
    /// It ends where it begins, or before.
    Backward {
        /// Where it begins, mm.
        from_mm: f64,
        /// Where it ends, mm.
        to_mm: f64,
    },
    /// It begins beyond the bundle.
    OffTheBundle {
        /// Where it begins, mm.
        from_mm: f64,
        /// How long the bundle is, mm.
        length_mm: f64,
    },
    /// It does not go round the bundle once.
    LessThanATurn {
        /// How far a turn goes along, mm.
        gap_mm: f64,
        /// How far the wrap goes, mm.
        stretch_mm: f64,
    },
}

displayed_as_in_files!(WrapError);

impl WrapError {
    /// Which of the wrap's values can't be.
    #[must_use]
    pub fn field(&self) -> Field {
        match self {
            Self::NoFlatBundle => Field::default(),
            Self::Length { key, .. } => Field::from(*key),
            Self::LessThanATurn { .. } => Field::from("gap_mm"),
            Self::Backward { .. } => Field::from("to_mm"),
            Self::OffTheBundle { .. } => Field::from("from_mm"),
        }
    }
}

impl Refused for WrapError {
    fn told(&self, voice: Voice) -> Told {
        let told = match self {
            Self::NoFlatBundle => Told::new(
                "thread is wound round a flat bundle, and this fold gives none",
                "fold stripes, wedges, squares, triangles or halves, or leave the wrap out",
            ),
            Self::Length { value_mm, least_mm, most_mm, .. } => Told::length(voice, *value_mm, [*least_mm, *most_mm]),
            Self::Backward { from_mm, to_mm } => Told::new(
                format!("{} is not beyond {}, where the wrap begins", voice.length(*to_mm), voice.length(*from_mm)),
                format!("give more than {}, or swap the two", voice.length(*from_mm)),
            ),
            Self::OffTheBundle { from_mm, length_mm } => Told::new(
                format!("the bundle ends at {}, before the wrap begins at {}", voice.length(*length_mm), voice.length(*from_mm)),
                format!("give less than {}", voice.length(*length_mm)),
            ),
            Self::LessThanATurn { gap_mm, stretch_mm } => {
                let [gap, stretch] = voice.apart(*gap_mm, *stretch_mm);
                Told::new(
                    format!("a turn every {gap} does not go round once over {stretch}"),
                    format!("give {stretch} or less, or wind it farther"),
                )
            }
        };
        told.at(self.field().said(voice))
    }
}
