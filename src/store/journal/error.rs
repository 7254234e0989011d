//! What can go wrong between a maker and the journal.

use crate::layout::other_form;
use crate::store::{NotRead, ReadError, SaveError, TextError};
use std::path::PathBuf;

/// Why something was not written into the journal or read from it.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum JournalError {
    /// Somebody else has it open.
    #[error("{} is being written by another program; try again when that is done", path.display())]
    Busy {
        /// The store's file.
        path: PathBuf,
    },
    /// The store can't be read or written.
    #[error("{} can't be used: {reason}", path.display())]
    Store {
        /// The store's file.
        path: PathBuf,
        /// What the store said.
        reason: String,
    },
    /// The store is damaged, or not what it was.
    #[error("{} {damage}; salvage brings back every text that still reads, and throws nothing away", path.display())]
    Damaged {
        /// The store's file.
        path: PathBuf,
        /// What is wrong with it.
        damage: Damage,
    },
    /// Nothing can be written into it.
    #[error("{} can only be read here; export the journal, and import it into one that can be written", path.display())]
    ReadOnly {
        /// The store's file.
        path: PathBuf,
    },
    /// There is nothing to bring back.
    #[error("no text in {} still reads; move that folder away to begin a new journal", folder.display())]
    Nothing {
        /// The journal's folder.
        folder: PathBuf,
    },
    /// A newer program wrote it.
    #[error("{} has form {found}, and {}", path.display(), other_form(*found, *known))]
    Format {
        /// The store's file.
        path: PathBuf,
        /// The form found.
        found: u32,
        /// The newest form known.
        known: u32,
    },
    /// No entry has that name.
    #[error("{} has no entry \"{id}\"; {hint}", folder.display())]
    Missing {
        /// The journal's folder.
        folder: PathBuf,
        /// The name asked for.
        id: String,
        /// What could be meant.
        hint: String,
    },
    /// An entry has a value that can't be.
    #[error("{place}: {problem}")]
    Entry {
        /// Which entry.
        place: String,
        /// What is wrong.
        problem: EntryProblem,
    },
    /// A photograph can't be taken in.
    #[error("{}: {problem}", path.display())]
    Photo {
        /// Its file.
        path: PathBuf,
        /// What is wrong.
        problem: PhotoProblem,
    },
    /// A file could not be read.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// A file could not be written.
    #[error(transparent)]
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Damage {
    /// Its content is no store's, or was changed from outside.
    #[error("is damaged")]
    Content,
    /// Its copy is there, and it is not.
    #[error("is missing, and its copy has {copied} texts")]
    Missing {
        /// Texts in the copy.
        copied: u64,
    },
    /// It has lost texts, or is an older one that was put in its place.
    #[error("has {found} texts, and its copy has {copied}")]
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
    #[error("{0}")]
    Form(String),
    /// The form is newer than this program.
    #[error("this entry has form {found}, and {}", other_form(*found, *known))]
    Format {
        /// The number in the entry.
        found: u32,
        /// The newest form known.
        known: u32,
    },
    /// A rating out of range.
    #[error("rating {rating} is out of range; give 1 (not again) to 5 (just so)")]
    Rating {
        /// The rating.
        rating: u8,
    },
    /// A text longer than a text can be.
    #[error("{field} has {length} characters, and at most {most} fit")]
    Long {
        /// Which text.
        field: &'static str,
        /// Its characters.
        length: usize,
        /// Most allowed.
        most: usize,
    },
    /// A name that no entry can have.
    #[error("\"{id}\" can't be an entry's name; it has small letters, digits and hyphens, up to {most}")]
    Id {
        /// The name.
        id: String,
        /// Most characters.
        most: usize,
    },
    /// The layout can't be used.
    #[error("its layout: {0}")]
    Layout(Box<TextError>),
    /// A photograph's name that is none of ours.
    #[error("\"{file}\" is no photograph's name; it is the content's SHA-256 in hexadecimal with an ending such as .jpg")]
    PhotoName {
        /// The name.
        file: String,
    },
    /// A photograph to take away that is not there.
    #[error("it has no photograph \"{file}\"")]
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
    #[error("it could not be read: {}", crate::store::plain_words::system_words(.0))]
    File(#[from] std::io::Error),
    /// It is larger than a photograph can be.
    #[error("it has {bytes} bytes; a photograph has at most {most}")]
    TooLarge {
        /// Its size.
        bytes: u64,
        /// Most allowed.
        most: u64,
    },
    /// Its content is no picture that is known.
    #[error("its content is no photograph; JPEG, PNG, WebP, GIF, TIFF, HEIC and AVIF are taken")]
    Kind,
    /// Its content is not what its name says.
    #[error("its content is not what its name says: the file is damaged, or was changed")]
    Content,
    /// Its content became another between two looks.
    #[error("it was changed while it was being added; add it again")]
    Changed,
    /// It claims more pixels than a photograph has.
    #[error("it is {width} x {height} pixels; a photograph has at most {} million pixels", most / 1_000_000)]
    Pixels {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
        /// Most allowed.
        most: u64,
    },
    /// Reading it takes more memory than it may.
    #[error(
        "it is {width} x {height} pixels and takes {} MB of memory to read, and at most {} MB are given to it; save it smaller, or as \
         a JPEG that is not progressive",
        bytes >> 20,
        most >> 20
    )]
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
    #[error("its content is damaged")]
    Damaged,
    /// It is of a kind that isn't read here.
    #[error("of a kind that only opens outside")]
    Outside,
}

impl From<NotRead> for PhotoProblem {
    fn from(refused: NotRead) -> Self {
        match refused {
            NotRead::System(error) => Self::File(error),
            NotRead::TooLarge { bytes, most } => Self::TooLarge { bytes, most },
        }
    }
}
