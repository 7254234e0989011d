//! Why a photograph gives no outline.

use crate::telling::{Refused, Told, Voice, displayed_as_in_files};

/// Why a photograph gives no outline of a garment.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TraceError {
    /// Fewer nodes than go round cloth.
    TooFew {
        /// How many there are.
        count: usize,
        /// Fewest.
        least: usize,
    },
    /// A sheet whose corners settle no map, or not up to the garment.
    Sheet,
    /// The garment leans.
    Leaning {
        /// How far its middle is from upright, degrees.
        degrees: f64,
        /// How far it may be.
        most_degrees: f64,
    },
    /// Its middle meets it other than at a top and a foot.
    Middle {
        /// How often.
        times: usize,
    },
}

displayed_as_in_files!(TraceError);

impl Refused for TraceError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::TooFew { count, least } => {
                Told::new(format!("{count} points go round no garment"), format!("mark at least {least}"))
            }
            Self::Sheet => Told::new(
                "the 4 corners of the sheet tell no size",
                "put them on the corners of a sheet that lies flat beside the garment",
            ),
            Self::Leaning { degrees, most_degrees } => Told::new(
                format!("the garment leans by {} degrees", voice.number(degrees.round())),
                format!("lay it upright to {} degrees, or turn the picture", voice.number(*most_degrees)),
            ),
            Self::Middle { times } => Told::new(
                format!("the garment's middle meets its outline {times} times"),
                "lay it so that neck and hem cross the middle once each, and check the points there",
            ),
        }
    }
}
