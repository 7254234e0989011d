//! The file that a save is about: where a link leads, and whether it may be written.

use super::SaveError;
use crate::store::read::refuse_irregular;
use crate::store::system::OwnFault;
use std::fs::{self, Metadata, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};

/// Most links that are followed, as on Linux (manual page `path_resolution`, section 7).
const MOST_LINKS: usize = 40;

/// Where a path leads when its last part is a link, or a link to a link; what is at the end need not be there.
pub(super) fn follow(path: &Path) -> io::Result<PathBuf> {
    let mut path = path.to_owned();
    for _ in 0..MOST_LINKS {
        match fs::symlink_metadata(&path) {
            Ok(metadata) if metadata.is_symlink() => path = folder_of(&path).join(fs::read_link(&path)?),
            _ => return Ok(path),
        }
    }
    Err(OwnFault::LinkCircle.into())
}

/// The folder that a file is in.
pub(super) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."))
}

/// What is there now, links followed; none where nothing is. Anything but a regular file is refused.
pub(super) fn look(path: &Path) -> io::Result<Option<Metadata>> {
    match fs::metadata(path) {
        Ok(metadata) => {
            refuse_irregular(&metadata)?;
            Ok(Some(metadata))
        }
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}

/// Refuses a file that whoever made it wanted left alone. Renaming over it would not ask.
pub(super) fn refuse_protected(path: &Path, metadata: &Metadata) -> io::Result<()> {
    if is_protected(path, metadata) {
        return Err(OwnFault::Protected.into());
    }
    Ok(())
}

fn is_protected(path: &Path, metadata: &Metadata) -> bool {
    let is_denied = |error: io::Error| error.kind() == io::ErrorKind::PermissionDenied;
    metadata.permissions().readonly() || OpenOptions::new().write(true).open(path).is_err_and(is_denied)
}

/// Whether there is a file here that is write-protected, so that a save would be refused.
#[must_use]
pub fn is_write_protected(path: &Path) -> bool {
    look(path).ok().flatten().is_some_and(|metadata| is_protected(path, &metadata))
}

/// Lets the owner of a file write to it.
///
/// # Errors
/// [`SaveError`] when the system refuses, as for another's file.
pub fn allow_writing(path: &Path) -> Result<(), SaveError> {
    let allow = || {
        let mut permissions = fs::metadata(path)?.permissions();
        permit_owner(&mut permissions);
        fs::set_permissions(path, permissions)
    };
    allow().map_err(|source| SaveError { path: path.to_owned(), source })
}

#[cfg(unix)]
fn permit_owner(permissions: &mut fs::Permissions) {
    use std::os::unix::fs::PermissionsExt as _;
    permissions.set_mode(permissions.mode() | 0o200);
}

#[cfg(not(unix))]
fn permit_owner(permissions: &mut fs::Permissions) {
    permissions.set_readonly(false);
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use crate::store::{backup_path, save};
    use std::os::unix::fs::{PermissionsExt as _, symlink};

    /// The link itself used to be replaced by a file.
    #[test]
    fn a_save_goes_where_a_link_leads() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        fs::create_dir(at("shared")).unwrap();
        fs::write(at("shared/tee.ron"), "one").unwrap();
        symlink("shared/tee.ron", at("middle.ron")).unwrap();
        symlink("middle.ron", at("tee.ron")).unwrap();
        save(&at("tee.ron"), b"two").unwrap();
        assert!(fs::symlink_metadata(at("tee.ron")).unwrap().is_symlink());
        assert_eq!(fs::read(at("shared/tee.ron")).unwrap(), b"two");
        assert_eq!(backup_path(&at("tee.ron")), at("shared/tee.ron.bak"));
        assert_eq!(fs::read(at("shared/tee.ron.bak")).unwrap(), b"one");
        // One that leads to nothing yet.
        symlink("shared/new.ron", at("new.ron")).unwrap();
        save(&at("new.ron"), b"three").unwrap();
        assert_eq!(fs::read(at("shared/new.ron")).unwrap(), b"three");
        symlink("round.ron", at("round.ron")).unwrap();
        let said = save(&at("round.ron"), b"four").unwrap_err().to_string();
        assert!(said.contains("round.ron: could not be written: its links lead in a circle; "), "{said}");
    }

    /// It used to be overwritten without a question.
    #[test]
    fn a_write_protected_file_is_left_alone_until_writing_is_allowed() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("tee.ron");
        fs::write(&path, "one").unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o440)).unwrap();
        save(&path, b"one").unwrap();
        assert!(is_write_protected(&path));
        let said = save(&path, b"two").unwrap_err().to_string();
        assert!(said.ends_with("it is write-protected; allow writing to it, or give another name"), "{said}");
        assert_eq!(fs::read(&path).unwrap(), b"one");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        allow_writing(&path).unwrap();
        save(&path, b"two").unwrap();
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o640);
        assert!(!is_write_protected(&path) && !is_write_protected(folder.path()));
    }

    /// Saving over the null device as the administrator used to replace it by a file; a pipe used to hang.
    #[test]
    fn what_is_no_file_is_not_saved_over() {
        let folder = tempfile::tempdir().unwrap();
        let pipe = folder.path().join("pipe.ron");
        assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
        for (path, what) in [(pipe.as_path(), "pipe"), (Path::new("/dev/null"), "device"), (folder.path(), "folder")] {
            let said = save(path, b"x").unwrap_err().to_string();
            assert!(said.contains(&format!("could not be written: it is a {what}")), "{said}");
        }
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }
}
