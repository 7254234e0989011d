//! Names of backups.

use super::target::follow;
use sha2::{Digest as _, Sha256};
use std::path::{Path, PathBuf};

/// How many earlier contents of a file are kept; the oldest goes when there is one more.
pub const MOST_BACKUPS: u32 = 9;

/// Longest name of a file on the usual disks, bytes (`NAME_MAX` on Linux, limits.h(0p); 255 UTF-16 units on NTFS and APFS).
const LONGEST_NAME: usize = 255;

/// The name under which the content before the last write is kept: `tee.ron` as `tee.ron.bak`. Where the path is a link, beside
/// the file that it leads to.
#[must_use]
pub fn backup_path(path: &Path) -> PathBuf {
    backup_name(&followed(path), 1)
}

/// All names under which earlier contents are kept, the newest first: `tee.ron.bak`, `tee.ron.bak2`, up to [`MOST_BACKUPS`].
pub fn backup_paths(path: &Path) -> impl Iterator<Item = PathBuf> + use<> {
    let path = followed(path);
    (1..=MOST_BACKUPS).map(move |number| backup_name(&path, number))
}

fn followed(path: &Path) -> PathBuf {
    follow(path).unwrap_or_else(|_circle| path.to_owned())
}

fn backup_name(path: &Path, number: u32) -> PathBuf {
    let ending = if number > 1 { format!(".bak{number}") } else { ".bak".to_owned() };
    let mut name = path.file_name().unwrap_or_default().to_owned();
    if name.len() + ending.len() > LONGEST_NAME {
        name = shortened(&name.to_string_lossy(), LONGEST_NAME - ending.len()).into();
    }
    name.push(ending);
    path.with_file_name(name)
}

/// The beginning of a name that is too long for an ending, and a few letters that tell it from others that begin alike.
fn shortened(name: &str, most: usize) -> String {
    let digest = Sha256::digest(name.as_bytes());
    let mark: String = digest.iter().take(4).map(|byte| format!("{byte:02x}")).collect();
    let room = most.saturating_sub(mark.len() + 1);
    let end = (0..=room.min(name.len())).rev().find(|&end| name.is_char_boundary(end)).unwrap_or(0);
    format!("{}~{mark}", &name[..end])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::save;

    #[test]
    fn names_are_told_from_the_files() {
        assert_eq!(backup_path(Path::new("in/tee.ron")), Path::new("in/tee.ron.bak"));
        let names: Vec<PathBuf> = backup_paths(Path::new("tee.ron")).collect();
        assert_eq!((names.len(), names[8].to_str()), (9, Some("tee.ron.bak9")));
    }

    /// The second save of such a name used to be refused: with its ending the backup's was too long.
    #[test]
    fn the_longest_name_can_be_saved_twice_and_keeps_its_own_backups() {
        let folder = tempfile::tempdir().unwrap();
        let paths = ["1", "2"].map(|last| folder.path().join("é".repeat(125) + last + ".ron"));
        for path in &paths {
            assert_eq!(path.file_name().unwrap().len(), LONGEST_NAME);
            for turn in 0..=MOST_BACKUPS {
                save(path, format!("{turn} of {}", path.display()).as_bytes()).unwrap();
            }
        }
        for path in &paths {
            let kept = std::fs::read_to_string(backup_path(path)).unwrap();
            assert_eq!(kept, format!("8 of {}", path.display()));
        }
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2 * (1 + MOST_BACKUPS as usize));
    }
}
