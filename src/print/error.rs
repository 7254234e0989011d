//! What can go wrong between a drawing and its file.

use super::font::Face;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files, listed};
use thiserror::Error;

/// Why a drawing could not be put on paper, with its numbers.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum PrintError {
    /// A file's ending names no form that can be written.
    UnknownForm {
        /// The file.
        name: String,
    },
    /// A paper name that is neither known nor a size.
    UnknownPaper {
        /// What was asked for.
        text: String,
        /// The known names.
        known: Vec<&'static str>,
    },
    /// A paper side outside what a page can be.
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
    OutOfRange {
        /// Which setting.
        what: PrintSetting,
        /// The value given, in mm.
        value_mm: f64,
        /// Smallest value allowed, in mm.
        min_mm: f64,
        /// Largest value allowed, in mm.
        max_mm: f64,
    },
    /// A drawing with nothing in it.
    EmptyDrawing {
        /// Title of the drawing.
        title: String,
    },
    /// A drawing with a coordinate that is not a finite number.
    NotFinite {
        /// Title of the drawing.
        title: String,
        /// Number of the item, from 0.
        item: usize,
    },
    /// A radius or a letter height below zero.
    NegativeSize {
        /// Title of the drawing.
        title: String,
        /// Number of the item, from 0.
        item: usize,
        /// The radius or height, in mm.
        size_mm: f64,
    },
    /// A drawing larger than any cloth.
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
    TooManySheets {
        /// Title of the drawing.
        title: String,
        /// Sheets it would take.
        count: usize,
        /// Most sheets allowed.
        max: usize,
    },
    /// A strip wider than the window of the paper.
    StripTooWide {
        /// Title of the strip.
        title: String,
        /// Width of the strip in mm.
        across_mm: f64,
        /// Room across the sheet in mm.
        room_mm: f64,
    },
    /// A picture of more pixels than can be painted, or of none.
    Pixels {
        /// Pixels across.
        width_px: u16,
        /// Pixels down.
        high_px: f64,
    },
    /// A document with no page in it.
    NoPages {
        /// Title of the document.
        title: String,
    },
    /// The PDF writer failed.
    Pdf {
        /// What it said.
        reason: PdfFault,
    },
}

/// What the PDF writer can fail at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PdfFault {
    /// The written file has no catalog where one is looked for.
    NoCatalog,
    /// The font of this face, which comes with the program, can't be read.
    Font(Face),
    /// The library's own words.
    Library(String),
}

impl PdfFault {
    fn words(&self) -> &str {
        match self {
            Self::NoCatalog => "the file's catalog was not found",
            Self::Font(face) => face.unread(),
            Self::Library(words) => words,
        }
    }
}

/// A length that is set for printing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PrintSetting {
    /// The margin that the printer leaves.
    Margin,
    /// How far neighbouring sheets overlap.
    Overlap,
    /// What the bar of 100 mm measured on the printed sheet.
    PrintedBar,
}

impl PrintSetting {
    const fn words(self) -> &'static str {
        match self {
            Self::Margin => "the margin",
            Self::Overlap => "the overlap",
            Self::PrintedBar => "the printed length of the bar",
        }
    }
}

displayed_as_in_files!(PrintError);

fn unpainted(width_px: u16, high_px: f64) -> Told {
    Told::new(format!("a picture of {width_px} x {high_px:.0} pixels can't be painted"), "choose a narrower one, or a PDF")
}

fn paper_size(sides_mm: [f64; 2], [min_mm, max_mm]: [f64; 2], voice: Voice) -> Told {
    // The longer side of a roll is the longest page there is, and no fault of the maker's.
    let is_wrong = |side: &f64| !(min_mm..=max_mm + 1e-6).contains(side);
    let mut wrong: Vec<String> = sides_mm.into_iter().filter(is_wrong).map(|side| voice.length(side)).collect();
    wrong.dedup();
    Told::new(
        format!("a side of {} is out of range", listed(wrong, "and")),
        format!("give {} for each", voice.range(min_mm, max_mm)),
    )
}

impl Refused for PrintError {
    fn told(&self, voice: Voice) -> Told {
        let drawing = |title: &str| format!("the drawing \"{title}\"");
        let size = |width_mm: f64, height_mm: f64| format!("{} x {}", voice.length(width_mm), voice.length(height_mm));
        match self {
            Self::UnknownForm { name } => Told::new("unknown file extension", "end its name in .pdf, .svg or .dxf").at(name),
            Self::UnknownPaper { text, known } => Told::new(
                format!("unknown paper \"{text}\""),
                format!("give {}, a size such as 300x400, or a roll such as roll:610", listed(known, "or")),
            ),
            Self::PaperSize { width_mm, height_mm, min_mm, max_mm } => {
                paper_size([*width_mm, *height_mm], [*min_mm, *max_mm], voice)
            }
            Self::PaperTooSmall { width_mm, height_mm, margin_mm, need_mm, need_other_mm } => Told::new(
                format!("a paper of {} with a margin of {} is too small", size(*width_mm, *height_mm), voice.length(*margin_mm)),
                format!(
                    "one printable side must be at least {}, the other at least {}",
                    voice.least(*need_mm),
                    voice.least(*need_other_mm)
                ),
            ),
            Self::OutOfRange { what, value_mm, min_mm, max_mm } => Told::new(
                format!("{} of {} is out of range", what.words(), voice.length(*value_mm)),
                format!("give {}", voice.range(*min_mm, *max_mm)),
            ),
            Self::EmptyDrawing { title } => {
                Told::new(format!("{} is empty: nothing to print", drawing(title)), "choose a part that has something on it")
            }
            Self::NotFinite { title, item } => Told::new(
                format!("{} has a coordinate that is not a finite number (item {item})", drawing(title)),
                "check the numbers that it is drawn from",
            ),
            Self::NegativeSize { title, item, size_mm } => Told::new(
                format!("{} has a size of {} (item {item})", drawing(title), voice.length(*size_mm)),
                "give radii and letter heights of 0 or more",
            ),
            Self::TooLarge { title, item, reach_mm, max_mm } => Told::new(
                format!("{} reaches {} from its origin (item {item})", drawing(title), voice.length(*reach_mm)),
                format!("keep it within {}", voice.most(*max_mm)),
            ),
            Self::TooManySheets { title, count, max } => {
                Told::new(format!("{} would take {count} sheets, more than {max}", drawing(title)), "use larger paper")
            }
            Self::StripTooWide { title, across_mm, room_mm } => {
                let [across, room] = voice.apart(*across_mm, *room_mm);
                Told::new(
                    format!("the strip \"{title}\" is {across} wide, but the paper has room for {room}"),
                    "use wider paper, or a smaller margin",
                )
            }
            Self::Pixels { width_px, high_px } => unpainted(*width_px, *high_px),
            Self::NoPages { title } => Told::new(format!("the document \"{title}\" has no pages"), "choose a part to print"),
            Self::Pdf { reason } => {
                Told::new(format!("the PDF could not be made: {}", reason.words()), "print to .svg or .dxf instead")
            }
        }
    }
}
