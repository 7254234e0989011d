//! Rings wished on the opened garment: planted layouts found again, parts out of reach named, refusals, stopping.
//!
//! What is known beforehand comes from outside the search: a layout whose own picture is the wish, read off the reveal's pixels by radius.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

#[path = "../common/mod.rs"]
mod common;

mod lines;
mod planted;
mod radial;
mod reach;
mod refused;
mod rings;
