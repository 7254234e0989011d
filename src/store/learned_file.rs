//! Files of what was learned: RON text to checked values and back, and the pieces that are learned from.

use super::form::LearnedV1;
use super::formats::Known;
use super::journal::{PhotoProblem, read_bytes};
use super::kind_file::misread;
use super::layout_file::in_format;
use super::text_file::read_text;
use super::{FileKind, PhotographError, Place, ReadError, TextError, locate};
use crate::form::in_file;
use crate::layout::to_ron;
use crate::learn::{Learned, LearnedError};
use sha2::{Digest as _, Sha256};
use std::path::Path;

/// Every format that a file of what was learned has ever had.
const LEARNED_FORMATS: [Known<Result<Learned, LearnedError>>; 1] = [Known::by::<LearnedV1>()];

/// Checks the text of a file of what was learned.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_learned(text: &str) -> Result<Learned, (Option<Place>, TextError)> {
    let (learned, keys) = in_format(text, &LEARNED_FORMATS, |found, known| TextError::LearnedForm { found, known })?;
    learned.map_err(|error| {
        let field = in_file(keys, &error.field);
        (locate(text, &field.to_string()), TextError::Learned(Box::new(LearnedError { field, ..error })))
    })
}

/// Reads a file of what was learned.
///
/// # Errors
/// [`ReadError`] naming the file, the field, its value and what would be right, and where if that is known.
pub fn read_learned(path: &Path) -> Result<Learned, ReadError> {
    let text = read_text(path)?;
    parse_learned(&text).map_err(|error| misread(path, &text, FileKind::Learned, error))
}

/// The text of a file of what was learned, in the newest format: every value exactly.
#[must_use]
pub fn learned_text(learned: &Learned) -> String {
    to_ron(&LearnedV1::of(learned))
}

/// A mark of a photograph's file, by which it is known again: the first 16 digits of the SHA-256 of its bytes (FIPS 180-4).
///
/// # Errors
/// [`PhotographError`] for a file that can't be read.
pub fn photograph_mark(path: &Path) -> Result<String, PhotographError> {
    use std::fmt::Write as _;
    let wrong = |problem: PhotoProblem| PhotographError { path: path.to_owned(), problem: problem.into() };
    let digest = Sha256::digest(read_bytes(path).map_err(wrong)?);
    Ok(digest.iter().take(8).fold(String::new(), |mut text, byte| {
        // Writing to a string does not fail.
        let _written = write!(text, "{byte:02x}");
        text
    }))
}
