//! Unsaved work of an earlier run.

use crate::layout::Layout;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// Unsaved work of an earlier run.
#[derive(Debug, Clone)]
pub struct Recovered {
    /// Where it is kept.
    pub path: PathBuf,
    /// The work.
    pub layout: Layout,
    /// The layout's own file, if it had one.
    pub file: Option<PathBuf>,
    /// When it was kept.
    pub kept_at: Option<SystemTime>,
}

impl Recovered {
    /// Forgets it: it has been taken over, or given up.
    ///
    /// # Errors
    /// What the system said.
    pub fn forget(&self) -> io::Result<()> {
        forget(&self.path)
    }
}

/// Removes a kept file and the backups that earlier versions made of it; one that is gone already is no error.
pub(super) fn forget(path: &Path) -> io::Result<()> {
    for path in std::iter::once(path.to_owned()).chain(crate::store::backup_paths(path)) {
        match fs::remove_file(path) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            _ => {}
        }
    }
    Ok(())
}
