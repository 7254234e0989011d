//! Words and tables flowing down the pages of a card.

use crate::print::{Anchor, Drawing, Layer, Text};
use kurbo::Rect;

/// Breadth of a card's page, mm: fits the printable width of A4 and Letter.
pub(super) const PAGE_WIDTH_MM: f64 = 184.0;
/// Height of a card's page, mm: fits the printable height of both, with the band of bars at its foot.
const PAGE_HEIGHT_MM: f64 = 244.0;
/// Height of ordinary words, mm: legible at arm's length.
const CAP_MM: f64 = 2.5;
/// From one line to the next, mm.
const LINE_MM: f64 = 5.4;

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
}

impl Flow {
    /// Begins the first page.
    pub(super) fn new(title: String) -> Self {
        let mut flow = Self { title, pages: Vec::new(), y_mm: 0.0 };
        flow.start_page();
        flow
    }

    /// The pages, all of one size.
    pub(super) fn into_pages(self) -> Vec<Drawing> {
        self.pages
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

    /// A heading, kept with at least three lines after it.
    pub(super) fn heading(&mut self, text: &str, cap_mm: f64) {
        if self.y_mm + cap_mm + 5.0 * LINE_MM > PAGE_HEIGHT_MM {
            self.start_page();
        }
        let y_mm = self.take(cap_mm + LINE_MM);
        self.page().text(Text::new(text, (0.0, y_mm), cap_mm).bold());
    }

    /// A line of words, broken where it is too long.
    pub(super) fn paragraph(&mut self, text: &str) {
        for line in broken(text, PAGE_WIDTH_MM, CAP_MM) {
            let y_mm = self.take(LINE_MM);
            self.page().text(Text::new(line, (0.0, y_mm), CAP_MM));
        }
    }

    /// A table, its headings repeated on every page.
    pub(super) fn table(&mut self, columns: &[Column], rows: &[Row]) {
        self.head(columns);
        for row in rows {
            if self.y_mm + LINE_MM > PAGE_HEIGHT_MM {
                self.start_page();
                self.head(columns);
            }
            let y_mm = self.take(LINE_MM);
            self.cells(columns, row.cells.iter().map(String::as_str), y_mm, row.bold);
            let width_mm = columns.iter().map(|column| column.width_mm).sum::<f64>();
            self.page().line(Layer::Map, (0.0, y_mm + 1.5), (width_mm, y_mm + 1.5));
        }
    }

    fn head(&mut self, columns: &[Column]) {
        let y_mm = self.take(LINE_MM + 1.0);
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
            let text = Text::new(cell, (x_mm, y_mm), CAP_MM).anchored(column.anchor);
            let text = if bold { text.bold() } else { text };
            // Words too long for their column are set smaller rather than over the next one.
            let cap_height_mm = CAP_MM * (room_mm / text.width_mm()).min(1.0);
            self.page().text(Text { cap_height_mm, ..text });
            left_mm += column.width_mm;
        }
    }
}

/// Breaks words into lines of at most `width_mm`.
fn broken(text: &str, width_mm: f64, cap_mm: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let longer = match lines.last() {
            Some(line) => format!("{line} {word}"),
            None => word.to_owned(),
        };
        match lines.last_mut() {
            Some(line) if Text::new(longer.as_str(), (0.0, 0.0), cap_mm).width_mm() <= width_mm => *line = longer,
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_between_words_and_none_is_lost() {
        let text = "one two three four five six seven eight nine ten".repeat(6);
        let lines = broken(&text, 60.0, 2.5);
        assert!(lines.len() > 3 && lines.iter().all(|line| Text::new(line.as_str(), (0.0, 0.0), 2.5).width_mm() <= 60.0));
        assert_eq!(lines.join(" "), text);
    }

    #[test]
    fn a_long_table_goes_on_over_pages_with_its_headings() {
        let mut flow = Flow::new("card".to_owned());
        let rows: Vec<_> = (0..100).map(|n| Row { cells: vec![n.to_string()], bold: false }).collect();
        flow.table(&[number("No.", 20.0)], &rows);
        let pages = flow.into_pages();
        assert_eq!(pages.len(), 3);
        for page in &pages {
            assert!(page.items.iter().any(|item| matches!(&item.shape, crate::print::Shape::Text(text) if text.text == "No.")));
        }
    }
}
