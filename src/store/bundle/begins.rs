//! How a bundle is told from other files, by its first bytes.

use crate::store::read::open_regular;
use std::io::Read as _;
use std::path::Path;

/// How an archive begins (APPNOTE 4.3.7).
const BEGINS: [u8; 4] = *b"PK\x03\x04";

/// Whether a file begins as a bundle does; one that can't be read does not.
#[must_use]
pub fn is_bundle(path: &Path) -> bool {
    let begins = open_regular(path).and_then(|mut file| {
        let mut first = [0; BEGINS.len()];
        file.read_exact(&mut first).map(|()| first)
    });
    begins.is_ok_and(|first| first == BEGINS)
}
