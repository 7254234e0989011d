//! Why there is no reveal.

use super::solver::SolverError;

/// Why a reveal could not be computed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RevealError {
    /// It was asked to stop.
    #[error("the reveal was stopped before it was done")]
    Cancelled,
    /// The fold has no cloth.
    #[error("the folded rod is {length_mm} mm long and has {places} places in its stack; there is no cloth to dye")]
    NoCloth {
        /// Length of the rod, mm.
        length_mm: f64,
        /// Places in its stack.
        places: u32,
    },
    /// The grid would not fit in memory.
    #[error(
        "the rod would take {cells} cells, and at most {most} are computed; make the cells along the rod longer or the pleats fewer"
    )]
    TooManyCells {
        /// Cells asked for.
        cells: usize,
        /// The limit.
        most: usize,
    },
    /// More dyes than are solved at once.
    #[error("{dyes} dyes lie on the rod, and at most {most} are computed at once")]
    TooManyDyes {
        /// Dyes asked for.
        dyes: usize,
        /// The limit.
        most: usize,
    },
    /// The picture would not fit in memory.
    #[error(
        "a picture of {width} by {height} pixels is too large; at most {most} pixels are computed: give a pixel of {finest_mm} mm or more"
    )]
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
    #[error("{what} is {value_mm} mm; give a length from {least_mm} to {most_mm} mm")]
    Length {
        /// What it is the length of.
        what: &'static str,
        /// The given value, mm.
        value_mm: f64,
        /// Least allowed, mm.
        least_mm: f64,
        /// Greatest allowed, mm.
        most_mm: f64,
    },
    /// The solver can't do it: a grid that it is not made for, or reaches and conductances far out of proportion.
    #[error("{0}; the process values may be far out of proportion")]
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
