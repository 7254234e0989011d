//! The maker's own swatches: one book, kept in a file that is made when the first swatch is.

use super::{FileKind, OtherKind, ReadError, SaveError, read_swatches, refuse_other_kind, save, swatches_text};
use crate::layout::Swatch;
use crate::reveal::colour::{DyeSwatch, Origin, Renamed, SwatchBook, SwatchBookError};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use std::path::{Path, PathBuf};

/// Depth that a swatch chosen by eye is taken to stand for, % on weight of fibre: a medium to full shade (common practice, no
/// source).
pub const USUAL_DEPTH_PERCENT: f64 = 4.0;

/// The book in its file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SwatchShelf {
    path: PathBuf,
}

/// Why the book could not be read or written.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum SwatchShelfError {
    /// A file could not be read.
    Read(#[from] ReadError),
    /// The book could not be written.
    Save(#[from] SaveError),
    /// The file holds something else than swatches.
    OtherKind(#[from] OtherKind),
    /// A swatch that no book can hold.
    Swatch(#[from] SwatchBookError),
}

displayed_as_in_files!(SwatchShelfError);

impl Refused for SwatchShelfError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Read(error) => error.told(voice),
            Self::Save(error) => error.told(voice),
            Self::OtherKind(error) => error.told(voice),
            Self::Swatch(error) => error.told(voice),
        }
    }
}

impl SwatchShelf {
    /// The book in this file.
    #[must_use]
    pub fn new(path: PathBuf) -> Self {
        Self { path }
    }

    /// The file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The book; an empty one while there is no file.
    ///
    /// # Errors
    /// [`SwatchShelfError::Read`].
    pub fn book(&self) -> Result<SwatchBook, SwatchShelfError> {
        if self.path.exists() { Ok(read_swatches(&self.path)?) } else { book(Vec::new()) }
    }

    /// Keeps a colour as a swatch by eye, of the usual depth over white. One of the same name and colour is kept once; one of the
    /// same name and another colour gets a number, which is told.
    ///
    /// # Errors
    /// [`SwatchShelfError`]; the book is then as it was.
    pub fn keep(&self, colour: &Swatch) -> Result<Vec<Renamed>, SwatchShelfError> {
        self.take_in(&book(vec![by_eye(colour)])?)
    }

    /// Takes in the swatches of a file.
    ///
    /// # Errors
    /// [`SwatchShelfError`]; the book is then as it was.
    pub fn import(&self, path: &Path) -> Result<Vec<Renamed>, SwatchShelfError> {
        self.take_in(&read_swatches(path)?)
    }

    /// Writes the book to a file of its own.
    ///
    /// # Errors
    /// [`SwatchShelfError`].
    pub fn export(&self, path: &Path) -> Result<(), SwatchShelfError> {
        refuse_other_kind(path, FileKind::Swatches, None)?;
        Ok(save(path, swatches_text(&self.book()?).as_bytes())?)
    }

    /// Takes in another book's swatches.
    ///
    /// # Errors
    /// [`SwatchShelfError`]; the book is then as it was.
    pub fn take_in(&self, other: &SwatchBook) -> Result<Vec<Renamed>, SwatchShelfError> {
        let mut book = self.book()?;
        let renamed = book.take_in(other);
        // What could not be read back is not written.
        let book = SwatchBook::new(book.name().to_owned(), book.note().to_owned(), book.swatches().to_vec())?;
        if let Some(folder) = self.path.parent() {
            std::fs::create_dir_all(folder).map_err(|source| SaveError { path: self.path.clone(), source })?;
        }
        save(&self.path, swatches_text(&book).as_bytes())?;
        Ok(renamed)
    }
}

/// A colour as a swatch by eye, of the usual depth over white.
pub(super) fn by_eye(colour: &Swatch) -> DyeSwatch {
    DyeSwatch {
        colour: colour.clone(),
        depth_percent: USUAL_DEPTH_PERCENT,
        over: None,
        origin: Origin::ByEye,
        note: String::new(),
    }
}

fn book(swatches: Vec<DyeSwatch>) -> Result<SwatchBook, SwatchShelfError> {
    Ok(SwatchBook::new("Own swatches".to_owned(), String::new(), swatches)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Srgb;
    use crate::store::EXAMPLE_SWATCHES;

    #[test]
    fn swatches_are_kept_once_numbered_when_they_differ_and_go_out_and_in() {
        let place = tempfile::tempdir().unwrap();
        let shelf = SwatchShelf::new(place.path().join("deep/swatches.ron"));
        assert!(shelf.book().unwrap().swatches().is_empty() && !shelf.path().exists());
        let teal = |blue| Swatch::plain("teal", Srgb { red: 15, green: 124, blue });
        assert_eq!(shelf.keep(&teal(138)).unwrap(), []);
        assert_eq!(shelf.keep(&teal(138)).unwrap(), []);
        assert_eq!(shelf.keep(&teal(90)).unwrap(), [Renamed { from: "teal".to_owned(), to: "teal 2".to_owned() }]);
        assert!(shelf.keep(&Swatch { name: String::new(), ..teal(1) }).is_err());
        assert_eq!(shelf.book().unwrap().swatches().len(), 2);
        let other = place.path().join("other.ron");
        std::fs::write(&other, EXAMPLE_SWATCHES[0].text).unwrap();
        shelf.import(&other).unwrap();
        let out = place.path().join("out.ron");
        shelf.export(&out).unwrap();
        assert_eq!(read_swatches(&out).unwrap(), shelf.book().unwrap());
        assert!(shelf.book().unwrap().swatch("moss").is_some());
    }
}
