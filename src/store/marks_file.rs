//! Files of marks on photographs: RON text to checked marks and back.

use super::form::MarksV1;
use super::formats::Known;
use super::kind_file::misread;
use super::layout_file::in_format;
use super::text_file::read_text;
use super::{FileKind, Place, ReadError, TextError, locate, refuse_other_kind, save};
use crate::form::in_file;
use crate::layout::to_ron;
use crate::photo::{Marks, MarksError};
use crate::telling::AnyRefusal;
use std::path::{Path, PathBuf};

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
    parse_marks(&text).map_err(|error| misread(path, &text, FileKind::Marks, error))
}

/// The text of a file of marks, in the newest format: every value exactly.
#[must_use]
pub fn marks_text(marks: &Marks) -> String {
    to_ron(&MarksV1::of(marks))
}

/// Where the marks on a photograph are kept: beside it, under its name and `.marks.ron`.
#[must_use]
pub fn marks_path(photograph: &Path) -> PathBuf {
    let mut name = photograph.file_name().unwrap_or_default().to_owned();
    name.push(".marks.ron");
    photograph.with_file_name(name)
}

/// Saves marks; the earlier file is kept beside it.
///
/// # Errors
/// That the file holds something else, or why it can't be written.
pub fn save_marks(path: &Path, marks: &Marks) -> Result<(), AnyRefusal> {
    refuse_other_kind(path, FileKind::Marks, None)?;
    Ok(save(path, marks_text(marks).as_bytes())?)
}
