//! Something of the day's that is being written and has a file: its steps back and forth, and what of it the file holds.

use crate::store::{SaveError, file_said, save_all};
use crate::telling::{AnyRefusal, Refused, Told, Voice};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

/// A state and what led to it or away from it.
type Step<T> = (String, Arc<T>);

/// Most steps back that are kept. Own choice.
const MOST_STEPS: usize = 200;

/// Something being written.
#[derive(Debug)]
pub(super) struct Work<T> {
    now: Arc<T>,
    back: Vec<Step<T>>,
    forward: Vec<Step<T>>,
    /// The state that its file holds, or that it began with.
    saved: Option<Arc<T>>,
    path: Option<PathBuf>,
    /// When its file was written, as far as is known.
    written: Option<SystemTime>,
}

/// That somebody else wrote to its file.
#[derive(Debug)]
struct Changed(PathBuf);

impl Refused for Changed {
    fn told(&self, voice: Voice) -> Told {
        let cure = "save again to overwrite it, which keeps it as a backup, or save under another name";
        Told::new("changed by another program since it was opened", cure).at(file_said(&self.0, voice))
    }
}

impl<T: Clone + PartialEq> Work<T> {
    /// What is in a file, or needs none until it is changed.
    pub(super) fn of(value: T, path: Option<PathBuf>) -> Self {
        let mut work = Self::unsaved(value, path);
        work.saved = Some(work.now.clone());
        work
    }

    /// What would be missed, whatever its file holds.
    pub(super) fn unsaved(value: T, path: Option<PathBuf>) -> Self {
        let written = path.as_deref().and_then(modified);
        Self { saved: None, now: Arc::new(value), back: Vec::new(), forward: Vec::new(), path, written }
    }

    /// The state now.
    pub(super) fn now(&self) -> &Arc<T> {
        &self.now
    }

    /// Its file, if it has one.
    pub(super) fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// Whether it holds what no file does and was not there when it began.
    pub(super) fn is_unsaved(&self) -> bool {
        self.saved.as_ref().is_none_or(|saved| **saved != *self.now)
    }

    /// Changes it, as one step with a name such as "the size of row 2".
    pub(super) fn change(&mut self, what: &str, change: impl FnOnce(&mut T)) {
        let mut value = (*self.now).clone();
        change(&mut value);
        self.set(what, value);
    }

    /// The same with a value that is at hand.
    pub(super) fn set(&mut self, what: &str, value: T) {
        if value != *self.now {
            let before = std::mem::replace(&mut self.now, Arc::new(value));
            self.back.push((what.to_owned(), before));
            self.forward.clear();
            let beyond = self.back.len().saturating_sub(MOST_STEPS);
            self.back.drain(..beyond);
        }
    }

    /// What undo would take back, and what redo would do again.
    pub(super) fn steps(&self) -> [Option<&str>; 2] {
        [&self.back, &self.forward].map(|steps| steps.last().map(|(what, _)| what.as_str()))
    }

    /// Whether a step of that name led to the state now.
    pub(super) fn has_step(&self, what: &str) -> bool {
        self.back.iter().any(|(step, _)| step == what)
    }

    pub(super) fn undo(&mut self) {
        step(&mut self.back, &mut self.now, &mut self.forward);
    }

    pub(super) fn redo(&mut self) {
        step(&mut self.forward, &mut self.now, &mut self.back);
    }

    /// Changes every state that there is or was, and makes no step of it.
    pub(super) fn in_every_state(&mut self, change: impl Fn(&mut T)) {
        let steps = self.back.iter_mut().chain(&mut self.forward).map(|(_, value)| value);
        std::iter::once(&mut self.now).chain(&mut self.saved).chain(steps).for_each(|value| {
            let mut other = (**value).clone();
            change(&mut other);
            if other != **value {
                *value = Arc::new(other);
            }
        });
    }

    /// Tells once that somebody else wrote to its file since it was read or saved; the next time it may be overwritten.
    pub(super) fn look_before_saving(&mut self, path: &Path) -> Result<(), AnyRefusal> {
        let found = modified(path);
        if self.path.as_deref() == Some(path) && found.is_some() && found != self.written {
            self.written = found;
            return Err(Changed(path.to_owned()).into());
        }
        Ok(())
    }

    /// Writes a text to `path`, which becomes its own file, and other files beside it: all or none. What stood there is kept as backups.
    /// The file then holds `value`: the state now, as it is called there.
    pub(super) fn write(&mut self, path: &Path, text: &str, value: T, beside: &[(&Path, &[u8])]) -> Result<(), SaveError> {
        let files: Vec<_> = beside.iter().copied().chain([(path, text.as_bytes())]).collect();
        save_all(&files)?;
        self.now = Arc::new(value);
        self.saved = Some(self.now.clone());
        self.path = Some(path.to_owned());
        self.written = modified(path);
        Ok(())
    }
}

fn step<T>(from: &mut Vec<Step<T>>, now: &mut Arc<T>, to: &mut Vec<Step<T>>) {
    if let Some((what, other)) = from.pop() {
        let before = std::mem::replace(now, other);
        to.push((what, before));
    }
}

/// When a file was written; none where there is none.
fn modified(path: &Path) -> Option<SystemTime> {
    fs::metadata(path).and_then(|metadata| metadata.modified()).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_taken_back_and_done_again() {
        let mut work = Work::of(2, None);
        work.change("the number", |number| *number = 2);
        assert_eq!(work.steps(), [None, None], "nothing was changed");
        work.change("the number", |number| *number = 5);
        assert_eq!((work.steps(), work.is_unsaved()), ([Some("the number"), None], true));
        work.undo();
        assert_eq!((**work.now(), work.steps(), work.is_unsaved()), (2, [None, Some("the number")], false));
        work.redo();
        assert_eq!(**work.now(), 5);
        work.undo();
        work.change("the number", |number| *number = 7);
        assert_eq!(work.steps(), [Some("the number"), None], "another way forward");
    }

    /// Somebody else's change of the file is told before it is overwritten, and kept then.
    #[test]
    fn a_file_changed_meanwhile_is_told_once() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("work.ron");
        let mut work = Work::of(1, None);
        work.write(&path, "one", 1, &[]).unwrap();
        work.look_before_saving(&path).unwrap();
        std::thread::sleep(std::time::Duration::from_millis(20));
        fs::write(&path, "theirs").unwrap();
        let told = work.look_before_saving(&path).unwrap_err().say(Voice::FILE);
        assert!(told.contains("changed by another program"), "{told}");
        work.look_before_saving(&path).unwrap();
        work.write(&path, "two", 2, &[]).unwrap();
        assert_eq!(fs::read_to_string(home.path().join("work.ron.bak")).unwrap(), "theirs");
    }
}
