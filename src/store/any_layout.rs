//! A layout, whichever file it is in.

use super::layout_file::read_layout_file;
use super::{ReadError, read_bundle, reads_as_bundle};
use crate::layout::Layout;
use std::path::Path;

/// Reads and checks a layout file, or the layout of a bundle.
///
/// # Errors
/// [`ReadError`] naming the file, line and column, the field, its value and what would be right.
pub fn read_layout(path: &Path) -> Result<Layout, ReadError> {
    if reads_as_bundle(path) { read_bundle(path).map(|bundle| bundle.layout) } else { read_layout_file(path) }
}
