//! What can go wrong between a maker and the journal.

use crate::layout::usual;
use crate::store::system::file_said;
use crate::store::{NotRead, Place, ReadError, SaveError, TextError};
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files, listed};
use std::path::{Path, PathBuf};

/// Why something was not written into the journal or read from it.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum JournalError {
    /// Somebody else has it open.
    Busy {
        /// The store's file.
        path: PathBuf,
    },
    /// The store can't be read or written.
    Store {
        /// The store's file.
        path: PathBuf,
        /// Why.
        source: NotRead,
    },
    /// The store is damaged, or not what it was.
    Damaged {
        /// The store's file.
        path: PathBuf,
        /// What is wrong with it.
        damage: Damage,
    },
    /// Nothing can be written into it.
    ReadOnly {
        /// The store's file.
        path: PathBuf,
    },
    /// There is nothing to bring back.
    Nothing {
        /// The journal's folder.
        folder: PathBuf,
    },
    /// A newer program wrote it.
    Format {
        /// The store's file.
        path: PathBuf,
        /// The form found.
        found: u32,
        /// The newest form known.
        known: u32,
    },
    /// No entry has that name.
    Missing {
        /// The journal's folder.
        folder: PathBuf,
        /// The name asked for.
        id: String,
        /// Entries that could be meant.
        near: Vec<String>,
    },
    /// An entry has a value that can't be.
    Entry {
        /// Which entry.
        place: EntryPlace,
        /// What is wrong.
        problem: EntryProblem,
    },
    /// A photograph can't be taken in.
    Photo {
        /// Its file.
        path: PathBuf,
        /// What is wrong.
        problem: PhotoProblem,
    },
    /// A file could not be read.
    Read(#[from] ReadError),
    /// A file could not be written.
    Save(#[from] SaveError),
}

impl JournalError {
    /// Whether a write failed, where everything that was given could be used.
    #[must_use]
    pub const fn is_failed_write(&self) -> bool {
        matches!(self, Self::Busy { .. } | Self::Store { .. } | Self::Damaged { .. } | Self::ReadOnly { .. } | Self::Save(_))
    }

    /// Whether [`Journal::salvage`](super::Journal::salvage) may help.
    #[must_use]
    pub const fn is_damage(&self) -> bool {
        matches!(self, Self::Damaged { .. })
    }
}

/// What is wrong with a store.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Damage {
    /// Its content is no store's, or was changed from outside.
    Content,
    /// Its copy is there, and it is not.
    Missing {
        /// Texts in the copy.
        copied: u64,
    },
    /// It has lost texts, or is an older one that was put in its place.
    Fewer {
        /// Texts in the store.
        found: u64,
        /// Texts in the copy.
        copied: u64,
    },
}

/// What is wrong with an entry.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum EntryProblem {
    /// It is no RON, or not of the expected form.
    Form {
        /// Where, if that is known.
        place: Option<Place>,
        /// What is wrong.
        problem: Box<TextError>,
    },
    /// A folder that holds no entry.
    NoFile,
    /// The form is newer than this program.
    Format {
        /// The number in the entry.
        found: u32,
        /// The newest form known.
        known: u32,
    },
    /// A rating out of range.
    Rating {
        /// The rating.
        rating: u8,
    },
    /// A text longer than a text can be.
    Long {
        /// Which text.
        field: &'static str,
        /// Its characters.
        length: usize,
        /// Most allowed.
        most: usize,
    },
    /// A name that no entry can have.
    Id {
        /// The name.
        id: String,
        /// Most characters.
        most: usize,
    },
    /// The layout can't be used.
    Layout(Box<TextError>),
    /// A photograph's name that is none of ours.
    PhotoName {
        /// The name.
        file: String,
    },
    /// A photograph to take away that is not there.
    NoPhoto {
        /// The name.
        file: String,
    },
}

/// What is wrong with a photograph.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PhotoProblem {
    /// It can't be read.
    File(#[from] std::io::Error),
    /// It is larger than a photograph can be.
    TooLarge {
        /// Its size.
        bytes: u64,
        /// Most allowed.
        most: u64,
    },
    /// Its content is no picture that is known.
    Kind,
    /// Its content is not what its name says.
    Content,
    /// Its content became another between two looks.
    Changed,
    /// It claims more pixels than a photograph has.
    Pixels {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
        /// Most allowed.
        most: u64,
    },
    /// Reading it takes more memory than it may.
    Memory {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
        /// What it takes.
        bytes: u64,
        /// Most allowed.
        most: u64,
    },
    /// Its picture can't be read.
    Damaged,
    /// It is of a kind that isn't read here.
    Outside,
}

/// Which entry is meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EntryPlace {
    /// The one of this name.
    Named(String),
    /// The one that is to be added.
    New,
    /// The shelf of supplies.
    Shelf,
    /// The one in this file, or those in this folder.
    File(PathBuf),
}

impl EntryPlace {
    fn said(&self, voice: Voice) -> String {
        match self {
            Self::Named(id) => format!("entry \"{id}\""),
            Self::New => "the new entry".to_owned(),
            Self::Shelf => "the shelf".to_owned(),
            Self::File(path) => file_said(path, voice),
        }
    }
}

displayed_as_in_files!(JournalError, EntryProblem, PhotoProblem);

impl Refused for JournalError {
    fn told(&self, voice: Voice) -> Told {
        let at = |told: Told, path: &Path| told.at(file_said(path, voice));
        match self {
            Self::Busy { path } => {
                at(Told::new("another program is writing to the journal", "try again when that is done"), path)
            }
            Self::Store { path, source } => {
                let told = source.told(voice);
                at(Told::new(format!("the journal can't be used: {}", told.what), told.cure), path)
            }
            Self::Damaged { path, damage } => {
                let cure = "salvage recovers every text that can still be read, and deletes nothing";
                at(Told::new(damage.words(), cure), path)
            }
            Self::ReadOnly { path } => {
                at(Told::new("the journal can only be read here", "export it, and import it into one that can be written"), path)
            }
            Self::Nothing { folder } => {
                at(Told::new("no text of the journal can be read", "move that folder away to begin a new journal"), folder)
            }
            Self::Format { path, found, known } => at(usual::unknown_format(*found, *known), path),
            Self::Missing { folder, id, near } => {
                let list = voice.either("\"journal list\" shows what there is", "the list shows what there is");
                let cure = if near.is_empty() { list.to_owned() } else { format!("choose {}", listed(near, "or")) };
                at(Told::new(format!("\"{id}\" is not an entry of the journal"), cure), folder)
            }
            Self::Entry { place, problem } => problem.told(voice).within(&place.said(voice)),
            Self::Photo { path, problem } => at(problem.told(voice), path),
            Self::Read(error) => error.told(voice),
            Self::Save(error) => error.told(voice),
        }
    }
}

impl Damage {
    fn words(self) -> String {
        match self {
            Self::Content => "the journal is damaged".to_owned(),
            Self::Missing { copied } => format!("the journal is missing, and its copy has {copied} texts"),
            Self::Fewer { found, copied } => format!("the journal has {found} texts, and its copy has {copied}"),
        }
    }
}

impl Refused for EntryProblem {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Form { place, problem } => {
                let told = problem.told(voice);
                match place {
                    Some(place) => told.within(&format!("line {}, column {}", place.line, place.column)),
                    None => told,
                }
            }
            Self::NoFile => Told::new("no .ron file is in this folder", "choose a folder that the journal was exported to"),
            Self::Format { found, known } => usual::unknown_format(*found, *known),
            Self::Rating { rating } => {
                Told::new(format!("rating {rating} is out of range"), "give 1 (not again) to 5 (just right)")
            }
            Self::Long { field, length, most } => usual::long_text(*length, *most).at(Field::from(*field).said(voice)),
            Self::Id { id, most } => Told::new(
                format!("\"{id}\" can't be an entry's name"),
                format!("give small letters, digits and hyphens, up to {most}"),
            ),
            Self::Layout(error) => error.told(voice).within("its layout"),
            Self::PhotoName { file } => Told::new(
                format!("\"{file}\" is not the name of a photograph here"),
                "it is the content's SHA-256 in hexadecimal with an ending such as .jpg",
            ),
            Self::NoPhoto { file } => Told::new(format!("it has no photograph \"{file}\""), "name one that it has"),
        }
    }
}

impl Refused for PhotoProblem {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::File(error) => {
                let told = error.told(voice);
                Told::new(format!("could not be read: {}", told.what), told.cure)
            }
            Self::TooLarge { bytes, most } => {
                Told::new(format!("{bytes} bytes are too many"), format!("choose a photograph of at most {most}"))
            }
            Self::Kind => Told::new("not a photograph", "choose JPEG, PNG, WebP, GIF, TIFF, HEIC or AVIF"),
            Self::Content => Told::new(
                "its content is not what its name says: the file is damaged, or was changed",
                "export it again from where it came",
            ),
            Self::Changed => Told::new("it was changed while it was being added", "add it again"),
            Self::Pixels { width, height, most } => Told::new(
                format!("{width} x {height} pixels are too many"),
                format!("choose a photograph of at most {} million pixels", most / 1_000_000),
            ),
            Self::Memory { width, height, bytes, most } => Told::new(
                format!(
                    "{width} x {height} pixels take {} MB of memory to read, and at most {} MB are given to it",
                    bytes >> 20,
                    most >> 20
                ),
                "save it smaller, or as a JPEG that is not progressive",
            ),
            Self::Damaged => Told::new("its content is damaged", "choose another copy of it"),
            Self::Outside => Told::new("pictures of this kind are not shown here", "open it outside"),
        }
    }
}

impl From<NotRead> for PhotoProblem {
    fn from(refused: NotRead) -> Self {
        match refused {
            NotRead::System(error) => Self::File(error),
            NotRead::TooLarge { bytes, most } => Self::TooLarge { bytes, most },
        }
    }
}
