//! Swatch files: RON text to a checked book of swatches and back.

use super::layout_file::{from_ron, read_text};
use super::{Place, ReadError, TextError, locate};
use crate::layout::to_ron;
use crate::reveal::colour::{DyeSwatch, SwatchBook, SwatchBookError};
use serde::{Deserialize, Serialize};
use std::path::Path;

/// The newest form of the swatch file that this program writes.
pub const SWATCH_BOOK_FORMAT: u32 = 1;

/// A file of swatches of form 1, as the maker wrote it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SwatchBookV1 {
    /// The form: 1.
    format: u32,
    /// The book's name.
    name: String,
    /// Anything the maker wants to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
    /// The swatches, in the maker's order.
    swatches: Vec<DyeSwatch>,
}

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
        let problem = TextError::SwatchForm { found: form.format, known: SWATCH_BOOK_FORMAT };
        return Err((locate(text, "format"), problem));
    }
    let SwatchBookV1 { format: _, name, note, swatches } = from_ron(text)?;
    SwatchBook::new(name, note, swatches).map_err(wrong_value)
}

/// The text of a swatch file: every value exactly.
#[must_use]
pub fn swatches_text(book: &SwatchBook) -> String {
    to_ron(&SwatchBookV1 {
        format: SWATCH_BOOK_FORMAT,
        name: book.name().to_owned(),
        note: book.note().to_owned(),
        swatches: book.swatches().to_vec(),
    })
}
