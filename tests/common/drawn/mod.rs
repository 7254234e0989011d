//! Photographs drawn with known truth.

#![allow(dead_code, clippy::unwrap_used, reason = "each test binary uses a part of it, and a failed unwrap is a failed test")]

pub(crate) mod random;
pub(crate) mod scene;
pub(crate) mod smock;
pub(crate) mod squares;
pub(crate) mod ties;
