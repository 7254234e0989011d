//! Drawings made elsewhere, read for the lines in them.

use super::read::{NotRead, read_regular};
use crate::import::{DrawingFormat, FileUnit, FoundLine, ImportError, MOST_DRAWING_BYTES, read_lines};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use std::path::Path;

/// Why a drawing gives no lines.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum DrawingError {
    /// Its file can't be read.
    File(#[from] NotRead),
    /// What it holds is no drawing, or not one for this.
    Drawing(#[from] ImportError),
}

displayed_as_in_files!(DrawingError);

impl Refused for DrawingError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::File(error) => error.told(voice),
            Self::Drawing(error) => error.told(voice),
        }
    }
}

/// The lines of a drawing, mm; `unit` is what its numbers measure, where it does not say.
///
/// # Errors
/// [`DrawingError`]; [`ImportError::UnknownUnit`] where neither it nor `unit` says.
pub fn read_drawing(path: &Path, unit: Option<FileUnit>) -> Result<Vec<FoundLine>, DrawingError> {
    let format = DrawingFormat::of(path)?;
    Ok(read_lines(&read_regular(path, MOST_DRAWING_BYTES)?, format, unit)?)
}
