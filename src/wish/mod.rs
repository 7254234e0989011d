//! The wish: rings wished on the opened garment, and the binds and dyes that come nearest to them.
//!
//! A [`Wish`] says which colour is wanted from where to where, counted from the burst centre or from the line that is folded along, and how
//! much each part matters. [`fulfil()`] begins with a layout's garment, fold, thread and process and finds its binds and colours:
//!
//! 1. Two rods, one flat and one pressed round all along, are solved once, dyed all over (`surrogate.rs`): what any dye gives at any distance.
//!    A third, tied every few centimetres, tells what thread leaves of it (`line.rs`).
//! 2. From these the cost of every section that could be tied is read, and the cheapest way over the marks of the rule found by dynamic
//!    programming, exactly ([`cheapest`]).
//! 3. The layout that this gives is revealed as any other is; where its sections differ from what was foretold, the costs are corrected and
//!    the search done anew. The best layout seen is kept.
//!
//! What is reported as reached is the reveal's, never what was foretold. Parts that come out farther than [`REACHED_WITHIN`] from what was
//! wished are named with their cause and the nearest colour that could be ([`NotReached`]).
//!
//! A wish may come from a photograph: what that shows by distance is cut into parts ([`Wish::like`]).
//!
//! # Limits
//! All is computed for an exact hand. Behind threads that let dye through (string) neighbouring sections mix, which is foretold for a section's
//! own dye alone; the reveals correct it in part. Flat bundles and spirals have no rings: they are refused. What no part wishes for is left
//! without dye.
//!
//! This module must not know the window, files or paper.

mod causes;
mod chart;
mod costs;
mod edges;
mod error;
mod fulfil;
mod like;
mod line;
mod reached;
mod rows;
mod search;
mod shelf;
mod surrogate;
mod target;
mod tied;
#[expect(clippy::module_inception, reason = "what the folder is about")]
mod wish;

pub use causes::{Cause, NearestWith, NotReached, REACHED_WITHIN};
pub use chart::{Chart, MOST_SHOWN, Sketch, difference_colour, profile_at};
pub use error::{FulfilError, WishError, WishProblem};
pub use fulfil::{Fulfilled, WishOptions, fulfil};
pub use like::parts_like;
pub use reached::{PartReached, ProfileRow};
pub use search::{Rod, Way, cheapest};
pub use wish::{MOST_PARTS, MOST_WISHED_BINDS, Tint, WEIGHTS, Wish, WishColour, WishPart};
