//! Writing files so that nothing is lost: never half a file, never the earlier one gone, several files all or none.
//!
//! The order of things, in folders that nobody else saves in meanwhile: the new contents and copies of the earlier ones are written
//! beside their names and flushed to the disk; then backups move on and the copies take the newest backups' names; then the new
//! contents take theirs. Up to the first renaming nothing bears another name than before, and every renaming can be taken back
//! without room on the disk. Killed at any moment, the newest complete earlier content is the file or its newest backup.

mod backup;
mod disk;
#[cfg(test)]
mod fault_tests;
mod lock;
mod stage;
mod target;
#[cfg(test)]
mod tests;
mod work;

pub use backup::{MOST_BACKUPS, backup_path, backup_paths};
pub use target::{allow_writing, is_write_protected};

use crate::store::system::not_done;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use disk::{Disk, System};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use target::follow;
use work::Work;

/// Why a file could not be written. The earlier file, if there was one, is as it was, and so are its backups.
#[derive(Debug, thiserror::Error)]
pub struct SaveError {
    /// The file.
    pub path: PathBuf,
    /// What the system said.
    pub source: io::Error,
}

displayed_as_in_files!(SaveError);

impl Refused for SaveError {
    fn told(&self, voice: Voice) -> Told {
        not_done(&self.path, "written", &self.source, voice)
    }
}

/// What becomes of the content that a file had.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Earlier {
    /// It is kept as the newest backup.
    Kept,
    /// It goes.
    Dropped,
}

/// Writes a whole file: to a temporary file in the same folder, flushed to the disk, then renamed over the name. At every moment
/// the name holds the earlier content or the new one, whole. An earlier file with other content is kept under
/// [`backup_path`], and what was there moves on to the next of [`backup_paths`]; one with the same content is left alone. Where the
/// path is a link, the file it leads to is written.
///
/// # Errors
/// [`SaveError`] when the folder is missing, the file is write-protected or no regular file, another program saves in the folder for
/// more than some seconds, or the system refuses; then nothing is changed, and nothing half-written is left behind.
pub fn save(path: &Path, content: &[u8]) -> Result<(), SaveError> {
    save_all(&[(path, content)])
}

/// Writes a whole file as [`save`] does, but keeps no backup: for a state that grows by every change and holds the earlier one.
///
/// # Errors
/// As for [`save`].
pub fn save_over(path: &Path, content: &[u8]) -> Result<(), SaveError> {
    save_on(&System, &[(path, content)], Earlier::Dropped)
}

/// Writes several files as [`save`] does, all or none: every content is on the disk beside its name before the first name is
/// changed, and if a later name can't be changed, the earlier ones get their former content back or are removed.
///
/// # Errors
/// [`SaveError`] for the first file that can't be written.
pub fn save_all(files: &[(&Path, &[u8])]) -> Result<(), SaveError> {
    save_on(&System, files, Earlier::Kept)
}

fn save_on(disk: &dyn Disk, files: &[(&Path, &[u8])], earlier: Earlier) -> Result<(), SaveError> {
    let refused = |path: &Path, source| SaveError { path: path.to_owned(), source };
    let targets = files.iter().map(|(path, _)| follow(path).map_err(|source| refused(path, source)));
    let targets: Vec<PathBuf> = targets.collect::<Result<_, _>>()?;
    let held = lock::Held::of(targets.iter().map(PathBuf::as_path));
    let held = held.map_err(|(target, source)| {
        let asked = targets.iter().position(|other| other == target).and_then(|index| files.get(index));
        refused(asked.map_or(target, |(path, _)| path), source)
    })?;
    held.folders().for_each(|(folder, sure)| stage::sweep(disk, folder, sure));
    let mut work = Work::new(disk);
    match all_of(&mut work, files, &targets, earlier) {
        Ok(()) => {
            work.finish();
            Ok(())
        }
        Err(error) => {
            work.take_back();
            Err(error)
        }
    }
}

/// First every content beside its name, then every name.
fn all_of(work: &mut Work<'_>, files: &[(&Path, &[u8])], targets: &[PathBuf], earlier: Earlier) -> Result<(), SaveError> {
    let refused = |path: &Path| {
        let path = path.to_owned();
        move |source| SaveError { path, source }
    };
    let mut staged = Vec::new();
    for (&(path, content), target) in files.iter().zip(targets) {
        staged.extend(work.stage(target, content, earlier).map_err(refused(path))?.map(|staged| (path, staged)));
    }
    staged.into_iter().try_for_each(|(path, staged)| work.place(staged).map_err(refused(path)))
}

/// Writes things of one kind as [`save_all`] does; `content` tells where each goes and what is in it.
///
/// # Errors
/// As for [`save_all`].
pub fn save_each<T>(things: &[T], content: impl Fn(&T) -> (&Path, &[u8])) -> Result<(), SaveError> {
    save_all(&things.iter().map(content).collect::<Vec<_>>())
}

/// The same into a folder, which is made where there is none yet, and is gone again when nothing could be written.
///
/// # Errors
/// As for [`save_all`]; and the folder's, where it can't be made.
pub fn save_each_in<T>(folder: &Path, things: &[T], content: impl Fn(&T) -> (&Path, &[u8])) -> Result<(), SaveError> {
    let missing: Vec<&Path> =
        folder.ancestors().take_while(|folder| !folder.as_os_str().is_empty() && !folder.exists()).collect();
    let made = fs::create_dir_all(folder).map_err(|source| SaveError { path: folder.to_owned(), source });
    let saved = made.and_then(|()| save_each(things, content));
    if saved.is_err() {
        // Only empty folders go, the innermost first.
        missing.iter().take_while(|folder| fs::remove_dir(folder).is_ok()).for_each(drop);
    }
    saved
}
