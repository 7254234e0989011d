//! What is printed, and read back: files, sheets, templates, the handout, the handbook.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

#[macro_use]
#[path = "../common/mod.rs"]
mod common;
mod files;
#[path = "../common/half_tee.rs"]
mod half_tee;
mod handbook;
mod handout;
#[path = "../common/pdf_reader.rs"]
mod pdf_reader;
#[path = "../common/pdf_text.rs"]
mod pdf_text;
mod sheets;
mod template;
