//! Tables: columns as broad as their words where there is room, rows whole, headings on every sheet.

use super::sheets::{SMALL_CAP_MM, Sheets};
use super::words::{Line, lengths_mm, lines};
use crate::handbook::{Cell, Run, Style};
use crate::print::Layer;

/// Free paper between two columns, mm.
const BETWEEN_MM: f64 = 4.0;
/// Free paper above and below the words of a row, mm.
const ROW_MM: f64 = 1.1;

/// A row as it is set: lines of each cell.
struct Row(Vec<Vec<Line>>);

impl Row {
    fn of(cells: &[Cell], widths_mm: &[f64]) -> Self {
        Self(cells.iter().zip(widths_mm).map(|(cell, width_mm)| lines(cell, SMALL_CAP_MM, *width_mm + 1e-6)).collect())
    }

    fn height_mm(&self, line_mm: f64) -> f64 {
        let most = self.0.iter().map(Vec::len).max().unwrap_or(0).max(1);
        2.0 * ROW_MM + most as f64 * line_mm
    }
}

/// A table ready to be set.
struct Ready {
    widths_mm: Vec<f64>,
    head: Option<Row>,
    rows: Vec<Row>,
}

impl Ready {
    fn of(head: &[Cell], rows: &[Vec<Cell>], room_mm: f64) -> Self {
        let bold = |run: &Run| Run { style: Style { strong: true, ..run.style }, ..run.clone() };
        let head: Vec<Cell> = head.iter().map(|cell| cell.iter().map(bold).collect()).collect();
        let widths_mm = widths_mm(&head, rows, room_mm);
        let has_head = head.iter().any(|cell| !cell.is_empty());
        let row = |cells: &Vec<Cell>| Row::of(cells, &widths_mm);
        let (head, rows) = (has_head.then(|| row(&head)), rows.iter().map(row).collect());
        Self { widths_mm, head, rows }
    }

    /// Height of the headings and of the first row, mm.
    fn beginning_mm(&self, line_mm: f64) -> f64 {
        self.head.iter().chain(self.rows.first()).map(|row| row.height_mm(line_mm)).sum()
    }
}

/// What a table takes at least: its headings and its first row, mm.
pub(super) fn least_mm(sheets: &Sheets<'_>, head: &[Cell], rows: &[Vec<Cell>]) -> f64 {
    Ready::of(head, rows, sheets.room_mm()).beginning_mm(sheets.small_line_mm())
}

/// Sets a table.
pub(super) fn set(sheets: &mut Sheets<'_>, head: &[Cell], rows: &[Vec<Cell>]) {
    let (ready, line_mm) = (Ready::of(head, rows, sheets.room_mm()), sheets.small_line_mm());
    sheets.keep_together(ready.beginning_mm(line_mm));
    set_head(sheets, &ready);
    for row in &ready.rows {
        if row.height_mm(line_mm) > sheets.left_over_mm() && !sheets.is_fresh() {
            sheets.start_sheet();
            set_head(sheets, &ready);
        }
        set_row(sheets, row, &ready.widths_mm, Layer::Map);
    }
    sheets.y_mm += 1.0;
}

fn set_head(sheets: &mut Sheets<'_>, ready: &Ready) {
    if let Some(head) = &ready.head {
        set_row(sheets, head, &ready.widths_mm, Layer::Cut);
    }
}

/// A row, with a rule under it.
fn set_row(sheets: &mut Sheets<'_>, row: &Row, widths_mm: &[f64], rule: Layer) {
    let (mut left_mm, line_mm) = (sheets.left_mm, sheets.small_line_mm());
    for (cell, width_mm) in row.0.iter().zip(widths_mm) {
        for (index, line) in cell.iter().enumerate() {
            let y_mm = sheets.y_mm + ROW_MM + (index as f64 + 0.5) * line_mm + 0.5 * SMALL_CAP_MM;
            sheets.put(line, (left_mm, y_mm));
        }
        left_mm += width_mm + BETWEEN_MM;
    }
    sheets.y_mm += row.height_mm(line_mm);
    let (from_mm, y_mm) = (sheets.left_mm, sheets.y_mm);
    sheets.drawing().line(rule, (from_mm, y_mm), (left_mm - BETWEEN_MM, y_mm));
}

/// Breadths of the columns: what each would take on one line; where that is more than the room, the broad ones share what the narrow
/// ones leave, none less than its longest word.
fn widths_mm(head: &[Cell], rows: &[Vec<Cell>], room_mm: f64) -> Vec<f64> {
    let cells = |at: usize| head.get(at).into_iter().chain(rows.iter().filter_map(move |row| row.get(at)));
    let wanted: Vec<[f64; 2]> = (0..head.len())
        .map(|at| {
            let lengths = cells(at).map(|cell| lengths_mm(cell, SMALL_CAP_MM));
            lengths.fold([0.0_f64; 2], |[whole, longest], [other, word]| [whole.max(other), longest.max(word)])
        })
        .collect();
    let room_mm = room_mm - BETWEEN_MM * head.len().saturating_sub(1) as f64;
    if wanted.iter().map(|[whole, _]| whole).sum::<f64>() <= room_mm {
        return wanted.iter().map(|[whole, _]| *whole).collect();
    }
    let level_mm = level_mm(&wanted, room_mm);
    let shared: Vec<f64> = wanted.iter().map(|[whole, longest]| whole.min(level_mm.max(*longest))).collect();
    // Only words longer than the sheet is broad leave more than the room.
    let share = (room_mm / shared.iter().sum::<f64>()).min(1.0);
    shared.iter().map(|width_mm| share * width_mm).collect()
}

/// The breadth at which columns that would take more are cut, so that all together take the room.
fn level_mm(wanted: &[[f64; 2]], room_mm: f64) -> f64 {
    let taken = |level: f64| wanted.iter().map(|[whole, longest]| whole.min(level.max(*longest))).sum::<f64>();
    let (mut low, mut high) = (0.0, room_mm);
    // Halving a hundred millimetres forty times leaves less than any printer draws.
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if taken(middle) > room_mm {
            high = middle;
        } else {
            low = middle;
        }
    }
    low
}
