//! A block at full size, to cut two from board, on the outline of the bundle that they hold.

use super::layers::part;
use crate::layout::{Figures, Handwork, Layout};
use crate::measure::{LengthStyle, counted};
use crate::print::{Anchor, Drawing, Layer, Text};
use kurbo::{Point, Vec2};

/// Height of words, mm, and how far they stand below what they name.
const WORDS_MM: f64 = 3.2;
const BELOW_MM: f64 = 5.0;
/// Arm of the cross in the block's middle, mm.
const CROSS_MM: f64 = 8.0;
/// Free border round the drawing, mm.
const BORDER_MM: f64 = 2.0;

/// The block and the bundle's outline, along from left to right; nothing of a layout without blocks.
#[must_use]
pub fn block_sheet(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Option<Drawing> {
    let (flat, block) = (layout.flat()?, layout.blocks()?);
    let held = figures.flat.as_ref()?.blocks?;
    let place = Handwork::of(layout, figures).bundle?.blocks?;
    let mut drawing = part(layout, "block");
    let corners = flat.outline();
    for (&from, &to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        drawing.line(Layer::Behind, from, to);
    }
    drawing.path(Layer::Outline, block.path());
    let [along_mm, across_mm] = held.middle_mm;
    let middle = Point::new(along_mm, across_mm);
    for arm in [Vec2::new(CROSS_MM, 0.0), Vec2::new(0.0, CROSS_MM)] {
        drawing.line(Layer::Pin, middle - arm, middle + arm);
    }
    for bind in &figures.binds {
        if let Some(line) = flat.chord(bind.radius_mm) {
            drawing.line(Layer::Across, line.p0, line.p1);
        }
    }
    let foot_mm = corners.iter().map(|corner| corner.y).fold(block.bounds().y1, f64::max);
    let rows = [
        format!("Block: {}. Cut two from board, and lay one on each flat.", place.size_words(lengths)),
        "Dashes: the bundle, its first end to the left.".to_owned(),
        format!(
            "Up to {} between them: {} of pressed cloth.",
            counted(held.most_layers, "layer"),
            lengths.format(held.opening_mm)
        ),
    ];
    for (row, words) in (1..).zip(rows) {
        let at = Point::new(middle.x, foot_mm + BELOW_MM * f64::from(row));
        drawing.text(Text::new(words, at, WORDS_MM).anchored(Anchor::Middle));
    }
    drawing.fit_bounds(BORDER_MM);
    Some(drawing)
}
