//! What saving asks of the system, in one place: a test can refuse any of it, or break off there as a kill does.

use std::fs::{self, File, OpenOptions, Permissions};
use std::io::{self, Write as _};
use std::path::Path;

/// The system's calls; each does what its name says.
pub(super) trait Disk {
    /// A new file, which must not be there yet; a private one is its owner's only.
    fn create(&self, path: &Path, private: bool) -> io::Result<File> {
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        if private {
            std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        }
        #[cfg(not(unix))]
        let _ = private;
        options.open(path)
    }

    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
        file.write_all(bytes)
    }

    fn permit(&self, file: &File, permissions: Permissions) -> io::Result<()> {
        file.set_permissions(permissions)
    }

    fn sync(&self, file: &File) -> io::Result<()> {
        file.sync_all()
    }

    /// Has the names in a folder written to the disk, where the system can.
    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        sync_folder(folder)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }
}

/// The system as it is.
#[derive(Debug)]
pub(super) struct System;

impl Disk for System {}

#[cfg(unix)]
fn sync_folder(folder: &Path) -> io::Result<()> {
    use io::ErrorKind as Kind;
    match File::open(folder).and_then(|folder| folder.sync_all()) {
        // A folder that may be written to but not read, or a kind of disk that does not know this.
        Err(error) if matches!(error.kind(), Kind::PermissionDenied | Kind::InvalidInput | Kind::Unsupported) => Ok(()),
        result => result,
    }
}

/// Elsewhere folders can't be opened as files.
#[cfg(not(unix))]
fn sync_folder(_folder: &Path) -> io::Result<()> {
    Ok(())
}
