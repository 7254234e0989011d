//! Lines of words of several looks: never broken between a number and its unit.

use crate::handbook::{Link, Run};
use crate::measure::held_together;
use crate::print::{Weight, width_mm};

/// What holds a number and its unit together until a line is drawn.
const HOLDING: char = '\u{a0}';

/// Letters of one look within a line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    /// Where it begins, mm from the line's own beginning.
    pub(super) x_mm: f64,
    pub(super) text: String,
    pub(super) weight: Weight,
    pub(super) link: Option<Link>,
    pub(super) width_mm: f64,
}

/// A line.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Line {
    pub(super) pieces: Vec<Piece>,
    pub(super) width_mm: f64,
}

/// Letters between two places where a line may end.
#[derive(Debug, Clone, PartialEq, Default)]
struct Word {
    pieces: Vec<Piece>,
    width_mm: f64,
}

impl Word {
    fn push(&mut self, text: &str, weight: Weight, link: Option<&Link>, cap_mm: f64) {
        let text = text.replace(HOLDING, " ");
        let long_mm = width_mm(&text, weight, cap_mm);
        self.pieces.push(Piece { x_mm: self.width_mm, text, weight, link: link.cloned(), width_mm: long_mm });
        self.width_mm += long_mm;
    }
}

/// Bold for what is stressed and for the names of things in the window.
const fn weight(run: &Run) -> Weight {
    if run.style.strong || run.style.emphasis { Weight::Bold } else { Weight::Regular }
}

fn words(runs: &[Run], cap_mm: f64, room_mm: f64) -> Vec<Word> {
    let mut words = vec![Word::default()];
    for run in runs {
        let text = held(&run.text);
        for (index, part) in text.split(' ').enumerate() {
            if index > 0 {
                words.push(Word::default());
            }
            for (index, piece) in pieces(part, weight(run), cap_mm, room_mm).iter().enumerate() {
                if index > 0 {
                    words.push(Word::default());
                }
                if let Some(last) = words.last_mut() {
                    last.push(piece, weight(run), run.link.as_ref(), cap_mm);
                }
            }
        }
    }
    words.retain(|word| !word.pieces.is_empty());
    words
}

/// Holds numbers and units together, and keeps the spaces at both ends, by which runs are parted.
fn held(text: &str) -> String {
    let [before, after] = [text.starts_with(' '), text.ends_with(' ') && text.len() > 1].map(|is| if is { " " } else { "" });
    format!("{before}{}{after}", held_together(text.trim()))
}

/// A part in pieces of at most the room, as is only needed for a long name in a narrow column.
fn pieces(part: &str, weight: Weight, cap_mm: f64, room_mm: f64) -> Vec<String> {
    let mut pieces = Vec::new();
    let mut last = String::new();
    for letter in part.chars() {
        last.push(letter);
        if width_mm(&last, weight, cap_mm) > room_mm && last.chars().count() > 1 {
            last.pop();
            pieces.push(std::mem::replace(&mut last, letter.to_string()));
        }
    }
    pieces.extend((!last.is_empty()).then_some(last));
    pieces
}

/// Runs in lines of at most a length.
pub(super) fn lines(runs: &[Run], cap_mm: f64, room_mm: f64) -> Vec<Line> {
    let space_mm = width_mm(" ", Weight::Regular, cap_mm);
    let mut lines: Vec<Line> = Vec::new();
    for word in words(runs, cap_mm, room_mm) {
        match lines.last_mut() {
            Some(line) if line.width_mm + space_mm + word.width_mm <= room_mm => line.add(word, space_mm),
            _ => {
                let mut line = Line::default();
                line.add(word, 0.0);
                lines.push(line);
            }
        }
    }
    lines
}

/// Length of runs on one line, and of their longest word, mm.
pub(super) fn lengths_mm(runs: &[Run], cap_mm: f64) -> [f64; 2] {
    let whole_mm = lines(runs, cap_mm, f64::INFINITY).iter().map(|line| line.width_mm).sum();
    let longest_mm = words(runs, cap_mm, f64::INFINITY).iter().map(|word| word.width_mm).fold(0.0, f64::max);
    [whole_mm, longest_mm]
}

impl Line {
    fn add(&mut self, word: Word, space_mm: f64) {
        let begin_mm = self.width_mm + space_mm;
        self.pieces.extend(word.pieces.into_iter().map(|piece| Piece { x_mm: begin_mm + piece.x_mm, ..piece }));
        self.width_mm = begin_mm + word.width_mm;
    }
}
