//! The swing strip: a long ruler with a hole at the burst centre and one at every ring, to swing chalk like a beam compass.

use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;
use crate::print::{Anchor, Drawing, Layer, Text};
use kurbo::Rect;
use std::f64::consts::FRAC_PI_2;

/// Breadth of the strip, mm: words of an inch rule fit above the holes, the ruler below them.
const BREADTH_MM: f64 = 58.0;
/// How far the strip goes on beyond its first and last hole, mm: paper for the pin and for the hand.
const END_MM: f64 = 18.0;
/// Radius of a hole, mm: a pencil's or a chalk pencil's point passes.
const HOLE_MM: f64 = 1.5;
/// The lanes of holes, mm below the pin's: neighbouring holes lie in different lanes, so that the paper holds.
const LANES_MM: [f64; 3] = [0.0, 6.0, 12.0];
/// Height of the words, mm.
const CAP_MM: f64 = 2.4;

/// One hole: what it draws and how far from the pin.
struct Hole {
    words: String,
    radius_mm: f64,
    bold: bool,
}

/// Draws the strip along x, the pin hole at the origin. Every hole's distance from the pin is its ring's radius, whichever lane it
/// lies in.
#[must_use]
pub fn swing_strip(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Drawing {
    let mut drawing = Drawing::new(format!("{}: swing strip", layout.name()));
    let holes = holes(figures, lengths);
    let end_mm = holes.last().map_or(0.0, |hole| hole.radius_mm) + END_MM;
    edges(&mut drawing, end_mm);
    pin(&mut drawing);
    for (index, hole) in holes.iter().enumerate() {
        let lane_mm = LANES_MM[index % LANES_MM.len()];
        // So near to the pin that its lane would push a hole far aside, it stays beside the pin.
        let lane_mm = if hole.radius_mm > 2.0 * lane_mm { lane_mm } else { 0.0 };
        add_hole(&mut drawing, hole, lane_mm);
    }
    ruler(&mut drawing, end_mm, lengths);
    drawing.fit_bounds(0.0);
    drawing
}

fn holes(figures: &Figures, lengths: LengthStyle) -> Vec<Hole> {
    let binds = figures.binds.iter().map(|bind| Hole {
        words: format!("{}  {}", bind.number, lengths.format(bind.radius_mm)),
        radius_mm: bind.radius_mm,
        bold: bind.on_guide_arc,
    });
    let further = figures.burst.further_arcs_mm.iter().map(|&radius_mm| Hole {
        words: format!("arc  {}", lengths.format(radius_mm)),
        radius_mm,
        bold: false,
    });
    let mut holes: Vec<Hole> = binds.chain(further).collect();
    holes.sort_by(|a, b| a.radius_mm.total_cmp(&b.radius_mm));
    holes
}

fn edges(drawing: &mut Drawing, end_mm: f64) {
    let half = 0.5 * BREADTH_MM;
    let edge = Rect::new(-END_MM, -half, end_mm, half);
    drawing.path(Layer::Cut, kurbo::Shape::to_path(&edge, 0.1));
}

fn pin(drawing: &mut Drawing) {
    drawing.circle(Layer::BurstCentre, (0.0, 0.0), HOLE_MM);
    drawing.line(Layer::BurstCentre, (-5.0, 0.0), (5.0, 0.0));
    drawing.line(Layer::BurstCentre, (0.0, -5.0), (0.0, 5.0));
    let words = Text::new("pin at burst centre", (-8.0, 0.0), CAP_MM).anchored(Anchor::Middle).rotated(-FRAC_PI_2);
    drawing.text(words.bold());
}

/// A hole with its words running across the strip.
fn add_hole(drawing: &mut Drawing, hole: &Hole, lane_mm: f64) {
    let x_mm = (hole.radius_mm * hole.radius_mm - lane_mm * lane_mm).sqrt();
    drawing.circle(if hole.bold { Layer::GuideArc } else { Layer::Cut }, (x_mm, lane_mm), HOLE_MM);
    // The lower half carries the ruler; words start above the hole and read upward.
    let words = Text::new(hole.words.as_str(), (x_mm + 0.5 * CAP_MM, lane_mm - HOLE_MM - 1.0), CAP_MM).rotated(-FRAC_PI_2);
    drawing.text(if hole.bold { words.bold() } else { words });
}

/// A scale along the lower edge, counted from the pin.
fn ruler(drawing: &mut Drawing, end_mm: f64, lengths: LengthStyle) {
    let (tick_mm, ticks_per_number) = match lengths {
        LengthStyle::Metric { .. } => (5.0, 4_u32),
        LengthStyle::Inches { .. } => (25.4 / 4.0, 4),
    };
    let foot = 0.5 * BREADTH_MM;
    for tick in 1_u32.. {
        let x_mm = f64::from(tick) * tick_mm;
        if x_mm > end_mm - 2.0 {
            break;
        }
        let numbered = tick % ticks_per_number == 0;
        let length_mm = if numbered { 5.0 } else { 2.5 };
        drawing.line(Layer::Scale, (x_mm, foot), (x_mm, foot - length_mm));
        if numbered {
            let words = Text::new(lengths.format(x_mm), (x_mm, foot - length_mm - 1.0), 0.8 * CAP_MM);
            drawing.text(words.anchored(Anchor::Middle));
        }
    }
}
