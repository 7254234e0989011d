//! The document: a layout with its history, its figures and its file.

use super::change::{Change, Changed, Tie, tie_of};
use super::{EditCommand, History, Recovered};
use crate::layout::{Figures, Layout, LayoutError, LayoutSpec};
use crate::store::file_said;
use crate::store::{
    FileKind, OtherKind, ReadError, SaveError, layout_text, read_layout, reads_as_bundle, refuse_other_kind, save,
};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

/// A layout being worked on. Right at every moment: a change that would make it wrong is refused.
#[derive(Debug, Clone)]
pub struct Document {
    history: History,
    layout: Arc<Layout>,
    figures: Arc<Figures>,
    /// Which of several ties is worked on.
    tie: Tie,
    /// The state that the file holds, or that it began with.
    saved: Option<Arc<LayoutSpec>>,
    counted: Option<Counted>,
    path: Option<PathBuf>,
    written: Option<SystemTime>,
}

/// A number of binds tried after another: each is worked out from what the first began with, so that going back to a number goes back to
/// its gaps.
#[derive(Debug, Clone)]
struct Counted {
    began: Arc<Layout>,
    now: Arc<LayoutSpec>,
}

/// What has become of a document's file since it was read or saved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OnDisk {
    /// It is as it was left, or there is none yet.
    AsLeft,
    /// Somebody else wrote to it.
    Changed,
    /// It was removed, or has another name now.
    Gone,
}

/// Why a document could not be opened or saved.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum DocumentError {
    /// It could not be read.
    Read(#[from] ReadError),
    /// It could not be written.
    Save(#[from] SaveError),
    /// The file holds something else than a layout.
    OtherKind(#[from] OtherKind),
    /// Somebody else wrote to the file since it was read.
    ChangedOnDisk {
        /// The file.
        path: PathBuf,
    },
}

displayed_as_in_files!(DocumentError);

impl Refused for DocumentError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Read(error) => error.told(voice),
            Self::Save(error) => error.told(voice),
            Self::OtherKind(error) => error.told(voice),
            Self::ChangedOnDisk { path } => {
                Told::new("changed by another program since it was opened", "save under another name, or open it again")
                    .at(file_said(path, voice))
            }
        }
    }
}

impl Document {
    /// A document of a layout that has no file yet and needs none until it is changed: an example, a garment to begin with.
    #[must_use]
    pub fn new(layout: Layout) -> Self {
        let mut document = Self::unsaved(layout);
        document.saved = Some(document.history.current().clone());
        document
    }

    /// A document of a layout that no file holds and that would be missed.
    #[must_use]
    pub fn unsaved(layout: Layout) -> Self {
        let raw = Arc::new(layout.raw().clone());
        let (layout, figures) = (Arc::new(layout.clone()), Arc::new(Figures::of(&layout)));
        Self {
            history: History::new(raw),
            tie: tie_of(&layout, &figures, 0),
            layout,
            figures,
            saved: None,
            counted: None,
            path: None,
            written: None,
        }
    }

    /// Opens a layout file; a bundle's layout as a new one, which is to be saved elsewhere.
    ///
    /// # Errors
    /// [`ReadError`].
    pub fn open(path: &Path) -> Result<Self, ReadError> {
        if reads_as_bundle(path) {
            return read_layout(path).map(Self::unsaved);
        }
        let mut document = Self::new(read_layout(path)?);
        document.saved = Some(document.history.current().clone());
        document.path = Some(path.to_owned());
        document.written = modified(path);
        Ok(document)
    }

    /// The document of an earlier run's unsaved work, with its own file. One that was written to after the work was kept counts as
    /// changed by somebody else.
    #[must_use]
    pub fn recovered(work: &Recovered) -> Self {
        let mut document = Self::unsaved(work.layout.clone());
        document.path.clone_from(&work.file);
        let modified = work.file.as_deref().and_then(modified);
        document.written = modified.map(|modified| work.kept_at.map_or(modified, |kept_at| modified.min(kept_at)));
        document
    }

    /// The layout now.
    #[must_use]
    pub fn layout(&self) -> &Arc<Layout> {
        &self.layout
    }

    /// Its figures.
    #[must_use]
    pub fn figures(&self) -> &Arc<Figures> {
        &self.figures
    }

    /// The tie that is worked on, as a layout of it alone: where there is one, the layout itself. What is [performed](Self::perform) is
    /// done to it.
    #[must_use]
    pub fn tie(&self) -> &Arc<Layout> {
        &self.tie.1
    }

    /// The figures of that tie.
    #[must_use]
    pub fn tie_figures(&self) -> &Arc<Figures> {
        &self.tie.2
    }

    /// Which of several ties is worked on, from 0.
    #[must_use]
    pub fn tie_number(&self) -> usize {
        self.tie.0
    }

    /// Works on another tie; on the last where there are fewer.
    pub fn work_on_tie(&mut self, number: usize) {
        self.tie = tie_of(&self.layout, &self.figures, number);
    }

    /// Its steps.
    #[must_use]
    pub fn history(&self) -> &History {
        &self.history
    }

    /// Its file, if it has one.
    #[must_use]
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// Whether it holds what no file does.
    #[must_use]
    pub fn is_unsaved(&self) -> bool {
        self.saved.as_ref() != Some(self.history.current())
    }

    /// Performs a change.
    ///
    /// # Errors
    /// [`LayoutError`] when the layout would be wrong after it; the document is as it was.
    pub fn perform(&mut self, command: &EditCommand) -> Result<(), LayoutError> {
        let changed = self.change(command).work_out()?;
        self.take(changed);
        Ok(())
    }

    /// A change of the document as it is now, to be worked out apart from it and then [taken](Self::take).
    #[must_use]
    pub fn change(&self, command: &EditCommand) -> Change {
        let began = match command {
            EditCommand::SetBindCount(_) => Some(self.counted_from()),
            _ => None,
        };
        let of_all = matches!(command, EditCommand::Ties(_) | EditCommand::TakeLearned(_) | EditCommand::InTie(..))
            || !self.layout.is_of_several();
        let command = command.clone();
        let command = if of_all { command } else { EditCommand::InTie(self.tie.0, Box::new(command)) };
        Change { command, from: self.layout.clone(), began, tie: self.tie.0 }
    }

    /// Takes what a change led to. Whether it did: not where something else was done to the document since.
    pub fn take(&mut self, changed: Changed) -> bool {
        let Changed { from, began, label, layout, figures, tie } = changed;
        if !Arc::ptr_eq(&from, &self.layout) {
            return false;
        }
        self.history.push(Arc::new(layout.raw().clone()), label);
        (self.layout, self.figures, self.tie) = (layout, figures, tie);
        self.counted = began.map(|began| Counted { began, now: self.history.current().clone() });
        true
    }

    /// The layout that another number of binds is worked out from.
    fn counted_from(&self) -> Arc<Layout> {
        match &self.counted {
            Some(counted) if counted.now == *self.history.current() => counted.began.clone(),
            _ => self.layout.clone(),
        }
    }

    /// Begins a gesture: what is performed until [`Self::end_gesture`] is one step.
    pub fn begin_gesture(&mut self, label: &str) {
        self.history.begin_gesture(label);
    }

    /// Ends the gesture.
    pub fn end_gesture(&mut self) {
        self.history.end_gesture();
    }

    /// Ends the gesture as if it had never been.
    pub fn drop_gesture(&mut self) {
        if self.history.drop_gesture() {
            self.show_current();
        }
    }

    /// One step back, if there is one.
    pub fn undo(&mut self) {
        if self.history.undo() {
            self.show_current();
        }
    }

    /// One step forward, if there is one.
    pub fn redo(&mut self) {
        if self.history.redo() {
            self.show_current();
        }
    }

    fn show_current(&mut self) {
        // Every state in the history was a right layout when it was made.
        if let Ok(layout) = Layout::try_from((**self.history.current()).clone()) {
            // The tie that is worked on stays so, whichever it is in the order now.
            let is_same = |tie: &Layout| tie.tie_name().is_some() && tie.tie_name() == self.tie.1.tie_name();
            self.tie.0 = layout.ties().iter().position(is_same).unwrap_or(self.tie.0);
            self.show(layout);
        }
    }

    fn show(&mut self, layout: Layout) {
        self.figures = Arc::new(Figures::of(&layout));
        self.layout = Arc::new(layout);
        self.work_on_tie(self.tie.0);
    }

    /// What has become of its file since it was read or saved.
    #[must_use]
    pub fn on_disk(&self) -> OnDisk {
        let (Some(path), Some(written)) = (&self.path, self.written) else { return OnDisk::AsLeft };
        match fs::metadata(path).and_then(|metadata| metadata.modified()) {
            Ok(modified) if modified == written => OnDisk::AsLeft,
            Err(error) if error.kind() == io::ErrorKind::NotFound => OnDisk::Gone,
            _ => OnDisk::Changed,
        }
    }

    /// Takes note that its file is gone: no file holds it any more.
    pub fn lose_file(&mut self) {
        self.saved = None;
        self.written = None;
    }

    /// Saves it to its own file, or to `path`, which becomes its own.
    ///
    /// # Errors
    /// [`DocumentError::ChangedOnDisk`] when its own file was changed by somebody else; else as for [`Document::save_over`].
    pub fn save(&mut self, path: &Path) -> Result<(), DocumentError> {
        if self.path.as_deref() == Some(path) && self.on_disk() == OnDisk::Changed {
            return Err(DocumentError::ChangedOnDisk { path: path.to_owned() });
        }
        self.save_over(path)
    }

    /// Saves it to `path`, which becomes its own, whatever layout stands there; what stood there is kept as a backup.
    ///
    /// # Errors
    /// [`DocumentError::OtherKind`] when something else than a layout stands there; [`DocumentError::Save`].
    pub fn save_over(&mut self, path: &Path) -> Result<(), DocumentError> {
        refuse_other_kind(path, FileKind::Layout, self.path.as_deref())?;
        self.history.end_gesture();
        save(path, self.text().as_bytes())?;
        self.saved = Some(self.history.current().clone());
        self.path = Some(path.to_owned());
        self.written = modified(path);
        Ok(())
    }

    /// The text that its file would hold.
    #[must_use]
    pub fn text(&self) -> String {
        layout_text(self.history.current())
    }
}

fn modified(path: &Path) -> Option<SystemTime> {
    fs::metadata(path).and_then(|metadata| metadata.modified()).ok()
}
