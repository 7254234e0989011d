//! Colour of dyed cloth: from swatches to spectra, dyes mixed on a ground, spectra to screen, and how far two colours lie apart.
//!
//! A swatch's sRGB becomes a reflectance [`Spectrum`]; [`DyeSet`] adds dyes in proportion to their dose on a ground that is
//! discharged in part (single-constant Kubelka-Munk, [`k_over_s`]); the sum goes back through CIE XYZ to sRGB. [`ciede2000`]
//! tells how far two colours lie apart, [`neighbours`] applies it along the rod, [`best_order`] seeks a rotation that parts them,
//! and [`SwatchBook`] keeps the maker's swatches.
//!
//! Pure numerics: nothing here knows of windows, paper or files.
//!
//! # Limits
//! Three numbers of a swatch can't tell its spectrum: the one taken is the smoothest that gives this colour in daylight (D65) to
//! the CIE 1931 2-degree observer. Mixtures are estimates, better between neighbouring hues than across the colour circle. One
//! constant, K/S, stands for absorption and scattering both, as is usual for dyed cloth; gloss and the weave's shadow are part of
//! the swatch. What dyes do to each other in the fibre is left out.

mod bytes;
mod difference;
mod dyes;
mod kubelka_munk;
mod linear_system;
mod mixture;
mod neighbours;
mod observer;
mod order;
mod spaces;
mod spectrum;
mod swatch_book;
mod warning;

pub use bytes::SrgbBytes;
pub use difference::ciede2000;
pub use dyes::{Dye, DyeSet, Ground};
pub use kubelka_munk::{k_over_s, reflectance};
pub use mixture::Together;
pub use neighbours::{Neighbours, neighbours};
pub use observer::{BANDS, wavelengths_nm};
pub use order::{MOST_PERMUTED, RotationOrder, best_order};
pub use spaces::{Lab, LinearRgb, Xyz};
pub use spectrum::Spectrum;
pub use swatch_book::{DyeSwatch, Origin, Renamed, SwatchBook, SwatchBookError, SwatchBookProblem};
pub use warning::{BetterOrder, ColourWarning, TOLD_APART, colour_warnings, colour_warnings_by_tie};
