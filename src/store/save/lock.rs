//! One save at a time in a folder: two that move the same backups at once would lose some.

use super::target::folder_of;
use crate::store::system::OwnFault;
use std::fs::{File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// How long a save waits for another one in the same folder. One takes some hundredths of a second. Own choice.
const PATIENCE: Duration = Duration::from_secs(5);
/// From one look to the next.
const LOOK_EVERY: Duration = Duration::from_millis(3);

/// Folders in which nobody else saves as long as this lives; the system lets go of them however the program ends.
#[derive(Debug)]
pub(super) struct Held {
    /// Each folder, and its lock: none where the kind of disk knows no locks.
    folders: Vec<(PathBuf, Option<File>)>,
}

impl Held {
    /// Waits for the folders of these files.
    pub(super) fn of<'a>(files: impl Iterator<Item = &'a Path>) -> Result<Self, (&'a Path, io::Error)> {
        Self::within(PATIENCE, files)
    }

    fn within<'a>(patience: Duration, files: impl Iterator<Item = &'a Path>) -> Result<Self, (&'a Path, io::Error)> {
        let mut wanted = Vec::new();
        for file in files {
            wanted.push((folder(file).map_err(|error| (file, error))?, file));
        }
        // In one order for everybody, so that no two wait for each other.
        wanted.sort();
        wanted.dedup_by(|(later, _), (earlier, _)| later == earlier);
        let until = Instant::now() + patience;
        let mut folders = Vec::new();
        for (folder, file) in wanted {
            let lock = wait_for(&folder, until).map_err(|error| (file, error))?;
            folders.push((folder, lock));
        }
        Ok(Self { folders })
    }

    /// The folders, and whether each is held for sure.
    pub(super) fn folders(&self) -> impl Iterator<Item = (&Path, bool)> {
        self.folders.iter().map(|(folder, lock)| (folder.as_path(), lock.is_some()))
    }
}

/// The folder of a file under the one name that everybody knows it by.
fn folder(file: &Path) -> io::Result<PathBuf> {
    match folder_of(file).canonicalize() {
        Ok(folder) if folder.is_dir() => Ok(folder),
        Ok(_) => Err(OwnFault::FolderIsFile.into()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Err(OwnFault::NoFolder.into()),
        Err(error) => Err(error),
    }
}

/// The lock of a folder; none where there is none to be had.
fn wait_for(folder: &Path, until: Instant) -> io::Result<Option<File>> {
    let Ok(file) = lock_file(folder) else { return Ok(None) };
    loop {
        match file.try_lock() {
            Ok(()) => return Ok(Some(file)),
            Err(TryLockError::WouldBlock) if Instant::now() < until => std::thread::sleep(LOOK_EVERY),
            Err(TryLockError::WouldBlock) => return Err(OwnFault::FolderBusy.into()),
            Err(TryLockError::Error(_)) => return Ok(None),
        }
    }
}

/// The folder itself can be locked, which leaves nothing behind.
#[cfg(unix)]
fn lock_file(folder: &Path) -> io::Result<File> {
    File::open(folder)
}

/// Elsewhere a folder can't: a file stands for it among the temporary ones.
#[cfg(not(unix))]
fn lock_file(folder: &Path) -> io::Result<File> {
    use sha2::{Digest as _, Sha256};
    let digest = Sha256::digest(folder.as_os_str().as_encoded_bytes());
    let name: String = digest.iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    File::create(std::env::temp_dir().join(format!("pleatwright-saving-{name}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_is_held_by_one_and_the_others_are_told() {
        let folder = tempfile::tempdir().unwrap();
        let [a, b] = ["a.ron", "b.ron"].map(|name| folder.path().join(name));
        let held = Held::of([a.as_path(), &b].into_iter()).unwrap();
        assert_eq!(held.folders().map(|(_, sure)| sure).collect::<Vec<_>>(), [true]);
        let (path, refused) = Held::within(Duration::ZERO, [b.as_path()].into_iter()).unwrap_err();
        assert_eq!((path, refused.kind()), (b.as_path(), io::ErrorKind::ResourceBusy));
        drop(held);
        assert!(Held::within(Duration::ZERO, [b.as_path()].into_iter()).is_ok());
    }
}
