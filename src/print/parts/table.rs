//! Tables on the pages of a card or a plan.

use super::flow::{CAP_MM, Flow, broken};
use crate::print::font::shortened;
use crate::print::{Anchor, Layer, Text, Weight, width_mm};

/// Height of words in a table, mm.
const CELL_CAP_MM: f64 = 2.2;
/// Least height of words in a table, mm: below, they are cut rather than set smaller.
const LEAST_CAP_MM: f64 = 2.0;
/// Below a baseline, where a row's line is, mm.
const RULE_MM: f64 = 1.5;

/// A column of a table.
#[derive(Clone, Copy)]
pub(super) struct Column {
    /// Its heading.
    pub(super) title: &'static str,
    /// Its breadth, mm.
    pub(super) width_mm: f64,
    /// What is in it.
    kind: Kind,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Words,
    Number,
    /// Boxes, for rows whose cell is not empty.
    Tick,
}

/// A row of a table.
#[derive(Default)]
pub(super) struct Row {
    /// Its words, a cell a column; an empty one stays blank.
    pub(super) cells: Vec<String>,
    /// Whether it stands out.
    pub(super) bold: bool,
    /// Further lines under it, from the first column of words on.
    pub(super) below: Vec<String>,
    /// A heading across all columns, kept with the row after it; such a row has no cells.
    pub(super) heading: Option<String>,
}

/// A column of numbers, set to the right.
pub(super) const fn number(title: &'static str, width_mm: f64) -> Column {
    Column { title, width_mm, kind: Kind::Number }
}

/// A column of words, set to the left.
pub(super) const fn words(title: &'static str, width_mm: f64) -> Column {
    Column { title, width_mm, kind: Kind::Words }
}

/// A column of boxes to tick.
pub(super) const fn tick() -> Column {
    Column { title: "", width_mm: 6.0, kind: Kind::Tick }
}

/// What a cell of a column of boxes holds where there is one.
pub(super) const BOX: &str = "[ ]";

impl Flow {
    /// A table, its headings repeated on every page.
    pub(super) fn table(&mut self, columns: &[Column], rows: &[Row]) {
        let indent_mm: f64 = columns.iter().take_while(|column| column.kind != Kind::Words).map(|column| column.width_mm).sum();
        let width_mm = columns.iter().map(|column| column.width_mm).sum::<f64>();
        self.keep_together(3.0 * self.line_mm);
        self.head(columns);
        for row in rows {
            if let Some(heading) = &row.heading {
                self.heading_row(heading, columns);
            }
            if row.cells.is_empty() {
                continue;
            }
            let below: Vec<String> =
                row.below.iter().flat_map(|text| broken(text, width_mm - indent_mm, Weight::Regular, CELL_CAP_MM)).collect();
            let height_mm = self.line_mm * (1 + below.len()) as f64;
            if height_mm > self.left_over_mm() {
                self.start_page();
                self.head(columns);
            }
            let y_mm = self.take(self.line_mm);
            self.cells(columns, row.cells.iter().map(String::as_str), y_mm, row.bold);
            for line in below {
                let y_mm = self.take(self.line_mm) - 0.4;
                let at = (self.left_mm + indent_mm, y_mm);
                self.page().text(Text::new(line, at, CELL_CAP_MM));
            }
            let (left_mm, y_mm) = (self.left_mm, self.y_mm + RULE_MM);
            self.page().line(Layer::Map, (left_mm, y_mm), (left_mm + width_mm, y_mm));
        }
        self.y_mm += 1.0;
    }

    /// A heading inside a table. Three lines are kept together: itself and a row with something under it.
    fn heading_row(&mut self, heading: &str, columns: &[Column]) {
        if 3.0 * self.line_mm + RULE_MM > self.left_over_mm() {
            self.start_page();
            self.head(columns);
        }
        let at = (self.left_mm, self.take(self.line_mm + 0.8));
        self.page().text(Text::new(heading, at, CAP_MM).bold());
        self.y_mm += 0.6;
    }

    fn head(&mut self, columns: &[Column]) {
        let y_mm = self.take(self.line_mm + 1.0);
        self.cells(columns, columns.iter().map(|column| column.title), y_mm, true);
        let width_mm = columns.iter().map(|column| column.width_mm).sum::<f64>();
        let left_mm = self.left_mm;
        self.page().line(Layer::Outline, (left_mm, y_mm + RULE_MM), (left_mm + width_mm, y_mm + RULE_MM));
    }

    fn cells<'a>(&mut self, columns: &[Column], cells: impl Iterator<Item = &'a str>, y_mm: f64, bold: bool) {
        let mut left_mm = self.left_mm;
        for (column, cell) in columns.iter().zip(cells) {
            if !cell.is_empty() {
                self.cell(*column, cell, (left_mm, y_mm), bold);
            }
            left_mm += column.width_mm;
        }
    }

    fn cell(&mut self, column: Column, cell: &str, (left_mm, y_mm): (f64, f64), bold: bool) {
        if column.kind == Kind::Tick {
            self.tick_box(left_mm, y_mm + (CAP_MM - CELL_CAP_MM) / 2.0);
            return;
        }
        let room_mm = column.width_mm - 2.0;
        let is_number = column.kind == Kind::Number;
        let (x_mm, anchor) = if is_number { (left_mm + room_mm, Anchor::End) } else { (left_mm, Anchor::Start) };
        let weight = if bold { Weight::Bold } else { Weight::Regular };
        // Words too long for their column are set smaller and then cut rather than over the next one.
        let cap_mm = (CELL_CAP_MM * room_mm / width_mm(cell, weight, CELL_CAP_MM)).clamp(LEAST_CAP_MM, CELL_CAP_MM);
        let text = Text::new(shortened(cell, weight, cap_mm, room_mm), (x_mm, y_mm), cap_mm).anchored(anchor);
        self.page().text(if bold { text.bold() } else { text });
    }
}

#[cfg(test)]
mod tests {
    use super::super::flow::{set_airily, set_pages};
    use super::*;

    #[test]
    fn a_long_table_goes_on_over_pages_with_its_headings() {
        let rows: Vec<_> = (0..100).map(|n| Row { cells: vec![n.to_string()], ..Row::default() }).collect();
        let pages = set_airily("card", |flow| flow.table(&[number("No.", 20.0)], &rows));
        assert_eq!(pages.len(), 3);
        for page in &pages {
            assert!(page.items.iter().any(|item| matches!(&item.shape, crate::print::Shape::Text(text) if text.text == "No.")));
        }
    }

    /// A row and the lines under it stay together.
    #[test]
    fn a_row_is_not_torn_from_what_stands_under_it() {
        let row = |n: u32| Row {
            cells: vec![BOX.to_owned(), format!("step {n}")],
            below: vec![format!("under {n}")],
            ..Row::default()
        };
        let rows: Vec<Row> = (0..60).map(row).collect();
        let pages = set_pages("card", |flow| flow.table(&[tick(), words("Step", 60.0)], &rows));
        assert!(pages.len() > 1);
        for page in &pages {
            let texts = page.items.iter().filter_map(|item| match &item.shape {
                crate::print::Shape::Text(text) => Some(text.text.as_str()),
                _ => None,
            });
            let (steps, under): (Vec<&str>, Vec<&str>) =
                texts.filter(|text| *text != "Step").partition(|text| text.starts_with("step"));
            assert_eq!(steps.len(), under.len());
        }
    }
}
