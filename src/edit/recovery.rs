//! What is not saved yet, kept where a crash can't take it.

use super::Document;
use super::recovered::{Recovered, forget};
use crate::store::{MOST_TEXT_BYTES, SaveError, parse_layout, read_regular_text, save_over};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The folder in which unsaved work is kept while it is unsaved.
#[derive(Debug, Clone)]
pub struct RecoveryFolder {
    folder: PathBuf,
}

/// How the comment begins that names the layout's own file; the name follows in double quotes.
const OF_FILE: &str = "// unsaved work on ";

impl RecoveryFolder {
    /// Keeps it in this folder, which is made when it is needed.
    #[must_use]
    pub fn new(folder: PathBuf) -> Self {
        Self { folder }
    }

    /// Keeps a document's state as the work of one run of the program, named by `run`, in the place of what was kept for it before.
    ///
    /// # Errors
    /// [`SaveError`]; what was kept before is then as it was.
    pub fn keep(&self, run: &str, document: &Document) -> Result<(), SaveError> {
        let path = self.path(run);
        fs::create_dir_all(&self.folder).map_err(|source| SaveError { path: path.clone(), source })?;
        save_over(&path, (of_file(document.path()) + &document.text()).as_bytes())
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
            let kept_at = fs::metadata(&path).and_then(|metadata| metadata.modified()).ok();
            let text = read_regular_text(&path, MOST_TEXT_BYTES).ok()?;
            Some(Recovered { layout: parse_layout(&text).ok()?, file: file_of(&text), kept_at, path })
        };
        paths.into_iter().filter_map(read).collect()
    }

    fn path(&self, run: &str) -> PathBuf {
        self.folder.join(format!("{run}.ron"))
    }
}

/// The comment that names a layout's own file. The text below stays a layout that can be opened by hand.
fn of_file(path: Option<&Path>) -> String {
    let name = path.and_then(Path::to_str).and_then(|name| ron::to_string(name).ok());
    name.map_or_else(String::new, |name| format!("{OF_FILE}{name}\n"))
}

fn file_of(text: &str) -> Option<PathBuf> {
    let name = text.lines().next()?.strip_prefix(OF_FILE)?;
    ron::from_str::<String>(name).ok().map(PathBuf::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{EditCommand, OnDisk};
    use crate::store::EXAMPLE_LAYOUTS;
    use std::time::SystemTime;

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
        assert_eq!(fs::read_dir(place.path().join("kept")).unwrap().count(), 1, "no backups: the work is its own history");
        let kept = folder.kept();
        assert_eq!((kept.len(), &kept[0].file), (1, &None));
        assert!(kept[0].kept_at.is_some_and(|at| at.elapsed().is_ok_and(|age| age.as_secs() < 60)));
        assert_eq!(kept[0].layout.raw(), document.layout().raw());
        folder.forget("run-1").unwrap();
        folder.forget("run-1").unwrap();
        assert!(folder.kept().is_empty() && fs::read_dir(place.path().join("kept")).unwrap().next().is_none());
    }

    /// Two works on one layout used to look alike; and a recovered one had forgotten its file.
    #[test]
    fn the_file_is_remembered_and_one_written_meanwhile_is_not_saved_over_unasked() {
        let place = tempfile::tempdir().unwrap();
        let folder = RecoveryFolder::new(place.path().join("kept"));
        let file = place.path().join("a \"tee\"\n.ron");
        let mut document = Document::new(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap());
        document.save(&file).unwrap();
        document.perform(&EditCommand::SetGuideRadius(200.0)).unwrap();
        folder.keep("run-1", &document).unwrap();
        let [work] = &folder.kept()[..] else { panic!("one work is kept") };
        assert_eq!(work.file.as_ref(), Some(&file));
        let mut again = Document::recovered(work);
        assert!(again.is_unsaved() && again.on_disk() == OnDisk::AsLeft);
        assert_eq!((again.path(), again.text()), (Some(file.as_path()), document.text()));
        let later = fs::File::options().write(true).open(&file).unwrap();
        later.set_modified(SystemTime::now() + std::time::Duration::from_secs(5)).unwrap();
        assert_eq!(Document::recovered(work).on_disk(), OnDisk::Changed);
        again.save_over(&file).unwrap();
        assert!(!again.is_unsaved());
    }
}
