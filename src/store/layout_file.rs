//! Layout and preset files: RON text to checked values and back.

use super::form::PresetV1;
use super::formats::{Known, Unread, read};
use super::kind_file::{file_kind, misread};
use super::kinds::FileKind;
use super::read_error::{ReadError, TextError};
use super::text_file::read_text;
use super::{Place, locate};
use crate::form::{Keys, WrittenForm as _, in_file};
use crate::geometry::{Fit, SpacingPreset};
use crate::layout::form::{LayoutV1, LayoutV2};
use crate::layout::{Layout, LayoutError, LayoutProblem, LayoutSpec, check_name, check_note, to_ron};
use ron::error::SpannedError;
use serde::de::DeserializeOwned;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Ending of a layout's name that opens it by a double click, without the dot; `ron` is read as well.
pub const LAYOUT_ENDING: &str = "pleat";

/// Reads and checks a layout file.
///
/// # Errors
/// [`ReadError`] naming the file, line and column, the field, its value and what would be right.
pub(super) fn read_layout_file(path: &Path) -> Result<Layout, ReadError> {
    let text = read_text(path)?;
    parse_layout(&text).map_err(|error| misread(path, &text, FileKind::Layout, error))
}

/// The text of a layout file, checked but as it stands, comments and all.
///
/// # Errors
/// As for [`super::read_layout`].
pub fn read_layout_text(path: &Path) -> Result<String, ReadError> {
    let text = read_text(path)?;
    match parse_layout(&text) {
        Ok(_) => Ok(text),
        Err(error) => Err(misread(path, &text, FileKind::Layout, error)),
    }
}

/// Reads a spacing preset file.
///
/// # Errors
/// As for [`super::read_layout`].
pub fn read_preset(path: &Path) -> Result<SpacingPreset, ReadError> {
    let text = read_text(path)?;
    parse_preset(&text).map_err(|error| misread(path, &text, FileKind::SpacingPreset, error))
}

/// The presets at a place: the file itself, or every `.ron` file in a folder that holds one, by name.
///
/// # Errors
/// [`ReadError`] for the first that can't be read.
pub fn presets_in(place: &Path) -> Result<Vec<(PathBuf, SpacingPreset)>, ReadError> {
    if !place.is_dir() {
        return Ok(vec![(place.to_owned(), read_preset(place)?)]);
    }
    let refused = |source| ReadError::File { path: place.to_owned(), source };
    let entries = fs::read_dir(place).and_then(Iterator::collect::<io::Result<Vec<_>>>).map_err(refused)?;
    let mut paths: Vec<PathBuf> = entries.into_iter().map(|entry| entry.path()).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "ron"));
    paths.sort();
    let mut presets = Vec::new();
    for path in paths {
        if file_kind(&path)? == FileKind::SpacingPreset {
            let preset = read_preset(&path)?;
            presets.push((path, preset));
        }
    }
    Ok(presets)
}

/// Checks the text of a layout.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_layout(text: &str) -> Result<Layout, (Option<Place>, TextError)> {
    let (spec, keys) = parse_spec(text)?;
    Layout::try_from(spec).map_err(|error| wrong_value(text, error, keys))
}

/// Every format that a layout file has ever had.
const LAYOUT_FORMATS: [Known<LayoutSpec>; 2] = [Known::by::<LayoutV1>(), Known::by::<LayoutV2>()];

/// Reads the text of a layout without checking its values, and tells where its keys are not the program's names.
pub(super) fn parse_spec(text: &str) -> Result<(LayoutSpec, Keys), (Option<Place>, TextError)> {
    in_format(text, &LAYOUT_FORMATS, other_layout_format)
}

fn other_layout_format(found: u32, known: u32) -> TextError {
    let problem = LayoutProblem::Format { found, known };
    TextError::Value(Box::new(LayoutError { field: "format".into(), problem }))
}

/// Every format that a preset file has ever had.
const PRESET_FORMATS: [Known<SpacingPreset>; 1] = [Known::by::<PresetV1>()];

/// Reads the text of a spacing preset.
///
/// # Errors
/// As for [`parse_layout`].
pub fn parse_preset(text: &str) -> Result<SpacingPreset, (Option<Place>, TextError)> {
    let (preset, keys) = in_format(text, &PRESET_FORMATS, other_layout_format)?;
    check_preset(&preset).map_err(|error| wrong_value(text, error, keys))?;
    Ok(preset)
}

/// Refuses a preset that could not be read back: a name that no sheet can show, a guide arc that can't be.
///
/// # Errors
/// [`LayoutError`] naming the field.
pub fn check_preset(preset: &SpacingPreset) -> Result<(), LayoutError> {
    check_name("name", &preset.name)?;
    check_note("note", &preset.note)?;
    // Laid on its own guide arc it stays as it is; what can't be laid on anything is refused here.
    let laid = preset.apply(preset.guide_radius_mm, Fit::Kept);
    laid.map(drop).map_err(|error| LayoutError { field: "guide_radius_mm".into(), problem: error.into() })
}

/// Reads a text by the format that it says it has; `other` says what is wrong with one that is none of those known.
pub(super) fn in_format<T>(
    text: &str,
    known: &[Known<T>],
    other: impl FnOnce(u32, u32) -> TextError,
) -> Result<(T, Keys), (Option<Place>, TextError)> {
    read(text, known).map_err(|unread| match unread {
        Unread::Form(error) => not_read(error),
        Unread::Format { found, newest } => (locate(text, "format"), other(found, newest)),
    })
}

/// The error by the file's own keys, and where they stand.
fn wrong_value(text: &str, error: LayoutError, keys: Keys) -> (Option<Place>, TextError) {
    let field = in_file(keys, &error.field);
    (locate(text, &field.to_string()), TextError::Value(Box::new(LayoutError { field, ..error })))
}

pub(super) fn from_ron<T: DeserializeOwned>(text: &str) -> Result<T, (Option<Place>, TextError)> {
    super::formats::from_ron(text).map_err(not_read)
}

/// Where the parser stopped, and why in a maker's words.
pub(super) fn not_read(error: SpannedError) -> (Option<Place>, TextError) {
    let start = error.span.start;
    (Some(Place { line: start.line, column: start.col }), TextError::Form(Box::new(error.code)))
}

/// The text of a preset file.
#[must_use]
pub fn preset_text(preset: &SpacingPreset) -> String {
    to_ron(&PresetV1::of(preset.clone()))
}
