//! Creases on the template: from the innermost bind outward where there is cloth, with a gap at every word.

use super::settle::Label;
use crate::geometry::Crease;
use crate::layout::Layout;
use crate::print::ink::span_within;
use crate::print::{Anchor, Drawing, Layer, Shape, Text};
use kurbo::{Line, ParamCurve as _, Point, Rect, Vec2};
use std::f64::consts::FRAC_PI_2;

/// Free paper round a word in a crease, mm.
const CLEAR_MM: f64 = 0.7;
/// A piece of crease shorter than this between two words is left out, mm: it would read as a letter.
const SHORTEST_MM: f64 = 1.5;

/// Draws the creases. Words must be on the drawing already: they are kept free.
pub(super) fn creases(drawing: &mut Drawing, layout: &Layout) {
    let words: Vec<Text> = drawing
        .items
        .iter()
        .filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text.clone()) } else { None })
        .collect();
    let layer = |crease: &Crease| if crease.ends_alone { Layer::LoneCrease } else { Layer::Crease };
    let creases = layout.marked_creases().into_iter().map(|crease| (layer(&crease), crease.line));
    for (layer, line) in creases.chain(layout.fold().ridge().into_iter().map(|line| (Layer::Ridge, line))) {
        for piece in beside_words(line, &words) {
            drawing.add(layer, Shape::Line(piece));
        }
    }
    if layout.flat().is_some() {
        arrows(drawing, layout);
    }
}

/// Height of a crease's number, mm.
const NUMBER_MM: f64 = 2.6;
/// Where along a crease its number is tried, as shares of it.
const SHARES: [f64; 5] = [0.5, 0.35, 0.65, 0.2, 0.8];
/// The numbers of creases that are folded one after the other, each on the longest piece of its crease.
pub(super) fn numbers(layout: &Layout) -> Vec<Label> {
    numbered(layout).iter().map(label).collect()
}

/// The longest piece of every crease that is folded one after the other.
pub(super) fn numbered(layout: &Layout) -> Vec<Crease> {
    let all = layout.marked_creases();
    let length_mm = |crease: &Crease| (crease.line.p1 - crease.line.p0).hypot();
    let last = all.iter().map(|crease| crease.number).max().unwrap_or(0);
    let longest = |number: u32| {
        let own = all.iter().filter(|crease| crease.number == number);
        own.max_by(|a, b| length_mm(a).total_cmp(&length_mm(b))).copied()
    };
    (1..=last).filter_map(longest).collect()
}

fn words(crease: &Crease) -> String {
    format!("fold {}", crease.number)
}

fn label(crease: &Crease) -> Label {
    let line = crease.line;
    let run = line.p1 - line.p0;
    // Read from the left, or from below.
    let run = if run.x < -1e-6 || (run.x.abs() <= 1e-6 && run.y > 0.0) { -run } else { run };
    let text = Text::new(words(crease), Point::ZERO, NUMBER_MM).anchored(Anchor::Middle).rotated(run.atan2());
    let down = Vec2::from_angle(run.atan2() + FRAC_PI_2);
    Label::new(SHARES.map(|share| Text { position: line.eval(share) + 0.5 * NUMBER_MM * down, ..text.clone() }).to_vec())
}

/// Length of an arrow over a crease, mm, how far it stands from the number, and its barbs.
const ARROW_MM: f64 = 12.0;
const BESIDE_MM: f64 = 3.0;
const BARB_MM: f64 = 2.2;

/// Beside each number an arrow over the crease, from what is folded over to where it is laid. The numbers must be on the drawing already.
fn arrows(drawing: &mut Drawing, layout: &Layout) {
    for crease in numbered(layout) {
        let (Some(toward), wanted) = (crease.toward, words(&crease)) else { continue };
        let number = drawing.items.iter().find_map(|item| match &item.shape {
            Shape::Text(text) if text.text == wanted => Some(text.clone()),
            _ => None,
        });
        let Some(number) = number else { continue };
        let along = Vec2::from_angle(number.rotation_rad);
        let beside = number.position + (0.5 * number.width_mm() + BESIDE_MM) * along;
        // On the crease, not on the foot of the number.
        let at = beside - (beside - crease.line.p0).dot(toward) * toward;
        let (from, tip) = (at - 0.5 * ARROW_MM * toward, at + 0.5 * ARROW_MM * toward);
        drawing.line(Layer::Arrow, from, tip);
        for turn in [0.8 * FRAC_PI_2 + FRAC_PI_2, -0.8 * FRAC_PI_2 - FRAC_PI_2] {
            drawing.line(Layer::Arrow, tip, tip + BARB_MM * Vec2::from_angle(toward.atan2() + turn));
        }
    }
}

/// What is left of a line where words are.
fn beside_words(line: Line, words: &[Text]) -> Vec<Line> {
    let mut gaps: Vec<(f64, f64)> = words.iter().filter_map(|text| under(line, text)).collect();
    if gaps.is_empty() {
        return vec![line];
    }
    gaps.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut left = Vec::new();
    let mut from = 0.0;
    for (start, end) in gaps.into_iter().chain([(1.0, 1.0)]) {
        if (start - from) * (line.p1 - line.p0).hypot() > SHORTEST_MM {
            left.push(line.subsegment(from..start));
        }
        from = end.max(from);
    }
    left
}

/// The stretch of a line, from 0 to 1, that a word covers.
fn under(line: Line, text: &Text) -> Option<(f64, f64)> {
    // From the capitals' heads to their feet; in the text's own frame the box is level.
    let room: Rect = Rect::new(0.0, -text.cap_height_mm, text.width_mm(), 0.0).inflate(CLEAR_MM, CLEAR_MM);
    let level = text.drawing_from_text().inverse() * line;
    span_within(level, room).filter(|(t0, t1)| t0 < t1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_stops_at_a_word_and_goes_on_behind_it() {
        let text = Text::new("no. 6", (50.0, 1.0), 3.0).rotated(0.4);
        let line = Line::new((0.0, 0.0), (100.0, 0.0));
        let pieces = beside_words(line, &[text]);
        assert_eq!(pieces.len(), 2);
        assert!(pieces[0].p1.x < 50.0 && pieces[1].p0.x > 50.0, "{pieces:?}");
        let away = Text::new("no. 6", (50.0, 20.0), 3.0);
        assert_eq!(beside_words(line, &[away]), vec![line]);
    }
}
