//! Reading a text by the format that it says it has.

use crate::form::{FileFormat, Keys};
use ron::error::{SpannedError, SpannedResult};
use ron::extensions::Extensions;
use serde::Deserialize;
use serde::de::DeserializeOwned;

/// A format that can be read, and where its keys are not the program's own names.
pub(super) struct Known<T> {
    number: u32,
    read: fn(&str) -> SpannedResult<T>,
    keys: Keys,
}

impl<T> Known<T> {
    pub(super) const fn by<F: FileFormat<Live = T>>() -> Self {
        Self { number: F::NUMBER, read: |text| from_ron::<F>(text).map(F::live), keys: F::KEYS }
    }
}

/// Why a text was not read.
pub(super) enum Unread {
    /// It is no RON, or has not the fields of its format.
    Form(SpannedError),
    /// Its format is none of those known.
    Format {
        /// The number in the text.
        found: u32,
        /// The newest known.
        newest: u32,
    },
}

/// Reads a text. Its format's number is looked at first: a newer one may have fields that this program does not know.
pub(super) fn read<T>(text: &str, known: &[Known<T>]) -> Result<(T, Keys), Unread> {
    #[derive(Deserialize)]
    struct Numbered {
        format: u32,
    }
    let Numbered { format: found } = from_ron(text).map_err(Unread::Form)?;
    match known.iter().find(|format| format.number == found) {
        Some(format) => Ok(((format.read)(text).map_err(Unread::Form)?, format.keys)),
        None => Err(Unread::Format { found, newest: known.iter().map(|format| format.number).max().unwrap_or_default() }),
    }
}

/// Reads RON as every file of the program is written: what may be left out is given without `Some`.
pub(super) fn from_ron<T: DeserializeOwned>(text: &str) -> SpannedResult<T> {
    ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME).from_str(text)
}
