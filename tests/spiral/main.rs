//! Cloth twisted into a puck: its laws, and figures from outside the project.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]
#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "indices into small lists and pictures")]

mod bodies;
#[path = "../common/mod.rs"]
mod common;
mod dose;
mod laws;
mod layouts;
mod picture;
mod plan;
mod puck;
mod refused;
mod wedges;
