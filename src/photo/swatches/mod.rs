//! Swatches from a photograph: squares of dyed cloth beside white paper, or on it.
//!
//! [`find_squares`] proposes where paper and squares lie, a maker corrects that, and [`square_colours`] takes the light out and says what
//! colour each square is and how far its parts stray from that.
//!
//! # Limits
//! Colours are as the picture's file says: a camera's own contrast curve is not known. Squares are flat places of upright sides; cloth round
//! them may have any shape.

mod colour;
mod find;
mod ground;
mod problem;

pub use colour::{SquareColour, square_colours};
pub use find::{FoundSquares, find_squares};
pub use problem::{SquaresError, SquaresProblem};

use super::Sheet;

/// What is white in the picture, by which colours are told.
#[derive(Debug, Clone, PartialEq)]
pub enum White {
    /// A sheet of paper; how large it is matters not.
    Sheet(Sheet),
    /// All that the squares lie on: white paper that fills the picture.
    Ground,
}
