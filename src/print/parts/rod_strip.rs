//! The rod strip: laid beside the bound rod, it says where each bind and each colour goes.

use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;
use crate::print::{Anchor, Drawing, Layer, Pattern, Shape, Text};
use kurbo::{BezPath, Rect};
use std::f64::consts::FRAC_PI_2;

/// Edges of the strip's rows, mm from its middle: binds above, colours in the middle, sections below.
const TOP_MM: f64 = -36.0;
const BAND_TOP_MM: f64 = -4.0;
const BAND_FOOT_MM: f64 = 6.0;
const FOOT_MM: f64 = 26.0;
/// How far the strip goes on beyond the rod's ends, mm.
const END_MM: f64 = 10.0;
/// Height of the words, mm.
const CAP_MM: f64 = 2.4;
/// Shortest section whose words fit upright beside each other, mm.
const ROOM_FOR_WORDS_MM: f64 = 4.0;

/// Draws the strip along x, the rod's tip (the burst centre) at the origin.
#[must_use]
pub fn rod_strip(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Drawing {
    let mut drawing = Drawing::new(format!("{}: rod strip", layout.name()));
    let end_mm = figures.sections.last().map_or(0.0, |section| section.outer_mm) + END_MM;
    let edge = Rect::new(-END_MM, TOP_MM, end_mm, FOOT_MM);
    drawing.path(Layer::Cut, kurbo::Shape::to_path(&edge, 0.1));
    colours(&mut drawing, layout, figures);
    tip(&mut drawing);
    for bind in &figures.binds {
        let layer = if bind.on_guide_arc { Layer::GuideArc } else { Layer::Bind };
        drawing.line(layer, (bind.radius_mm, BAND_TOP_MM - 2.0), (bind.radius_mm, BAND_FOOT_MM + 1.5));
        let words = format!("{}  {}  {}x", bind.number, lengths.format(bind.radius_mm), bind.wraps);
        let room_mm = bind.gap_inside_mm;
        let cap_mm = (0.6 * room_mm).clamp(1.8, CAP_MM);
        let words = Text::new(words, (bind.radius_mm + 0.5 * cap_mm, BAND_TOP_MM - 3.0), cap_mm).rotated(-FRAC_PI_2);
        drawing.text(if bind.on_guide_arc { words.bold() } else { words });
    }
    drawing.fit_bounds(0.0);
    drawing
}

fn tip(drawing: &mut Drawing) {
    drawing.line(Layer::BurstCentre, (0.0, TOP_MM), (0.0, FOOT_MM));
    drawing.text(Text::new("tip: burst centre", (-2.0, 0.0), CAP_MM).anchored(Anchor::Middle).rotated(-FRAC_PI_2).bold());
}

/// Each section's pattern, number and colour.
fn colours(drawing: &mut Drawing, layout: &Layout, figures: &Figures) {
    for (section, colour) in figures.sections.iter().zip(layout.section_colours()) {
        let pattern = colour.map_or(Pattern::Blank, Pattern::nth);
        let band = Rect::new(section.inner_mm, BAND_TOP_MM, section.outer_mm, BAND_FOOT_MM);
        drawing.add(Layer::Fill, Shape::Area { outline: kurbo::Shape::to_path(&band, 0.1), pattern });
        if section.length_mm < ROOM_FOR_WORDS_MM {
            continue;
        }
        let middle_mm = 0.5 * (section.inner_mm + section.outer_mm);
        let name = section.colour.as_deref().unwrap_or("no colour");
        let words = format!("{}  {name}", section.number);
        let cap_mm = (0.6 * section.length_mm).clamp(1.8, CAP_MM);
        drawing.text(
            Text::new(words, (middle_mm + 0.5 * cap_mm, BAND_FOOT_MM + 2.5), cap_mm).anchored(Anchor::End).rotated(-FRAC_PI_2),
        );
    }
    let mut rows = BezPath::new();
    let end_mm = figures.sections.last().map_or(0.0, |section| section.outer_mm);
    for y in [BAND_TOP_MM, BAND_FOOT_MM] {
        rows.move_to((0.0, y));
        rows.line_to((end_mm, y));
    }
    drawing.path(Layer::Outline, rows);
}
