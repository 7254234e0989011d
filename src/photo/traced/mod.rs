//! The outline of an undyed garment out of a photograph, beside a sheet of paper that tells its size.
//!
//! [`find_outline`] proposes sheet and outline as they are seen, a maker corrects both, and [`half_of`] makes the half of a garment of it, mm:
//! rectified by the sheet's corners, its two sides laid over each other, and few curves.
//!
//! # Limits
//! The sheet tells sizes to 1.6 %: a tape does better. What is seen is the rim of all layers, so that a neckline is the higher of front and back.

mod contour;
mod halves;
mod mean;
mod nodes;
mod problem;
mod rectified;

pub use contour::{FoundOutline, find_outline};
pub use halves::{Halves, TracedHalf, half_of};
pub use problem::TraceError;
