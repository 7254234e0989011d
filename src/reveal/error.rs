//! Why there is no reveal.

use super::solver::SolverError;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};

/// Why a reveal could not be computed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RevealError {
    /// It was asked to stop.
    Cancelled,
    /// The fold has no cloth.
    NoCloth {
        /// Length of the rod, mm.
        length_mm: f64,
        /// Places in its stack.
        places: u32,
    },
    /// The grid would not fit in memory.
    TooManyCells {
        /// Cells asked for.
        cells: usize,
        /// The limit.
        most: usize,
    },
    /// More dyes than are solved at once.
    TooManyDyes {
        /// Dyes asked for.
        dyes: usize,
        /// The limit.
        most: usize,
    },
    /// More dyes, and components of mixtures that part from them, than are solved at once.
    TooManyComponents {
        /// How many dyes there are.
        dyes: usize,
        /// Doses that they are kept as.
        fields: usize,
        /// The limit.
        most: usize,
    },
    /// The picture would not fit in memory.
    TooManyPixels {
        /// Pixels across, front and back beside each other.
        width: usize,
        /// Pixels down.
        height: usize,
        /// The limit.
        most: usize,
        /// The finest pixel that fits, mm.
        finest_mm: f64,
    },
    /// A length that can't be used.
    Length {
        /// What it is the length of.
        what: RevealLength,
        /// The given value, mm.
        value_mm: f64,
        /// Least allowed, mm.
        least_mm: f64,
        /// Greatest allowed, mm.
        most_mm: f64,
    },
    /// The solver can't do it: a grid that it is not made for, or reaches and conductances far out of proportion.
    Solver(SolverError),
}

impl From<SolverError> for RevealError {
    fn from(error: SolverError) -> Self {
        match error {
            SolverError::Cancelled => Self::Cancelled,
            error => Self::Solver(error),
        }
    }
}

/// A length that a reveal is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum RevealLength {
    /// A cell along the rod.
    Cell,
    /// A pixel.
    Pixel,
}

impl RevealLength {
    const fn words(self) -> &'static str {
        match self {
            Self::Cell => "a cell along the rod",
            Self::Pixel => "a pixel",
        }
    }
}

displayed_as_in_files!(RevealError);

impl Refused for RevealError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Cancelled => Told::new("the reveal was stopped before it was done", "start it again for a picture"),
            Self::NoCloth { length_mm, places } => Told::new(
                format!(
                    "the folded rod is {} long and {places} layers thick: there is no cloth to dye",
                    voice.length(*length_mm)
                ),
                "put the centre where cloth lies around it",
            ),
            Self::TooManyCells { cells, most } => Told::new(
                format!("the rod would take {cells} cells, and at most {most} are computed"),
                "use fewer pleats, or longer cells along the rod",
            ),
            Self::TooManyDyes { dyes, most } => Told::new(
                format!("{dyes} dyes lie on the rod, and at most {most} are computed at once"),
                "take some colours out of the rotation",
            ),
            Self::TooManyComponents { dyes, fields, most } => Told::new(
                format!(
                    "{dyes} dyes and the components that part from them are {fields} in all, and at most {most} are computed at once"
                ),
                "take some colours out of the rotation, or give components the same reach",
            ),
            Self::TooManyPixels { width, height, most, finest_mm } => Told::new(
                format!("a picture of {width} by {height} pixels is too large; at most {most} pixels are computed"),
                format!("give a pixel of {} or more", voice.length(*finest_mm)),
            ),
            Self::Length { what, value_mm, least_mm, most_mm } => Told::new(
                format!("{} of {} is out of range", what.words(), voice.length(*value_mm)),
                format!("give {}", voice.range(*least_mm, *most_mm)),
            ),
            Self::Solver(error) => {
                let told = error.told(voice);
                Told::new(told.what, format!("{}; the process values may be far out of proportion", told.cure))
            }
        }
    }
}
