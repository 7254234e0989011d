//! The forms of layout files, the newest last, each with nothing of the program in it.
//!
//! Every format that ever was is read; only the newest is written. What two formats share stands in [`parts`].

pub mod calibration;
mod dips;
mod flat;
mod fold;
pub mod line;
pub mod outline;
pub mod parts;
pub mod spiral;
mod ties;
pub mod v1;
pub mod v2;

pub use v1::LayoutV1;
pub use v2::LayoutV2;
