//! The title page and the contents.

use super::format::{Format, whole};
use super::pictures::Pictures;
use super::sheets::LINE_MM;
use crate::handbook::{Chapter, Figure, pages};
use crate::plan::DEFER;
use crate::print::{Anchor, Drawing, Face, Layer, LinkTarget, Page as Sheet, PageLink, Placed, Text, width_mm};
use kurbo::{Affine, Rect};

/// Heights of capitals, mm.
const NAME_CAP_MM: f64 = 10.0;
const WHAT_CAP_MM: f64 = 4.6;
const WORDS_CAP_MM: f64 = 2.6;
const CHAPTER_CAP_MM: f64 = 3.1;
/// What a page's line takes in the contents, and a chapter's title, mm: so that A4 and Letter hold them on one sheet.
const ENTRY_MM: f64 = 4.8;
const CHAPTER_MM: f64 = 9.6;

/// The title page: name, a picture, what comes before everything said here.
pub(super) fn title(format: &Format, pictures: &Pictures) -> Sheet {
    let mut drawing = Drawing::new(super::TITLE);
    let (left, top) = (format.words.x0, format.words.y0 + 0.12 * format.words.height());
    drawing.text(Text::new("Pleatwright", (left, top), NAME_CAP_MM).bold());
    drawing.text(Text::new("Handbook", (left, top + 13.0), WHAT_CAP_MM));
    drawing.text(Text::new(concat!("Version ", env!("CARGO_PKG_VERSION")), (left, top + 21.0), WORDS_CAP_MM));
    let mut placed = Vec::new();
    if let Some(picture) = pictures.draw(Figure::Burst) {
        let share = (format.words.width() / picture.size_mm.width).min(1.0);
        let place = Affine::translate((left, top + 34.0)) * Affine::scale(share);
        let moved = |of: Placed| Placed { page_from_drawing: place * of.page_from_drawing, ..of };
        placed.extend(picture.placed.into_iter().map(moved));
    }
    let words = [crate::handbook::Run { text: DEFER.to_owned(), style: crate::handbook::Style::default(), link: None }];
    for (index, line) in super::words::lines(&words, WORDS_CAP_MM, format.words.width()).iter().enumerate() {
        for piece in &line.pieces {
            let y = format.words.y1 - 2.0 * LINE_MM + LINE_MM * index as f64;
            drawing.text(Text::new(piece.text.clone(), (left + piece.x_mm, y), WORDS_CAP_MM));
        }
    }
    placed.insert(0, whole(&drawing));
    format.bare(placed)
}

/// A line of the contents.
enum Line {
    Chapter(Chapter),
    /// A page, by its place among all.
    Page(usize),
}

/// The contents, whose first sheet is the second: every page with the number of its first sheet. How many sheets they take does not depend on
/// the numbers.
pub(super) fn contents(format: &Format, numbers: &[usize]) -> Vec<Sheet> {
    let lines = Chapter::ALL.into_iter().flat_map(|chapter| {
        let own = pages().iter().enumerate().filter(move |(_, page)| page.chapter() == chapter);
        std::iter::once(Line::Chapter(chapter)).chain(own.map(|(at, _)| Line::Page(at)))
    });
    let mut sheets: Vec<(Drawing, Vec<PageLink>)> = vec![(Drawing::new("Contents"), Vec::new())];
    let mut y = format.words.y0;
    for line in lines {
        let height = if matches!(line, Line::Chapter(_)) { CHAPTER_MM } else { ENTRY_MM };
        // A chapter's title stays with its first page.
        let needed = if matches!(line, Line::Chapter(_)) { height + ENTRY_MM } else { height };
        if y + needed > format.words.y1 {
            sheets.push((Drawing::new("Contents"), Vec::new()));
            y = format.words.y0;
        }
        y += height;
        if let Some((drawing, links)) = sheets.last_mut() {
            match line {
                Line::Chapter(chapter) => {
                    drawing.text(Text::new(chapter.title(), (format.words.x0, y), CHAPTER_CAP_MM).bold());
                }
                Line::Page(at) => entry(format, drawing, links, at, numbers.get(at).copied(), y),
            }
        }
    }
    let finished = (2..).zip(sheets).map(|(number, (drawing, links))| {
        let mut sheet = format.sheet(&[whole(&drawing)], "Contents", number);
        sheet.links = links;
        sheet
    });
    finished.collect()
}

fn entry(format: &Format, drawing: &mut Drawing, links: &mut Vec<PageLink>, at: usize, number: Option<usize>, y: f64) {
    let title = pages()[at].title();
    let left = format.words.x0 + 5.0;
    drawing.text(Text::new(title, (left, y), WORDS_CAP_MM));
    let Some(number) = number else { return };
    let right = format.words.x1;
    drawing.text(Text::new(number.to_string(), (right, y), WORDS_CAP_MM).anchored(Anchor::End));
    let from = left + width_mm(title, Face::Regular, WORDS_CAP_MM) + 2.0;
    let to = right - width_mm(&number.to_string(), Face::Regular, WORDS_CAP_MM) - 2.0;
    drawing.line(Layer::Crease, (from, y), (to, y));
    let area = Rect::new(left, y - 1.4 * WORDS_CAP_MM, right, y + 0.4 * WORDS_CAP_MM);
    links.push(PageLink { area, to: LinkTarget::Page { index: number - 1, y_mm: 0.0 } });
}
