//! The file of projectors: RON text to checked projectors and back.

use super::form::ProjectorsV1;
use super::formats::Known;
use super::layout_file::in_format;
use super::text_file::read_text;
use super::{Place, ReadError, SaveError, TextError, locate, save};
use crate::form::in_file;
use crate::layout::to_ron;
use crate::projection::{ProjectorError, Projectors};
use std::path::Path;

/// Every format that a file of projectors has ever had.
const PROJECTOR_FORMATS: [Known<Result<Projectors, ProjectorError>>; 1] = [Known::by::<ProjectorsV1>()];

/// Checks the text of a file of projectors.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_projectors(text: &str) -> Result<Projectors, (Option<Place>, TextError)> {
    let (projectors, keys) = in_format(text, &PROJECTOR_FORMATS, |found, known| TextError::ProjectorForm { found, known })?;
    projectors.map_err(|error| {
        let field = in_file(keys, &error.field);
        (locate(text, &field.to_string()), TextError::Projectors(Box::new(ProjectorError { field, ..error })))
    })
}

/// Reads a file of projectors; none are kept while there is no file.
///
/// # Errors
/// [`ReadError`] naming the file, the field, its value and what would be right, and where if that is known.
pub fn read_projectors(path: &Path) -> Result<Projectors, ReadError> {
    if !path.exists() {
        return Ok(Projectors::default());
    }
    let text = read_text(path)?;
    parse_projectors(&text).map_err(|(place, problem)| ReadError::Text { path: path.to_owned(), place, problem })
}

/// The text of a file of projectors, in the newest format: every value exactly.
#[must_use]
pub fn projectors_text(projectors: &Projectors) -> String {
    to_ron(&ProjectorsV1::of(projectors))
}

/// Writes projectors to a file, whole or not at all; its folder is made where it is missing.
///
/// # Errors
/// [`SaveError`]; the file is then as it was.
pub fn save_projectors(path: &Path, projectors: &Projectors) -> Result<(), SaveError> {
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(|source| SaveError { path: path.to_owned(), source })?;
    }
    save(path, projectors_text(projectors).as_bytes())
}
