//! The journal: what was made, from which layout, how it came out, and what to change.
//!
//! A folder holds an embedded store of entries and, beside it, the photographs, named by their content. A write is confirmed when it is
//! on the disk; a crash at any moment leaves every confirmed one whole. The store is opened for each piece of work and closed after
//! it, so that the window and the command line can share a journal. Everything leaves and comes back as plain files.
//!
//! The shelf of supplies lies in the same store, under a name that no entry has.
//!
//! Beside the store lies a copy of all its texts, for the day when the disk damages one of the two; [`Journal::salvage`] brings back
//! from both whatever still reads. A journal that can't be written can be read.

mod book;
mod compare;
mod copy;
mod entry;
mod error;
mod exchange;
mod photo;
mod photo_file;
mod picture;
mod query;
mod raw;
mod record;
mod salvage;
mod supplies;
mod words;

pub use compare::{Comparison, Difference, layout_differences};
pub use entry::{Amendment, Draft, JournalEntry, RATINGS};
pub use error::{Damage, EntryPlace, EntryProblem, JournalError, PhotoProblem};
pub use exchange::Imported;
pub use photo_file::{MOST_PHOTO_BYTES, is_photograph};
pub(super) use photo_file::{ending, read_bytes};
pub use picture::{MOST_PHOTO_MEMORY, MOST_PHOTO_PIXELS, SmallPicture};
pub(super) use picture::{check_passes, from_jpeg, from_png, hold, jpeg_of, jpeg_problem, png_of, png_rows};
pub use query::Query;
pub use raw::{EntryPhoto, RawEntry};
pub use salvage::{Lost, LostText, Salvaged};

use super::{SaveError, read_regular};
use crate::layout::Layout;
use crate::measure::LengthStyle;
use book::Book;
use entry::entry_text;
use record::Record;
use std::fs;
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;
use supplies::is_entry;

/// A journal in a folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Journal {
    folder: PathBuf,
}

/// How often, and after what pause, a store that somebody else has open is tried again: two seconds in all.
const TRIES: u32 = 40;
const PAUSE: Duration = Duration::from_millis(50);
/// Largest store and largest copy that are read whole, bytes: some fifty thousand entries. Own choice.
const MOST_STORE_BYTES: u64 = 512 << 20;

impl Journal {
    /// The journal in this folder, which is made when something is first written.
    #[must_use]
    pub fn at(folder: PathBuf) -> Self {
        Self { folder }
    }

    /// The user's own journal, in [`data_folder`](super::data_folder); none where the system tells no home.
    #[must_use]
    pub fn own() -> Option<Self> {
        super::data_folder().map(|folder| Self::at(folder.join("journal")))
    }

    /// Its folder.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Writes down what was made. Photographs are copied into the journal first.
    ///
    /// # Errors
    /// [`JournalError`]; then nothing was written down.
    pub fn add(&self, draft: &Draft) -> Result<JournalEntry, JournalError> {
        let photos = photo::read_all(&draft.photos)?;
        let entry = JournalEntry::of_draft(draft, &photos)?;
        self.take_in(&photos)?;
        let book = self.book()?;
        let id = book.free_id(&entry.wanted_id()).map_err(|error| self.failed(error))?;
        let entry = entry.with_id(id);
        self.write(&book, &[&entry])?;
        Ok(entry)
    }

    /// Changes an entry; what it said before stays in [`Journal::earlier`]. The layout it was made from can't be changed.
    ///
    /// # Errors
    /// [`JournalError`]; then nothing was changed.
    pub fn amend(&self, id: &str, amendment: &Amendment) -> Result<JournalEntry, JournalError> {
        let photos = photo::read_all(&amendment.photos)?;
        // Looked at before the photographs are copied, and again when it is written.
        self.entry(id)?.amended(amendment, &photos)?;
        self.take_in(&photos)?;
        let book = self.book()?;
        let entry = self.read(&book, id)?.amended(amendment, &photos)?;
        self.write(&book, &[&entry])?;
        Ok(entry)
    }

    /// An entry.
    ///
    /// # Errors
    /// [`JournalError::Missing`], or what kept the journal from being read.
    pub fn entry(&self, id: &str) -> Result<JournalEntry, JournalError> {
        match self.reading()? {
            Some(book) => self.read(&book, id),
            None => Err(self.missing(id, &[])),
        }
    }

    /// What an entry said before it was amended, the oldest first.
    ///
    /// # Errors
    /// As for [`Journal::entry`].
    pub fn earlier(&self, id: &str) -> Result<Vec<JournalEntry>, JournalError> {
        let Some(book) = self.reading()? else { return Err(self.missing(id, &[])) };
        self.read(&book, id)?;
        let records = book.earlier(id).map_err(|error| self.failed(error))?;
        records.iter().map(|record| self.parsed(record)).collect()
    }

    /// All entries, what was made last first.
    ///
    /// # Errors
    /// What kept the journal from being read.
    pub fn entries(&self) -> Result<Vec<JournalEntry>, JournalError> {
        let Some(book) = self.reading()? else { return Ok(Vec::new()) };
        let records = book.all().map_err(|error| self.failed(error))?;
        let entries = records.iter().filter(|record| is_entry(record));
        let mut entries = entries.map(|record| self.parsed(record)).collect::<Result<Vec<_>, _>>()?;
        entries.sort_by(|a, b| b.raw().made.cmp(&a.raw().made).then_with(|| a.raw().id.cmp(&b.raw().id)));
        Ok(entries)
    }

    /// The entries that a query asks for, what was made last first.
    ///
    /// # Errors
    /// As for [`Journal::entries`].
    pub fn search(&self, query: &Query) -> Result<Vec<JournalEntry>, JournalError> {
        let mut entries = self.entries()?;
        entries.retain(|entry| query.matches(entry));
        Ok(entries)
    }

    /// Two entries beside each other: how they came out, and in what their layouts differ.
    ///
    /// # Errors
    /// As for [`Journal::entry`].
    pub fn compare(&self, first: &str, second: &str, lengths: LengthStyle) -> Result<Comparison, JournalError> {
        Ok(Comparison::of(self.entry(first)?, self.entry(second)?, lengths))
    }

    /// The layout that an entry was made from, to make it again.
    ///
    /// # Errors
    /// As for [`Journal::entry`]; [`EntryProblem::Layout`] if this program can't use that layout any more.
    pub fn again(&self, id: &str) -> Result<Layout, JournalError> {
        self.entry(id)?.again()
    }

    /// The same with what to change as the layout's note, to be changed by.
    ///
    /// # Errors
    /// As for [`Journal::again`].
    pub fn again_with_changes(&self, id: &str) -> Result<Layout, JournalError> {
        self.entry(id)?.again_with_changes()
    }

    /// Where a photograph is kept.
    #[must_use]
    pub fn photo_path(&self, photo: &EntryPhoto) -> PathBuf {
        self.photos().join(&photo.file)
    }

    fn photos(&self) -> PathBuf {
        self.folder.join("photos")
    }

    fn file(&self) -> PathBuf {
        self.folder.join("journal.redb")
    }

    /// The store, to be written; made if there is none.
    fn book(&self) -> Result<Book, JournalError> {
        make_folder(&self.folder)?;
        if !self.file().exists() {
            self.check_missing()?;
        }
        let mut tries = 1;
        loop {
            match Book::open(&self.file()) {
                Err(error) if error.is_busy() && tries < TRIES => sleep(PAUSE),
                Err(error) => return Err(self.failed(error)),
                Ok(book) => {
                    self.check_count(&book)?;
                    self.keep_copy(&book);
                    return Ok(book);
                }
            }
            tries += 1;
        }
    }

    /// The store, to be read; none where nothing was ever written.
    fn reading(&self) -> Result<Option<Book>, JournalError> {
        if !self.file().exists() {
            return self.check_missing().map(|()| None);
        }
        match self.book() {
            Err(JournalError::ReadOnly { .. }) => self.read_only().map(Some),
            book => book.map(Some),
        }
    }

    /// The store where it can't be written: from its content, which another program may be in the middle of changing.
    fn read_only(&self) -> Result<Book, JournalError> {
        let mut tries = 1;
        loop {
            let content = read_regular(&self.file(), MOST_STORE_BYTES).map_err(|refused| self.unread(refused))?;
            match Book::of_content(&content) {
                Err(_changing) if tries < TRIES => sleep(PAUSE),
                book => return book.map_err(|error| self.failed(error)),
            }
            tries += 1;
        }
    }

    fn read(&self, book: &Book, id: &str) -> Result<JournalEntry, JournalError> {
        match book.get(id).map_err(|error| self.failed(error))? {
            Some(text) => JournalEntry::parse(&text).map_err(|error| self.damaged(id, error)),
            None => {
                let all = book.all().map_err(|error| self.failed(error))?;
                Err(self.missing(id, &all.into_iter().filter(is_entry).map(|record| record.id).collect::<Vec<_>>()))
            }
        }
    }

    fn write(&self, book: &Book, entries: &[&JournalEntry]) -> Result<(), JournalError> {
        let texts: Vec<(&str, String)> = entries.iter().map(|entry| (entry.raw().id.as_str(), entry_text(entry.raw()))).collect();
        self.write_texts(book, &texts)
    }

    fn write_texts(&self, book: &Book, texts: &[(&str, String)]) -> Result<(), JournalError> {
        book.write(texts).map_err(|error| self.failed(error))?;
        self.keep_copy(book);
        Ok(())
    }

    /// Copies photographs into the journal. One that is there already, by its content, is left alone.
    fn take_in(&self, photos: &[photo::Photo]) -> Result<(), JournalError> {
        if photos.is_empty() {
            return Ok(());
        }
        make_folder(&self.photos())?;
        photos.iter().try_for_each(|photo| photo.keep_in(&self.photos()))
    }

    fn unread(&self, source: super::NotRead) -> JournalError {
        JournalError::Store { path: self.file(), source }
    }

    fn parsed(&self, record: &Record) -> Result<JournalEntry, JournalError> {
        JournalEntry::parse(&record.text).map_err(|error| self.damaged(&record.id, error))
    }

    fn failed(&self, error: book::BookError) -> JournalError {
        error.at(self.file())
    }

    fn damaged(&self, id: &str, problem: EntryProblem) -> JournalError {
        JournalError::Entry { place: EntryPlace::Named(id.to_owned()), problem }
    }

    fn missing(&self, id: &str, known: &[String]) -> JournalError {
        let near = known.iter().filter(|known| known.contains(id)).cloned().collect();
        JournalError::Missing { folder: self.folder.clone(), id: id.to_owned(), near }
    }
}

fn make_folder(folder: &Path) -> Result<(), JournalError> {
    fs::create_dir_all(folder).map_err(|source| SaveError { path: folder.to_owned(), source }.into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::EXAMPLE_LAYOUTS;
    use jiff::civil::date;

    /// The window and the command line at once: the second waits for the first, and says so when it waits in vain.
    #[test]
    fn a_journal_open_elsewhere_is_waited_for() {
        let folder = tempfile::tempdir().unwrap();
        let journal = Journal::at(folder.path().to_owned());
        let draft = Draft::new(date(2027, 5, 5), EXAMPLE_LAYOUTS[0].text.to_owned());
        journal.add(&draft).unwrap();
        let held = journal.book().unwrap();
        let waiting = std::thread::spawn({
            let (journal, draft) = (journal.clone(), draft.clone());
            move || journal.add(&draft)
        });
        sleep(3 * PAUSE);
        assert!(!waiting.is_finished());
        drop(held);
        assert!(waiting.join().unwrap().is_ok());
        let _held = journal.book().unwrap();
        let said = journal.add(&draft).unwrap_err().to_string();
        assert!(said.ends_with("journal.redb: another program is writing to the journal; try again when that is done"), "{said}");
    }

    /// An entry of a newer program is told by its name.
    #[test]
    fn an_entry_that_can_t_be_read_is_named() {
        let folder = tempfile::tempdir().unwrap();
        let journal = Journal::at(folder.path().to_owned());
        journal.book().unwrap().write(&[("2027-05-05-x", "(format: 7)".to_owned())]).unwrap();
        let said = journal.entries().unwrap_err().to_string();
        assert!(said.contains("entry \"2027-05-05-x\": unknown file format 7") && said.contains("newer version"), "{said}");
    }
}
