//! Lines of words of several looks: never broken between a number and its unit.

use crate::handbook::{Link, Run, Style};
use crate::measure::held_together;
use crate::print::{Face, width_mm};

/// What holds a number and its unit together until a line is drawn.
const HOLDING: char = '\u{a0}';

/// Letters of one look within a line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    /// Where it begins, mm from the line's own beginning.
    pub(super) x_mm: f64,
    pub(super) text: String,
    pub(super) face: Face,
    /// Height of its capitals, mm.
    pub(super) cap_mm: f64,
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
    fn push(&mut self, text: &str, face: Face, link: Option<&Link>, cap_mm: f64) {
        let text = text.replace(HOLDING, " ");
        let cap_mm = own_cap_mm(face, cap_mm);
        let long_mm = width_mm(&text, face, cap_mm);
        self.pieces.push(Piece { x_mm: self.width_mm, text, face, cap_mm, link: link.cloned(), width_mm: long_mm });
        self.width_mm += long_mm;
    }
}

/// Bold for the names of things in the window, italic for what is stressed or explained, code for what is typed.
const fn face(run: &Run) -> Face {
    match run.style {
        Style { code: true, .. } => Face::Code,
        Style { strong: true, .. } => Face::Bold,
        Style { emphasis: true, .. } => Face::Italic,
        Style { .. } => Face::Regular,
    }
}

/// Height of capitals of a face among words of a height, mm: letters of one width look larger than they are.
fn own_cap_mm(face: Face, cap_mm: f64) -> f64 {
    const OF_CODE: f64 = 0.88;
    if face == Face::Code { OF_CODE * cap_mm } else { cap_mm }
}

/// Length of code among words of a height, mm.
pub(super) fn width_of_code_mm(code: &str, cap_mm: f64) -> f64 {
    width_mm(code, Face::Code, own_cap_mm(Face::Code, cap_mm))
}

fn words(runs: &[Run], cap_mm: f64, room_mm: f64) -> Vec<Word> {
    let mut words = vec![Word::default()];
    for run in runs {
        let text = held(&run.text);
        for (index, part) in text.split(' ').enumerate() {
            if index > 0 {
                words.push(Word::default());
            }
            for (index, piece) in pieces(part, face(run), cap_mm, room_mm).iter().enumerate() {
                if index > 0 {
                    words.push(Word::default());
                }
                if let Some(last) = words.last_mut() {
                    last.push(piece, face(run), run.link.as_ref(), cap_mm);
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
fn pieces(part: &str, face: Face, cap_mm: f64, room_mm: f64) -> Vec<String> {
    let mut pieces = Vec::new();
    let mut last = String::new();
    for letter in part.chars() {
        last.push(letter);
        if width_mm(&last, face, own_cap_mm(face, cap_mm)) > room_mm && last.chars().count() > 1 {
            last.pop();
            pieces.push(std::mem::replace(&mut last, letter.to_string()));
        }
    }
    pieces.extend((!last.is_empty()).then_some(last));
    pieces
}

/// Runs in lines of at most a length.
pub(super) fn lines(runs: &[Run], cap_mm: f64, room_mm: f64) -> Vec<Line> {
    let (space_mm, space_of_code_mm) = (width_mm(" ", Face::Regular, cap_mm), width_of_code_mm(" ", cap_mm));
    let is_code = |piece: Option<&Piece>| piece.is_some_and(|piece| piece.face == Face::Code);
    let mut lines: Vec<Line> = Vec::new();
    for word in words(runs, cap_mm, room_mm) {
        let is_within_code = is_code(lines.last().and_then(|line| line.pieces.last())) && is_code(word.pieces.first());
        let space_mm = if is_within_code { space_of_code_mm } else { space_mm };
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
