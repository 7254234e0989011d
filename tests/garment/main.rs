//! Garments: every kind and size, their necks, outlines of the maker's own, and the layouts that they are begun with.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

#[macro_use]
#[path = "../common/mod.rs"]
mod common;
mod kinds;
mod necks;
mod own_outline;
mod starters;
