//! Cloth folded flat by straight creases: the laws of every fold, and figures from outside the project.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod areas;
mod bodies;
#[path = "../common/mod.rs"]
mod common;
mod dips;
mod dose;
mod groups;
mod laws;
mod layers;
mod layouts;
mod refused;
mod wedges;
mod wound;
