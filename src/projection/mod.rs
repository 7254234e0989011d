//! The layout thrown onto the table at true size: by a projector above it, or a screen laid under the cloth.
//!
//! Three planes, each with its own points:
//!
//! - the *picture*: pixels of the projector or screen, from its upper left corner, x to the right, y down;
//! - the *table*, mm: from the middle of the known rectangle that the picture is aligned by, x along its first side, y along its second;
//! - the *garment* as it is laid, mm, in its own frame (`geometry`).
//!
//! [`Placement`] carries the garment onto the table, [`Homography`] the table into the picture. A homography keeps straight lines straight, so
//! that lines flattened on the table are as near to their curves there as they were made.
//!
//! # Limits
//! Table and picture are planes, and the lens draws straight lines straight. A lens that bends them shows in the residual of nine marks, and in
//! the check, and is not corrected.

mod alignment;
mod check;
mod clip;
mod corners;
mod drawn;
mod homography;
mod placement;
mod problem;
mod projector;
mod scene;

pub use alignment::Alignment;
pub use check::CheckFigure;
pub use clip::clipped;
pub use homography::{Homography, Pair};
pub use placement::Placement;
pub use problem::{ProjectorError, ProjectorProblem};
pub use projector::{MarkSet, Projector, Projectors, Rectangle, check_line, check_side};
pub use scene::{ProjectedLayer, Role, TableLine, TableScene};
