//! A save under way: what has been done so far, so that it can be taken back.

use super::backup::backup_paths;
use super::disk::Disk;
use super::target::{folder_of, look, refuse_protected};
use super::{Earlier, stage};
use std::cell::RefCell;
use std::io;
use std::path::{Path, PathBuf};

/// A file that is whole on the disk and has only to take its name.
#[derive(Debug)]
pub(super) struct Staged {
    target: PathBuf,
    new: PathBuf,
    /// A copy of the earlier content, where there is one to keep.
    copy: Option<PathBuf>,
    /// Whether there is an earlier content.
    replaces: bool,
}

/// Something that has been done.
#[derive(Debug)]
enum Step {
    /// A file has another name; nothing had that name.
    Moved { from: PathBuf, to: PathBuf },
    /// The name holds the new content.
    Placed { target: PathBuf, before: Before },
}

/// What a name held before.
#[derive(Debug)]
enum Before {
    Nothing,
    /// A content of which this is a copy.
    Copied(PathBuf),
    /// A content that nobody wants to keep.
    Dropped,
}

/// A save under way.
pub(super) struct Work<'a> {
    disk: &'a dyn Disk,
    steps: Vec<Step>,
    /// Files that have not taken a name to keep.
    temporary: RefCell<Vec<PathBuf>>,
}

impl<'a> Work<'a> {
    pub(super) fn new(disk: &'a dyn Disk) -> Self {
        Self { disk, steps: Vec::new(), temporary: RefCell::default() }
    }

    /// Writes the content beside its name, and a copy of what is there now; none where the file holds the content already. Changes
    /// no file that bears its name.
    pub(super) fn stage(&self, target: &Path, content: &[u8], earlier: Earlier) -> io::Result<Option<Staged>> {
        let metadata = look(target)?;
        if let Some(metadata) = &metadata {
            if stage::holds(target, metadata, content)? {
                return Ok(None);
            }
            refuse_protected(target, metadata)?;
        }
        let remember = |path: &Path| self.temporary.borrow_mut().push(path.to_owned());
        let new = stage::write(self.disk, folder_of(target), content, metadata.as_ref(), remember)?;
        let kept = metadata.as_ref().filter(|_| earlier == Earlier::Kept);
        let copy = kept.map(|metadata| stage::copy(self.disk, target, metadata, remember)).transpose()?;
        Ok(Some(Staged { target: target.to_owned(), new, copy, replaces: metadata.is_some() }))
    }

    /// Keeps the earlier content as the newest backup, then gives the new one its name.
    pub(super) fn place(&mut self, staged: Staged) -> io::Result<()> {
        let Staged { target, new, copy, replaces } = staged;
        let folder = folder_of(&target).to_owned();
        let before = match copy {
            Some(copy) => Before::Copied(self.keep(&target, copy)?),
            None if replaces => Before::Dropped,
            None => Before::Nothing,
        };
        if matches!(before, Before::Copied(_)) {
            // The backup's name is on the disk before the file's changes.
            self.disk.sync_folder(&folder)?;
        }
        self.disk.rename(&new, &target)?;
        self.is_named(&new);
        self.steps.push(Step::Placed { target, before });
        self.disk.sync_folder(&folder)
    }

    /// Gives the copy of a file the newest backup's name; earlier backups move on by one up to the first free name. Where the newest
    /// holds the same already, as after a kill, nothing moves: one content would push out others. Where the copy is then.
    fn keep(&mut self, target: &Path, copy: PathBuf) -> io::Result<PathBuf> {
        let names: Vec<PathBuf> = backup_paths(target).collect();
        let [newest, .., oldest] = &names[..] else { return Ok(copy) };
        if stage::hold_the_same(newest, &copy) {
            return Ok(copy);
        }
        let free = names.iter().position(|name| name.symlink_metadata().is_err());
        if free.is_none() {
            // The oldest goes when all is done, not before.
            let aside = stage::free_name(folder_of(target));
            self.shift(oldest, &aside)?;
            self.temporary.borrow_mut().push(aside);
        }
        let free = free.unwrap_or(names.len() - 1);
        for older in (0..free).rev() {
            self.shift(&names[older], &names[older + 1])?;
        }
        self.disk.rename(&copy, newest)?;
        self.is_named(&copy);
        self.steps.push(Step::Moved { from: copy, to: newest.clone() });
        Ok(newest.clone())
    }

    /// Moves a backup on. One that somebody else has moved where folders can't be held is no reason to refuse a save.
    fn shift(&mut self, from: &Path, to: &Path) -> io::Result<()> {
        match self.disk.rename(from, to) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
            Err(error) => Err(error),
            Ok(()) => {
                self.steps.push(Step::Moved { from: from.to_owned(), to: to.to_owned() });
                Ok(())
            }
        }
    }

    fn is_named(&self, path: &Path) {
        self.temporary.borrow_mut().retain(|other| other != path);
    }

    /// Removes what is not needed any more.
    pub(super) fn finish(self) {
        for path in self.temporary.into_inner() {
            // What can't be removed the next save sweeps.
            let _gone = self.disk.remove(&path);
        }
    }

    /// Takes everything back, last things first, by giving files their earlier names: that needs no room. The error that led here is
    /// the one to tell; where the system refuses this too, all that is there is left alone.
    pub(super) fn take_back(mut self) {
        while let Some(step) = self.steps.pop() {
            if self.undo(&step).is_err() {
                return;
            }
        }
        self.finish();
    }

    fn undo(&self, step: &Step) -> io::Result<()> {
        let target = match step {
            Step::Moved { from, to } => {
                match self.disk.rename(to, from) {
                    // A copy that has become the file again.
                    Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
                    result => result?,
                }
                self.is_named(to);
                if stage::is_temporary(from) {
                    self.temporary.borrow_mut().push(from.clone());
                }
                to
            }
            Step::Placed { target, before } => {
                match before {
                    Before::Copied(copy) => {
                        self.disk.rename(copy, target)?;
                        self.is_named(copy);
                    }
                    Before::Nothing => self.disk.remove(target)?,
                    Before::Dropped => {}
                }
                target
            }
        };
        self.disk.sync_folder(folder_of(target))
    }
}
