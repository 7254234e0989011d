//! Saves that are refused or killed at every call to the system, on disks with every amount of room.

use super::disk::{Disk, System};
use super::{Earlier, MOST_BACKUPS, backup_path, backup_paths, save, save_on};
use std::cell::Cell;
use std::collections::BTreeMap;
use std::fs::{self, File, Permissions};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A disk on which something goes wrong.
struct Faulty {
    calls: Cell<usize>,
    /// Calls that are refused.
    refused: std::ops::Range<usize>,
    /// Bytes that can still be written.
    room: Cell<usize>,
}

impl Faulty {
    fn refusing(refused: std::ops::Range<usize>) -> Self {
        Self { calls: Cell::new(0), refused, room: Cell::new(usize::MAX) }
    }

    fn with_room(room: usize) -> Self {
        Self { room: Cell::new(room), ..Self::refusing(0..0) }
    }

    fn call(&self) -> io::Result<()> {
        let call = self.calls.replace(self.calls.get() + 1);
        if self.refused.contains(&call) { Err(ErrorKind::StorageFull.into()) } else { Ok(()) }
    }
}

impl Disk for Faulty {
    fn create(&self, path: &Path, private: bool) -> io::Result<File> {
        self.call().and_then(|()| System.create(path, private))
    }

    /// What there is room for is written, also by a call that is refused.
    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
        let refused = self.call();
        let fitting = if refused.is_err() { bytes.len() / 2 } else { bytes.len().min(self.room.get()) };
        System.write(file, &bytes[..fitting])?;
        self.room.set(self.room.get() - fitting);
        if fitting < bytes.len() { Err(ErrorKind::StorageFull.into()) } else { refused }
    }

    fn permit(&self, file: &File, permissions: Permissions) -> io::Result<()> {
        self.call().and_then(|()| System.permit(file, permissions))
    }

    fn sync(&self, file: &File) -> io::Result<()> {
        self.call().and_then(|()| System.sync(file))
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        self.call().and_then(|()| System.sync_folder(folder))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.call().and_then(|()| System.rename(from, to))
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.call().and_then(|()| System.remove(path))
    }
}

/// What is in a folder: names and contents.
fn state(folder: &TempDir) -> BTreeMap<PathBuf, Vec<u8>> {
    let paths = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().path());
    paths.map(|path| (path.clone(), fs::read(path).unwrap())).collect()
}

/// Contents of different lengths, so that a half one is none of them.
fn content(turn: usize) -> Vec<u8> {
    format!("layout {turn}, {}", "x".repeat(20 + turn)).into_bytes()
}

/// A folder in which a file was saved so many times.
fn saved(times: usize) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tee.ron");
    (0..times).for_each(|turn| save(&path, &content(turn)).unwrap());
    (folder, path)
}

/// A first save, one that makes the first backup, and one that drops the oldest.
const TIMES: [usize; 4] = [0, 1, 4, MOST_BACKUPS as usize + 1];

fn calls_of_a_save(times: usize) -> usize {
    let (_folder, path) = saved(times);
    let disk = Faulty::refusing(0..0);
    save_on(&disk, &[(&path, &content(times))], Earlier::Kept).unwrap();
    disk.calls.get()
}

#[test]
fn a_save_that_is_refused_anywhere_changes_nothing() {
    for times in TIMES {
        let calls = calls_of_a_save(times);
        assert!(calls >= 5, "{calls}");
        for call in 0..calls {
            let (folder, path) = saved(times);
            let before = state(&folder);
            let disk = Faulty::refusing(call..call + 1);
            let result = save_on(&disk, &[(&path, &content(times))], Earlier::Kept);
            match result {
                Err(error) => {
                    assert!(error.to_string().contains("the disk is full"), "{error}");
                    assert_eq!(state(&folder), before, "{times} saves, call {call}");
                }
                // The last call only removes what is not needed any more.
                Ok(()) => assert!(call + 1 == calls && fs::read(&path).unwrap() == content(times), "{times} saves, call {call}"),
            }
        }
    }
}

#[test]
fn a_save_that_is_killed_anywhere_leaves_the_earlier_content_and_whole_backups() {
    for times in TIMES {
        for call in 0..calls_of_a_save(times) {
            let (folder, path) = saved(times);
            let before: Vec<Vec<u8>> = state(&folder).into_values().collect();
            let _killed = save_on(&Faulty::refusing(call..usize::MAX), &[(&path, &content(times))], Earlier::Kept);
            let place = format!("{times} saves, killed at call {call}");
            let now = fs::read(&path).ok();
            assert!(
                now.is_none() && times == 0 || now.is_some_and(|now| now == content(times) || before.contains(&now)),
                "{place}"
            );
            let kept: Vec<Vec<u8>> = backup_paths(&path).filter_map(|name| fs::read(name).ok()).collect();
            assert!(kept.iter().all(|kept| before.contains(kept)), "{place}: a backup is not whole");
            let found = |content: &Vec<u8>| kept.contains(content) || fs::read(&path).is_ok_and(|now| now == *content);
            // All but the oldest of all, whose time has come.
            let lost = before.iter().filter(|content| !found(content)).count();
            assert!(lost == 0 || (lost == 1 && times > MOST_BACKUPS as usize && found(&content(times - 1))), "{place}");
            // The next save goes on from there, and nothing of the killed one is left.
            save(&path, b"next").unwrap();
            assert!(state(&folder).keys().all(|path| path.to_string_lossy().contains("tee.ron")), "{place}");
            if times > 0 {
                let kept = fs::read(backup_path(&path)).unwrap();
                assert!(kept == content(times - 1) || kept == content(times), "{place}");
            }
        }
    }
}

/// Kills used to push the good backups out: each left one more copy of the same content.
#[test]
fn a_save_killed_again_and_again_pushes_no_backup_out() {
    let (folder, path) = saved(4);
    let calls = calls_of_a_save(4);
    for turn in 0..3 * calls {
        let _killed = save_on(&Faulty::refusing(turn % (calls - 2)..usize::MAX), &[(&path, b"new")], Earlier::Kept);
        if fs::read(&path).unwrap() == b"new" {
            break;
        }
    }
    let contents: Vec<Vec<u8>> = state(&folder).into_values().collect();
    for turn in 0..4 {
        assert!(contents.contains(&content(turn)), "{turn} is lost");
    }
}

/// Refused saves used to shift the good backups out and to leave broken ones.
#[test]
fn a_disk_with_too_little_room_loses_nothing() {
    for times in TIMES {
        let enough = content(times).len() + if times > 0 { content(times - 1).len() } else { 0 };
        for room in 0..=enough {
            let (folder, path) = saved(times);
            let before = state(&folder);
            let result = save_on(&Faulty::with_room(room), &[(&path, &content(times))], Earlier::Kept);
            assert_eq!(result.is_ok(), room == enough, "{times} saves, room {room}: {result:?}");
            if result.is_err() {
                assert_eq!(state(&folder), before, "{times} saves, room {room}");
            }
        }
    }
}

#[test]
fn several_files_refused_anywhere_are_all_as_they_were() {
    let folder_of_three = || {
        let (folder, a) = saved(MOST_BACKUPS as usize + 1);
        let [b, c] = ["b.pdf", "c.pdf"].map(|name| folder.path().join(name));
        fs::write(&b, "mine").unwrap();
        (folder, [a, b, c])
    };
    let save_three = |disk: &Faulty, paths: &[PathBuf; 3]| {
        save_on(disk, &paths.each_ref().map(|path| (path.as_path(), &b"new"[..])), Earlier::Kept)
    };
    let (_folder, paths) = folder_of_three();
    let counted = Faulty::refusing(0..0);
    save_three(&counted, &paths).unwrap();
    for call in 0..counted.calls.get() - 1 {
        let (folder, paths) = folder_of_three();
        let before = state(&folder);
        assert!(save_three(&Faulty::refusing(call..call + 1), &paths).is_err(), "call {call}");
        assert_eq!(state(&folder), before, "call {call}");
    }
}

/// Without a backup there is no way back once the name is taken; before, all is as it was.
#[test]
fn a_save_without_backup_holds_one_content_or_the_other() {
    let calls = calls_of_a_save(0) + 1;
    for call in 0..calls {
        for refused in [call..call + 1, call..usize::MAX] {
            let (folder, path) = saved(1);
            let _result = save_on(&Faulty::refusing(refused), &[(&path, b"new")], Earlier::Dropped);
            let now = fs::read(&path).unwrap();
            assert!(now == content(0) || now == b"new", "call {call}");
            assert!(!backup_path(&path).exists());
            drop(folder);
        }
    }
}
