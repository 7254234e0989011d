//! The handbook as a PDF: a title page, contents, and each page on sheets of its own.

mod blocks;
mod error;
mod format;
mod front;
mod pictures;
mod sheets;
mod table;
mod words;

pub use error::BookError;

use super::{Link, Page, pages};
use crate::print::{LinkTarget, Page as Sheet, PageLink, Paper, Part, PdfDocument, write_pdf};
use blocks::set;
use format::Format;
use pictures::Pictures;
use sheets::{Place, Set};

/// Title in the file's metadata and on its first sheet.
const TITLE: &str = "Pleatwright handbook";

/// Writes the handbook for sheets of a paper, upright. It holds no time: the same program writes the same bytes. One picture is a reveal,
/// whose doses are solved: seconds.
///
/// # Errors
/// [`BookError`] for a roll, for sheets too small to read on, or when the PDF library fails.
pub fn book(paper: &Paper) -> Result<Vec<u8>, BookError> {
    let format = Format::of(paper)?;
    let pictures = Pictures::default();
    let body: Vec<Set> = pages().iter().map(|page| set(page, &format, &pictures)).collect();
    let front = 1 + front::contents(&format, &[]).len();
    let numbers: Vec<usize> = first_numbers(&body, front);
    let mut parts = vec![part("Title", vec![front::title(&format, &pictures)], 1)];
    parts.push(part("Contents", front::contents(&format, &numbers), 2));
    let finished = pages().iter().zip(&body).zip(&numbers);
    parts.extend(
        finished.map(|((page, set), first)| of_page(page, set, *first, &format, &Where { body: &body, numbers: &numbers })),
    );
    Ok(write_pdf(&PdfDocument { title: TITLE.to_owned(), parts })?)
}

/// The number of each page's first sheet: sheets are counted from 1, the title's among them.
fn first_numbers(body: &[Set], front: usize) -> Vec<usize> {
    let mut next = front + 1;
    body.iter()
        .map(|set| {
            let first = next;
            next += set.sheets.len();
            first
        })
        .collect()
}

fn part(title: &str, mut sheets: Vec<Sheet>, first: usize) -> Part {
    (first..).zip(&mut sheets).for_each(|(number, sheet)| sheet.name = number.to_string());
    Part { title: title.to_owned(), pages: sheets }
}

/// Where the pages have come to stand.
struct Where<'a> {
    body: &'a [Set],
    numbers: &'a [usize],
}

impl Where<'_> {
    /// Where a link leads; none where nothing has that name, which a test excludes.
    fn target(&self, link: &Link) -> Option<LinkTarget> {
        let (name, anchor) = match link {
            Link::Web(address) => return Some(LinkTarget::Web(address.clone())),
            Link::Page { name, anchor } => (name, anchor),
        };
        let at = pages().iter().position(|page| page.name() == name)?;
        let top = Place { sheet: 0, y_mm: 0.0 };
        let place = anchor.as_ref().and_then(|anchor| self.body.get(at)?.anchors.get(anchor).copied()).unwrap_or(top);
        // Sheets are counted from 1, places in a file from 0.
        Some(LinkTarget::Page { index: self.numbers.get(at)? + place.sheet - 1, y_mm: place.y_mm })
    }
}

/// A page's sheets, with running heads, numbers and links.
fn of_page(page: &Page, set: &Set, first: usize, format: &Format, known: &Where<'_>) -> Part {
    let sheets = (0..).zip(&set.sheets).map(|(index, sheet)| {
        let mut finished = format.sheet(sheet, page.title(), first + index);
        let links = set.links.iter().filter(|link| link.sheet == index);
        finished.links = links.filter_map(|link| Some(PageLink { area: link.area, to: known.target(&link.to)? })).collect();
        finished
    });
    part(page.title(), sheets.collect(), first)
}

#[cfg(test)]
mod tests;
