//! Why the handbook can't be set.

use crate::print::PrintError;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};

/// Why the handbook can't be set.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BookError {
    /// A roll: a book is of sheets.
    Roll {
        /// Its width, mm.
        width_mm: f64,
    },
    /// Sheets on which a table would not be readable.
    TooSmall {
        /// Width of the sheet, mm.
        width_mm: f64,
        /// Height of the sheet, mm.
        height_mm: f64,
        /// Least width, mm.
        least_width_mm: f64,
        /// Least height, mm.
        least_height_mm: f64,
    },
    /// The file can't be written.
    Print(#[from] PrintError),
}

displayed_as_in_files!(BookError);

impl Refused for BookError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Roll { width_mm } => Told::new(
                format!("a roll {} wide has no pages, and the handbook needs sheets", voice.length(*width_mm)),
                "choose a sheet, such as A4 or Letter",
            ),
            Self::TooSmall { width_mm, height_mm, least_width_mm, least_height_mm } => {
                let [width, height, least_width, least_height] =
                    [*width_mm, *height_mm, *least_width_mm, *least_height_mm].map(|mm| voice.length(mm));
                Told::new(
                    format!("a sheet of {width} x {height} is too small for the handbook's tables"),
                    format!("choose one of {least_width} x {least_height} at least, such as A5"),
                )
            }
            Self::Print(error) => error.told(voice),
        }
    }
}
