//! Sheets filled from the top with lines and pictures, and where links and headings have come to stand.

use super::format::{Format, whole};
use super::pictures::Pictures;
use super::words::Line;
use crate::handbook::Link;
use crate::print::{Drawing, Layer, Placed, Text};
use kurbo::Rect;
use std::collections::BTreeMap;

/// Height of capitals of ordinary words, mm: type of about ten points and a half.
pub(super) const CAP_MM: f64 = 2.6;
/// From one line to the next, mm.
pub(super) const LINE_MM: f64 = 5.1;
/// Height of capitals of captions, code and tables, mm, and from one of their lines to the next.
pub(super) const SMALL_CAP_MM: f64 = 2.3;
const SMALL_LINE_MM: f64 = 4.5;

/// From the feet of words that lead somewhere to the line under them, mm.
const UNDER_MM: f64 = 0.7;

/// A place among the sheets of a page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Place {
    pub(super) sheet: usize,
    /// From the upper edge of the sheet, mm.
    pub(super) y_mm: f64,
}

/// Words that lead somewhere.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LinkedWords {
    pub(super) sheet: usize,
    pub(super) area: Rect,
    pub(super) to: Link,
}

/// A page that is set.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Set {
    pub(super) sheets: Vec<Vec<Placed>>,
    pub(super) links: Vec<LinkedWords>,
    pub(super) anchors: BTreeMap<String, Place>,
}

/// Sheets being filled.
#[derive(Debug)]
pub(super) struct Sheets<'a> {
    title: String,
    /// Where pictures come from.
    pub(super) pictures: &'a Pictures,
    /// What the distances between lines and blocks are multiplied by.
    air: f64,
    /// The first and the last level of words, mm.
    top_mm: f64,
    foot_mm: f64,
    drawings: Vec<Drawing>,
    placed: Vec<Vec<Placed>>,
    links: Vec<LinkedWords>,
    anchors: BTreeMap<String, Place>,
    /// The level that the last line stands on, or the foot of what was drawn last, mm.
    pub(super) y_mm: f64,
    /// Where words begin and end, mm.
    pub(super) left_mm: f64,
    pub(super) right_mm: f64,
}

impl<'a> Sheets<'a> {
    pub(super) fn new(title: &str, format: &Format, pictures: &'a Pictures, air: f64) -> Self {
        let Rect { x0: left_mm, y0: top_mm, x1: right_mm, y1: foot_mm } = format.words;
        let mut sheets = Self {
            title: title.to_owned(),
            pictures,
            air,
            top_mm,
            foot_mm,
            drawings: Vec::new(),
            placed: Vec::new(),
            links: Vec::new(),
            anchors: BTreeMap::new(),
            y_mm: top_mm,
            left_mm,
            right_mm,
        };
        sheets.start_sheet();
        sheets
    }

    pub(super) fn start_sheet(&mut self) {
        self.drawings.push(Drawing::new(self.title.clone()));
        self.placed.push(Vec::new());
        self.y_mm = self.top_mm;
    }

    pub(super) fn drawing(&mut self) -> &mut Drawing {
        if self.drawings.is_empty() {
            self.start_sheet();
        }
        let last = self.drawings.len() - 1;
        &mut self.drawings[last]
    }

    pub(super) fn room_mm(&self) -> f64 {
        self.right_mm - self.left_mm
    }

    /// Height left on the sheet, mm.
    pub(super) fn left_over_mm(&self) -> f64 {
        self.foot_mm - self.y_mm
    }

    /// Whether nothing stands on the sheet yet.
    pub(super) fn is_fresh(&self) -> bool {
        self.y_mm <= self.top_mm
    }

    /// Goes to a new sheet unless so much fits on this one.
    pub(super) fn keep_together(&mut self, height_mm: f64) {
        if height_mm > self.left_over_mm() && !self.is_fresh() {
            self.start_sheet();
        }
    }

    /// From one line of ordinary words to the next, mm.
    pub(super) fn line_mm(&self) -> f64 {
        self.air * LINE_MM
    }

    /// From one line of small words to the next, mm.
    pub(super) fn small_line_mm(&self) -> f64 {
        self.air * SMALL_LINE_MM
    }

    /// Leaves so much free, less where the sheets are set tight; nothing at a sheet's top.
    pub(super) fn space(&mut self, height_mm: f64) {
        if !self.is_fresh() {
            self.y_mm += self.air * height_mm;
        }
    }

    /// The place of the next line.
    pub(super) fn mark(&mut self, anchor: &str) {
        let place = Place { sheet: self.drawings.len().saturating_sub(1), y_mm: (self.y_mm - LINE_MM).max(0.0) };
        self.anchors.insert(anchor.to_owned(), place);
    }

    /// A line below what was set last, its beginning so far from the left.
    pub(super) fn line(&mut self, line: &Line, height_mm: f64) {
        self.keep_together(height_mm);
        self.y_mm += height_mm;
        let (left_mm, y_mm) = (self.left_mm, self.y_mm);
        self.put(line, (left_mm, y_mm));
    }

    /// A line at a place of the sheet.
    pub(super) fn put(&mut self, line: &Line, (left_mm, y_mm): (f64, f64)) {
        for piece in &line.pieces {
            let x_mm = left_mm + piece.x_mm;
            let text = Text { face: piece.face, ..Text::new(piece.text.clone(), (x_mm, y_mm), piece.cap_mm) };
            self.drawing().text(text);
            if let Some(to) = &piece.link {
                let cap_mm = piece.cap_mm;
                let area = Rect::new(x_mm, y_mm - 1.3 * cap_mm, x_mm + piece.width_mm, y_mm + 0.4 * cap_mm);
                self.drawing().line(Layer::Map, (x_mm, y_mm + UNDER_MM), (x_mm + piece.width_mm, y_mm + UNDER_MM));
                self.links.push(LinkedWords { sheet: self.drawings.len() - 1, area, to: to.clone() });
            }
        }
    }

    /// Pictures as they are placed on the sheet.
    pub(super) fn place(&mut self, placed: impl IntoIterator<Item = Placed>) {
        if let Some(last) = self.placed.last_mut() {
            last.extend(placed);
        }
    }

    pub(super) fn finish(self) -> Set {
        let sheets = self.drawings.iter().zip(self.placed);
        let sheets = sheets.map(|(drawing, pictures)| std::iter::once(whole(drawing)).chain(pictures).collect()).collect();
        Set { sheets, links: self.links, anchors: self.anchors }
    }
}
