//! The form of a sheet: where words stand, how large they are, what stands above and below.

use super::{BookError, TITLE};
use crate::print::{Anchor, Drawing, Layer, Page as Sheet, Painted, Paper, PaperForm, Placed, Text};
use kurbo::{Affine, Rect, Size};

/// Least sheet, mm: A5 less a little, for tables of three columns (own choice).
const LEAST_MM: Size = Size::new(140.0, 200.0);
/// Broadest column of words, mm: about 90 letters, a little more than is read with ease, for the tables' sake (own choice).
const BROADEST_MM: f64 = 150.0;
/// Least white border at the sides, and the ones above and below, mm.
const SIDE_MM: f64 = 14.0;
const ABOVE_MM: f64 = 24.0;
const BELOW_MM: f64 = 20.0;
/// Height of capitals in the running head and of the number, mm.
const HEAD_CAP_MM: f64 = 2.1;
/// Between the running head and the words, mm.
const UNDER_HEAD_MM: f64 = 9.0;

/// The form of a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Format {
    /// The sheet, mm.
    pub(super) size_mm: Size,
    /// Where words stand, mm.
    pub(super) words: Rect,
}

impl Format {
    pub(super) fn of(paper: &Paper) -> Result<Self, BookError> {
        let (width_mm, height_mm) = match paper.form() {
            PaperForm::Sheet { width_mm, height_mm } => (width_mm, height_mm),
            PaperForm::Roll { width_mm } => return Err(BookError::Roll { width_mm }),
        };
        if width_mm < LEAST_MM.width || height_mm < LEAST_MM.height {
            let (least_width_mm, least_height_mm) = (LEAST_MM.width, LEAST_MM.height);
            return Err(BookError::TooSmall { width_mm, height_mm, least_width_mm, least_height_mm });
        }
        let side_mm = SIDE_MM.max(0.5 * (width_mm - BROADEST_MM));
        let words = Rect::new(side_mm, ABOVE_MM, width_mm - side_mm, height_mm - BELOW_MM);
        Ok(Self { size_mm: Size::new(width_mm, height_mm), words })
    }

    /// A sheet with its running head and its number. Even numbers stand left, as on the pages of a book.
    pub(super) fn sheet(&self, set: &[Placed], title: &str, number: usize) -> Sheet {
        let mut head = Drawing::new(title);
        let level = self.words.y0 - UNDER_HEAD_MM;
        head.text(Text::new(TITLE, (self.words.x0, level), HEAD_CAP_MM));
        head.text(Text::new(title, (self.words.x1, level), HEAD_CAP_MM).anchored(Anchor::End));
        head.line(Layer::Map, (self.words.x0, level + 2.0), (self.words.x1, level + 2.0));
        let foot = self.size_mm.height - 0.5 * BELOW_MM;
        let number_at = if number.is_multiple_of(2) { (self.words.x0, Anchor::Start) } else { (self.words.x1, Anchor::End) };
        head.text(Text::new(number.to_string(), (number_at.0, foot), HEAD_CAP_MM).anchored(number_at.1));
        let placed = set.iter().cloned().chain([whole(&head)]).collect();
        Sheet { name: number.to_string(), size_mm: self.size_mm, placed, links: Vec::new() }
    }

    /// A sheet of one drawing, without head and number.
    pub(super) fn bare(&self, placed: Vec<Placed>) -> Sheet {
        Sheet { name: String::new(), size_mm: self.size_mm, placed, links: Vec::new() }
    }
}

/// A drawing in the sheet's own mm.
pub(super) fn whole(drawing: &Drawing) -> Placed {
    Placed { drawing: Painted::of(drawing), page_from_drawing: Affine::IDENTITY, clip: None }
}
