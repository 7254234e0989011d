//! Shelf files: the supplies as plain text, out and in.

use super::formats::Known;
use super::kind_file::misread;
use super::plan_file::{Parsed, placed, plan_format};
use super::text_file::read_text;
use super::{FileKind, ReadError, SaveError, save};
use crate::form::WrittenForm as _;
use crate::layout::to_ron;
use crate::plan::Shelf;
use crate::plan::form::ShelfV1;
use std::path::Path;

/// Every format that a shelf file has ever had.
const SHELF_FORMATS: [Known<Shelf>; 1] = [Known::by::<ShelfV1>()];

/// Checks the text of a shelf.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_shelf(text: &str) -> Parsed<Shelf> {
    let (shelf, keys) = plan_format(text, &SHELF_FORMATS)?;
    shelf.check().map_err(|error| placed(text, error, keys))?;
    Ok(shelf)
}

/// Reads a shelf.
///
/// # Errors
/// [`ReadError`] naming the file, line and column, the field, its value and what would be right.
pub fn read_shelf(path: &Path) -> Result<Shelf, ReadError> {
    let text = read_text(path)?;
    parse_shelf(&text).map_err(|error| misread(path, &text, FileKind::Shelf, error))
}

/// The text of a shelf file.
#[must_use]
pub fn shelf_text(shelf: &Shelf) -> String {
    to_ron(&ShelfV1::of(shelf.clone()))
}

/// Writes a shelf to a file, whole or not at all.
///
/// # Errors
/// [`SaveError`]; the file is then as it was.
pub fn save_shelf(path: &Path, shelf: &Shelf) -> Result<(), SaveError> {
    save(path, shelf_text(shelf).as_bytes())
}
