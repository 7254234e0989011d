//! Swatch files: RON text to a checked book of swatches and back.

use super::form::{SwatchesV1, SwatchesV2};
use super::formats::Known;
use super::kind_file::misread;
use super::layout_file::in_format;
use super::text_file::read_text;
use super::{FileKind, Place, ReadError, TextError, locate};
use crate::form::in_file;
use crate::layout::to_ron;
use crate::reveal::colour::{SwatchBook, SwatchBookError};
use std::path::Path;

/// Every format that a swatch file has ever had.
const SWATCH_FORMATS: [Known<Result<SwatchBook, SwatchBookError>>; 2] = [Known::by::<SwatchesV1>(), Known::by::<SwatchesV2>()];

/// Reads and checks a swatch file.
///
/// # Errors
/// [`ReadError`] naming the file, the field, its value and what would be right, and where if that is known.
pub fn read_swatches(path: &Path) -> Result<SwatchBook, ReadError> {
    let text = read_text(path)?;
    parse_swatches(&text).map_err(|error| misread(path, &text, FileKind::Swatches, error))
}

/// Checks the text of a swatch file.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_swatches(text: &str) -> Result<SwatchBook, (Option<Place>, TextError)> {
    let (book, keys) = in_format(text, &SWATCH_FORMATS, |found, known| TextError::SwatchForm { found, known })?;
    book.map_err(|error| {
        let field = in_file(keys, &error.field);
        (locate(text, &field.to_string()), TextError::Swatches(SwatchBookError { field, ..error }))
    })
}

/// The text of a swatch file, in the newest format: every value exactly.
#[must_use]
pub fn swatches_text(book: &SwatchBook) -> String {
    to_ron(&SwatchesV2::of(book))
}
