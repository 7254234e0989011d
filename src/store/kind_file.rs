//! What a file of ours holds, told by its fields, and that one kind is not written over another.

use super::kinds::FileKind;
use super::system::file_said;
use super::text_file::read_text;
use super::{Place, ReadError, TextError, is_bundle, locate, reads_as_bundle};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use std::fs;
use std::path::{Path, PathBuf};

/// The fields that only one kind has.
const FIELDS: [(&str, FileKind); 12] = [
    ("garment", FileKind::Layout),
    ("lines", FileKind::Order),
    ("ticks", FileKind::Run),
    ("steps", FileKind::Process),
    ("swatches", FileKind::Swatches),
    ("dye", FileKind::Recipe),
    ("inward", FileKind::SpacingPreset),
    ("supplies", FileKind::Shelf),
    ("blanks", FileKind::Shelf),
    ("points", FileKind::Marks),
    ("learned", FileKind::Learned),
    ("wished", FileKind::Wish),
];

impl FileKind {
    /// What a text holds; none where it has the fields of no kind.
    fn of_text(text: &str) -> Option<Self> {
        FIELDS.into_iter().find(|(field, _)| locate(text, field).is_some()).map(|(_, kind)| kind)
    }
}

/// What a file holds, told by its fields: a preset has progressions and no garment, an order lines, a run ticks, a process steps,
/// a recipe dye, a book of swatches swatches, a shelf supplies or undyed garments, marks points,
/// what was learned learned values, a wish wished parts. What has none of them is taken for a layout.
///
/// # Errors
/// [`ReadError::File`] or [`ReadError::TooLarge`].
pub fn file_kind(path: &Path) -> Result<FileKind, ReadError> {
    if reads_as_bundle(path) {
        return Ok(FileKind::Bundle);
    }
    Ok(FileKind::of_text(&read_text(path)?).unwrap_or(FileKind::Layout))
}

/// Why a text could not be read as one kind: that it is of another, or else what was found.
pub(super) fn misread(path: &Path, text: &str, wanted: FileKind, (place, problem): (Option<Place>, TextError)) -> ReadError {
    match FileKind::of_text(text).filter(|holds| *holds != wanted) {
        Some(holds) => ReadError::OtherKind { path: path.to_owned(), holds, wanted },
        None => ReadError::Text { path: path.to_owned(), place, problem },
    }
}

/// That a file holds something else than what is to be written to it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct OtherKind {
    /// The file.
    pub path: PathBuf,
    /// What it holds; none where that is nothing of this program's.
    pub holds: Option<FileKind>,
    /// What is to be written.
    pub written: FileKind,
}

displayed_as_in_files!(OtherKind);

impl Refused for OtherKind {
    fn told(&self, voice: Voice) -> Told {
        let written = self.written.words();
        let what = match self.holds {
            Some(holds) => format!("it holds {}, not {written}", holds.words()),
            None => format!("it does not hold {written}"),
        };
        Told::new(what, "give another name").at(file_said(&self.path, voice))
    }
}

/// Refuses to write one kind of file over another, or over what is nothing of this program's. Where nothing stands, or an empty file,
/// nothing is refused; nor is the `own` file of what is written, unless it holds another kind by now.
///
/// # Errors
/// [`OtherKind`], with what the file holds.
pub fn refuse_other_kind(path: &Path, written: FileKind, own: Option<&Path>) -> Result<(), OtherKind> {
    let is_full = fs::metadata(path).is_ok_and(|found| found.is_file() && found.len() > 0);
    if !is_full {
        return Ok(());
    }
    let held =
        if is_bundle(path) { Some(FileKind::Bundle) } else { read_text(path).ok().and_then(|text| FileKind::of_text(&text)) };
    match held {
        Some(holds) if holds == written => Ok(()),
        None if own == Some(path) => Ok(()),
        holds => Err(OtherKind { path: path.to_owned(), holds, written }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{
        EXAMPLE_LAYOUTS, EXAMPLE_ORDERS, EXAMPLE_PRESETS, EXAMPLE_PROCESSES, EXAMPLE_RECIPES, EXAMPLE_SWATCHES, EXAMPLE_WISHES,
    };

    /// Every kind that comes with the program replaces its own kind and no other; an order used to be saved over a layout.
    #[test]
    fn a_kind_is_written_over_its_own_kind_alone() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("mine.ron");
        let examples = [
            (FileKind::Layout, EXAMPLE_LAYOUTS[0].text),
            (FileKind::Order, EXAMPLE_ORDERS[0].text),
            (FileKind::SpacingPreset, EXAMPLE_PRESETS[0].text),
            (FileKind::Process, EXAMPLE_PROCESSES[0].text),
            (FileKind::Recipe, EXAMPLE_RECIPES[0].text),
            (FileKind::Marks, "(format: 1, side: Front, points: [])"),
            (FileKind::Learned, "(format: 1, learned: [])"),
            (FileKind::Wish, EXAMPLE_WISHES[0].text),
            (FileKind::Swatches, EXAMPLE_SWATCHES[0].text),
        ];
        for (holds, text) in examples {
            fs::write(&path, text).unwrap();
            for (written, _) in examples {
                for own in [None, Some(path.as_path())] {
                    let refused = refuse_other_kind(&path, written, own).err();
                    let other = OtherKind { path: path.clone(), holds: Some(holds), written };
                    assert_eq!(refused, (holds != written).then_some(other));
                }
            }
        }
        let said = refuse_other_kind(&path, FileKind::Order, None).unwrap_err().to_string();
        assert!(said.ends_with("mine.ron: it holds a book of swatches, not an order; give another name"), "{said}");
    }

    #[test]
    fn what_is_none_of_ours_is_left_alone_but_for_its_own_file() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("notes.ron");
        refuse_other_kind(&path, FileKind::Order, None).unwrap();
        fs::write(&path, "").unwrap();
        refuse_other_kind(&path, FileKind::Order, None).unwrap();
        for bytes in [&b"my notes"[..], b"\xff\xd8\xff\xe0", b"(format: 9)"] {
            fs::write(&path, bytes).unwrap();
            let said = refuse_other_kind(&path, FileKind::Order, None).unwrap_err().to_string();
            assert!(said.ends_with("notes.ron: it does not hold an order; give another name"), "{said}");
            refuse_other_kind(&path, FileKind::Order, Some(&path)).unwrap();
        }
    }
}
