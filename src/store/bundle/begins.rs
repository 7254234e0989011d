//! How a bundle is told from other files, by its first bytes.

use super::BUNDLE_ENDING;
use crate::store::read::open_regular;
use std::io::Read as _;
use std::path::Path;

/// How an archive begins (APPNOTE 4.3.7).
const BEGINS: [u8; 4] = *b"PK\x03\x04";

/// Whether a file begins as a bundle does; one that can't be read does not.
#[must_use]
pub fn is_bundle(path: &Path) -> bool {
    first_bytes::<4>(path).is_some_and(|first| first == BEGINS)
}

/// Whether a file is to be read as a bundle: it begins as one, or is named as one and begins as no text of ours does, so that one whose bytes
/// are lost is refused as what it was.
#[must_use]
pub fn reads_as_bundle(path: &Path) -> bool {
    let is_named_so = path.extension().is_some_and(|ending| ending == BUNDLE_ENDING);
    is_bundle(path) || (is_named_so && !first_bytes::<1>(path).is_some_and(|first| TEXT_BEGINS.contains(&first[0])))
}

/// How texts of layouts begin: with a bracket or a remark.
const TEXT_BEGINS: [u8; 2] = *b"(/";

fn first_bytes<const N: usize>(path: &Path) -> Option<[u8; N]> {
    let mut first = [0; N];
    open_regular(path).ok()?.read_exact(&mut first).ok()?;
    Some(first)
}
