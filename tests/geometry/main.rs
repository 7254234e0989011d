//! The geometry against figures from outside the project, and the marks of the layout's rule.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

#[macro_use]
#[path = "../common/mod.rs"]
mod common;
mod laws;
mod rule;
mod tied;
