//! Several ties on one garment: each takes the cloth within its last bind, and what earlier ties took is not there for it.

mod fold;
mod loose;
mod shared;
mod taken;

pub use fold::TiedFold;
pub use loose::{crowding, loose_mm2};
pub use taken::{Taken, owner};
