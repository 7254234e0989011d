//! The embedded store below the journal: texts by name, earlier texts kept, all of a write or none of it.

use super::JournalError;
use redb::{Builder, Database, DatabaseError, ReadableDatabase as _, ReadableTable as _, TableDefinition, TableError};
use std::io;
use std::path::{Path, PathBuf};

const ENTRIES: TableDefinition<'_, &str, &str> = TableDefinition::new("entries");
/// What an entry said before it was amended, by its name and a number from 1.
const EARLIER: TableDefinition<'_, (&str, u32), &str> = TableDefinition::new("earlier");
const ABOUT: TableDefinition<'_, &str, u32> = TableDefinition::new("about");
/// The newest form of the store.
const FORMAT: u32 = 1;

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
            Self::Store(error) => JournalError::Store { path, reason: error.to_string() },
        }
    }
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

    /// Opens the store on storage of one's own.
    #[cfg(test)]
    fn on(storage: impl redb::StorageBackend) -> Result<Self, BookError> {
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

    /// Every entry with its name, by name.
    pub(super) fn all(&self) -> Result<Vec<(String, String)>, BookError> {
        let read = self.database.begin_read()?;
        let table = match read.open_table(ENTRIES) {
            Err(TableError::TableDoesNotExist(_)) => return Ok(Vec::new()),
            table => table?,
        };
        let mut all = Vec::new();
        for item in table.iter()? {
            let (id, text) = item?;
            all.push((id.value().to_owned(), text.value().to_owned()));
        }
        Ok(all)
    }

    /// The entry of that name.
    pub(super) fn get(&self, id: &str) -> Result<Option<String>, BookError> {
        let read = self.database.begin_read()?;
        match read.open_table(ENTRIES) {
            Err(TableError::TableDoesNotExist(_)) => Ok(None),
            table => Ok(table?.get(id)?.map(|text| text.value().to_owned())),
        }
    }

    /// What an entry said before, the oldest first.
    pub(super) fn earlier(&self, id: &str) -> Result<Vec<String>, BookError> {
        let read = self.database.begin_read()?;
        let table = match read.open_table(EARLIER) {
            Err(TableError::TableDoesNotExist(_)) => return Ok(Vec::new()),
            table => table?,
        };
        let mut texts = Vec::new();
        for item in table.range((id, 0)..=(id, u32::MAX))? {
            texts.push(item?.1.value().to_owned());
        }
        Ok(texts)
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
                let before = table.insert(*id, text.as_str())?.map(|before| before.value().to_owned());
                if let Some(before) = before.filter(|before| before != text) {
                    let last = earlier.range((*id, 0)..=(*id, u32::MAX))?.next_back().transpose()?;
                    let number = last.map_or(1, |(key, _)| key.value().1.saturating_add(1));
                    earlier.insert((*id, number), before.as_str())?;
                }
            }
        }
        write.commit()?;
        Ok(())
    }
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
