//! Why a bundle is refused.

use super::{MOST_BUNDLE_BYTES, MOST_PRESETS, MOST_UNPACKED_BYTES};
use crate::store::file_said;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use std::path::{Path, PathBuf};

/// A bundle that can't be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct BundleError {
    /// The file.
    pub path: PathBuf,
    /// What is wrong.
    pub problem: BundleProblem,
}

/// What is wrong with a bundle.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum BundleProblem {
    /// It is no archive, or a damaged one.
    NoArchive,
    /// It is an archive of something else.
    OtherArchive,
    /// It has more entries than a bundle can.
    TooMany {
        /// How many.
        entries: usize,
        /// The limit.
        most: usize,
    },
    /// Two entries have one name.
    Twice,
    /// An entry has a name that no bundle has: a folder, a way out of one, another archive.
    Name {
        /// The name, made harmless to show.
        name: String,
    },
    /// An entry is locked by a password, or packed in a way that no bundle is.
    Locked {
        /// The entry.
        name: &'static str,
    },
    /// Its entries unpack to more than can be meant.
    Bomb {
        /// The limit, bytes.
        most: u64,
    },
    /// An entry is damaged.
    Damaged {
        /// The entry.
        name: &'static str,
    },
    /// An entry is missing.
    Missing {
        /// The entry.
        name: String,
    },
    /// It holds another number of presets, swatches or pictures than it says.
    Contents {
        /// The entry that is too many.
        name: String,
    },
    /// The picture is none that a reveal can be.
    Picture,
    /// Two presets have one name.
    PresetTwice {
        /// The name.
        name: String,
    },
    /// A bundle to be made has more presets than it can hold.
    TooManyPresets {
        /// How many.
        count: usize,
    },
    /// A bundle to be made would be larger than it could be read.
    TooLarge {
        /// Its size.
        bytes: u64,
    },
    /// It can't be packed.
    NotPacked,
}

displayed_as_in_files!(BundleError);

impl Refused for BundleError {
    fn told(&self, voice: Voice) -> Told {
        self.problem.told().at(file_said(&self.path, voice))
    }
}

impl BundleProblem {
    /// With the file that it is about.
    #[must_use]
    pub fn of(self, path: &Path) -> BundleError {
        BundleError { path: path.to_owned(), problem: self }
    }

    fn told(&self) -> Told {
        /// For whoever was given the file.
        const AGAIN: &str = "ask for it again, from whoever made it";
        match self {
            Self::NoArchive => Told::new("it is not a bundle, or a damaged one", AGAIN),
            Self::OtherArchive => {
                Told::new("it is an archive, but not a bundle of this program", "unpack it, and open the layout in it")
            }
            Self::TooMany { entries, most } => {
                Told::new(format!("{entries} entries are too many; a bundle has at most {most}"), AGAIN)
            }
            Self::Twice => Told::new("two of its entries have one name", AGAIN),
            Self::Name { name } => Told::new(format!("it holds \"{name}\", which no bundle does"), AGAIN),
            Self::Locked { name } => Told::new(format!("\"{name}\" in it is locked, or packed as no bundle is"), AGAIN),
            Self::Bomb { most } => Told::new(format!("it unpacks to more than {most} bytes"), AGAIN),
            Self::Damaged { name } => Told::new(format!("\"{name}\" in it is damaged"), AGAIN),
            Self::Missing { name } => Told::new(format!("\"{name}\" is missing in it"), AGAIN),
            Self::Contents { name } => Told::new(format!("it holds \"{name}\", which it does not tell of"), AGAIN),
            Self::Picture => Told::new("\"reveal.png\" in it is not a picture of a reveal", AGAIN),
            Self::PresetTwice { name } => Told::new(format!("two of its presets are named \"{name}\""), "rename one"),
            Self::TooManyPresets { count } => {
                Told::new(format!("{count} presets are too many"), format!("choose at most {MOST_PRESETS}"))
            }
            Self::TooLarge { bytes } => Told::new(
                format!("{bytes} bytes are too many"),
                format!("leave the picture out; a bundle has at most {MOST_BUNDLE_BYTES}, unpacked {MOST_UNPACKED_BYTES}"),
            ),
            Self::NotPacked => Told::new("\"layout.ron\" could not be packed", "try again"),
        }
    }
}
