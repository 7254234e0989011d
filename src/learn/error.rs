//! Why nothing is learned.

use crate::photo::PhotoError;
use crate::reveal::RevealError;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};

/// Why pieces teach nothing.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LearnError {
    /// A photograph can't be measured.
    Photo {
        /// The photograph.
        photograph: String,
        /// Why.
        error: PhotoError,
    },
    /// A photograph without a marked sheet, whose light is not known.
    NoSheet {
        /// The photograph.
        photograph: String,
    },
    /// A piece of several ties.
    SeveralTies {
        /// The piece.
        piece: String,
        /// How many.
        ties: usize,
    },
    /// A piece without a photograph.
    NoPhotograph {
        /// The piece.
        piece: String,
    },
    /// A piece that is neither dyed nor discharged.
    Bare {
        /// The piece.
        piece: String,
    },
    /// A photograph from which was learned already, or that is given twice.
    Twice {
        /// The photograph.
        photograph: String,
        /// The piece that it stands with.
        piece: String,
    },
    /// The pieces settle nothing: too little of them is seen.
    Unsettled {
        /// How many bins of cloth are seen.
        bins: usize,
    },
    /// The reveal can't be computed.
    Reveal(RevealError),
}

displayed_as_in_files!(LearnError);

impl From<RevealError> for LearnError {
    fn from(error: RevealError) -> Self {
        Self::Reveal(error)
    }
}

impl LearnError {
    /// Whether it was stopped from outside.
    #[must_use]
    pub fn is_cancelled(&self) -> bool {
        matches!(
            self,
            Self::Reveal(RevealError::Cancelled) | Self::Photo { error: PhotoError::Reveal(RevealError::Cancelled), .. }
        )
    }
}

impl Refused for LearnError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Photo { photograph, error } => error.told(voice).within(&called(photograph, voice)),
            Self::NoSheet { photograph } => Told::new(
                "without a white sheet its light is not known, and colours teach nothing",
                "lay a white sheet beside the cloth and mark its corners",
            )
            .at(called(photograph, voice)),
            Self::SeveralTies { piece, ties } => Told::new(
                format!("what {ties} ties on one garment teach can't be told apart yet"),
                "learn from pieces of one tie",
            )
            .at(called(piece, voice)),
            Self::NoPhotograph { piece } => Told::new("it has no photograph", "give at least one").at(called(piece, voice)),
            Self::Bare { piece } => {
                Told::new("its layout neither dyes nor discharges", "choose a layout with dye or a discharge bath")
                    .at(called(piece, voice))
            }
            Self::Twice { photograph, piece } => {
                Told::new(format!("it counts already, as a photograph of \"{piece}\""), "leave it out")
                    .at(called(photograph, voice))
            }
            Self::Unsettled { bins } => Told::new(
                format!("{bins} patches of cloth are seen, too few to learn from"),
                "photograph the whole cloth, opened and flat",
            ),
            Self::Reveal(error) => error.told(voice),
        }
    }
}

/// A name as it is: within a window's sentence in quotes.
fn called(name: &str, voice: Voice) -> String {
    if voice.has_keys() { name.to_owned() } else { format!("\"{name}\"") }
}
