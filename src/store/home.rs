//! The folder in which the program keeps what is its user's own: settings, unsaved work, the journal.

use std::env::{home_dir, var_os};
use std::path::PathBuf;

/// The program's name, as its folder bears it.
const NAME: &str = "Pleatwright";

/// The program's own folder, the same that the window keeps its settings in: `$XDG_DATA_HOME/pleatwright` or
/// `~/.local/share/pleatwright`; on macOS `~/Library/Application Support/Pleatwright`; on Windows `%APPDATA%\Pleatwright\data`. None
/// where the system tells no home.
#[must_use]
pub fn data_folder() -> Option<PathBuf> {
    if cfg!(target_os = "windows") {
        var_os("APPDATA").map(|roaming| PathBuf::from(roaming).join(NAME).join("data"))
    } else if cfg!(target_os = "macos") {
        home_dir().map(|home| home.join("Library").join("Application Support").join(NAME))
    } else {
        let given = var_os("XDG_DATA_HOME").map(PathBuf::from).filter(|folder| folder.is_absolute());
        let folder = given.or_else(|| home_dir().map(|home| home.join(".local").join("share")));
        folder.map(|folder| folder.join(NAME.to_lowercase()))
    }
}
