//! The shelf of supplies, in the journal's store: one text beside the entries, with everything that it said before.

use super::record::Record;
use super::{EntryPlace, EntryProblem, Journal, JournalError};
use crate::plan::Shelf;
use crate::store::{parse_shelf, shelf_text};

/// Its name among the texts: none that an entry can have.
pub(super) const SHELF: &str = "=shelf";

impl Journal {
    /// What is on the shelf; nothing where nothing was ever put there.
    ///
    /// # Errors
    /// What kept the journal from being read.
    pub fn shelf(&self) -> Result<Shelf, JournalError> {
        let Some(book) = self.reading()? else { return Ok(Shelf::default()) };
        let text = book.get(SHELF).map_err(|error| self.failed(error))?;
        text.map_or_else(|| Ok(Shelf::default()), |text| read(&text))
    }

    /// Whether anything was ever put on the shelf, so that there is a change to undo.
    ///
    /// # Errors
    /// What kept the journal from being read.
    pub fn has_shelf(&self) -> Result<bool, JournalError> {
        let Some(book) = self.reading()? else { return Ok(false) };
        Ok(book.get(SHELF).map_err(|error| self.failed(error))?.is_some())
    }

    /// Keeps a shelf; what it said before is kept too.
    ///
    /// # Errors
    /// [`JournalError`]; then the shelf is as it was.
    pub fn keep_shelf(&self, shelf: &Shelf) -> Result<(), JournalError> {
        shelf.check().map_err(|error| wrong(None, crate::store::TextError::Plan(Box::new(error))))?;
        let book = self.book()?;
        self.write_texts(&book, &[(SHELF, shelf_text(shelf))])
    }

    /// Changes the shelf as it is now, in one step; what `change` makes of it.
    ///
    /// # Errors
    /// [`JournalError`]; then the shelf is as it was.
    pub fn change_shelf(&self, change: impl FnOnce(&mut Shelf)) -> Result<Shelf, JournalError> {
        let mut shelf = self.shelf()?;
        change(&mut shelf);
        self.keep_shelf(&shelf)?;
        Ok(shelf)
    }

    /// Puts the shelf back to what it said before its last change: a second time takes that back. None where it was never changed.
    ///
    /// # Errors
    /// [`JournalError`]; then the shelf is as it was.
    pub fn undo_shelf(&self) -> Result<Option<Shelf>, JournalError> {
        let Some(book) = self.reading()? else { return Ok(None) };
        let now = book.get(SHELF).map_err(|error| self.failed(error))?;
        let before = book.earlier(SHELF).map_err(|error| self.failed(error))?.pop();
        drop(book);
        let shelf = match (now, before) {
            (None, _) => return Ok(None),
            (Some(_), Some(before)) => read(&before.text)?,
            // Before its first text nothing was there.
            (Some(_), None) => Shelf::default(),
        };
        self.keep_shelf(&shelf)?;
        Ok(Some(shelf))
    }
}

/// Whether a text is an entry, and not the shelf.
pub(super) fn is_entry(record: &Record) -> bool {
    record.id != SHELF
}

fn read(text: &str) -> Result<Shelf, JournalError> {
    parse_shelf(text).map_err(|(place, problem)| wrong(place, problem))
}

fn wrong(place: Option<crate::store::Place>, problem: crate::store::TextError) -> JournalError {
    JournalError::Entry { place: EntryPlace::Shelf, problem: EntryProblem::Form { place, problem: Box::new(problem) } }
}
