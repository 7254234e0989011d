//! Files of marks on photographs: RON text to checked marks and back.

use super::form::MarksV1;
use super::formats::Known;
use super::layout_file::in_format;
use super::text_file::read_text;
use super::{Place, ReadError, TextError, locate};
use crate::form::in_file;
use crate::layout::to_ron;
use crate::photo::{Marks, MarksError};
use std::path::Path;

/// Every format that a file of marks has ever had.
const MARKS_FORMATS: [Known<Result<Marks, MarksError>>; 1] = [Known::by::<MarksV1>()];

/// Checks the text of a file of marks. Whether a garment has the points that it names, [`measure`](crate::photo::measure) tells.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_marks(text: &str) -> Result<Marks, (Option<Place>, TextError)> {
    let (marks, keys) = in_format(text, &MARKS_FORMATS, |found, known| TextError::MarksForm { found, known })?;
    marks.map_err(|error| {
        let field = in_file(keys, &error.field);
        (locate(text, &field.to_string()), TextError::Marks(Box::new(MarksError { field, ..error })))
    })
}

/// Reads a file of marks.
///
/// # Errors
/// [`ReadError`] naming the file, the field, its value and what would be right, and where if that is known.
pub fn read_marks(path: &Path) -> Result<Marks, ReadError> {
    let text = read_text(path)?;
    parse_marks(&text).map_err(|(place, problem)| ReadError::Text { path: path.to_owned(), place, problem })
}

/// The text of a file of marks, in the newest format: every value exactly.
#[must_use]
pub fn marks_text(marks: &Marks) -> String {
    to_ron(&MarksV1::of(marks))
}
