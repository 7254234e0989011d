//! Photographs held against their plan: drawn scenes with known truth, planted maps and fields, copies that must measure the same, refusals.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod cli;
mod colours;
#[path = "../common/mod.rs"]
mod common;
mod copies;
#[path = "../common/drawn/mod.rs"]
mod drawn;
mod files;
mod found;
mod like;
mod mangled;
mod maps;
mod parted;
mod refused;
mod rings;
mod shirt;
mod swatches;
mod taught;
mod ties;
mod traced;
