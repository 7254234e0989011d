//! What is handed out: icon, desktop files, licences of what is built in, what may be built in, and the program on a bare account.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod bundle;
mod desktop;
mod fresh;
mod icon;
mod licences;
mod policy;
mod tree;

use std::fs;
use std::path::{Path, PathBuf};

/// A file of the package.
fn place(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn text(name: &str) -> String {
    fs::read_to_string(place(name)).unwrap().replace("\r\n", "\n")
}

/// Whether what is kept is made anew.
fn remakes() -> bool {
    std::env::var_os("PLEATWRIGHT_REMAKE").is_some()
}
