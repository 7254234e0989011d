//! A handout's pages on paper, and as a picture.

use crate::print::parts::flow::{PAGE_HEIGHT_MM, PAGE_WIDTH_MM};
use crate::print::{Anchor, Drawing, Page, Painted, Paper, PaperForm, Part, Placed, PrintError, Text, paint};
use crate::reveal::Picture;
use kurbo::{Affine, Size, Vec2};

/// White border that every printer leaves, mm (own choice: most leave 3 to 6).
const BORDER_MM: f64 = 8.0;
/// Height at the foot for the page's number, mm.
const FOOT_MM: f64 = 6.0;
/// Height of the capitals there, mm.
const FOOT_CAP_MM: f64 = 2.0;
/// White round the pages of a picture, mm.
const WHITE_MM: f64 = 7.0;
/// Breadth of a picture, mm.
pub(super) const PICTURE_MM: f64 = PAGE_WIDTH_MM + 2.0 * WHITE_MM;
/// Below the last line of a page of a picture, mm.
const BELOW_MM: f64 = 3.0;

/// The pages on sheets, centred, shrunk where the sheet is small.
pub(super) fn part(title: &str, pages: &[Drawing], paper: &Paper) -> Part {
    let sheet = match paper.form() {
        PaperForm::Sheet { width_mm, height_mm } => Size::new(width_mm, height_mm),
        PaperForm::Roll { width_mm } => Size::new(width_mm, width_mm * (PAGE_HEIGHT_MM + FOOT_MM) / PAGE_WIDTH_MM),
    };
    let room = Size::new(sheet.width - 2.0 * BORDER_MM, sheet.height - 2.0 * BORDER_MM - FOOT_MM);
    let scale = (room.width / PAGE_WIDTH_MM).min(room.height / PAGE_HEIGHT_MM).clamp(0.1, 1.0);
    let left_mm = 0.5 * (sheet.width - scale * PAGE_WIDTH_MM);
    let top_mm = BORDER_MM.max(0.5 * (sheet.height - FOOT_MM - scale * PAGE_HEIGHT_MM).min(2.0 * BORDER_MM));
    let page_from_drawing = Affine::translate((left_mm, top_mm)) * Affine::scale(scale);
    let count = pages.len();
    let sheets = (1..).zip(pages).map(|(number, page): (usize, &Drawing)| {
        let mut foot = Drawing::new(page.title.clone());
        let words = if count == 1 { page.title.clone() } else { format!("{}, page {number} of {count}", page.title) };
        let at = (PAGE_WIDTH_MM, PAGE_HEIGHT_MM + FOOT_MM);
        foot.text(Text::new(words, at, FOOT_CAP_MM).anchored(Anchor::End));
        let placed = [page, &foot].map(|drawing| Placed { drawing: Painted::of(drawing), page_from_drawing, clip: None });
        Page { name: format!("Handout {number}"), size_mm: sheet, placed: placed.to_vec(), links: Vec::new() }
    });
    Part { title: title.to_owned(), pages: sheets.collect() }
}

/// The pages below each other, each as high as what is on it.
pub(super) fn picture(pages: &[Drawing], width_px: u16) -> Result<Picture, PrintError> {
    let mut placed = Vec::new();
    let mut foot_mm = WHITE_MM;
    for page in pages {
        let at = Vec2::new(WHITE_MM, foot_mm);
        placed.push(Placed { drawing: Painted::of(page), page_from_drawing: Affine::translate(at), clip: None });
        foot_mm += page.ink_bounds().map_or(0.0, |ink| ink.y1) + BELOW_MM;
    }
    let size_mm = Size::new(PICTURE_MM, foot_mm + WHITE_MM - BELOW_MM);
    let page = Page { name: String::new(), size_mm, placed, links: Vec::new() };
    let painted = paint(&page, width_px)?;
    Ok(Picture { width: painted.width, height: painted.height, rgba: painted.rgba })
}
