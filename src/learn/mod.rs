//! Calibration learned from photographs of what a maker made.
//!
//! A [`Piece`] is a layout with photographs of the opened cloth. Each is straightened onto its plan ([`photo`](crate::photo)), the lines of its
//! binds drawn to where they lie on average, and cut into bins, whose mean colour is held against the reveal's, with an exact hand, the binds
//! where they were measured and cells of 1 mm. [`learn`] finds the calibration values, how far the components of its
//! mixtures reach, how strong each dye came out and what is left of uneven light, all at once, by [least squares](LeastSquares) with robust weights, starting from what was believed before. Its [`Lesson`] adds to
//! what a maker's earlier pieces taught ([`Learned`]). The judge is never the fit but a piece kept back ([`foretold`]).
//!
//! # Limits
//! Errors of the model itself are not in any error bar: all were found on pieces drawn by the program's own estimate. A value stands for itself
//! only together with the others; what trades off is held by convention ([`LearnedValue`]).
//!
//! This module must not know the window, files or paper.

mod beliefs;
mod bins;
mod component;
mod error;
mod fit;
mod judge;
mod learned;
mod learned_error;
mod least_squares;
mod lesson;
mod light;
mod model;
mod outcome;
mod piece;
mod problem;
mod taught;
mod test_cloth;
mod unsure;
mod value;
mod words;

pub use beliefs::Beliefs;
pub use component::{COMPONENT_FACTS, ComponentFacts, shown_components};
pub use error::LearnError;
pub use fit::learn;
pub use judge::{Foretold, foretold};
pub use learned::{ComponentPart, Learned};
pub use learned_error::{LearnedError, LearnedProblem};
pub use least_squares::{LeastSquares, LeastSquaresOptions, Minimum, Normal, minimise};
pub use lesson::{Lesson, Strength};
pub use outcome::{Outcome, teach};
pub use piece::{Piece, PiecePhoto, check_teaches};
pub use taught::{DyeStrength, TaughtBy, ToldReach, ToldValue};
pub use test_cloth::{TEST_CLOTH, TestSquare};
pub use unsure::Unsure;
pub use value::{LearnedScale, LearnedValue, ValueFacts, shown_by};
pub use words::{FROM_DRAWN_PIECES, HELD_BY_CONVENTION, NOT_JUDGED, ValueRow, change_words, reach_words, shown_words};
