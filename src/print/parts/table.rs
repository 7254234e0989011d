//! Words and tables flowing down the pages of a card.

use crate::print::font::shortened;
use crate::print::{Anchor, Drawing, Layer, Text, Weight, width_mm};
use kurbo::Rect;

/// Breadth of a card's page, mm: fits the printable width of A4 and Letter.
pub(super) const PAGE_WIDTH_MM: f64 = 184.0;
/// Height of a card's page, mm: fits the printable height of both, with the band of bars at its foot.
const PAGE_HEIGHT_MM: f64 = 244.0;
/// Height of ordinary words, mm: legible at arm's length.
const CAP_MM: f64 = 2.5;
/// Height of words in a table, mm.
const CELL_CAP_MM: f64 = 2.2;
/// Least height of words in a table, mm: below, they are cut rather than set smaller.
const LEAST_CAP_MM: f64 = 2.0;
/// Headings that are too long are set smaller down to this share, then broken.
const LEAST_HEADING_SHARE: f64 = 0.7;
/// From one line to the next, mm: the airiest that keeps a card on one page, else the airiest.
const LINES_MM: [f64; 3] = [5.4, 4.9, 4.5];

/// A column of a table.
pub(super) struct Column {
    /// Its heading.
    pub(super) title: &'static str,
    /// Its breadth, mm.
    pub(super) width_mm: f64,
    /// To which side its words are set.
    pub(super) anchor: Anchor,
}

/// A row of a table.
pub(super) struct Row {
    /// Its words, a cell a column; an empty one stays blank.
    pub(super) cells: Vec<String>,
    /// Whether it stands out.
    pub(super) bold: bool,
}

/// A column of numbers, set to the right.
pub(super) const fn number(title: &'static str, width_mm: f64) -> Column {
    Column { title, width_mm, anchor: Anchor::End }
}

/// A column of words, set to the left.
pub(super) const fn words(title: &'static str, width_mm: f64) -> Column {
    Column { title, width_mm, anchor: Anchor::Start }
}

/// Pages filled from the top.
pub(super) struct Flow {
    title: String,
    pages: Vec<Drawing>,
    y_mm: f64,
    line_mm: f64,
}

/// Sets a card with the airiest lines that keep it on one page; where none do, with the airiest of all.
pub(super) fn set_airily(title: &str, fill: impl Fn(&mut Flow)) -> Vec<Drawing> {
    let set = |line_mm: f64| {
        let mut flow = Flow::new(title.to_owned(), line_mm);
        fill(&mut flow);
        flow.pages
    };
    LINES_MM.into_iter().map(set).find(|pages| pages.len() == 1).unwrap_or_else(|| set(LINES_MM[0]))
}

impl Flow {
    /// Begins the first page.
    fn new(title: String, line_mm: f64) -> Self {
        let mut flow = Self { title, pages: Vec::new(), y_mm: 0.0, line_mm };
        flow.start_page();
        flow
    }

    fn start_page(&mut self) {
        let mut page = Drawing::new(self.title.clone());
        page.bounds = Rect::new(0.0, 0.0, PAGE_WIDTH_MM, PAGE_HEIGHT_MM);
        self.pages.push(page);
        self.y_mm = 0.0;
    }

    /// Goes down by a height; to a new page where it does not fit. The baseline to write on.
    fn take(&mut self, height_mm: f64) -> f64 {
        if self.y_mm + height_mm > PAGE_HEIGHT_MM {
            self.start_page();
        }
        self.y_mm += height_mm;
        self.y_mm
    }

    fn page(&mut self) -> &mut Drawing {
        if self.pages.is_empty() {
            self.start_page();
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    /// A heading, kept with the line after it; set smaller, then broken, where it is too long.
    pub(super) fn heading(&mut self, text: &str, cap_mm: f64) {
        let share = PAGE_WIDTH_MM / width_mm(text, Weight::Bold, cap_mm);
        let cap_mm = cap_mm * share.clamp(LEAST_HEADING_SHARE, 1.0);
        let lines = broken(text, PAGE_WIDTH_MM, Weight::Bold, cap_mm);
        let rest_mm = 1.6 * cap_mm * (lines.len().max(1) - 1) as f64;
        if self.y_mm + cap_mm + 2.0 * self.line_mm + rest_mm > PAGE_HEIGHT_MM {
            self.start_page();
        }
        for (index, line) in lines.into_iter().enumerate() {
            let y_mm = self.take(if index == 0 { cap_mm + self.line_mm - 1.0 } else { 1.6 * cap_mm });
            self.page().text(Text::new(line, (0.0, y_mm), cap_mm).bold());
        }
    }

    /// A line of words, broken where it is too long.
    pub(super) fn paragraph(&mut self, text: &str) {
        for line in broken(text, PAGE_WIDTH_MM, Weight::Regular, CAP_MM) {
            let y_mm = self.take(self.line_mm);
            self.page().text(Text::new(line, (0.0, y_mm), CAP_MM));
        }
    }

    /// A table, its headings repeated on every page.
    pub(super) fn table(&mut self, columns: &[Column], rows: &[Row]) {
        self.head(columns);
        for row in rows {
            if self.y_mm + self.line_mm > PAGE_HEIGHT_MM {
                self.start_page();
                self.head(columns);
            }
            let y_mm = self.take(self.line_mm);
            self.cells(columns, row.cells.iter().map(String::as_str), y_mm, row.bold);
            let width_mm = columns.iter().map(|column| column.width_mm).sum::<f64>();
            self.page().line(Layer::Map, (0.0, y_mm + 1.5), (width_mm, y_mm + 1.5));
        }
        self.y_mm += 1.0;
    }

    fn head(&mut self, columns: &[Column]) {
        let y_mm = self.take(self.line_mm + 1.0);
        self.cells(columns, columns.iter().map(|column| column.title), y_mm, true);
        let width_mm = columns.iter().map(|column| column.width_mm).sum::<f64>();
        self.page().line(Layer::Outline, (0.0, y_mm + 1.5), (width_mm, y_mm + 1.5));
    }

    fn cells<'a>(&mut self, columns: &[Column], cells: impl Iterator<Item = &'a str>, y_mm: f64, bold: bool) {
        let mut left_mm = 0.0;
        for (column, cell) in columns.iter().zip(cells) {
            if cell.is_empty() {
                left_mm += column.width_mm;
                continue;
            }
            let room_mm = column.width_mm - 2.0;
            let x_mm = if column.anchor == Anchor::End { left_mm + room_mm } else { left_mm };
            let weight = if bold { Weight::Bold } else { Weight::Regular };
            // Words too long for their column are set smaller and then cut rather than over the next one.
            let cap_mm = (CELL_CAP_MM * room_mm / width_mm(cell, weight, CELL_CAP_MM)).clamp(LEAST_CAP_MM, CELL_CAP_MM);
            let text = Text::new(shortened(cell, weight, cap_mm, room_mm), (x_mm, y_mm), cap_mm).anchored(column.anchor);
            self.page().text(if bold { text.bold() } else { text });
            left_mm += column.width_mm;
        }
    }
}

/// Breaks words into lines of at most `room_mm`; a word longer than that is broken too.
fn broken(text: &str, room_mm: f64, weight: Weight, cap_mm: f64) -> Vec<String> {
    let fits = |words: &str| width_mm(words, weight, cap_mm) <= room_mm;
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace().flat_map(|word| pieces(word, &fits)) {
        let longer = match lines.last() {
            Some(line) => format!("{line} {word}"),
            None => word.clone(),
        };
        match lines.last_mut() {
            Some(line) if fits(&longer) => *line = longer,
            _ => lines.push(word),
        }
    }
    lines
}

/// A word in pieces that fit.
fn pieces(word: &str, fits: &impl Fn(&str) -> bool) -> Vec<String> {
    let mut pieces = vec![String::new()];
    for letter in word.chars() {
        let last = pieces.len() - 1;
        let longer = format!("{}{letter}", pieces[last]);
        if pieces[last].is_empty() || fits(&longer) { pieces[last] = longer } else { pieces.push(letter.to_string()) }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_between_words_and_none_is_lost() {
        let text = "one two three four five six seven eight nine ten".repeat(6);
        let lines = broken(&text, 60.0, Weight::Regular, 2.5);
        assert!(lines.len() > 3 && lines.iter().all(|line| Text::new(line.as_str(), (0.0, 0.0), 2.5).width_mm() <= 60.0));
        assert_eq!(lines.join(" "), text);
        let endless = "endless".repeat(30);
        let lines = broken(&endless, 60.0, Weight::Regular, 2.5);
        assert!(lines.len() > 3 && lines.concat() == endless);
    }

    /// A name of 80 letters used to run off the page.
    #[test]
    fn long_headings_are_broken_within_the_page() {
        for text in ["A name of very many words for a shirt of which the club will be proud one day yes", &"M".repeat(80)] {
            let pages = set_airily("card", |flow| flow.heading(text, 5.0));
            assert_eq!(pages.len(), 1);
            for item in &pages[0].items {
                assert!(item.shape.bounding_box().x1 <= PAGE_WIDTH_MM + 1e-6, "{item:?}");
            }
            let smallest_mm = 0.7 * 5.0 - 1e-9;
            let cap_mm = |item: &crate::print::Item| {
                if let crate::print::Shape::Text(text) = &item.shape { text.cap_height_mm } else { 0.0 }
            };
            assert!(pages[0].items.iter().all(|item| cap_mm(item) >= smallest_mm));
        }
    }

    #[test]
    fn a_long_table_goes_on_over_pages_with_its_headings() {
        let rows: Vec<_> = (0..100).map(|n| Row { cells: vec![n.to_string()], bold: false }).collect();
        let pages = set_airily("card", |flow| flow.table(&[number("No.", 20.0)], &rows));
        assert_eq!(pages.len(), 3);
        for page in &pages {
            assert!(page.items.iter().any(|item| matches!(&item.shape, crate::print::Shape::Text(text) if text.text == "No.")));
        }
    }
}
