//! The maker's own spacing presets: a folder with one file each.

use super::system::not_done;
use super::{ReadError, SaveError, check_preset, preset_text, read_preset, save};
use crate::geometry::SpacingPreset;
use crate::layout::LONGEST_NAME;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// A folder of presets. It is made when the first one is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PresetShelf {
    folder: PathBuf,
}

/// A preset on the shelf.
#[derive(Debug, Clone, PartialEq)]
pub struct ShelvedPreset {
    /// Its file.
    pub path: PathBuf,
    /// What it holds.
    pub preset: SpacingPreset,
}

impl PresetShelf {
    /// The shelf in this folder.
    #[must_use]
    pub fn new(folder: PathBuf) -> Self {
        Self { folder }
    }

    /// The folder.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Everything on the shelf by file name, and why files on it could not be read.
    #[must_use]
    pub fn presets(&self) -> (Vec<ShelvedPreset>, Vec<ReadError>) {
        // A folder that is not there yet holds nothing.
        let entries = fs::read_dir(&self.folder).map(|entries| entries.flatten().map(|entry| entry.path()).collect());
        let mut paths: Vec<PathBuf> = entries.unwrap_or_default();
        paths.retain(|path| path.extension().is_some_and(|ending| ending == "ron"));
        paths.sort();
        let (mut shelved, mut refused) = (Vec::new(), Vec::new());
        for path in paths {
            match read_preset(&path) {
                Ok(preset) => shelved.push(ShelvedPreset { path, preset }),
                Err(error) => refused.push(error),
            }
        }
        (shelved, refused)
    }

    /// Keeps a preset that came from elsewhere, in a file of its own. One that is here already, equal in all but its note, is not kept twice;
    /// one whose name another has gets a number behind it.
    ///
    /// # Errors
    /// [`ShelfError`] when it can't be written, or no sheet can show the name.
    pub fn keep(&self, preset: &SpacingPreset) -> Result<Kept, ShelfError> {
        check_preset(preset).map_err(|error| ShelfError::Name(Box::new(error)))?;
        let shelved: Vec<SpacingPreset> = self.presets().0.into_iter().map(|shelved| shelved.preset).collect();
        if shelved.iter().any(|known| *known == SpacingPreset { note: known.note.clone(), ..preset.clone() }) {
            return Ok(Kept::Already);
        }
        let name = free_name(&preset.name, &shelved);
        let path = self.free_path(&name);
        fs::create_dir_all(&self.folder).map_err(|source| SaveError { path: path.clone(), source })?;
        save(&path, preset_text(&SpacingPreset { name: name.clone(), ..preset.clone() }).as_bytes())?;
        Ok(if name == preset.name { Kept::New } else { Kept::As(name) })
    }

    /// A file that is not there yet, named by nothing but a to z and digits of a preset's name.
    fn free_path(&self, name: &str) -> PathBuf {
        let plain: String =
            name.chars().map(|letter| if letter.is_ascii_alphanumeric() { letter.to_ascii_lowercase() } else { ' ' }).collect();
        let stem = plain.split_whitespace().chain(["spacing"]).collect::<Vec<_>>().join("-");
        let numbered = |turn: u32| self.folder.join(if turn == 1 { format!("{stem}.ron") } else { format!("{stem}-{turn}.ron") });
        (1..).map(numbered).find(|path| !path.exists()).unwrap_or_else(|| numbered(1))
    }

    /// Gives a preset another name; its file stays.
    ///
    /// # Errors
    /// [`ShelfError`] when it can't be read or written, or no sheet can show the name.
    pub fn rename(&self, path: &Path, name: &str) -> Result<(), ShelfError> {
        let preset = SpacingPreset { name: name.trim().to_owned(), ..read_preset(path)? };
        check_preset(&preset).map_err(|error| ShelfError::Name(Box::new(error)))?;
        Ok(save(path, preset_text(&preset).as_bytes())?)
    }

    /// Takes a preset off the shelf. Its file is kept beside under another ending; that path is given back.
    ///
    /// # Errors
    /// [`ShelfError::Remove`].
    pub fn remove(&self, path: &Path) -> Result<PathBuf, ShelfError> {
        let refused = |source| ShelfError::Remove { path: path.to_owned(), source };
        let kept = (0..).map(|turn| numbered(path, turn)).find(|kept| !kept.exists()).unwrap_or_else(|| numbered(path, 0));
        fs::rename(path, &kept).map_err(refused)?;
        Ok(kept)
    }
}

/// What became of a preset that was to be kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kept {
    /// It was on the shelf already.
    Already,
    /// It is there now.
    New,
    /// It is there now by another name, as its own was taken.
    As(String),
}

/// A name that none of these presets has: the given one, or that with the least number that is free, cut where it would be too long.
fn free_name(name: &str, shelved: &[SpacingPreset]) -> String {
    let is_free = |name: &String| shelved.iter().all(|known| known.name != *name);
    let numbered = |number: usize| {
        let number = format!(" {number}");
        name.chars().take(LONGEST_NAME - number.len()).collect::<String>() + &number
    };
    // With one more number than there are presets, one is free.
    let names = std::iter::once(name.to_owned()).chain((2..shelved.len() + 3).map(numbered));
    names.into_iter().find(is_free).unwrap_or_default()
}

/// `tight.ron` as `tight.ron.removed`, `tight.ron.removed2` ...
fn numbered(path: &Path, turn: u32) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(if turn == 0 { ".removed".to_owned() } else { format!(".removed{}", turn + 1) });
    path.with_file_name(name)
}

/// Why a preset could not be renamed or removed.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ShelfError {
    /// It could not be read.
    Read(#[from] ReadError),
    /// It could not be written.
    Save(#[from] SaveError),
    /// The name won't do.
    Name(Box<crate::layout::LayoutError>),
    /// The system would not let it be moved.
    Remove {
        /// The preset's file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

displayed_as_in_files!(ShelfError);

impl Refused for ShelfError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Read(error) => error.told(voice),
            Self::Save(error) => error.told(voice),
            Self::Name(error) => error.told(voice),
            Self::Remove { path, source } => not_done(path, "removed", source, voice),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::RuleMarks;
    use crate::store::{EXAMPLE_PRESETS, parse_preset};

    /// Names come from strangers: they name no folder, and nothing that is there is written over.
    #[test]
    fn presets_from_elsewhere_are_kept_once_and_beside_what_is_there() {
        let place = tempfile::tempdir().unwrap();
        let shelf = PresetShelf::new(place.path().join("presets"));
        let preset = SpacingPreset { name: "../../Heart: Ärger".to_owned(), ..parse_preset(EXAMPLE_PRESETS[0].text).unwrap() };
        assert_eq!(shelf.keep(&preset).unwrap(), Kept::New);
        assert_eq!(shelf.keep(&SpacingPreset { note: "of a friend".to_owned(), ..preset.clone() }).unwrap(), Kept::Already);
        let other = SpacingPreset { guide_radius_mm: preset.guide_radius_mm + 1.0, ..preset.clone() };
        assert_eq!(shelf.keep(&other).unwrap(), Kept::As("../../Heart: Ärger 2".to_owned()));
        assert_eq!(shelf.keep(&SpacingPreset { name: "../../heart: Ärger".to_owned(), ..other.clone() }).unwrap(), Kept::New);
        let mut names: Vec<_> =
            fs::read_dir(shelf.folder()).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        assert_eq!(names, ["heart-rger-2-spacing.ron", "heart-rger-spacing-2.ron", "heart-rger-spacing.ron"]);
        assert_eq!(shelf.presets().0.iter().filter(|shelved| shelved.preset == preset).count(), 1);
        let long = SpacingPreset { name: "x".repeat(LONGEST_NAME), ..preset };
        shelf.keep(&long).unwrap();
        let Kept::As(name) = shelf.keep(&SpacingPreset { marks: RuleMarks::Exact, ..long }).unwrap() else { panic!("taken") };
        assert_eq!(name.chars().count(), LONGEST_NAME);
        assert!(matches!(shelf.keep(&SpacingPreset { name: String::new(), ..other }), Err(ShelfError::Name(_))));
    }

    #[test]
    fn presets_are_listed_renamed_and_removed_with_a_way_back() {
        let place = tempfile::tempdir().unwrap();
        let shelf = PresetShelf::new(place.path().join("presets"));
        assert!(shelf.presets().0.is_empty() && shelf.presets().1.is_empty());
        fs::create_dir(shelf.folder()).unwrap();
        let preset = parse_preset(EXAMPLE_PRESETS[0].text).unwrap();
        let path = shelf.folder().join("heart.ron");
        save(&path, preset_text(&preset).as_bytes()).unwrap();
        fs::write(shelf.folder().join("broken.ron"), "(format: 1, name:").unwrap();
        shelf.rename(&path, " Heart of the boat ").unwrap();
        assert!(matches!(shelf.rename(&path, ""), Err(ShelfError::Name(_))));
        let (shelved, refused) = shelf.presets();
        assert_eq!((shelved.len(), refused.len()), (1, 1));
        assert_eq!(shelved[0].preset, SpacingPreset { name: "Heart of the boat".to_owned(), ..preset });
        for round in 0..3 {
            let kept = shelf.remove(&path).unwrap();
            assert!(shelf.presets().0.is_empty() && kept.exists(), "round {round}");
            fs::copy(kept, &path).unwrap();
        }
        let kept = fs::read_dir(shelf.folder()).unwrap().flatten().filter(|e| e.path().to_string_lossy().contains(".removed"));
        assert_eq!(kept.count(), 3);
    }
}
