//! The sheet that goes with a test cloth: what to do with the squares, and how to photograph them.

use super::flow::{Flow, set_pages};
use crate::print::{Drawing, Face, Paper, PdfDocument, PrintError, TilingOptions, named_part, write_pdf};

const TITLE: &str = "Test cloth: what to do";
/// Height of capitals of headings, mm.
const HEADING_MM: f64 = 3.2;

/// What to do first.
const MAKE: [&str; 7] = [
    "Cut three squares of the cloth that you mostly dye, their sides as the layouts have them; one of a colour that you discharge, two white. Wash them without softener.",
    "Write the real colours of cloth and dye into the three layouts, as photographed on dry cloth in the same light.",
    "Chalk by the template, fold, and tie by the rod strip. Tie where the strip says: where a bind came to lie is measured, but a gap that is half as wide teaches little.",
    "Dye all three on one day, as their job cards say, each rod on its creases. Use one batch of each dye and weigh it.",
    "A and B get one layer of ice, even where dye still lies on top; C gets both that plan and cards count. Their reach is told apart by that.",
    "Wash out, open, dry and iron them flat. Let nobody touch up the colours.",
    "Make one more piece of an ordinary layout in the same way. It is kept back: nothing is learned from it, and it tells how far to trust the rest.",
];
/// And how to photograph.
const PHOTOGRAPH: [&str; 5] = [
    "Lay each piece flat on a plain table of another colour, a white sheet (A4 or Letter) a thumb's breadth beside it, a hand of table all round.",
    "By daylight from a window, without flash or sun; from straight above, as close as the table still shows.",
    "Hold the exposure down until the white sheet is not burnt out. Switch off filters, portrait and night modes.",
    "Open each photograph from the Reveal view of its layout and set the four corners and the sheet's; the marks are saved beside it.",
    "Learn from all three at once, the further piece kept back.",
];

/// The sheet's pages; of each square a letter and what is done to it.
#[must_use]
pub fn test_cloth_sheet(squares: &[(char, &str)]) -> Vec<Drawing> {
    set_pages(TITLE, |flow| fill(flow, squares))
}

/// The same as a PDF.
///
/// # Errors
/// [`PrintError`] for paper too small for the band of bars.
pub fn test_cloth_pdf(squares: &[(char, &str)], paper: &Paper, tiling: &TilingOptions) -> Result<Vec<u8>, PrintError> {
    let part = named_part(&test_cloth_sheet(squares), TITLE, paper, tiling)?;
    write_pdf(&PdfDocument { title: part.title.clone(), parts: vec![part] })
}

fn fill(flow: &mut Flow, squares: &[(char, &str)]) {
    flow.heading(TITLE, 1.4 * HEADING_MM);
    flow.paragraph("Photographs of these three squares teach the program how far your dye and your discharge reach, and what your thread lets through.");
    for (letter, about) in squares {
        flow.words(&format!("{letter}: {about}"), Face::Bold);
    }
    flow.heading("Making", HEADING_MM);
    MAKE.iter().for_each(|step| flow.tick(step));
    flow.heading("Photographing", HEADING_MM);
    PHOTOGRAPH.iter().for_each(|step| flow.tick(step));
    flow.notes("Notes: water, room, what went otherwise", 3);
}
