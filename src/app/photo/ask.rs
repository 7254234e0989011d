//! What is asked for about a photograph that is held against its plan.

use crate::reveal::colour::SwatchBook;
use kurbo::BezPath;
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
    /// Take the outline of a garment, or of its back, from the photograph in this file.
    Outline {
        /// The file.
        path: PathBuf,
        /// Whether it shows the back.
        back: bool,
    },
    /// Make this half the open garment's, or its back's, or begin a layout with it.
    TakeOutline {
        /// From top to foot, mm, its fold where `x` is 0.
        half: BezPath,
        /// Whether it is the back's.
        back: bool,
    },
    /// Put that photograph away.
    CloseOutline,
}
