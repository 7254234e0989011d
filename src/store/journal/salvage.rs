//! Bringing back what still reads of a damaged journal, from its store's own bytes and from its copy. Nothing is thrown away.

use super::book::{Book, make_of};
use super::record::{Found, Record, find};
use super::supplies::{SHELF, is_entry};
use super::{Journal, JournalError, MOST_STORE_BYTES, SaveError, make_folder};
use crate::store::read_regular;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::fs::{File, TryLockError};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

/// What a salvage did.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Salvaged {
    /// The entries that are there now, by name.
    pub entries: Vec<String>,
    /// Whether the shelf of supplies is there.
    pub shelf: bool,
    /// How many texts they had before they were amended, in all.
    pub earlier: usize,
    /// Texts that are known to have been there and don't read.
    pub lost: Vec<Lost>,
    /// How many more texts the copy says it has, of which nothing is known.
    pub unknown: u64,
    /// Whether it was damaged; one in order is left alone.
    pub was_damaged: bool,
    /// Where the damaged store is kept, if there was one.
    pub kept: Option<PathBuf>,
}

/// A text that was lost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lost {
    /// The entry.
    pub id: String,
    /// What of it.
    pub what: LostText,
}

/// What of an entry was lost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LostText {
    /// The whole entry.
    Entry,
    /// What it said last; an earlier text stands in its place.
    Last,
    /// What it said before it was amended.
    Earlier,
}

impl fmt::Display for Lost {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { id, what } = self;
        let id = if id == SHELF { "the shelf" } else { id };
        match what {
            LostText::Entry => write!(f, "{id}: lost"),
            LostText::Last => write!(f, "{id}: the last edit is lost; the earlier version is there"),
            LostText::Earlier => write!(f, "{id}: an earlier version is lost; the current one is there"),
        }
    }
}

impl Journal {
    /// Brings back every text that still reads, from the store and its copy, into a new store. The damaged one is kept beside it as
    /// `journal.redb.damaged`. A journal that is in order is left alone.
    ///
    /// # Errors
    /// [`JournalError`]; then the journal is as it was.
    pub fn salvage(&self) -> Result<Salvaged, JournalError> {
        make_folder(&self.folder)?;
        let lock_file = self.folder.join("salvage.lock");
        let refused = |source| SaveError { path: lock_file.clone(), source };
        let lock = File::create(&lock_file).map_err(refused)?;
        match lock.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Err(JournalError::Busy { path: self.file() }),
            Err(TryLockError::Error(source)) => return Err(refused(source).into()),
        }
        match self.reading() {
            Err(error) if error.is_damage() => self.salvage_damaged(),
            Err(error) => Err(error),
            Ok(book) => book.map_or_else(|| Ok(Salvaged::default()), |book| self.in_order(&book)),
        }
    }

    fn in_order(&self, book: &Book) -> Result<Salvaged, JournalError> {
        let records = book.records().map_err(|error| self.failed(error))?;
        Ok(Salvaged::of(&records))
    }

    fn salvage_damaged(&self) -> Result<Salvaged, JournalError> {
        let store = match read_regular(&self.file(), MOST_STORE_BYTES) {
            Err(crate::store::NotRead::System(error)) if error.kind() == io::ErrorKind::NotFound => None,
            store => Some(store.map_err(|refused| self.unread(refused))?),
        };
        let mut founds = vec![self.find_in_copy(), store.as_deref().map(find).unwrap_or_default()];
        // An older store that was put in the place of a newer one is whole, and form 1 has texts that can't be found by themselves.
        if let Some(book) = store.as_deref().and_then(|content| Book::of_content(content).ok()) {
            let whole = book.records().map_err(|error| self.failed(error))?;
            founds.push(Found { whole, damaged: Vec::new() });
        }
        let (records, lost) = joined(founds);
        if records.is_empty() {
            return Err(JournalError::Nothing { folder: self.folder.clone() });
        }
        let known = records.len() as u64 + lost.len() as u64;
        let unknown = self.copied().saturating_sub(known);
        // Made whole under another name, then put in the damaged one's place, which is kept first.
        let failed = |source| JournalError::from(SaveError { path: self.file(), source });
        let new = tempfile::Builder::new().prefix(".pleatwright-").tempfile_in(&self.folder).map_err(failed)?;
        make_of(new.path(), &records).map_err(|error| self.failed(error))?;
        let records = Book::open(new.path()).and_then(|book| book.records()).map_err(|error| self.failed(error))?;
        new.as_file().sync_all().map_err(failed)?;
        let kept = store.map(|store| keep_aside(&self.file(), &store)).transpose()?;
        new.persist(self.file()).map_err(|error| failed(error.error))?;
        self.write_copy(&records)?;
        Ok(Salvaged { lost, unknown, was_damaged: true, kept, ..Salvaged::of(&records) })
    }
}

impl Salvaged {
    /// What was done, what was lost, and where the damaged store is, a line each.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let count = |count: usize, one: &str, many: &str| format!("{count} {}", if count == 1 { one } else { many });
        let there = count(self.entries.len(), "entry", "entries");
        if !self.was_damaged {
            return vec![format!("the journal is in order: {there}")];
        }
        let earlier = match self.earlier {
            0 => String::new(),
            earlier => format!(", with {}", count(earlier, "earlier text", "earlier texts")),
        };
        let mut lines = vec![format!("recovered {there}{earlier}")];
        if self.shelf {
            lines.push("recovered the shelf".to_owned());
        }
        lines.extend(self.lost.iter().map(Lost::to_string));
        if self.unknown > 0 {
            lines.push(format!(
                "{} more can't be found",
                count(usize::try_from(self.unknown).unwrap_or(usize::MAX), "text", "texts")
            ));
        }
        if self.lost.is_empty() && self.unknown == 0 {
            lines.push("nothing known is lost".to_owned());
        }
        lines.extend(self.kept.iter().map(|kept| format!("the damaged file is kept as {}", kept.display())));
        lines
    }

    fn of(records: &[Record]) -> Self {
        let ids: BTreeSet<&str> = records.iter().filter(|record| is_entry(record)).map(|record| record.id.as_str()).collect();
        let earlier = records.iter().filter(|record| is_entry(record)).count() - ids.len();
        let shelf = records.iter().any(|record| !is_entry(record));
        Self { shelf, entries: ids.into_iter().map(str::to_owned).collect(), earlier, ..Self::default() }
    }
}

/// All texts, each entry's by turn, and what is known to be lost. Of two texts for one turn, that of the first source counts: the other was
/// never confirmed.
fn joined(sources: Vec<Found>) -> (Vec<Record>, Vec<Lost>) {
    let mut texts: BTreeMap<String, BTreeMap<u32, String>> = BTreeMap::new();
    let mut damaged = BTreeSet::new();
    for source in sources {
        for Record { id, turn, text } in source.whole {
            texts.entry(id).or_default().entry(turn).or_insert(text);
        }
        damaged.extend(source.damaged);
    }
    let mut lost = Vec::new();
    for (id, turn) in damaged {
        let turns = texts.get(&id);
        let what = match turns.and_then(|turns| turns.last_key_value()) {
            None => LostText::Entry,
            Some(_) if turns.is_some_and(|turns| turns.contains_key(&turn)) => continue,
            Some((last, _)) if *last < turn => LostText::Last,
            Some(_) => LostText::Earlier,
        };
        lost.push(Lost { id, what });
    }
    let records = texts
        .into_iter()
        .flat_map(|(id, turns)| turns.into_iter().map(move |(turn, text)| Record { id: id.clone(), turn, text }));
    (records.collect(), lost)
}

/// Writes a damaged store under the first free name beside its own.
fn keep_aside(path: &Path, content: &[u8]) -> Result<PathBuf, JournalError> {
    for number in 1_u32.. {
        let mut name = path.as_os_str().to_owned();
        name.push(if number == 1 { ".damaged".to_owned() } else { format!(".damaged{number}") });
        let aside = PathBuf::from(name);
        let write = || {
            let mut file = tempfile::Builder::new().prefix(".pleatwright-").tempfile_in(path.parent().unwrap_or(path))?;
            file.write_all(content)?;
            file.as_file().sync_all()?;
            file.persist_noclobber(&aside).map(drop).map_err(|error| error.error)
        };
        match write() {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            done => return done.map(|()| aside.clone()).map_err(|source| SaveError { path: aside, source }.into()),
        }
    }
    Err(SaveError { path: path.to_owned(), source: io::ErrorKind::AlreadyExists.into() }.into())
}
