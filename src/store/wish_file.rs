//! Files of wishes: RON text to checked values and back, and the layouts that they begin with.

use super::form::WishV1;
use super::formats::Known;
use super::kind_file::misread;
use super::layout_file::in_format;
use super::text_file::read_text;
use super::{FileKind, Place, ReadError, TextError, locate, read_layout};
use crate::form::WrittenForm as _;
use crate::layout::{Layout, to_ron};
use crate::wish::{Wish, WishError};
use std::path::{Path, PathBuf};

/// Every format that a file of a wish has ever had.
const WISH_FORMATS: [Known<Wish>; 1] = [Known::by::<WishV1>()];

/// Checks the text of a wish. Whether its layout can be asked for that, [`Wish::check_on`] tells.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_wish(text: &str) -> Result<Wish, (Option<Place>, TextError)> {
    let (wish, _keys) = in_format(text, &WISH_FORMATS, |found, known| TextError::WishForm { found, known })?;
    wish.check().map_err(|error| placed(text, error))?;
    Ok(wish)
}

fn placed(text: &str, error: WishError) -> (Option<Place>, TextError) {
    (locate(text, &error.field.to_string()), TextError::Wish(Box::new(error)))
}

/// Reads a wish and the layout that it begins with, beside its own file, and checks that the one can be asked of the other.
///
/// # Errors
/// [`ReadError`] naming the file that is wrong, line and column, the field, its value and what would be right.
pub fn read_wish(path: &Path) -> Result<(Wish, Layout), ReadError> {
    let text = read_text(path)?;
    let wrong = |(place, problem)| ReadError::Text { path: path.to_owned(), place, problem };
    let wish = parse_wish(&text).map_err(|error| misread(path, &text, FileKind::Wish, error))?;
    let layout = read_layout(&wish_layout_path(path, &wish))?;
    wish.check_on(&layout).map_err(|error| wrong(placed(&text, error)))?;
    Ok((wish, layout))
}

/// Reads a wish alone, to be asked of another layout than it names.
///
/// # Errors
/// As of [`read_wish`].
pub fn read_wish_alone(path: &Path) -> Result<Wish, ReadError> {
    let text = read_text(path)?;
    parse_wish(&text).map_err(|error| misread(path, &text, FileKind::Wish, error))
}

/// The file of the layout that a wish begins with.
#[must_use]
pub fn wish_layout_path(path: &Path, wish: &Wish) -> PathBuf {
    path.parent().unwrap_or_else(|| Path::new("")).join(&wish.layout)
}

/// The text of a wish, in the newest format: every value exactly.
#[must_use]
pub fn wish_text(wish: &Wish) -> String {
    to_ron(&WishV1::of(wish.clone()))
}
