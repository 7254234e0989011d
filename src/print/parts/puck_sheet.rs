//! A puck at full size, to lay it on: its rim, its tick, its bands, and what each wedge gets.

use super::layers::part;
use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;
use crate::print::{Anchor, Drawing, Layer, Text};
use kurbo::{Point, Vec2};
use std::f64::consts::TAU;

/// Height of words, mm, and how far their rows stand from each other.
const WORDS_MM: f64 = 3.2;
const ROW_MM: f64 = 5.0;
/// Where a wedge's words stand, as a share of the radius.
const WORDS_AT: f64 = 0.7;
/// How long the tick is, mm, and how far a band reaches over the rim.
const TICK_MM: f64 = 8.0;
const OVER_MM: f64 = 4.0;
/// Free border round the drawing, mm.
const BORDER_MM: f64 = 2.0;

/// The puck as it is seen from above, its tick up; nothing of another fold.
#[must_use]
pub fn puck_sheet(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Option<Drawing> {
    let (spiral, puck) = (layout.spiral()?, figures.spiral.as_ref()?);
    let (radius_mm, rim_mm) = (spiral.radius_mm(), spiral.rim_mm());
    let mut drawing = part(layout, "puck");
    let at = |along_mm: f64, out_mm: f64| {
        let (sin, cos) = (TAU * along_mm / rim_mm).sin_cos();
        Point::ORIGIN + out_mm * Vec2::new(sin, -cos)
    };
    drawing.circle(Layer::Outline, Point::ORIGIN, radius_mm);
    drawing.line(Layer::Reference, at(0.0, radius_mm + OVER_MM), at(0.0, radius_mm + OVER_MM + TICK_MM));
    let above_mm = radius_mm + OVER_MM + TICK_MM + 2.0;
    drawing.text(Text::new("tick", at(0.0, above_mm), WORDS_MM).anchored(Anchor::Middle));
    for bind in &figures.binds {
        drawing.line(Layer::Across, Point::ORIGIN, at(bind.radius_mm, radius_mm + OVER_MM));
    }
    for section in &figures.sections {
        let middle = at(0.5 * (section.inner_mm + section.outer_mm), WORDS_AT * radius_mm);
        let colour = Some(section.colour_words().to_owned()).filter(|words| !words.is_empty());
        let rows = [Some(section.number.to_string()), colour, Some(format!("{:.0} g cloth", section.mass_g))];
        for (row, words) in (0..).zip(rows.into_iter().flatten()) {
            let text = Text::new(words, middle + Vec2::new(0.0, ROW_MM * f64::from(row)), WORDS_MM).anchored(Anchor::Middle);
            drawing.text(if row == 0 { text.bold() } else { text });
        }
    }
    let [across, height] = [puck.puck_diameter_mm, puck.puck_height_mm].map(|mm| lengths.format(mm));
    let rows = [
        format!("Puck {across} across and {height} high, from above. Press it to this circle, its tick up."),
        "Solid: bands. The wedges are numbered clockwise from the tick.".to_owned(),
    ];
    for (row, words) in (1..).zip(rows) {
        let foot = Point::new(0.0, radius_mm + OVER_MM + ROW_MM * f64::from(row));
        drawing.text(Text::new(words, foot, WORDS_MM).anchored(Anchor::Middle));
    }
    drawing.fit_bounds(BORDER_MM);
    Some(drawing)
}
