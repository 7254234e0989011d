//! The swing strip: a long ruler with a hole for the pin and one for every ring, to swing chalk like a beam compass: about a burst's
//! centre, or about one point of a line after the other. The parallel at a distance is what all arcs of that radius about the line's
//! points touch (their envelope, as of Huygens' wavelets), corners and bends with it; so it serves where no string about one pin does.

use super::flow::broken;
use super::labels::{numbered, spaced};
use super::layers::part;
use super::strip_words::{beyond_cloth, is_on_cloth};
use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;
use crate::print::font::shortened;
use crate::print::{Anchor, Drawing, Face, Layer, Text};
use kurbo::{Point, Rect};
use std::f64::consts::FRAC_PI_2;

/// From the pin to the lower edge, mm: lanes of holes, notes and the scale.
const FOOT_MM: f64 = 29.0;
/// How far the strip goes on beyond its first and last hole, mm: paper for the pin and for the hand.
const END_MM: f64 = 18.0;
/// Radius of a hole, mm: a pencil's or a chalk pencil's point passes.
const HOLE_MM: f64 = 1.5;
/// Least distance of the middles of two holes, mm: some paper stays between them.
const HOLES_APART_MM: f64 = 2.0 * HOLE_MM + 0.5;
/// The lanes of holes, mm below the pin's: neighbouring holes lie in different lanes, so that the paper holds.
const LANES_MM: [f64; 3] = [0.0, 6.0, 12.0];
/// Height of the words, mm.
const CAP_MM: f64 = 2.2;
/// Height of the scale's numbers and of notes, mm.
const SMALL_MM: f64 = 1.9;
/// Free paper between words, holes and edges, mm.
const CLEAR_MM: f64 = 1.0;

/// One ring: what it is called and how far from the pin.
struct Ring {
    name: String,
    words: String,
    radius_mm: f64,
    bold: bool,
}

/// Rings of a line that differ by less are swung through one hole, mm: as a rule tells apart (own choice).
const ONE_HOLE_MM: f64 = 0.25;
/// What is nearer to the line than this lies on it, mm.
const ON_IT_MM: f64 = 0.05;

/// Draws the strip along x, the pin hole at the origin. Every hole's distance from the pin is its ring's radius, whichever lane it
/// lies in; of a line it is the distance from the line, on either side. Rings without cloth, or too near to the pin or to another hole for a hole of their own, are left out and named.
#[must_use]
pub fn swing_strip(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Drawing {
    let mut drawing = part(layout, "swing strip");
    let (holes, left_out) = placed(rings(figures, lengths));
    let radii_mm: Vec<f64> = holes.iter().map(|(_, place)| place.x).collect();
    let labelled = spaced(&radii_mm, holes.iter().position(|(ring, _)| ring.bold), 1.1 * CAP_MM);
    let longest_mm = holes.iter().map(|(ring, _)| text_of(ring).width_mm()).fold(2.0 * CAP_MM, f64::max);
    let end_mm = holes.last().map_or(0.0, |(_, place)| place.x) + END_MM;
    let edge = Rect::new(-END_MM, -(HOLE_MM + 3.0 * CLEAR_MM + longest_mm), end_mm, FOOT_MM);
    drawing.path(Layer::Cut, kurbo::Shape::to_path(&edge, 0.1));
    pin(&mut drawing, layout, figures, edge.height());
    for ((ring, place), labelled) in holes.iter().zip(labelled) {
        drawing.circle(if ring.bold { Layer::Guide } else { Layer::Cut }, *place, HOLE_MM);
        if labelled {
            // The lower half carries the ruler; words start above the hole and read upward.
            let at = *place + kurbo::Vec2::new(0.5 * CAP_MM, -HOLE_MM - CLEAR_MM);
            drawing.text(Text { position: at, ..text_of(ring) }.rotated(-FRAC_PI_2));
        }
    }
    ruler(&mut drawing, end_mm, lengths);
    notes(&mut drawing, end_mm, &left_out, figures);
    drawing.fit_bounds(0.0);
    drawing
}

fn text_of(ring: &Ring) -> Text {
    let text = Text::new(ring.words.as_str(), Point::ZERO, CAP_MM);
    if ring.bold { text.bold() } else { text }
}

/// Rings that have cloth, the nearest first; those of a line that lie equally far on both sides are one.
fn rings(figures: &Figures, lengths: LengthStyle) -> Vec<Ring> {
    let (words, zero_mm) = (figures.fold.words, figures.fold.zero_mm);
    let ring = |name: String, along_mm: f64, bold: bool| {
        let from_zero_mm = along_mm - zero_mm;
        let name = format!("{name} {}", words.side(from_zero_mm)).trim_end().to_owned();
        Ring { words: String::new(), name, radius_mm: from_zero_mm.abs(), bold }
    };
    let binds = figures.binds.iter().map(|bind| (numbered(bind.number), bind.radius_mm, bind.on_guide_arc));
    let further = words.further.trim_start_matches("extra ");
    let further = figures.fold.references_mm.iter().map(|&along_mm| (further.to_owned(), along_mm, false));
    // Where the pleats are folded along another line than the first bind's.
    let pleated_mm = figures.fold.pleated_mm;
    let pleated = (figures.burst.is_none() && figures.binds.iter().all(|bind| (bind.radius_mm - pleated_mm).abs() > ON_IT_MM))
        .then(|| (words.pleated.to_owned(), pleated_mm, false));
    let mut rings: Vec<Ring> = binds
        .chain(further)
        .chain(pleated)
        .filter(|(_, along_mm, _)| is_on_cloth(figures, *along_mm))
        .map(|(name, along_mm, bold)| ring(name, along_mm, bold))
        .filter(|ring| figures.burst.is_some() || ring.radius_mm > ON_IT_MM)
        .collect();
    rings.sort_by(|a, b| a.radius_mm.total_cmp(&b.radius_mm));
    let alike = |a: &Ring, b: &Ring| figures.burst.is_none() && b.radius_mm - a.radius_mm < ONE_HOLE_MM;
    rings.chunk_by(alike).map(|rings| one(rings, lengths)).collect()
}

/// The one hole of rings that are equally far.
fn one(rings: &[Ring], lengths: LengthStyle) -> Ring {
    let names: Vec<&str> = rings.iter().map(|ring| ring.name.as_str()).collect();
    let (name, radius_mm) = (names.join(", "), rings.first().map_or(0.0, |ring| ring.radius_mm));
    let bold = rings.iter().any(|ring| ring.bold);
    Ring { words: format!("{name} · {}", lengths.format(radius_mm)), name, radius_mm, bold }
}

/// A hole for each ring that has room for one, and the names of those that have none.
fn placed(rings: Vec<Ring>) -> (Vec<(Ring, Point)>, Vec<String>) {
    let (mut holes, mut left_out): (Vec<(Ring, Point)>, Vec<String>) = (Vec::new(), Vec::new());
    for ring in rings {
        let first = holes.len() % LANES_MM.len();
        let lanes = (0..LANES_MM.len()).map(|turn| LANES_MM[(first + turn) % LANES_MM.len()]);
        // So near to the pin that its lane would push a hole far aside, it stays beside the pin.
        let near = lanes.filter(|&lane_mm| lane_mm == 0.0 || ring.radius_mm > 2.0 * lane_mm);
        let mut places = near.map(|lane_mm| Point::new((ring.radius_mm.powi(2) - lane_mm.powi(2)).sqrt(), lane_mm));
        let is_free = |place: &Point| {
            place.distance(Point::ZERO) >= HOLES_APART_MM
                && holes.iter().all(|(_, other)| place.distance(*other) >= HOLES_APART_MM)
        };
        match places.find(is_free) {
            Some(place) => holes.push((ring, place)),
            None => left_out.push(ring.name),
        }
    }
    holes.sort_by(|a, b| a.1.x.total_cmp(&b.1.x));
    (holes, left_out)
}

fn pin(drawing: &mut Drawing, layout: &Layout, figures: &Figures, high_mm: f64) {
    drawing.circle(Layer::Pin, (0.0, 0.0), HOLE_MM);
    drawing.line(Layer::Pin, (-5.0, 0.0), (5.0, 0.0));
    drawing.line(Layer::Pin, (0.0, -5.0), (0.0, 5.0));
    let words = if figures.burst.is_some() { "pin at burst centre" } else { "pin on the line" };
    if let Some(tie) = layout.tie_name() {
        let tie = shortened(tie, Face::Bold, CAP_MM, high_mm - 2.0 * CLEAR_MM);
        let at = (-12.0, FOOT_MM - CLEAR_MM);
        drawing.text(Text::new(tie, at, CAP_MM).rotated(-FRAC_PI_2).bold());
    }
    let words = Text::new(words, (-8.0, 0.0), CAP_MM).anchored(Anchor::Middle).rotated(-FRAC_PI_2);
    drawing.text(words.bold());
}

/// The marks of a ruler: how far apart, and how long each so many-th of them is, the longest first, mm.
struct Marks {
    apart_mm: f64,
    lengths_mm: &'static [(u32, f64)],
    /// Every so many-th has a number.
    numbered: u32,
}

/// As on a metric rule: every millimetre, longer at five and ten.
const METRIC: Marks = Marks { apart_mm: 1.0, lengths_mm: &[(10, 5.0), (5, 3.6), (1, 2.2)], numbered: 20 };
/// As on an inch rule: every eighth, longer at a quarter, a half and the inch.
const EIGHTHS: Marks = Marks { apart_mm: 25.4 / 8.0, lengths_mm: &[(8, 5.0), (4, 3.8), (2, 2.8), (1, 1.8)], numbered: 8 };

/// A scale along the lower edge, counted from the pin, where its nought is.
fn ruler(drawing: &mut Drawing, end_mm: f64, lengths: LengthStyle) {
    let marks = if lengths.is_metric() { METRIC } else { EIGHTHS };
    for tick in 0_u32.. {
        let x_mm = f64::from(tick) * marks.apart_mm;
        if x_mm > end_mm - 2.0 {
            break;
        }
        let numbered = tick % marks.numbered == 0;
        let length_mm = marks.lengths_mm.iter().find(|(each, _)| tick % each == 0).map_or(0.0, |(_, length_mm)| *length_mm);
        drawing.line(Layer::Scale, (x_mm, FOOT_MM), (x_mm, FOOT_MM - length_mm));
        let number = if tick == 0 { "0".to_owned() } else { lengths.format(x_mm) };
        let words = Text::new(number, (x_mm, FOOT_MM - length_mm - CLEAR_MM), SMALL_MM);
        // A number that would cross the strip's end is left out: it would lengthen the strip.
        if numbered && x_mm + 0.5 * words.width_mm() < end_mm - CLEAR_MM {
            drawing.text(words.anchored(Anchor::Middle));
        }
    }
}

/// Longest stretch of a note, and the gap behind it, mm: between two a sheet may end.
const NOTE_MM: f64 = 50.0;
const BETWEEN_NOTES_MM: f64 = 9.0;

/// Above the scale: what it counts, and what has no hole; in short stretches.
fn notes(drawing: &mut Drawing, end_mm: f64, left_out: &[String], figures: &Figures) {
    let mut notes = vec!["ruler: distance from pin".to_owned()];
    if figures.burst.is_none() {
        notes.push("Pin on many points of the line, swing short arcs:".to_owned());
        notes.push("the parallel is what all of them touch.".to_owned());
    }
    if !left_out.is_empty() {
        notes.push(format!("no room for a hole; measure: {}", left_out.join(", ")));
    }
    notes.extend(beyond_cloth(figures));
    let mut x_mm = 3.0;
    for stretch in notes.iter().flat_map(|note| broken(note, NOTE_MM, Face::Regular, SMALL_MM)) {
        let text = shortened(&stretch, Face::Regular, SMALL_MM, (end_mm - 5.0 - x_mm).max(0.0));
        let is_cut = text != stretch;
        let text = Text::new(text, (x_mm, FOOT_MM - 9.5), SMALL_MM);
        x_mm += text.width_mm() + BETWEEN_NOTES_MM;
        drawing.text(text);
        if is_cut {
            break;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::print::Shape;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// Places and lengths of the ruler's marks on an example's strip, mm.
    fn marks(lengths: LengthStyle) -> (Vec<(f64, f64)>, f64) {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let strip = swing_strip(&layout, &Figures::of(&layout), lengths);
        let mark = |item: &crate::print::Item| match &item.shape {
            Shape::Line(line) if item.layer == Layer::Scale => Some((line.p0.x, line.p0.y - line.p1.y)),
            _ => None,
        };
        (strip.items.iter().filter_map(mark).collect(), strip.bounds.x1)
    }

    /// The ruler began a tick beyond the pin and knew no eighths.
    #[test]
    fn the_ruler_has_the_marks_of_a_rule_from_nought_on() {
        let inches = LengthStyle::Inches { nearest: crate::measure::InchFraction::Eighth };
        for (lengths, apart_mm) in [(LengthStyle::MILLIMETRES, 1.0), (LengthStyle::CENTIMETRES, 1.0), (inches, 25.4 / 8.0)] {
            let (marks, end_mm) = marks(lengths);
            for (tick, (x_mm, _)) in (0_u32..).zip(&marks) {
                assert!((x_mm - f64::from(tick) * apart_mm).abs() < 1e-9, "{lengths:?}: {x_mm}");
            }
            let last_mm = marks.last().unwrap().0;
            assert!(last_mm < end_mm && last_mm > end_mm - 2.0 - 2.0 * apart_mm, "{lengths:?}: {last_mm} of {end_mm}");
        }
        let (marks, _) = marks(inches);
        let length = |eighth: usize| marks[eighth].1;
        assert!(length(8) > length(4) && length(4) > length(2) && length(2) > length(1) && length(1) == length(3));
        assert_eq!((length(0), length(6)), (length(8), length(2)));
    }
}
