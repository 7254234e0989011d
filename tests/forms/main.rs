//! Files of every format that there ever was: read as they were meant, written in the newest, and no key changed since.
//!
//! `files/` holds files as programs wrote them when each format was the newest, and some as a maker writes them by hand, with as little as
//! can be said. `keys/` lists every key of every format. Neither may change: what stands there is in makers' hands.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod bundles;
mod journal;
mod layouts;
mod learned;
mod marks;
mod mixtures;
mod places;
mod plans;
mod projectors;
mod shelves;
mod tracer;
mod wishes;

use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/forms")
}

/// A file's text.
fn text(name: &str) -> String {
    std::fs::read_to_string(folder().join("files").join(name)).unwrap().replace("\r\n", "\n")
}

/// Holds a text against the file of that name, which it has to be to the byte.
fn is_file(name: &str, made: &str) {
    hold(&folder().join("files").join(name), made);
}

/// Holds every key of a form against the list of that name.
fn has_keys<T: serde::de::DeserializeOwned>(name: &str, number: u32) {
    hold(&folder().join("keys").join(name), &tracer::keys::<T>(number));
}

/// Holds a text against a file that is never made anew; one that is missing is written, and the test fails.
fn hold(path: &Path, made: &str) {
    let Ok(kept) = std::fs::read_to_string(path) else {
        std::fs::write(path, made).unwrap();
        panic!("{}: there was none; what was made now is written there", path.display());
    };
    for (number, (kept, made)) in (1..).zip(kept.lines().zip(made.lines())) {
        assert_eq!(kept, made, "{}:{number}: a format that files have is never changed; make the next one", path.display());
    }
    assert_eq!(kept.lines().count(), made.lines().count(), "{}", path.display());
}

/// A text in which each of these words, which is there, is another.
fn renamed(text: &str, words: &[(&str, &str)]) -> String {
    words.iter().fold(text.to_owned(), |text, (old, new)| {
        assert!(text.contains(old), "{old}");
        text.replace(old, new)
    })
}
