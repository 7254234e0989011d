//! The reveal and its colours: doses, spectra and differences, swatches.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

#[macro_use]
#[path = "../common/mod.rs"]
mod common;
mod colour;
mod doses;
#[path = "../common/matrix_market.rs"]
mod matrix_market;
mod mixtures;
mod several;
mod swatches;
mod unsure;
