//! The copy of a journal's texts, beside its store: a plain file that damage to the store does not reach, written anew whenever the
//! store opens whole and has more texts than it, and after every write.

use super::book::Book;
use super::photo::hex;
use super::record::{Found, Record, find};
use super::{Damage, Journal, JournalError, MOST_STORE_BYTES, make_folder};
use crate::store::read::open_regular;
use crate::store::read_regular;
use crate::store::save::save_over;
use sha2::{Digest as _, Sha256};
use std::io::{BufRead as _, BufReader, Read as _};
use std::path::PathBuf;

/// The first line of a copy of so many texts. It ends with a digest of the number, so that a damaged one is not believed.
fn first_line(texts: u64) -> String {
    let digest = hex(&Sha256::digest(texts.to_string()));
    format!(
        "// A copy of {texts} texts of the journal in journal.redb; it is made anew by itself, so change nothing here. {digest}\n"
    )
}

/// Longest first line, bytes.
const LONGEST_FIRST: u64 = 256;

impl Journal {
    fn copy_file(&self) -> PathBuf {
        self.folder.join("journal.copy")
    }

    /// How many texts the copy has, as it says itself; 0 without one.
    pub(super) fn copied(&self) -> u64 {
        let Ok(file) = open_regular(&self.copy_file()) else { return 0 };
        let mut line = String::new();
        let read = BufReader::new(file.take(LONGEST_FIRST)).read_line(&mut line);
        let number = line.split(' ').nth(4).and_then(|number| number.parse().ok());
        number.filter(|number| read.is_ok() && line == first_line(*number)).unwrap_or(0)
    }

    /// Refuses where the store is gone and its copy is not: a new one would be taken for the old.
    pub(super) fn check_missing(&self) -> Result<(), JournalError> {
        match self.copied() {
            0 => Ok(()),
            copied => Err(JournalError::Damaged { path: self.file(), damage: Damage::Missing { copied } }),
        }
    }

    /// Refuses a store that has fewer texts than its copy: none is ever taken away.
    pub(super) fn check_count(&self, book: &Book) -> Result<(), JournalError> {
        let (found, copied) = (book.count().map_err(|error| self.failed(error))?, self.copied());
        if found < copied {
            return Err(JournalError::Damaged { path: self.file(), damage: Damage::Fewer { found, copied } });
        }
        Ok(())
    }

    /// Brings the copy up to a store that is whole. Where that fails, the store is no worse for it, and the next opening tries again.
    pub(super) fn keep_copy(&self, book: &Book) {
        if book.count().is_ok_and(|count| count != self.copied())
            && let Ok(records) = book.records()
        {
            let _tried_again = self.write_copy(&records);
        }
    }

    /// Writes the copy.
    pub(super) fn write_copy(&self, records: &[Record]) -> Result<(), JournalError> {
        make_folder(&self.folder)?;
        let mut text = first_line(records.len() as u64);
        records.iter().for_each(|record| text += &record.sealed());
        Ok(save_over(&self.copy_file(), text.as_bytes())?)
    }

    /// What still reads in the copy.
    pub(super) fn find_in_copy(&self) -> Found {
        read_regular(&self.copy_file(), MOST_STORE_BYTES).map(|bytes| find(&bytes)).unwrap_or_default()
    }
}
