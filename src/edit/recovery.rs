//! What is not saved yet, kept where a crash can't take it.

use super::Document;
use crate::layout::Layout;
use crate::store::{SaveError, parse_layout, save};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The folder in which unsaved work is kept while it is unsaved.
#[derive(Debug, Clone)]
pub struct RecoveryFolder {
    folder: PathBuf,
}

/// Unsaved work of an earlier run.
#[derive(Debug, Clone)]
pub struct Recovered {
    /// Where it is kept.
    pub path: PathBuf,
    /// The work.
    pub layout: Layout,
}

impl RecoveryFolder {
    /// Keeps it in this folder, which is made when it is needed.
    #[must_use]
    pub fn new(folder: PathBuf) -> Self {
        Self { folder }
    }

    /// Keeps a document's state as the work of one run of the program, named by `run`, in the place of what was kept for it before.
    ///
    /// # Errors
    /// [`SaveError`].
    pub fn keep(&self, run: &str, document: &Document) -> Result<(), SaveError> {
        let path = self.path(run);
        fs::create_dir_all(&self.folder).map_err(|source| SaveError { path: path.clone(), source })?;
        save(&path, document.text().as_bytes())
    }

    /// Forgets what was kept for a run: it has been saved, or given up.
    ///
    /// # Errors
    /// What the system said.
    pub fn forget(&self, run: &str) -> io::Result<()> {
        forget(&self.path(run))
    }

    /// Everything kept, oldest name first. What can't be read any more is left out and left alone.
    #[must_use]
    pub fn kept(&self) -> Vec<Recovered> {
        let entries = fs::read_dir(&self.folder).map(|entries| entries.flatten().map(|entry| entry.path()).collect());
        let mut paths: Vec<PathBuf> = entries.unwrap_or_default();
        paths.retain(|path| path.extension().is_some_and(|ending| ending == "ron"));
        paths.sort();
        let read = |path: PathBuf| {
            let text = fs::read_to_string(&path).ok()?;
            Some(Recovered { layout: parse_layout(&text).ok()?, path })
        };
        paths.into_iter().filter_map(read).collect()
    }

    fn path(&self, run: &str) -> PathBuf {
        self.folder.join(format!("{run}.ron"))
    }
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

/// Removes a kept file and its backup; one that is gone already is no error.
fn forget(path: &Path) -> io::Result<()> {
    for path in std::iter::once(path.to_owned()).chain(crate::store::backup_paths(path)) {
        match fs::remove_file(path) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            _ => {}
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::EditCommand;
    use crate::store::EXAMPLE_LAYOUTS;

    #[test]
    fn work_is_kept_until_it_is_forgotten() {
        let place = tempfile::tempdir().unwrap();
        let folder = RecoveryFolder::new(place.path().join("kept"));
        assert!(folder.kept().is_empty());
        let mut document = Document::new(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap());
        document.perform(&EditCommand::SetGuideRadius(200.0)).unwrap();
        folder.keep("run-1", &document).unwrap();
        document.perform(&EditCommand::SetGuideRadius(210.0)).unwrap();
        folder.keep("run-1", &document).unwrap();
        let kept = folder.kept();
        assert_eq!(kept.len(), 1);
        assert_eq!(kept[0].layout.raw(), document.layout().raw());
        folder.forget("run-1").unwrap();
        folder.forget("run-1").unwrap();
        assert!(folder.kept().is_empty() && fs::read_dir(place.path().join("kept")).unwrap().next().is_none());
    }
}
