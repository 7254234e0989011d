//! A page as plain text, for a terminal.

use super::{Block, Cell, Page, Run};
use crate::measure::unbroken;

/// A page as text, its lines at most so many letters long; code stands as it is.
#[must_use]
pub fn plain_text(page: &Page, columns: usize) -> String {
    let mut text = Text { out: String::new(), columns: columns.max(20) };
    text.underlined(page.title(), '=');
    text.blocks(page.blocks(), "");
    text.out
}

/// The words of runs; names of things in the window between asterisks.
fn words(runs: &[Run]) -> String {
    let word = |run: &Run| if run.style.emphasis { format!("*{}*", run.text) } else { run.text.clone() };
    runs.iter().map(word).collect()
}

struct Text {
    out: String,
    columns: usize,
}

impl Text {
    fn line(&mut self, line: &str) {
        self.out.push_str(line.trim_end());
        self.out.push('\n');
    }

    fn underlined(&mut self, words: &str, by: char) {
        self.line(words);
        self.line(&by.to_string().repeat(words.chars().count()));
    }

    fn blocks(&mut self, blocks: &[Block], indent: &str) {
        for block in blocks {
            self.line("");
            self.block(block, indent);
        }
    }

    fn block(&mut self, block: &Block, indent: &str) {
        match block {
            Block::Heading { level: 2, runs, .. } => self.underlined(&words(runs), '-'),
            Block::Heading { runs, .. } => self.line(&words(runs)),
            Block::Paragraph(runs) => self.wrapped(&words(runs), indent, indent),
            Block::Quote(runs) => self.wrapped(&words(runs), &format!("{indent}  > "), &format!("{indent}    ")),
            Block::Figure { caption, .. } => {
                self.wrapped(&format!("[picture: {}]", words(caption)), indent, indent);
            }
            Block::Code(code) => code.lines().for_each(|line| self.line(&format!("{indent}    {line}"))),
            Block::List { first, items } => {
                for (index, item) in (0..).zip(items) {
                    self.item(&first.map_or_else(|| "- ".to_owned(), |first| format!("{}. ", first + index)), item, indent);
                }
            }
            Block::Table { head, rows } => self.table(head, rows, indent),
        }
    }

    /// An item: its first words stand beside its mark.
    fn item(&mut self, mark: &str, item: &[Block], indent: &str) {
        let within = format!("{indent}{}", " ".repeat(mark.chars().count()));
        match item {
            [Block::Paragraph(runs), rest @ ..] => {
                self.wrapped(&words(runs), &format!("{indent}{mark}"), &within);
                self.blocks(rest, &within);
            }
            blocks => self.blocks(blocks, &within),
        }
    }

    fn wrapped(&mut self, text: &str, first: &str, indent: &str) {
        let lines = lines(text, self.columns.saturating_sub(indent.chars().count()));
        for (index, line) in lines.iter().enumerate() {
            self.line(&format!("{}{line}", if index == 0 { first } else { indent }));
        }
    }

    /// Columns as broad as their words, the last one broken where it is too long; where that leaves it too little room, each row's cells
    /// below one another.
    fn table(&mut self, head: &[Cell], rows: &[Vec<Cell>], indent: &str) {
        let row = |row: &Vec<Cell>| row.iter().map(|cell| words(cell)).collect::<Vec<_>>();
        let (head, rows): (Vec<String>, Vec<Vec<String>>) = (row(&head.to_vec()), rows.iter().map(row).collect());
        let letters = |row: &Vec<String>, at: usize| row.get(at).map_or(0, |cell| cell.chars().count());
        let broad = |at: usize| rows.iter().chain([&head]).map(|row| letters(row, at)).max().unwrap_or(0);
        let last = head.len().saturating_sub(1);
        let widths: Vec<usize> = (0..last).map(|at| broad(at) + 2).collect();
        let (taken, room) = (widths.iter().sum::<usize>(), self.columns.saturating_sub(indent.len()));
        if taken + LEAST_LAST > room {
            return rows.iter().for_each(|row| self.stacked(&head, row, indent));
        }
        let has_head = head.iter().any(|title| !title.is_empty());
        if has_head {
            self.row(&head, &widths, indent);
            self.line(&format!("{indent}{}", "-".repeat(room.min(taken + broad(last)))));
        }
        rows.iter().for_each(|row| self.row(row, &widths, indent));
    }

    fn row(&mut self, row: &[String], widths: &[usize], indent: &str) {
        let before: String = widths.iter().zip(row).map(|(width, cell)| format!("{cell:width$}")).collect();
        let taken = indent.len() + widths.iter().sum::<usize>();
        self.wrapped(row.last().map_or("", String::as_str), &format!("{indent}{before}"), &" ".repeat(taken));
    }

    /// A row as its first cell, with the others below it under their titles.
    fn stacked(&mut self, head: &[String], row: &[String], indent: &str) {
        let within = format!("{indent}    ");
        for (at, (title, cell)) in head.iter().zip(row).enumerate().filter(|(_, (_, cell))| !cell.is_empty()) {
            let titled = if at == 0 || title.is_empty() { cell.clone() } else { format!("{title}: {cell}") };
            let indent = if at == 0 { indent } else { &within };
            self.wrapped(&titled, indent, &within);
        }
    }
}

/// Least breadth of a table's last column, letters.
const LEAST_LAST: usize = 24;

/// Words in lines, never broken between a number and its unit.
fn lines(words: &str, columns: usize) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    let mut long = 0;
    for word in unbroken(words) {
        let letters = word.chars().count();
        if long > 0 && long + 1 + letters > columns {
            lines.push(String::new());
            long = 0;
        }
        let last = lines.len() - 1;
        if long > 0 {
            lines[last].push(' ');
            long += 1;
        }
        lines[last].push_str(word);
        long += letters;
    }
    lines
}
