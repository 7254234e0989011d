//! Out into plain files, and back.

use super::photo::Photo;
use super::photo_file::read_bytes;
use super::{EntryPlace, EntryProblem, Journal, JournalEntry, JournalError, PhotoProblem, RawEntry};
use crate::store::text_file::read_text;
use crate::store::{ReadError, save, save_each};
use std::fs;
use std::path::{Path, PathBuf};

/// What an import did.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Imported {
    /// Entries taken in.
    pub added: Vec<String>,
    /// Entries that were there already, word for word.
    pub same: Vec<String>,
    /// Entries whose name was taken by another: that name, and the one they were given.
    pub beside: Vec<(String, String)>,
}

impl Journal {
    /// Writes every entry into a folder as a file of its own, `ID.ron`, and its photographs into `photos` in it. Files of other
    /// content are kept as [`save`] keeps them. The number of entries.
    ///
    /// # Errors
    /// [`JournalError`].
    pub fn export(&self, folder: &Path) -> Result<usize, JournalError> {
        let entries = self.entries()?;
        super::make_folder(folder)?;
        let photos = folder.join("photos");
        for photo in entries.iter().flat_map(|entry| &entry.raw().photos) {
            super::make_folder(&photos)?;
            let own = self.photo_path(photo);
            let bytes = read_bytes(&own).map_err(|problem| JournalError::Photo { path: own, problem })?;
            save(&photos.join(&photo.file), &bytes)?;
        }
        let files: Vec<(PathBuf, String)> =
            entries.iter().map(|entry| (folder.join(&entry.raw().id).with_added_extension("ron"), entry.text())).collect();
        save_each(&files, |(path, text)| (path, text.as_bytes()))?;
        Ok(entries.len())
    }

    /// Takes in the entries of a folder as [`Journal::export`] writes them: all or, where one can't be used, none. Nothing that is
    /// here is changed: an entry that says the same as one here is passed over, one that says something else under the same name is
    /// kept beside it under another.
    ///
    /// # Errors
    /// [`JournalError`] naming the file.
    pub fn import(&self, folder: &Path) -> Result<Imported, JournalError> {
        let mut read = Vec::new();
        for path in entry_files(folder)? {
            let text = read_text(&path)?;
            let wrong = |problem| JournalError::Entry { place: EntryPlace::File(path.clone()), problem };
            let entry = JournalEntry::parse(&text).map_err(wrong)?;
            for photo in &entry.raw().photos {
                let file = folder.join("photos").join(&photo.file);
                if Photo::read(&file)?.name != photo.file {
                    return Err(JournalError::Photo { path: file, problem: PhotoProblem::Content });
                }
            }
            read.push(entry);
        }
        for photo in read.iter().flat_map(|entry| &entry.raw().photos) {
            self.take_in(&[Photo::read(&folder.join("photos").join(&photo.file))?])?;
        }
        self.take_in_entries(read)
    }

    fn take_in_entries(&self, read: Vec<JournalEntry>) -> Result<Imported, JournalError> {
        let book = self.book()?;
        let mut done = Imported::default();
        let mut new: Vec<JournalEntry> = Vec::new();
        for entry in read {
            let wanted = entry.wanted_id();
            match self.place_for(&book, &entry, &new)? {
                None => done.same.push(wanted),
                Some(id) if id == wanted => {
                    done.added.push(id);
                    new.push(entry);
                }
                Some(id) => {
                    done.beside.push((wanted, id.clone()));
                    new.push(entry.with_id(id));
                }
            }
        }
        self.write(&book, &new.iter().collect::<Vec<_>>())?;
        Ok(done)
    }

    /// The name that an entry can have; none if one of that name, or of that name and a number, says the same.
    fn place_for(&self, book: &super::Book, entry: &JournalEntry, new: &[JournalEntry]) -> Result<Option<String>, JournalError> {
        let wanted = entry.wanted_id();
        let mut id = wanted.clone();
        for turn in 2_u32.. {
            let kept = match new.iter().find(|other| other.raw().id == id) {
                Some(other) => Some(other.raw().clone()),
                // What can't be read says something else than this one.
                None => match book.get(&id).map_err(|error| self.failed(error))? {
                    Some(text) => JournalEntry::parse(&text).ok().map(|entry| entry.raw().clone()),
                    None => break,
                },
            };
            let renamed = RawEntry { id: id.clone(), ..entry.raw().clone() };
            if kept == Some(renamed) {
                return Ok(None);
            }
            id = format!("{wanted}-{turn}");
        }
        Ok(Some(id))
    }
}

/// The entry files of a folder, by name.
fn entry_files(folder: &Path) -> Result<Vec<PathBuf>, JournalError> {
    let refused = |source| ReadError::File { path: folder.to_owned(), source };
    let entries = fs::read_dir(folder).and_then(Iterator::collect::<std::io::Result<Vec<_>>>).map_err(refused)?;
    let mut paths: Vec<PathBuf> = entries.into_iter().map(|entry| entry.path()).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "ron"));
    paths.sort();
    if paths.is_empty() {
        return Err(JournalError::Entry { place: EntryPlace::File(folder.to_owned()), problem: EntryProblem::NoFile });
    }
    Ok(paths)
}
