//! Tables on the pages of a card or a plan: columns as broad as what is in them, words broken over lines where they must be.

use super::flow::{Flow, LEAST_NUMBER_CAP_MM, broken};
use crate::print::font::shortened;
use crate::print::{Anchor, Face, Layer, Text, width_mm};

/// Most that a column is broader than what is in it, mm: wider, and the eye loses the row.
const MOST_SPARE_MM: f64 = 9.0;
/// Least breadth of a column of words that are broken over lines, mm.
const LEAST_WORDS_MM: f64 = 18.0;
/// From one line under a row to the next, as a share of that from row to row: they belong together.
const BELOW_SHARE: f64 = 0.92;
/// How far letters hang below their line, in heights of capitals.
const DESCENT: f64 = 0.25;

/// A column of a table.
#[derive(Clone, Copy)]
pub(super) struct Column {
    /// Its heading, a line a line.
    title: &'static str,
    /// Least breadth, mm: room to write by hand in.
    least_mm: f64,
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
    /// Further lines under it, from the first column of words on; run together where that saves a line.
    pub(super) below: Vec<String>,
    /// A heading across all columns, kept with the row after it; such a row has no cells.
    pub(super) heading: Option<String>,
}

/// A column of numbers, set to the right.
pub(super) const fn number(title: &'static str) -> Column {
    Column { title, least_mm: 0.0, kind: Kind::Number }
}

/// A column of words, set to the left.
pub(super) const fn words(title: &'static str) -> Column {
    Column { title, least_mm: 0.0, kind: Kind::Words }
}

/// A column to write in by hand.
pub(super) const fn blank(title: &'static str, width_mm: f64) -> Column {
    Column { title, least_mm: width_mm, kind: Kind::Words }
}

/// A column of boxes to tick.
pub(super) const fn tick() -> Column {
    Column { title: "", least_mm: 5.6, kind: Kind::Tick }
}

/// What a cell of a column of boxes holds where there is one.
pub(super) const BOX: &str = "[ ]";

impl Column {
    fn titles(&self) -> impl DoubleEndedIterator<Item = &'static str> {
        self.title.lines()
    }
}

/// A row broken into lines.
struct SetRow {
    /// The lines of each cell.
    cells: Vec<Vec<String>>,
    /// The lines under them.
    below: Vec<String>,
}

impl SetRow {
    /// Cells that take several lines.
    fn broken_cells(&self) -> usize {
        self.cells.iter().filter(|lines| lines.len() > 1).count()
    }

    fn lines(&self) -> usize {
        self.cells.iter().map(Vec::len).max().unwrap_or(1).max(1)
    }

    fn height_mm(&self, line_mm: f64) -> f64 {
        line_mm * (self.lines() as f64 + BELOW_SHARE * self.below.len() as f64)
    }
}

/// How many rows stay with a table's headings.
const FIRST_ROWS: usize = 2;

/// A table on its way to paper.
struct Table<'a> {
    columns: &'a [Column],
    widths_mm: Vec<f64>,
    /// Between a column's words and the next column, mm.
    gap_mm: f64,
    /// Height of its letters' capitals, mm.
    cap_mm: f64,
}

impl Flow {
    /// A table, its headings repeated on every page.
    pub(super) fn table(&mut self, columns: &[Column], rows: &[Row]) {
        let (cap_mm, gap_mm) = (self.cap_mm, self.gap_mm);
        self.is_squeezed |= least_mm(columns, rows, cap_mm, gap_mm) > self.room_mm();
        let table = Table { columns, widths_mm: widths_mm(columns, rows, self.room_mm(), cap_mm, gap_mm), gap_mm, cap_mm };
        // Its headings stay with the first rows, and these with a heading before them.
        let first = rows.iter().filter(|row| !row.cells.is_empty()).take(FIRST_ROWS);
        let first_mm: f64 = first.map(|row| table.set(row).height_mm(self.line_mm)).sum();
        let lines = table.title_lines() + rows.iter().take(1).filter(|row| row.heading.is_some()).count();
        self.keep_together((lines as f64 + 0.5) * self.line_mm + first_mm);
        self.head(&table);
        for (at, row) in rows.iter().enumerate() {
            if let Some(heading) = &row.heading {
                let next_mm = rows.get(at + 1).map_or(0.0, |next| table.set(next).height_mm(self.line_mm));
                self.heading_row(heading, next_mm, &table);
            }
            if !row.cells.is_empty() {
                self.row(row, &table);
            }
        }
        self.y_mm += 1.0;
    }

    fn row(&mut self, row: &Row, table: &Table<'_>) {
        let set = table.set(row);
        if set.height_mm(self.line_mm) > self.left_over_mm() {
            self.start_page();
            self.head(table);
        }
        self.broken_cells += set.broken_cells();
        let (indent_mm, lines, SetRow { cells, below }) = (table.indent_mm(), set.lines(), set);
        let first_mm = self.take(self.line_mm * lines as f64) - self.line_mm * (lines - 1) as f64;
        for (turn, line) in (0..lines).map(|turn| (turn, cells.iter().map(move |cell| cell.get(turn).map_or("", String::as_str))))
        {
            self.cells(table, line, first_mm + turn as f64 * self.line_mm, row.bold);
        }
        for line in below {
            let at = (self.left_mm + indent_mm, self.take(BELOW_SHARE * self.line_mm));
            self.page().text(Text::new(line, at, table.cap_mm));
        }
        self.rule(table, Layer::Map);
    }

    /// A line under what was written last, halfway between its feet and the heads of the next line.
    fn rule(&mut self, table: &Table<'_>, layer: Layer) {
        let (left_mm, y_mm) = (self.left_mm, self.y_mm + 0.5 * (self.line_mm - (1.0 - DESCENT) * table.cap_mm));
        self.page().line(layer, (left_mm, y_mm), (left_mm + table.width_mm(), y_mm));
    }

    /// A heading inside a table, kept together with the row after it.
    fn heading_row(&mut self, heading: &str, next_mm: f64, table: &Table<'_>) {
        if self.line_mm + 1.0 + next_mm > self.left_over_mm() {
            self.start_page();
            self.head(table);
        }
        let at = (self.left_mm, self.take(self.line_mm + 0.8));
        self.page().text(Text::new(heading, at, table.cap_mm).bold());
        self.y_mm += 0.2;
    }

    fn head(&mut self, table: &Table<'_>) {
        let lines = table.title_lines();
        self.y_mm += 0.6;
        for turn in 0..lines {
            let y_mm = self.take(self.line_mm);
            // Short headings stand at the foot.
            let title = |column: &Column| column.titles().rev().nth(lines - 1 - turn).unwrap_or("");
            self.cells(table, table.columns.iter().map(title), y_mm, true);
        }
        self.rule(table, Layer::Outline);
        self.y_mm += 0.4;
    }

    fn cells<'a>(&mut self, table: &Table<'_>, cells: impl Iterator<Item = &'a str>, y_mm: f64, bold: bool) {
        let mut left_mm = self.left_mm;
        for ((column, width_mm), cell) in table.columns.iter().zip(&table.widths_mm).zip(cells) {
            if !cell.is_empty() {
                self.cell(column.kind, cell, (left_mm, y_mm), *width_mm, bold);
            }
            left_mm += width_mm;
        }
    }

    fn cell(&mut self, kind: Kind, cell: &str, (left_mm, y_mm): (f64, f64), breadth_mm: f64, bold: bool) {
        if kind == Kind::Tick {
            self.tick_box(left_mm, y_mm);
            return;
        }
        let room_mm = breadth_mm - self.gap_mm;
        let (x_mm, anchor) = if kind == Kind::Number { (left_mm + room_mm, Anchor::End) } else { (left_mm, Anchor::Start) };
        let face = if bold { Face::Bold } else { Face::Regular };
        // Numbers too long for their column are set a little smaller and then cut rather than over the next one.
        let whole_mm = self.cap_mm;
        let cap_mm = (whole_mm * room_mm / width_mm(cell, face, whole_mm)).clamp(LEAST_NUMBER_CAP_MM.min(whole_mm), whole_mm);
        let text = Text::new(shortened(cell, face, cap_mm, room_mm + 1e-6), (x_mm, y_mm), cap_mm).anchored(anchor);
        self.page().text(if bold { text.bold() } else { text });
    }
}

impl Table<'_> {
    fn width_mm(&self) -> f64 {
        self.widths_mm.iter().sum()
    }

    /// Lines of the headings.
    fn title_lines(&self) -> usize {
        self.columns.iter().map(|column| column.titles().count()).max().unwrap_or(0)
    }

    /// Breadth of the columns before the first one of words.
    fn indent_mm(&self) -> f64 {
        self.columns
            .iter()
            .zip(&self.widths_mm)
            .take_while(|(column, _)| column.kind != Kind::Words)
            .map(|(_, width)| width)
            .sum()
    }

    /// A row broken into lines.
    fn set(&self, row: &Row) -> SetRow {
        let face = if row.bold { Face::Bold } else { Face::Regular };
        let cells = row.cells.iter().enumerate().map(|(at, cell)| self.lines(at, cell, face)).collect();
        SetRow { cells, below: run_together(&row.below, self.width_mm() - self.indent_mm(), self.cap_mm) }
    }

    /// The lines of a cell.
    fn lines(&self, column: usize, cell: &str, face: Face) -> Vec<String> {
        match self.columns.get(column).zip(self.widths_mm.get(column)) {
            Some((Column { kind: Kind::Words, .. }, width_mm)) => broken(cell, width_mm - self.gap_mm + 1e-6, face, self.cap_mm),
            _ => vec![cell.to_owned()],
        }
    }
}

/// Breadths: what numbers and short words take, the rest for the long ones; room left over is shared out.
fn widths_mm(columns: &[Column], rows: &[Row], room_mm: f64, cap_mm: f64, gap_mm: f64) -> Vec<f64> {
    let mut widths_mm: Vec<f64> =
        columns.iter().enumerate().map(|(at, column)| natural_mm(column, at, rows, cap_mm, gap_mm)).collect();
    let over_mm = widths_mm.iter().sum::<f64>() - room_mm;
    if over_mm > 0.0 {
        narrow(columns, &mut widths_mm, over_mm);
    } else {
        let many = columns.iter().filter(|column| column.kind != Kind::Tick).count().max(1);
        let spare_mm = (-over_mm / many as f64).min(MOST_SPARE_MM);
        let sharing = columns.iter().zip(&mut widths_mm).filter(|(column, _)| column.kind != Kind::Tick);
        sharing.for_each(|(_, width_mm)| *width_mm += spare_mm);
    }
    widths_mm
}

/// What a table takes at least, its words broken over as many lines as may be.
fn least_mm(columns: &[Column], rows: &[Row], cap_mm: f64, gap_mm: f64) -> f64 {
    let least = |(at, column): (usize, &Column)| {
        let natural_mm = natural_mm(column, at, rows, cap_mm, gap_mm);
        if column.kind == Kind::Words { natural_mm.min(LEAST_WORDS_MM.max(column.least_mm)) } else { natural_mm }
    };
    columns.iter().enumerate().map(least).sum()
}

fn natural_mm(column: &Column, at: usize, rows: &[Row], cap_mm: f64, gap_mm: f64) -> f64 {
    if column.kind == Kind::Tick {
        return column.least_mm;
    }
    let of_row = |row: &Row| {
        let face = if row.bold { Face::Bold } else { Face::Regular };
        row.cells.get(at).map_or(0.0, |cell| width_mm(cell, face, cap_mm))
    };
    let title_mm = column.titles().map(|title| width_mm(title, Face::Bold, cap_mm)).fold(0.0, f64::max);
    (rows.iter().map(of_row).fold(title_mm, f64::max) + gap_mm).max(column.least_mm)
}

/// Takes breadth away: from the broadest columns of words first, down to what can still be read; then from all alike.
fn narrow(columns: &[Column], widths_mm: &mut [f64], mut over_mm: f64) {
    while over_mm > 1e-9 {
        let can_give =
            |at: &usize| columns[*at].kind == Kind::Words && widths_mm[*at] > LEAST_WORDS_MM.max(columns[*at].least_mm);
        let mut giving: Vec<usize> = (0..columns.len()).filter(can_give).collect();
        giving.sort_by(|a, b| widths_mm[*b].total_cmp(&widths_mm[*a]));
        let Some(&broadest) = giving.first() else { break };
        let next_mm = giving.get(1).map_or(0.0, |next| widths_mm[*next]);
        let least_mm = LEAST_WORDS_MM.max(columns[broadest].least_mm);
        // A little below the next, so that the two then take turns.
        let gives_mm = (widths_mm[broadest] - next_mm + 1.0).min(widths_mm[broadest] - least_mm).min(over_mm);
        widths_mm[broadest] -= gives_mm;
        over_mm -= gives_mm;
    }
    let all_mm: f64 = widths_mm.iter().sum();
    if over_mm > 1e-9 && all_mm > 0.0 {
        let share = (all_mm - over_mm) / all_mm;
        widths_mm.iter_mut().for_each(|width_mm| *width_mm *= share);
    }
}

/// Lines of several texts: each begins one, unless fewer are needed when they run together.
fn run_together(texts: &[String], room_mm: f64, cap_mm: f64) -> Vec<String> {
    let apart: Vec<String> = texts.iter().flat_map(|text| broken(text, room_mm, Face::Regular, cap_mm)).collect();
    let together = broken(&texts.join(" "), room_mm, Face::Regular, cap_mm);
    if together.len() < apart.len() { together } else { apart }
}

#[cfg(test)]
mod tests {
    use super::super::flow::{CAP_MM, GAP_MM, PAGE_WIDTH_MM, set_pages};
    use super::*;
    use crate::print::{Drawing, Shape};

    fn texts(page: &Drawing) -> Vec<&Text> {
        page.items.iter().filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text) } else { None }).collect()
    }

    #[test]
    fn a_long_table_goes_on_over_pages_with_its_headings() {
        let rows: Vec<_> = (0..100).map(|n| Row { cells: vec![n.to_string()], ..Row::default() }).collect();
        let pages = set_pages("card", |flow| flow.table(&[number("No.")], &rows));
        assert_eq!(pages.len(), 2);
        assert!(pages.iter().all(|page| texts(page).iter().any(|text| text.text == "No.")));
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
        let pages = set_pages("card", |flow| flow.table(&[tick(), words("Step")], &rows));
        assert!(pages.len() > 1);
        for page in &pages {
            let words = texts(page).into_iter().map(|text| text.text.as_str()).filter(|text| *text != "Step");
            let (steps, under): (Vec<&str>, Vec<&str>) = words.partition(|text| text.starts_with("step"));
            assert_eq!(steps.len(), under.len());
        }
    }

    /// Long words in a table used to be set smaller and cut; numbers beside them have to stay whole.
    #[test]
    fn long_words_are_broken_over_lines_and_numbers_stay_whole() {
        let long = "the blue of the club's old boat house door in the evening light of a late summer's day".to_owned();
        let rows = [Row { cells: vec![long.clone(), "123.5".to_owned(), long.clone()], ..Row::default() }];
        let pages = set_pages("card", |flow| flow.table(&[words("A"), number("Girth\nmm"), words("B")], &rows));
        let texts = texts(&pages[0]);
        assert!(texts.iter().all(|text| text.cap_height_mm >= CAP_MM - 1e-9 && !text.text.contains('…')));
        assert!(texts.iter().any(|text| text.text == "123.5"));
        assert!(pages[0].items.iter().all(|item| item.shape.bounding_box().x1 <= PAGE_WIDTH_MM + 1e-6));
        let said = texts.iter().map(|text| text.text.as_str()).collect::<Vec<_>>().join(" ");
        assert_eq!(said.matches("boat house").count(), 2, "{said}");
    }

    #[test]
    fn what_stands_under_a_row_runs_together_only_to_save_a_line() {
        let short = ["have ready: ice".to_owned(), "! cold".to_owned()];
        assert_eq!(run_together(&short, 30.0, CAP_MM), short);
        assert_eq!(run_together(&short, 100.0, CAP_MM), ["have ready: ice ! cold"]);
    }

    /// A table's headings used to be left at the foot of a page, its first row on the next.
    #[test]
    fn the_headings_of_a_table_stay_with_its_first_row() {
        let rows = [Row { cells: vec!["first".to_owned()], below: vec!["under".to_owned(); 5], ..Row::default() }];
        for before in 30..60 {
            let pages = set_pages("card", |flow| {
                (0..before).for_each(|_| flow.paragraph("words"));
                flow.table(&[words("Step")], &rows);
            });
            let of = |what: &str| pages.iter().position(|page| texts(page).iter().any(|text| text.text == what));
            assert_eq!(of("Step"), of("first"), "{before} lines before");
        }
    }

    /// A day's heading used to be left at the foot of a page, its first step on the next.
    #[test]
    fn a_heading_stays_with_the_row_after_it() {
        let step = |n: u32| Row { cells: vec![format!("step {n}")], below: vec![format!("under {n}"); 4], ..Row::default() };
        let day = |n: u32| Row { heading: Some(format!("day {n}")), ..Row::default() };
        for many in 1..40 {
            let rows: Vec<Row> = (0..many).map(step).chain([day(1), step(many)]).collect();
            let pages = set_pages("card", |flow| flow.table(&[words("Step")], &rows));
            let has = |page: &Drawing, what: &str| texts(page).iter().any(|text| text.text == what);
            assert!(pages.iter().any(|page| has(page, "day 1") && has(page, &format!("step {many}"))), "{many} rows before");
        }
    }

    /// Headings used to be left at the foot of a page where their table's rows went on to the next; a heading under another comes along with it.
    #[test]
    fn no_heading_stands_alone_at_a_pages_foot() {
        let rows: Vec<Row> = (0..9).map(|n| Row { cells: vec![format!("row {n}")], ..Row::default() }).collect();
        for before in 30..60 {
            let pages = set_pages("card", |flow| {
                (0..before).for_each(|_| flow.paragraph("words"));
                flow.heading("Tie 2", 3.6);
                flow.heading("Binds", 3.2);
                flow.table(&[words("Bind")], &rows);
            });
            let of = |what: &str| pages.iter().position(|page| texts(page).iter().any(|text| text.text == what)).unwrap();
            let places = ["Tie 2", "Binds", "Bind", "row 0", "row 1"].map(of);
            assert!(places.iter().all(|page| *page == places[0]), "{before} lines before: {places:?}");
            for page in &pages {
                let lowest = page.items.iter().map(|item| item.shape.bounding_box().y1).fold(0.0, f64::max);
                assert!(lowest <= page.bounds.y1 + 1.5, "{before} lines before: {lowest} mm");
            }
        }
    }

    #[test]
    fn too_many_columns_share_the_page() {
        let columns = [number("A number"); 30];
        let widths = widths_mm(&columns, &[], PAGE_WIDTH_MM, CAP_MM, GAP_MM);
        assert!((widths.iter().sum::<f64>() - PAGE_WIDTH_MM).abs() < 1e-6);
    }
}
