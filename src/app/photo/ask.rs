//! What is asked for about a photograph that is held against its plan.

use crate::reveal::colour::SwatchBook;
use std::path::PathBuf;

/// Something with a photograph; done after everything is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum PhotoAsk {
    /// Hold the photograph in this file against the open layout.
    Hold(PathBuf),
    /// Hold an entry's photograph against the layout that it was made from.
    HoldEntry {
        /// The entry.
        id: String,
        /// The photograph's file.
        path: PathBuf,
        /// What the photograph is called.
        name: String,
    },
    /// Save the marks here.
    SaveMarks(PathBuf),
    /// Take the marks of this file.
    ReadMarks(PathBuf),
    /// Give up what is not saved of the marks.
    GiveUpMarks,
    /// Put the photograph away.
    Close,
    /// Take colours of dyed squares from the photograph in this file.
    Squares(PathBuf),
    /// Add their colours to the maker's own swatches.
    TakeSquares(SwatchBook),
    /// Put that photograph away.
    CloseSquares,
}
