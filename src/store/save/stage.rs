//! Files beside their names: whole on the disk before any name is touched, and swept away where a kill has left them.

use super::disk::Disk;
use std::fs::{self, File, Metadata};
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, SystemTime};

/// How the names of files begin that take their own name later.
const BEGINNING: &str = ".pleatwright-save-";
/// How they began in earlier versions, and those of an empty journal still do; six letters follow.
const OLD_BEGINNING: &str = ".pleatwright-";
const OLD_LETTERS: usize = 6;
/// Age at which a file is swept that may still be somebody's. Own choice.
const SURELY_LEFT: Duration = Duration::from_hours(24);
/// Bytes copied at a time.
const PIECE: usize = 64 << 10;

/// A name in a folder that nothing has yet, for a file that does not keep it.
pub(super) fn free_name(folder: &Path) -> PathBuf {
    static NAMES: AtomicU32 = AtomicU32::new(0);
    let number = || NAMES.fetch_add(1, Ordering::Relaxed);
    let name = || folder.join(format!("{BEGINNING}{}-{}", std::process::id(), number()));
    std::iter::repeat_with(name).find(|path| fs::symlink_metadata(path).is_err()).unwrap_or_else(name)
}

/// Whether a name is one of those.
pub(super) fn is_temporary(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name.to_string_lossy().starts_with(BEGINNING))
}

/// Writes a content into a new file, which gets the permissions of the one it is to replace; `made` is told its name before
/// anything is in it.
pub(super) fn write(
    disk: &dyn Disk,
    folder: &Path,
    content: &[u8],
    replaced: Option<&Metadata>,
    made: impl FnOnce(&Path),
) -> io::Result<PathBuf> {
    let (path, mut file) = create(disk, folder, replaced.is_some(), made)?;
    disk.write(&mut file, content)?;
    finish(disk, &file, replaced)?;
    Ok(path)
}

/// Copies a file, as long as it is told to be, into a new one.
pub(super) fn copy(disk: &dyn Disk, from: &Path, metadata: &Metadata, made: impl FnOnce(&Path)) -> io::Result<PathBuf> {
    let mut source = File::open(from)?.take(metadata.len());
    let (path, mut file) = create(disk, super::target::folder_of(from), true, made)?;
    let mut piece = vec![0; PIECE];
    loop {
        let length = source.read(&mut piece)?;
        if length == 0 {
            break;
        }
        disk.write(&mut file, &piece[..length])?;
    }
    finish(disk, &file, Some(metadata))?;
    Ok(path)
}

fn create(disk: &dyn Disk, folder: &Path, private: bool, made: impl FnOnce(&Path)) -> io::Result<(PathBuf, File)> {
    let path = free_name(folder);
    let file = disk.create(&path, private)?;
    made(&path);
    Ok((path, file))
}

fn finish(disk: &dyn Disk, file: &File, like: Option<&Metadata>) -> io::Result<()> {
    if let Some(metadata) = like {
        disk.permit(file, metadata.permissions())?;
    }
    disk.sync(file)
}

/// Whether a file holds exactly this.
pub(super) fn holds(path: &Path, metadata: &Metadata, content: &[u8]) -> io::Result<bool> {
    Ok(metadata.len() == content.len() as u64 && same(File::open(path)?, content)?)
}

/// Whether two files hold the same; one that can't be read holds something else.
pub(super) fn hold_the_same(first: &Path, second: &Path) -> bool {
    let length = |path| fs::metadata(path).ok().filter(Metadata::is_file).map(|metadata| metadata.len());
    let Some(bytes) = length(first).filter(|bytes| length(second) == Some(*bytes)) else { return false };
    let open = |path| File::open(path).map(|file| io::BufReader::with_capacity(PIECE, file.take(bytes)));
    match (open(first), open(second)) {
        (Ok(first), Ok(second)) => first.bytes().zip(second.bytes()).all(|pair| matches!(pair, (Ok(a), Ok(b)) if a == b)),
        _ => false,
    }
}

fn same(mut file: File, content: &[u8]) -> io::Result<bool> {
    let (mut piece, mut rest) = (vec![0; PIECE], content);
    loop {
        match file.read(&mut piece)? {
            0 => return Ok(rest.is_empty()),
            length if rest.starts_with(&piece[..length]) => rest = &rest[length..],
            _ => return Ok(false),
        }
    }
}

/// Removes what a kill has left in a folder. Where it is held for sure nobody else is saving there, so that all of it is left over.
pub(super) fn sweep(disk: &dyn Disk, folder: &Path, held: bool) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let Some(name) = name.to_str() else { continue };
        let ours = name.starts_with(BEGINNING);
        let older = name.strip_prefix(OLD_BEGINNING).is_some_and(|rest| rest.len() == OLD_LETTERS);
        let is_file = entry.file_type().is_ok_and(|kind| kind.is_file());
        if is_file && ((ours && held) || ((ours || older) && is_old(&entry))) {
            // Tried again with the next save.
            let _gone = disk.remove(&entry.path());
        }
    }
}

fn is_old(entry: &fs::DirEntry) -> bool {
    let written = entry.metadata().and_then(|metadata| metadata.modified());
    written.is_ok_and(|written| SystemTime::now().duration_since(written).is_ok_and(|age| age > SURELY_LEFT))
}

#[cfg(test)]
mod tests {
    use super::super::{System, save};
    use super::*;

    /// A kill while saving used to leave its file for ever.
    #[test]
    fn what_a_kill_left_is_swept_with_the_next_save_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let old = SystemTime::now() - 2 * SURELY_LEFT;
        for (name, aged) in [
            (".pleatwright-save-1-0", false),
            (".pleatwright-aBc123", true),
            (".pleatwright-aBc124", false),
            (".pleatwright-notes", false),
            (".pleatwright-notebook", true),
        ] {
            let file = File::create(at(name)).unwrap();
            if aged {
                file.set_modified(old).unwrap();
            }
        }
        save(&at("tee.ron"), b"one").unwrap();
        let mut names: Vec<_> = fs::read_dir(folder.path()).unwrap().flatten().map(|entry| entry.file_name()).collect();
        names.sort();
        assert_eq!(names, [".pleatwright-aBc124", ".pleatwright-notebook", ".pleatwright-notes", "tee.ron"]);
        // Where somebody else may be saving, only what is surely left.
        for (name, age) in [(".pleatwright-save-1-1", Duration::ZERO), (".pleatwright-save-1-2", 2 * SURELY_LEFT)] {
            File::create(at(name)).unwrap().set_modified(SystemTime::now() - age).unwrap();
        }
        sweep(&System, folder.path(), false);
        assert!(at(".pleatwright-save-1-1").exists() && !at(".pleatwright-save-1-2").exists());
    }

    #[test]
    fn contents_are_told_apart_to_the_last_byte() {
        let folder = tempfile::tempdir().unwrap();
        let [a, b] = ["a", "b"].map(|name| folder.path().join(name));
        let mut content = vec![7_u8; 2 * PIECE + 1];
        fs::write(&a, &content).unwrap();
        let metadata = fs::metadata(&a).unwrap();
        assert!(holds(&a, &metadata, &content).unwrap());
        *content.last_mut().unwrap() = 8;
        assert!(!holds(&a, &metadata, &content).unwrap() && !holds(&a, &metadata, b"").unwrap());
        fs::write(&b, &content).unwrap();
        assert!(!hold_the_same(&a, &b) && hold_the_same(&a, &a) && !hold_the_same(&a, folder.path()));
    }
}
