//! Variations: what else the layout at hand could be, in one or two things, pictured small so that a maker can choose by eye.
//!
//! [`candidates`] lists every change of a layout that a maker could try and that the layout can carry; [`wall`] pictures them and
//! chooses those that differ visibly, from the layout and from each other.
//!
//! This module must not know the window or files.

mod candidate;
mod change;
mod choose;
mod round;
mod thumb;
mod wall;

pub use candidate::{Variation, candidates};
pub use change::Change;
pub use wall::{Tile, Wall, WallOptions, wall};
