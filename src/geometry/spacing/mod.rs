//! Bind spacing: progressions of gaps, solved from what the maker knows, rounded to a rule's marks, corrected by hand.
//!
//! Binds start at the guide arc and go inward to the burst centre and outward to the edge of the cloth. Each side has its own
//! [`Progression`]; gap 1 lies next to the guide arc, gap n farthest from it. [`solve()`] turns one progression into radii,
//! [`place_binds`] the whole [`SpacingSpec`] into binds in order from the centre.
//!
//! This module must not know garments (it asks for the cloth's area through a function), files or thread.

mod bind_id;
mod context;
mod edit;
mod equal_cloth;
mod error;
mod kind;
mod known;
mod law;
mod limits;
mod place;
#[cfg(test)]
mod place_tests;
mod preset;
mod progression;
mod progression_error;
mod quantity;
mod root;
mod rounding;
mod solve;
mod solve_even;
mod solve_power;
mod solve_ratio;
mod solve_step;
#[cfg(test)]
mod solve_tests;
mod tightening;

pub use bind_id::BindId;
pub use context::SpacingContext;
pub use edit::{BindEdit, BindOrigin, Neighbours};
pub use error::SpacingError;
pub use kind::ProgressionKind;
pub use known::{Known, KnownValues};
pub use law::Adjustment;
pub use limits::{EXPONENT_RANGE, MOST_GAPS, RATIO_RANGE};
pub use place::{Bind, Placed, SpacingSpec, place_binds};
pub use preset::{Fit, SpacingPreset};
pub use progression::{Progression, Span};
pub use progression_error::ProgressionError;
pub use quantity::{Clash, Given, Need, Quantity, Side};
pub use solve::{Solved, solve};
pub use tightening::{MOST_OPENING, TIGHTEST, tightened, tightening};
