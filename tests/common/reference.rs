//! References: what the program is known to make, kept as files beside the tests, and held against what it makes now.
//!
//! A reference that is missing is written, and the test fails, so that nobody takes a new one for a kept one. With
//! `PLEATWRIGHT_REMAKE` set, what differs is written anew and the test passes: look at the difference before you commit it.

use std::fs;
use std::path::Path;

/// Whether references are to be made anew.
fn remakes() -> bool {
    std::env::var_os("PLEATWRIGHT_REMAKE").is_some()
}

/// Compares what was made now with the reference in a file, by `differs`, which tells how two differ, if they do. What is wrong
/// comes back in words.
pub(crate) fn compare(path: &Path, made: &[u8], differs: impl FnOnce(&[u8]) -> Option<String>) -> Option<String> {
    let kept = fs::read(path).ok();
    let difference = match &kept {
        Some(kept) => differs(kept)?,
        None => "there was none; what was made now is written there".to_owned(),
    };
    if kept.is_none() || remakes() {
        fs::create_dir_all(path.parent().expect("a reference lies in a folder")).expect("the folder can be made");
        fs::write(path, made).expect("the reference can be written");
    }
    let meant = "if it is meant: PLEATWRIGHT_REMAKE=1 cargo test reference_";
    (!remakes()).then(|| format!("{}: {difference}\n{meant}", path.display()))
}

/// Compares a text with its reference; the first line that differs is told.
pub(crate) fn compare_text(path: &Path, made: &str) -> Option<String> {
    compare(path, made.as_bytes(), |kept| {
        // Git may have given the lines another end.
        let kept = String::from_utf8_lossy(kept).replace("\r\n", "\n");
        if kept == made {
            return None;
        }
        let (were, are): (Vec<_>, Vec<_>) = (kept.lines().collect(), made.lines().collect());
        let line = (0..were.len().max(are.len())).find(|&line| were.get(line) != are.get(line)).unwrap_or(were.len());
        let at = |lines: &[&str]| lines.get(line).map_or_else(|| "(no more lines)".to_owned(), ToString::to_string);
        Some(format!("line {} was\n  {}\nand is\n  {}", line + 1, at(&were), at(&are)))
    })
}
