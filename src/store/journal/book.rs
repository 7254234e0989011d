//! The embedded store below the journal: texts by name, earlier texts kept, all of a write or none of it.

use super::record::Record;
use super::{Damage, JournalError};
use crate::store::NotRead;
use redb::backends::InMemoryBackend;
use redb::{
    Builder, Database, DatabaseError, ReadableDatabase as _, ReadableTable as _, ReadableTableMetadata as _, StorageBackend,
    TableDefinition, TableError,
};
use std::io;
use std::path::{Path, PathBuf};

/// What each entry says, as [`Record`] seals it; form 1 kept the bare text.
const ENTRIES: TableDefinition<'_, &str, &str> = TableDefinition::new("entries");
/// What an entry said before it was amended, by its name and its turn.
const EARLIER: TableDefinition<'_, (&str, u32), &str> = TableDefinition::new("earlier");
const ABOUT: TableDefinition<'_, &str, u32> = TableDefinition::new("about");
/// The newest form of the store: since 3 the shelf of supplies may lie among the entries.
const FORMAT: u32 = 3;

/// What went wrong.
#[derive(Debug)]
pub(super) enum BookError {
    Busy,
    Format(u32),
    Store(Box<redb::Error>),
}

impl BookError {
    pub(super) const fn is_busy(&self) -> bool {
        matches!(self, Self::Busy)
    }

    pub(super) fn at(self, path: PathBuf) -> JournalError {
        match self {
            Self::Busy => JournalError::Busy { path },
            Self::Format(found) => JournalError::Format { path, found, known: FORMAT },
            Self::Store(error) => match *error {
                redb::Error::Io(error) if is_for_reading(&error) => JournalError::ReadOnly { path },
                redb::Error::Io(error) if !is_of_content(&error) => JournalError::Store { path, source: NotRead::System(error) },
                _ => JournalError::Damaged { path, damage: Damage::Content },
            },
        }
    }
}

fn is_for_reading(error: &io::Error) -> bool {
    matches!(error.kind(), io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem)
}

/// Whether what is told as a failure to read is what was read: no store at all, or one that ends too early.
fn is_of_content(error: &io::Error) -> bool {
    matches!(error.kind(), io::ErrorKind::InvalidData | io::ErrorKind::InvalidInput | io::ErrorKind::UnexpectedEof)
}

impl<E: Into<redb::Error>> From<E> for BookError {
    fn from(error: E) -> Self {
        match error.into() {
            redb::Error::DatabaseAlreadyOpen => Self::Busy,
            error => Self::Store(Box::new(error)),
        }
    }
}

/// An open store. Only one is open at a time.
#[derive(Debug)]
pub(super) struct Book {
    database: Database,
}

impl Book {
    /// Opens the store in a file, which is made if it is not there: under another name first, because a store is none yet while its
    /// first pages are being written.
    pub(super) fn open(path: &Path) -> Result<Self, BookError> {
        if !path.exists() {
            make(path).map_err(redb::Error::Io)?;
        }
        Self::begin(builder().open(path))
    }

    /// Opens a store from its content, for reading: nothing that is written into it is kept.
    pub(super) fn of_content(content: &[u8]) -> Result<Self, BookError> {
        let storage = InMemoryBackend::new();
        storage.set_len(content.len() as u64).map_err(redb::Error::Io)?;
        storage.write(0, content).map_err(redb::Error::Io)?;
        Self::on(storage)
    }

    /// Opens the store on storage of one's own.
    fn on(storage: impl StorageBackend) -> Result<Self, BookError> {
        Self::begin(builder().create_with_backend(storage))
    }

    fn begin(opened: Result<Database, DatabaseError>) -> Result<Self, BookError> {
        let book = Self { database: opened? };
        match book.format()? {
            Some(found) if found > FORMAT => Err(BookError::Format(found)),
            _ => Ok(book),
        }
    }

    fn format(&self) -> Result<Option<u32>, BookError> {
        let read = self.database.begin_read()?;
        match read.open_table(ABOUT) {
            Ok(table) => Ok(table.get("format")?.map(|value| value.value())),
            Err(TableError::TableDoesNotExist(_)) => Ok(None),
            Err(error) => Err(error.into()),
        }
    }

    /// What every entry says, by name.
    pub(super) fn all(&self) -> Result<Vec<Record>, BookError> {
        let read = self.database.begin_read()?;
        let table = match read.open_table(ENTRIES) {
            Err(TableError::TableDoesNotExist(_)) => return Ok(Vec::new()),
            table => table?,
        };
        let mut all = Vec::new();
        for item in table.iter()? {
            let (id, stored) = item?;
            all.push(Record::kept(id.value(), stored.value(), 1));
        }
        Ok(all)
    }

    /// What the entry of that name says.
    pub(super) fn get(&self, id: &str) -> Result<Option<String>, BookError> {
        let read = self.database.begin_read()?;
        match read.open_table(ENTRIES) {
            Err(TableError::TableDoesNotExist(_)) => Ok(None),
            table => Ok(table?.get(id)?.map(|stored| Record::kept(id, stored.value(), 1).text)),
        }
    }

    /// What an entry said before, the oldest first.
    pub(super) fn earlier(&self, id: &str) -> Result<Vec<Record>, BookError> {
        let read = self.database.begin_read()?;
        let table = match read.open_table(EARLIER) {
            Err(TableError::TableDoesNotExist(_)) => return Ok(Vec::new()),
            table => table?,
        };
        let mut records = Vec::new();
        for item in table.range((id, 0)..=(id, u32::MAX))? {
            let (key, stored) = item?;
            records.push(Record::kept(id, stored.value(), key.value().1));
        }
        Ok(records)
    }

    /// How many texts it holds: what entries say, and what they said before. There is never one less.
    pub(super) fn count(&self) -> Result<u64, BookError> {
        let read = self.database.begin_read()?;
        let entries = match read.open_table(ENTRIES) {
            Err(TableError::TableDoesNotExist(_)) => 0,
            table => table?.len()?,
        };
        let earlier = match read.open_table(EARLIER) {
            Err(TableError::TableDoesNotExist(_)) => 0,
            table => table?.len()?,
        };
        Ok(entries + earlier)
    }

    /// All of these texts, each entry's by turn, what it says last.
    pub(super) fn records(&self) -> Result<Vec<Record>, BookError> {
        let mut records = Vec::new();
        for mut entry in self.all()? {
            let earlier = self.earlier(&entry.id)?;
            // Form 1 kept no turn with what an entry says.
            entry.turn = earlier.last().map_or(entry.turn, |last| entry.turn.max(last.turn.saturating_add(1)));
            records.extend(earlier);
            records.push(entry);
        }
        Ok(records)
    }

    /// The name itself if it is free, else the first free one of `name-2`, `name-3` ...
    pub(super) fn free_id(&self, wanted: &str) -> Result<String, BookError> {
        let mut id = wanted.to_owned();
        let mut turn = 1_u32;
        while self.get(&id)?.is_some() {
            turn += 1;
            id = format!("{wanted}-{turn}");
        }
        Ok(id)
    }

    /// Writes entries, all or none; an entry that says something else already moves to the earlier ones. When this returns, they are
    /// on the disk.
    pub(super) fn write(&self, entries: &[(&str, String)]) -> Result<(), BookError> {
        let write = self.database.begin_write()?;
        {
            let mut about = write.open_table(ABOUT)?;
            about.insert("format", FORMAT)?;
            let mut table = write.open_table(ENTRIES)?;
            let mut earlier = write.open_table(EARLIER)?;
            for (id, text) in entries {
                let before = table.get(*id)?.map(|stored| stored.value().to_owned());
                let last = earlier.range((*id, 0)..=(*id, u32::MAX))?.next_back().transpose()?;
                let turn = last.map_or(1, |(key, _)| key.value().1.saturating_add(1));
                let before = before.map(|stored| Record::kept(id, &stored, turn));
                if before.as_ref().is_some_and(|before| before.text == *text) {
                    continue;
                }
                let turn = before.as_ref().map_or(turn, |before| before.turn.saturating_add(1));
                if let Some(before) = before {
                    earlier.insert((*id, before.turn), before.sealed().as_str())?;
                }
                let record = Record { id: (*id).to_owned(), turn, text: text.clone() };
                table.insert(*id, record.sealed().as_str())?;
            }
        }
        write.commit()?;
        Ok(())
    }
}

/// Makes a store of these texts in a file, each entry's by turn.
pub(super) fn make_of(path: &Path, records: &[Record]) -> Result<(), BookError> {
    let book = Book { database: builder().create(path)? };
    book.write(&records.iter().map(|record| (record.id.as_str(), record.text.clone())).collect::<Vec<_>>())
}

/// Makes an empty store, whole before it bears its name. One that somebody else made meanwhile is left alone.
fn make(path: &Path) -> io::Result<()> {
    let folder = path.parent().unwrap_or_else(|| Path::new("."));
    let file = tempfile::Builder::new().prefix(".pleatwright-").tempfile_in(folder)?;
    drop(builder().create(file.path()).map_err(io::Error::other)?);
    file.as_file().sync_all()?;
    match file.persist_noclobber(path) {
        Err(error) if error.error.kind() != io::ErrorKind::AlreadyExists => Err(error.error),
        _ => Ok(()),
    }
}

/// The whole file is checked on opening, so that damage from outside is an error and no panic: a journal is small.
fn builder() -> Builder {
    let mut builder = Builder::new();
    builder.set_check_integrity_on_open(true);
    builder.set_cache_size(8 << 20);
    builder
}

#[cfg(test)]
mod tests;
