//! What is asked for about learning from photographs.

use std::path::PathBuf;

/// Something with learning; done after everything is drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum LearnAsk {
    /// Take the layout in this file as a piece.
    AddPiece(PathBuf),
    /// Take a photograph of the piece of that number among those from files.
    AddPhotograph(usize, PathBuf),
    /// Open a photograph of a piece, by their numbers, to mark it.
    Mark(usize, usize),
    /// Write what was learned to this file, the maker's own from then on.
    Keep(PathBuf),
    /// Learn on top of what this file says; of nothing, none.
    Earlier(Option<PathBuf>),
    /// Begin new layouts with what was learned, or with the defaults.
    BeginWith(bool),
    /// Give the open layout what was learned.
    Use,
    /// Write layouts, sheets and plan of the test cloth into this folder.
    TestCloth(PathBuf),
}
