//! Writing files so that nothing is lost: never half a file, never the earlier one gone, several files all or none.

use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// How many earlier contents of a file are kept; the oldest goes when there is one more.
pub const MOST_BACKUPS: u32 = 9;

/// Why a file could not be written. The earlier file, if there was one, is as it was.
#[derive(Debug, thiserror::Error)]
#[error("{} could not be written: {}", path.display(), super::plain_words::system_words(source))]
pub struct SaveError {
    /// The file.
    pub path: PathBuf,
    /// What the system said.
    pub source: io::Error,
}

/// Writes a whole file: to a temporary file in the same folder, flushed to the disk, then renamed over the name. At every moment
/// the name holds the earlier content or the new one, whole. An earlier file with other content is kept under
/// [`backup_path`], and what was there moves on to the next of [`backup_paths`]; one with the same content is left alone.
///
/// # Errors
/// [`SaveError`] when the folder is missing or the system refuses; nothing half-written is left behind.
pub fn save(path: &Path, content: &[u8]) -> Result<(), SaveError> {
    save_all(&[(path, content)])
}

/// Writes a whole file as [`save`] does, but keeps no backup: for a state that grows by every change and holds the earlier one.
///
/// # Errors
/// As for [`save`].
pub(super) fn save_over(path: &Path, content: &[u8]) -> Result<(), SaveError> {
    let write = || match stage(path, content)? {
        Some(Staged { file, .. }) => file.persist(path).map(drop).map_err(|error| error.error),
        None => Ok(()),
    };
    write().map_err(|source| SaveError { path: path.to_owned(), source })
}

/// Writes several files as [`save`] does, all or none: every content is on the disk beside its name before the first name is
/// changed, and if a later name can't be changed, the earlier ones get their former content back or are removed.
///
/// # Errors
/// [`SaveError`] for the first file that can't be written.
pub fn save_all(files: &[(&Path, &[u8])]) -> Result<(), SaveError> {
    let refused = |path: &Path| {
        let path = path.to_owned();
        move |source| SaveError { path, source }
    };
    let mut staged = Vec::new();
    for &(path, content) in files {
        staged.extend(stage(path, content).map_err(refused(path))?);
    }
    let mut done: Vec<(&Path, Option<Vec<u8>>)> = Vec::new();
    for Staged { path, earlier, file } in staged {
        if let Err(source) = put_in_place(path, earlier.as_deref(), file) {
            done.iter().rev().for_each(|(path, earlier)| put_back(path, earlier.as_deref()));
            return Err(refused(path)(source));
        }
        done.push((path, earlier));
    }
    Ok(())
}

/// Writes things of one kind as [`save_all`] does; `content` tells where each goes and what is in it.
///
/// # Errors
/// As for [`save_all`].
pub fn save_each<T>(things: &[T], content: impl Fn(&T) -> (&Path, &[u8])) -> Result<(), SaveError> {
    save_all(&things.iter().map(content).collect::<Vec<_>>())
}

/// The same into a folder, which is made where there is none yet.
///
/// # Errors
/// As for [`save_all`]; and the folder's, where it can't be made.
pub fn save_each_in<T>(folder: &Path, things: &[T], content: impl Fn(&T) -> (&Path, &[u8])) -> Result<(), SaveError> {
    fs::create_dir_all(folder).map_err(|source| SaveError { path: folder.to_owned(), source })?;
    save_each(things, content)
}

/// A file that is whole on the disk and has only to take its name.
struct Staged<'a> {
    path: &'a Path,
    earlier: Option<Vec<u8>>,
    file: NamedTempFile,
}

/// Writes the content beside its name; none where the file holds it already.
fn stage<'a>(path: &'a Path, content: &[u8]) -> io::Result<Option<Staged<'a>>> {
    if path.is_dir() {
        return Err(io::Error::new(io::ErrorKind::IsADirectory, "it is a folder"));
    }
    let earlier = if path.exists() { Some(fs::read(path)?) } else { None };
    if earlier.as_deref() == Some(content) {
        return Ok(None);
    }
    let mut file = temporary_beside(path)?;
    file.write_all(content)?;
    file.as_file().sync_all()?;
    keep_permissions(path, file.as_file())?;
    Ok(Some(Staged { path, earlier, file }))
}

/// A new file in the folder of another. Its own name says nothing to the user and is kept out of the error.
fn temporary_beside(path: &Path) -> io::Result<NamedTempFile> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."));
    tempfile::Builder::new().prefix(".pleatwright-").tempfile_in(folder).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => io::Error::new(io::ErrorKind::NotFound, "there is no such folder"),
        io::ErrorKind::NotADirectory => io::Error::new(io::ErrorKind::NotADirectory, "what should be its folder is a file"),
        kind => io::Error::from(kind),
    })
}

fn put_in_place(path: &Path, earlier: Option<&[u8]>, file: NamedTempFile) -> io::Result<()> {
    if earlier.is_some() {
        keep(path)?;
    }
    file.persist(path).map_err(|error| error.error)?;
    Ok(())
}

/// Keeps the file under its backup's name. Earlier backups move on by one; the oldest beyond [`MOST_BACKUPS`] goes.
fn keep(path: &Path) -> io::Result<()> {
    let names: Vec<PathBuf> = backup_paths(path).collect();
    // Only those up to the first free name have to move.
    let free = names.iter().position(|name| !name.exists()).unwrap_or(names.len() - 1);
    for older in (0..free).rev() {
        fs::rename(&names[older], &names[older + 1])?;
    }
    fs::copy(path, &names[0])?;
    Ok(())
}

/// Undoes a write, as far as the system lets it: the error that led here is the one to tell. Backups stay.
fn put_back(path: &Path, earlier: Option<&[u8]>) {
    let undone = match earlier {
        Some(content) => stage(path, content)
            .and_then(|staged| staged.map_or(Ok(()), |staged| staged.file.persist(path).map(drop).map_err(|error| error.error))),
        None => fs::remove_file(path),
    };
    drop(undone);
}

/// Gives the new file the permissions of the one it replaces, or those that a new file usually gets.
#[cfg(unix)]
fn keep_permissions(path: &Path, file: &fs::File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt as _;
    let permissions = match fs::metadata(path) {
        Ok(metadata) => metadata.permissions(),
        Err(_absent) => fs::Permissions::from_mode(0o644),
    };
    file.set_permissions(permissions)
}

#[cfg(not(unix))]
fn keep_permissions(_path: &Path, _file: &fs::File) -> io::Result<()> {
    Ok(())
}

/// The name under which the content before the last write is kept: `tee.ron` as `tee.ron.bak`.
#[must_use]
pub fn backup_path(path: &Path) -> PathBuf {
    backup_name(path, 1)
}

/// All names under which earlier contents are kept, the newest first: `tee.ron.bak`, `tee.ron.bak2`, up to [`MOST_BACKUPS`].
pub fn backup_paths(path: &Path) -> impl Iterator<Item = PathBuf> + '_ {
    (1..=MOST_BACKUPS).map(|number| backup_name(path, number))
}

fn backup_name(path: &Path, number: u32) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".bak");
    if number > 1 {
        name.push(number.to_string());
    }
    PathBuf::from(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_earlier_file_is_kept() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("tee.ron");
        save(&path, b"one").unwrap();
        assert!(!backup_path(&path).exists());
        save(&path, b"two").unwrap();
        save(&path, b"two").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"two");
        assert_eq!(fs::read(backup_path(&path)).unwrap(), b"one");
    }

    /// A second save used to overwrite the one backup there was.
    #[test]
    fn earlier_backups_move_on_and_only_the_oldest_goes() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("tee.ron");
        for turn in 0..=MOST_BACKUPS + 1 {
            save(&path, turn.to_string().as_bytes()).unwrap();
        }
        let kept: Vec<String> = backup_paths(&path).map(|name| fs::read_to_string(name).unwrap()).collect();
        assert_eq!(kept, (1..=MOST_BACKUPS).rev().map(|turn| turn.to_string()).collect::<Vec<_>>());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1 + MOST_BACKUPS as usize);
    }

    #[test]
    fn a_refused_write_leaves_nothing_behind() {
        let folder = tempfile::tempdir().unwrap();
        let inside = folder.path().join("sheets");
        fs::create_dir(&inside).unwrap();
        assert!(save(&inside, b"x").unwrap_err().to_string().contains("it is a folder"));
        let said = save(&folder.path().join("none/x.pdf"), b"x").unwrap_err().to_string();
        assert!(said.ends_with("none/x.pdf could not be written: there is no such folder"), "{said}");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        assert_eq!(fs::read_dir(&inside).unwrap().count(), 0);
    }

    /// The first of several files used to be written before the second was refused.
    #[test]
    fn several_files_are_written_all_or_none() {
        let folder = tempfile::tempdir().unwrap();
        let [a, b, c] = ["a", "b", "c"].map(|name| folder.path().join(name));
        fs::write(&b, "mine").unwrap();
        fs::create_dir(&c).unwrap();
        assert!(save_all(&[(&a, b"1"), (&b, b"2"), (&c, b"3")]).is_err());
        assert!(!a.exists() && fs::read(&b).unwrap() == b"mine");
        // What was written before a later failure is undone too.
        save(&a, b"new").unwrap();
        put_back(&a, None);
        save(&b, b"new").unwrap();
        put_back(&b, Some(b"mine"));
        assert!(!a.exists() && fs::read(&b).unwrap() == b"mine");
    }
}
