//! Swatch files: RON text to a checked book of swatches and back.

use super::layout_file::{from_ron, read_text};
use super::{Place, ReadError, TextError, locate};
use crate::layout::to_ron;
use crate::reveal::colour::{SWATCH_BOOK_FORMAT, SwatchBook, SwatchBookError, SwatchBookProblem, SwatchBookV1};
use serde::Deserialize;
use std::path::Path;

/// Reads and checks a swatch file.
///
/// # Errors
/// [`ReadError`] naming the file, the field, its value and what would be right, and where if that is known.
pub fn read_swatches(path: &Path) -> Result<SwatchBook, ReadError> {
    let text = read_text(path)?;
    parse_swatches(&text).map_err(|(place, problem)| ReadError::Text { path: path.to_owned(), place, problem })
}

/// Checks the text of a swatch file.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_swatches(text: &str) -> Result<SwatchBook, (Option<Place>, TextError)> {
    #[derive(Deserialize)]
    struct Form {
        format: u32,
    }
    // The form's number first: a newer file may have fields that this program does not know.
    let form: Form = from_ron(text)?;
    let wrong_value = |error: SwatchBookError| (locate(text, &error.field), TextError::Swatches(error));
    if form.format != SWATCH_BOOK_FORMAT {
        let problem = SwatchBookProblem::Format { found: form.format, known: SWATCH_BOOK_FORMAT };
        return Err(wrong_value(SwatchBookError { field: "format".to_owned(), problem }));
    }
    SwatchBook::try_from(from_ron::<SwatchBookV1>(text)?).map_err(wrong_value)
}

/// The text of a swatch file: every value exactly.
#[must_use]
pub fn swatches_text(book: &SwatchBook) -> String {
    to_ron(book.raw())
}
