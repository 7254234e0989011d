//! What can go wrong between a drawing and its file.

use crate::measure::neat;
use thiserror::Error;

/// Why a drawing could not be put on paper, with the numbers and what would be right.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum PrintError {
    /// A file's ending names no form that can be written.
    #[error("{name}: the name must end in .pdf, .svg or .dxf")]
    UnknownForm {
        /// The file.
        name: String,
    },
    /// A paper name that is neither known nor a size.
    #[error("unknown paper '{text}': give one of {known}, a size such as 300x400, or a roll such as roll:610")]
    UnknownPaper {
        /// What was asked for.
        text: String,
        /// The known names, separated by commas.
        known: String,
    },
    /// A paper side outside what a page can be.
    #[error("paper {width_mm} x {height_mm} mm is out of range: each side must be {min_mm} to {max_mm} mm")]
    PaperSize {
        /// Width asked for, in mm.
        width_mm: f64,
        /// Height asked for, in mm.
        height_mm: f64,
        /// Smallest side, in mm.
        min_mm: f64,
        /// Largest side, in mm.
        max_mm: f64,
    },
    /// The printable part of the paper can't hold the measuring bars and a useful window.
    #[error(
        "paper {width_mm:.1} x {height_mm:.1} mm with a margin of {margin_mm} mm is too small: \
         one printable side must be at least {need_mm} mm, the other at least {need_other_mm} mm"
    )]
    PaperTooSmall {
        /// Paper width in mm.
        width_mm: f64,
        /// Paper height in mm.
        height_mm: f64,
        /// Margin on every side in mm.
        margin_mm: f64,
        /// Least length of one printable side in mm.
        need_mm: f64,
        /// Least length of the other printable side in mm.
        need_other_mm: f64,
    },
    /// A setting outside its range.
    #[error("{what} is {} {unit}, and must be {min} to {max} {unit}", neat(*value))]
    OutOfRange {
        /// Which setting.
        what: &'static str,
        /// The value given.
        value: f64,
        /// Smallest value allowed.
        min: f64,
        /// Largest value allowed.
        max: f64,
        /// Unit of the three numbers.
        unit: &'static str,
    },
    /// A drawing with nothing in it.
    #[error("the drawing '{title}' is empty: nothing to print")]
    EmptyDrawing {
        /// Title of the drawing.
        title: String,
    },
    /// A drawing with a coordinate that is not a finite number.
    #[error("the drawing '{title}' has a coordinate that is not a finite number (item {item})")]
    NotFinite {
        /// Title of the drawing.
        title: String,
        /// Number of the item, from 0.
        item: usize,
    },
    /// A radius or a letter height below zero.
    #[error("the drawing '{title}' has a size of {size_mm} mm (item {item}): radii and letter heights can't be below 0")]
    NegativeSize {
        /// Title of the drawing.
        title: String,
        /// Number of the item, from 0.
        item: usize,
        /// The radius or height, in mm.
        size_mm: f64,
    },
    /// A drawing larger than any cloth.
    #[error("the drawing '{title}' reaches {reach_mm} mm from its origin (item {item}), more than {max_mm} mm")]
    TooLarge {
        /// Title of the drawing.
        title: String,
        /// Number of the item, from 0.
        item: usize,
        /// Its largest number in mm.
        reach_mm: f64,
        /// The largest allowed, in mm.
        max_mm: f64,
    },
    /// A drawing that would take an absurd number of sheets.
    #[error("the drawing '{title}' would take {count} sheets, more than {max}: use larger paper")]
    TooManySheets {
        /// Title of the drawing.
        title: String,
        /// Sheets it would take.
        count: usize,
        /// Most sheets allowed.
        max: usize,
    },
    /// A strip wider than the window of the paper.
    #[error("the strip '{title}' is {across_mm:.1} mm wide, but the paper has room for {room_mm:.1} mm")]
    StripTooWide {
        /// Title of the strip.
        title: String,
        /// Width of the strip in mm.
        across_mm: f64,
        /// Room across the sheet in mm.
        room_mm: f64,
    },
    /// A document with no page in it.
    #[error("the document '{title}' has no pages")]
    NoPages {
        /// Title of the document.
        title: String,
    },
    /// The PDF writer failed.
    #[error("the PDF could not be written: {reason}")]
    Pdf {
        /// What it said.
        reason: String,
    },
}
