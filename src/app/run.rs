//! This run of the program, and which others go on beside it: none takes over what another still works at.

use std::fs::{self, File, TryLockError};
use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};

/// Ending of the file that a run holds locked while it goes on.
const LOCK: &str = "lock";

/// A run of the program.
#[derive(Debug)]
pub(super) struct Run {
    /// What its unsaved work is named by; no other run has that name at the same time.
    name: String,
    folder: Option<PathBuf>,
    /// Held as long as the run goes on; the system lets go of it however the run ends.
    _held: Option<File>,
}

impl Run {
    /// Begins a run that others see in `home`; without one, runs know nothing of each other.
    pub(super) fn begin(home: Option<&Path>) -> Self {
        static STARTS: std::sync::atomic::AtomicU32 = std::sync::atomic::AtomicU32::new(0);
        let start = STARTS.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        let since = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
        let name = format!("{since}-{}-{start}", std::process::id());
        let folder = home.map(|home| home.join("running"));
        folder.iter().for_each(|folder| sweep(folder));
        // Where no lock is to be had, another run may offer this one's work too; nothing is lost by that.
        let held = folder.as_ref().and_then(|folder| {
            fs::create_dir_all(folder).ok()?;
            let file = File::create(folder.join(&name).with_extension(LOCK)).ok()?;
            file.try_lock().ok()?;
            Some(file)
        });
        Self { name, folder, _held: held }
    }

    pub(super) fn name(&self) -> &str {
        &self.name
    }

    /// Whether the run that a file is named by goes on: this one, or another beside it.
    pub(super) fn goes_on(&self, file: &Path) -> bool {
        let name = file.file_stem().unwrap_or_default();
        name == self.name.as_str()
            || self.folder.as_ref().is_some_and(|folder| is_locked(&folder.join(name).with_extension(LOCK)))
    }
}

impl Drop for Run {
    fn drop(&mut self) {
        if let Some(folder) = &self.folder {
            let _gone = fs::remove_file(folder.join(&self.name).with_extension(LOCK));
        }
    }
}

fn is_locked(path: &Path) -> bool {
    File::open(path).is_ok_and(|file| matches!(file.try_lock(), Err(TryLockError::WouldBlock)))
}

/// Removes what runs that broke off have left.
fn sweep(folder: &Path) {
    let files = fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
    for path in files.filter(|path| path.extension().is_some_and(|ending| ending == LOCK) && !is_locked(path)) {
        let _gone = fs::remove_file(path);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_run_goes_on_until_it_ends() {
        let home = tempfile::tempdir().unwrap();
        let (first, second) = (Run::begin(Some(home.path())), Run::begin(Some(home.path())));
        assert_ne!(first.name(), second.name());
        let file = PathBuf::from(format!("{}.ron", second.name()));
        assert!(first.goes_on(&file) && second.goes_on(&file));
        drop(second);
        assert!(!first.goes_on(&file));
        assert!(!first.goes_on(Path::new("1700000000-12.ron")), "of an earlier version of the program");
    }

    /// A lock that nobody holds is what a crash leaves behind.
    #[test]
    fn what_a_crash_left_is_swept_away() {
        let home = tempfile::tempdir().unwrap();
        let left = home.path().join("running/1700000000-12-0.lock");
        fs::create_dir_all(left.parent().unwrap()).unwrap();
        fs::write(&left, "").unwrap();
        let run = Run::begin(Some(home.path()));
        assert!(!left.exists() && run.goes_on(&home.path().join(run.name()).with_extension("ron")));
    }
}
