//! Texts of files, bounded.

use super::{ReadError, read_regular_text};
use std::path::Path;

/// Largest text file read, bytes: a thousand times a usual layout.
pub(crate) const MOST_TEXT_BYTES: u64 = 4 << 20;

pub(crate) fn read_text(path: &Path) -> Result<String, ReadError> {
    read_regular_text(path, MOST_TEXT_BYTES).map_err(|refused| ReadError::new(path, refused))
}
