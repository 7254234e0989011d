//! What can be wrong with a file.

use super::BundleError;
use super::kinds::FileKind;
use super::locate::Place;
use super::plain_words::plain_words;
use super::read::NotRead;
use super::system::{file_said, not_done};
use crate::layout::{LayoutError, usual};
use crate::learn::LearnedError;
use crate::photo::MarksError;
use crate::plan::PlanFileError;
use crate::projection::ProjectorError;
use crate::reveal::colour::SwatchBookError;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files, listed};
use crate::wish::WishError;
use std::io;
use std::path::{Path, PathBuf};

/// Why a file could not be read.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ReadError {
    /// The system refused, or it is no regular file.
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The file is larger than any that this program writes.
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Its size.
        bytes: u64,
        /// The limit.
        most: u64,
    },
    /// The text is wrong, or a value in it.
    Text {
        /// The file.
        path: PathBuf,
        /// Where in it.
        place: Option<Place>,
        /// What is wrong.
        problem: TextError,
    },
    /// The file holds something else of this program's.
    OtherKind {
        /// The file.
        path: PathBuf,
        /// What it holds.
        holds: FileKind,
        /// What was to be read.
        wanted: FileKind,
    },
    /// A name that is neither a file's nor one of what comes with the program.
    NoSuch {
        /// The name, or the file that it would be.
        path: PathBuf,
        /// What was meant.
        what: Shipped,
        /// The names there are.
        known: Vec<&'static str>,
    },
    /// A bundle that can't be used.
    Bundle(Box<BundleError>),
    /// Several files, told one a line.
    Several(Vec<Self>),
}

impl ReadError {
    /// One error of all these.
    pub(super) fn all(mut errors: Vec<Self>) -> Self {
        match errors.pop() {
            Some(only) if errors.is_empty() => only,
            last => Self::Several(errors.into_iter().chain(last).collect()),
        }
    }
}

/// What is wrong with a text.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TextError {
    /// It is no RON, or not of the expected form: a field unknown, missing or of the wrong kind.
    Form(Box<ron::error::Error>),
    /// It lacks these fields.
    Missing(Vec<Field>),
    /// A value can't be used.
    Value(Box<LayoutError>),
    /// A value in a book of swatches can't be used.
    Swatches(SwatchBookError),
    /// A swatch file whose format is newer than this program, or none that ever was.
    SwatchForm {
        /// The number in the file.
        found: u32,
        /// The newest form known.
        known: u32,
    },
    /// A value in a recipe, process or order can't be used.
    Plan(Box<PlanFileError>),
    /// A mark on a photograph can't be used.
    Marks(Box<MarksError>),
    /// A file of marks whose format is newer than this program, or none that ever was.
    MarksForm {
        /// The number in the file.
        found: u32,
        /// The newest form known.
        known: u32,
    },
    /// A value in a file of what was learned can't be used.
    Learned(Box<LearnedError>),
    /// A file of what was learned whose format is newer than this program, or none that ever was.
    LearnedForm {
        /// The number in the file.
        found: u32,
        /// The newest form known.
        known: u32,
    },
    /// A value in a wish can't be used.
    Wish(Box<WishError>),
    /// A wish whose format is newer than this program, or none that ever was.
    WishForm {
        /// The number in the file.
        found: u32,
        /// The newest form known.
        known: u32,
    },
    /// A value of a projector can't be used.
    Projectors(Box<ProjectorError>),
    /// A file of projectors whose format is newer than this program, or none that ever was.
    ProjectorForm {
        /// The number in the file.
        found: u32,
        /// The newest form known.
        known: u32,
    },
}

/// What comes with the program and is called by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shipped {
    /// Recipes.
    Recipes,
    /// Processes.
    Processes,
}

impl Shipped {
    const fn words(self) -> &'static str {
        match self {
            Self::Recipes => "recipes",
            Self::Processes => "processes",
        }
    }
}

impl ReadError {
    pub(super) fn new(path: &Path, refused: NotRead) -> Self {
        let path = path.to_owned();
        match refused {
            NotRead::System(source) => Self::File { path, source },
            NotRead::TooLarge { bytes, most } => Self::TooLarge { path, bytes, most },
        }
    }
}

impl From<BundleError> for ReadError {
    fn from(error: BundleError) -> Self {
        Self::Bundle(Box::new(error))
    }
}

displayed_as_in_files!(ReadError, TextError);

impl Refused for ReadError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::File { path, source } => not_done(path, "read", source, voice),
            Self::TooLarge { path, bytes, most } => Told::new(
                format!("{bytes} bytes are too many"),
                format!("choose a file of this program, which has at most {most}"),
            )
            .at(file_said(path, voice)),
            Self::Text { path, place, problem } => problem.told(voice).within(&placed(path, *place, voice)),
            Self::OtherKind { path, holds, wanted } => {
                let (holds, wanted) = (holds.words(), wanted.words());
                Told::new(format!("it holds {holds}, not {wanted}"), format!("choose a file that holds {wanted}"))
                    .at(file_said(path, voice))
            }
            Self::NoSuch { path, what, known } => {
                Told::new("there is no such file", format!("the built-in {} are {}", what.words(), listed(known, "and")))
                    .at(file_said(path, voice))
            }
            Self::Bundle(error) => error.told(voice),
            // Each has its own place and cure.
            Self::Several(errors) => Told::new(errors.iter().map(|error| error.say(voice)).collect::<Vec<_>>().join("\n"), ""),
        }
    }
}

/// A place in a file: line and column for whoever reads it with an editor.
fn placed(path: &Path, place: Option<Place>, voice: Voice) -> String {
    let file = file_said(path, voice);
    match place {
        None => file,
        Some(Place { line, column }) if voice.has_keys() => format!("{file}:{line}:{column}"),
        Some(Place { line, .. }) => format!("{file}, line {line}"),
    }
}

impl Refused for TextError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Form(error) => plain_words(error),
            Self::Missing(fields) => {
                let names = listed(fields.iter().map(|field| format!("\"{field}\"")), "and");
                Told::new(format!("the fields {names} are missing"), "give them")
            }
            Self::Value(error) => error.told(voice),
            Self::Swatches(error) => error.told(voice),
            Self::SwatchForm { found, known } => usual::unknown_format(*found, *known).at(Field::from("format").said(voice)),
            Self::Plan(error) => error.told(voice),
            Self::Projectors(error) => error.told(voice),
            Self::Marks(error) => error.told(voice),
            Self::Learned(error) => error.told(voice),
            Self::Wish(error) => error.told(voice),
            Self::MarksForm { found, known }
            | Self::LearnedForm { found, known }
            | Self::WishForm { found, known }
            | Self::ProjectorForm { found, known } => usual::unknown_format(*found, *known).at(Field::from("format").said(voice)),
        }
    }
}
