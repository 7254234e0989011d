//! The program as a user runs it, the readme as a newcomer follows it, and the files that it reads.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

#[macro_use]
#[path = "../common/mod.rs"]
mod common;
mod cli;
mod layouts;
mod readme;
mod wish;
