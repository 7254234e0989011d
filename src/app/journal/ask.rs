//! What the journal's panels ask for.

use std::path::PathBuf;

/// Something with the journal; done after everything is drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum JournalAsk {
    /// Attach photographs to what is being written down.
    Attach(Vec<PathBuf>),
    /// Attach photographs that were dropped on the window.
    Drop(Vec<PathBuf>),
    /// Write everything into a folder as plain files.
    Export(PathBuf),
    /// Take in the plain files of a folder.
    Import(PathBuf),
    /// Open the layout that an entry was made from.
    MakeAgain {
        /// The entry.
        id: String,
        /// With what to change as the layout's note.
        with_changes: bool,
    },
}
