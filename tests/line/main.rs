//! Cloth folded along drawn lines: the laws of every fold, and figures from outside the project.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod bodies;
mod burst;
#[path = "../common/mod.rs"]
mod common;
mod laws;
mod layouts;
mod marks;
mod random;
mod ridge;
mod rings;
mod shapes;
mod taken;
