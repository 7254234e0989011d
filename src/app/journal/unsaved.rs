//! What is written and in no journal yet, kept where closing the program or a crash can't take it.

use super::form::Form;
use crate::app::run::Run;
use crate::layout::Layout;
use crate::measure::LengthStyle;
use crate::plan::RunReport;
use crate::store::{FileFault, FileWork, backup_paths, file_said, layout_text, read_text, save_over};
use crate::telling::{AnyRefusal, Told, Voice};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The format of the file; a newer program's is left alone.
const FORMAT: u32 = 1;

/// What is written for a new entry about a layout that may not be open any more.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Aside {
    /// Tells it from others in this run.
    #[serde(skip)]
    pub(super) number: u64,
    /// The layout's name.
    pub(super) name: String,
    /// The layout as it was, as a file would hold it.
    pub(super) layout: String,
    pub(super) form: Form,
}

impl Aside {
    pub(super) fn new(number: u64, layout: &Layout, form: Form) -> Self {
        Self { number, name: layout.name().to_owned(), layout: layout_text(layout.raw()), form }
    }

    /// What a run tells of a garment.
    pub(super) fn of_run(number: u64, report: &RunReport) -> Self {
        let which = if report.garment.is_empty() { String::new() } else { format!(", {}", report.garment) };
        Self { number, name: format!("{}{which}", report.of), layout: report.layout.clone(), form: Form::of_run(report) }
    }
}

/// Everything that is written and in no journal yet.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Unsaved {
    format: u32,
    /// For new entries.
    pub(super) new: Vec<Aside>,
    /// What entries are to say otherwise.
    pub(super) amended: BTreeMap<String, Form>,
}

impl Unsaved {
    pub(super) fn new(new: Vec<Aside>, amended: BTreeMap<String, Form>) -> Self {
        Self { format: FORMAT, new, amended }
    }

    fn is_empty(&self) -> bool {
        self.new.is_empty() && self.amended.is_empty()
    }

    /// Adds what another run has left, unless both amend the same entry.
    fn joined(&mut self, other: Self) -> bool {
        let apart = other.amended.keys().all(|id| !self.amended.contains_key(id));
        if apart {
            self.new.extend(other.new);
            self.amended.extend(other.amended);
        }
        apart
    }
}

/// The file in which a run keeps it.
#[derive(Debug)]
pub(super) struct UnsavedFile {
    path: PathBuf,
    /// Files of earlier runs whose texts this one holds, until its own file does.
    taken: Vec<PathBuf>,
}

impl UnsavedFile {
    /// The file of a run, among others in a folder.
    pub(super) fn new(folder: &Path, run: &Run) -> Self {
        Self { path: folder.join(run.name()).with_extension("ron"), taken: Vec::new() }
    }

    /// What runs that are over have left, and a sentence for each file that can't be read. Those files are left alone.
    pub(super) fn take_up(&mut self, run: &Run) -> (Unsaved, Vec<AnyRefusal>) {
        let folder = self.path.parent().unwrap_or(&self.path);
        let files = fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
        let mut files: Vec<PathBuf> =
            files.filter(|path| path.extension().is_some_and(|ending| ending == "ron") && !run.goes_on(path)).collect();
        // What was written last counts first, where two amend the same entry.
        files.sort();
        let (mut all, mut refused) = (Unsaved::new(Vec::new(), BTreeMap::new()), Vec::new());
        for path in files.into_iter().rev() {
            match read(&path) {
                // What is left out here the next start takes up, when the entry is amended.
                Ok(unsaved) => self.taken.extend(all.joined(unsaved).then_some(path)),
                Err(refusal) => refused.push(refusal),
            }
        }
        (all, refused)
    }

    /// Keeps it; nothing removes the file.
    ///
    /// # Errors
    /// A sentence when the system refuses; the earlier content is still there then.
    pub(super) fn keep(&mut self, unsaved: &Unsaved) -> Result<(), AnyRefusal> {
        if unsaved.is_empty() {
            remove(&self.path).map_err(FileFault::of(&self.path, FileWork::Remove))?;
        } else {
            let folder = self.path.parent().unwrap_or(&self.path);
            fs::create_dir_all(folder).map_err(FileFault::of(folder, FileWork::Make))?;
            let text = ron::ser::to_string_pretty(unsaved, ron::ser::PrettyConfig::new()).map_err(|_error| unwritable())?;
            save_over(&self.path, text.as_bytes())?;
        }
        for path in self.taken.drain(..) {
            let _gone = remove(&path);
        }
        Ok(())
    }
}

fn unwritable() -> Told {
    Told::new("unsaved journal text can't be saved", "copy it elsewhere before you quit")
}

fn read(path: &Path) -> Result<Unsaved, AnyRefusal> {
    let text = read_text(path)?;
    let unread = |what: &str, cure: &str| Told::new(what, cure).at(file_said(path, Voice::window(LengthStyle::default())));
    let unsaved: Unsaved = ron::from_str(&text)
        .map_err(|_error| unread("unsaved journal text can't be read", "the file is left as it is; open it in a text editor"))?;
    if unsaved.format > FORMAT {
        return Err(unread("unsaved journal text is from a newer version", "open it with that version").into());
    }
    Ok(unsaved)
}

/// Removes a file and its backups; one that is gone already is no error.
fn remove(path: &Path) -> io::Result<()> {
    for path in std::iter::once(path.to_owned()).chain(backup_paths(path)) {
        match fs::remove_file(path) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            _ => {}
        }
    }
    Ok(())
}
