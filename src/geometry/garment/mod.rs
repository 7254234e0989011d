//! Garments: kinds, finished measurements, sizes, and the outlines drafted from them.
//!
//! The way from a maker's tape to an outline: [`RawMeasures`] (what a file or a form says) and a [`SizeName`] go into
//! [`Garment::new`], which takes the required measurements from the size table, derives what is left, checks every value alone
//! and against the others, and drafts both panels. A garment that none of the kinds is like is [`Garment::own`], from an [`OwnOutline`].
//!
//! This module must not know bursts, folds or files; it knows cloth only as an outline.

mod check;
mod checked;
mod draft;
mod error;
mod figure;
mod grading;
mod half;
mod kind;
mod measure;
mod measurements;
mod misfit;
mod own;
mod size_name;
mod sizes;
mod status;
mod top;
mod wash;

pub use checked::{Garment, Measurement, Origin};
pub use draft::Draft;
pub use error::{Bound, GarmentError};
pub use figure::figure_line;
pub use half::{ALIKE_MM, HalfError, TakenAs, half_outline};
pub use kind::{GarmentKind, Panels};
pub use measure::{Measure, RawMeasures};
pub use measurements::Measurements;
pub use misfit::Misfit;
pub use own::OwnOutline;
pub use size_name::SizeName;
pub use sizes::Size;
pub use status::SourceStatus;
pub use top::Top;
pub use wash::{Wash, WashDirection, WashError};
