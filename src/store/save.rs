//! Writing files so that nothing is lost: never half a file, never the earlier one gone.

use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

/// Why a file could not be written. The earlier file, if there was one, is as it was.
#[derive(Debug, thiserror::Error)]
#[error("{} could not be written: {source}", path.display())]
pub struct SaveError {
    /// The file.
    pub path: PathBuf,
    /// What the system said.
    pub source: io::Error,
}

/// Writes a whole file: to a temporary file in the same folder, flushed to the disk, then renamed over the name. At every moment
/// the name holds the earlier content or the new one, whole. An earlier file with other content is kept under
/// [`backup_path`], replacing an earlier backup; one with the same content is left alone.
///
/// # Errors
/// [`SaveError`] when the folder is missing or the system refuses; nothing half-written is left behind.
pub fn save(path: &Path, content: &[u8]) -> Result<(), SaveError> {
    write_whole(path, content).map_err(|source| SaveError { path: path.to_owned(), source })
}

fn write_whole(path: &Path, content: &[u8]) -> io::Result<()> {
    if path.is_dir() {
        return Err(io::Error::new(io::ErrorKind::IsADirectory, "it is a folder"));
    }
    let earlier = path.exists();
    if earlier && fs::read(path)? == content {
        return Ok(());
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."));
    let mut temporary = tempfile::Builder::new().prefix(".pleatwright-").tempfile_in(folder)?;
    temporary.write_all(content)?;
    temporary.as_file().sync_all()?;
    keep_permissions(path, temporary.as_file())?;
    if earlier {
        fs::copy(path, backup_path(path))?;
    }
    temporary.persist(path).map_err(|error| error.error)?;
    Ok(())
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

/// The name under which an earlier file is kept: `tee.ron` as `tee.ron.bak`.
#[must_use]
pub fn backup_path(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".bak");
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

    #[test]
    fn a_refused_write_leaves_nothing_behind() {
        let folder = tempfile::tempdir().unwrap();
        let inside = folder.path().join("sheets");
        fs::create_dir(&inside).unwrap();
        assert!(save(&inside, b"x").unwrap_err().to_string().contains("it is a folder"));
        assert!(save(&folder.path().join("none/x.pdf"), b"x").is_err());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        assert_eq!(fs::read_dir(&inside).unwrap().count(), 0);
    }
}
