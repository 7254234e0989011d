//! The rod strip: laid beside the bound rod, it says where each bind and each colour goes.

use super::labels::{SHORTEST_MM, numbered, spaced};
use super::layers::part;
use super::strip_words::{beyond_cloth, is_on_cloth};
use crate::layout::{Figures, FoldWords, Layout, SectionFigures};
use crate::measure::LengthStyle;
use crate::print::font::shortened;
use crate::print::{Anchor, Drawing, Face, Layer, Pattern, Shape, Text, width_mm};
use kurbo::{BezPath, Rect};
use std::f64::consts::FRAC_PI_2;

/// Edges of the patterned band, mm from the strip's middle: binds above, sections below.
const BAND_TOP_MM: f64 = -3.0;
const BAND_FOOT_MM: f64 = 5.0;
/// Free paper between band and words, and between words and edge, mm.
const CLEAR_MM: f64 = 2.5;
/// Longest words above or below the band, mm; longer ones are cut.
const LONGEST_WORDS_MM: f64 = 44.0;
/// How far the strip goes on beyond the rod's ends, mm: what the words mean stands before the tip.
const END_MM: f64 = 12.0;
/// Height of the words, mm.
const CAP_MM: f64 = 2.2;
/// Shortest section whose words fit upright beside each other, mm.
const ROOM_FOR_WORDS_MM: f64 = 4.0;

/// Words along the strip, upright, and where they stand.
struct Words {
    text: String,
    x_mm: f64,
    cap_mm: f64,
    bold: bool,
}

/// Draws the strip along x, the rod's tip (the burst centre) at the origin. It ends where the cloth ends; binds beyond are named, not
/// drawn. Its breadth follows the longest words.
#[must_use]
pub fn rod_strip(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Drawing {
    let mut drawing = part(layout, "rod strip");
    let cloth_end_mm = figures.fold.length_mm;
    let (above, below) = (bind_words(figures, lengths, cloth_end_mm), section_words(figures));
    let top_mm = BAND_TOP_MM - 2.0 * CLEAR_MM - longest_mm(&above);
    let foot_mm = BAND_FOOT_MM + 2.0 * CLEAR_MM + longest_mm(&below);
    let edge = Rect::new(-END_MM, top_mm, cloth_end_mm + END_MM, foot_mm);
    drawing.path(Layer::Cut, kurbo::Shape::to_path(&edge, 0.1));
    band(&mut drawing, layout, figures);
    drawing.line(Layer::Pin, (0.0, top_mm), (0.0, foot_mm));
    for bind in figures.binds.iter().filter(|bind| is_on_cloth(figures, bind.radius_mm)) {
        let layer = if bind.on_guide_arc { Layer::Guide } else { Layer::Across };
        drawing.line(layer, (bind.radius_mm, BAND_TOP_MM - 2.0), (bind.radius_mm, BAND_FOOT_MM + 1.5));
    }
    add_words(&mut drawing, &above, BAND_TOP_MM - CLEAR_MM, Anchor::Start);
    add_words(&mut drawing, &below, BAND_FOOT_MM + CLEAR_MM, Anchor::End);
    let tip = match figures.fold.words {
        FoldWords::BURST => "tip: burst centre",
        FoldWords::FLAT => "first end",
        _ => "tip",
    };
    let tip = Text::new(tip, (-1.5, BAND_TOP_MM - CLEAR_MM), CAP_MM);
    drawing.text(tip.rotated(-FRAC_PI_2).bold());
    if let Some(tie) = layout.tie_name() {
        let tie = shortened(tie, Face::Bold, CAP_MM, foot_mm - BAND_FOOT_MM - 2.0 * CLEAR_MM);
        let name = Text::new(tie, (-1.5, BAND_FOOT_MM + CLEAR_MM), CAP_MM).anchored(Anchor::End);
        drawing.text(name.rotated(-FRAC_PI_2).bold());
    }
    drawing.fit_bounds(0.0);
    drawing
}

fn longest_mm(words: &[Words]) -> f64 {
    let width = |words: &Words| width_mm(&words.text, face(words.bold), words.cap_mm);
    words.iter().map(width).fold(0.0, f64::max).min(LONGEST_WORDS_MM)
}

const fn face(bold: bool) -> Face {
    if bold { Face::Bold } else { Face::Regular }
}

/// Number, place and wraps of each bind that has room for them, what these are, and what is left out.
fn bind_words(figures: &Figures, lengths: LengthStyle, cloth_end_mm: f64) -> Vec<Words> {
    let binds: Vec<_> = figures.binds.iter().filter(|bind| is_on_cloth(figures, bind.radius_mm)).collect();
    let radii_mm: Vec<f64> = binds.iter().map(|bind| bind.radius_mm).collect();
    let labelled = spaced(&radii_mm, binds.iter().position(|bind| bind.on_guide_arc), 1.2 * SHORTEST_MM);
    let keys = key([&format!("number · from {} · wraps", figures.fold.words.from()), "(3x: 3 wraps)"]);
    let left_out = beyond_cloth(figures).map(|text| Words { text, x_mm: cloth_end_mm + 4.0, cap_mm: SHORTEST_MM, bold: false });
    let of_bind = |(bind, labelled): (&&crate::layout::BindFigures, bool)| {
        labelled.then(|| Words {
            text: format!("{} · {} · {}x", numbered(bind.number), place(figures, bind.radius_mm, lengths), bind.wraps),
            x_mm: bind.radius_mm,
            cap_mm: (0.6 * bind.gap_inside_mm).clamp(SHORTEST_MM, CAP_MM),
            bold: bind.on_guide_arc,
        })
    };
    keys.into_iter().chain(binds.iter().zip(labelled).filter_map(of_bind)).chain(left_out).collect()
}

/// A place along the rod as its maker measures it: without what it is measured from, which the strip's key says.
fn place(figures: &Figures, along_mm: f64, lengths: LengthStyle) -> String {
    figures.fold.words.short_place(along_mm - figures.fold.zero_mm, lengths)
}

/// What the words along the strip mean, in two lines before the tip.
fn key(lines: [&str; 2]) -> [Words; 2] {
    let [first, second] = lines.map(str::to_owned);
    let line = |text, x_mm| Words { text, x_mm, cap_mm: SHORTEST_MM, bold: false };
    [line(first, 3.0 - END_MM), line(second, 6.0 - END_MM)]
}

/// A colour, or that none is said.
fn said(colour: &str) -> &str {
    if colour.is_empty() { "no colour" } else { colour }
}

/// Number and colour of each section that has room for them.
fn section_words(figures: &Figures) -> Vec<Words> {
    let of_section = |(section, outer_mm): (&SectionFigures, f64)| Words {
        text: format!("{} · {}", section.number, said(section.colour_words())),
        x_mm: 0.5 * (section.inner_mm + outer_mm),
        cap_mm: (0.6 * (outer_mm - section.inner_mm)).clamp(SHORTEST_MM, CAP_MM),
        bold: false,
    };
    let roomy = on_cloth(figures).filter(|(section, outer_mm)| outer_mm - section.inner_mm >= ROOM_FOR_WORDS_MM);
    key(["section", "· colour"]).into_iter().chain(roomy.map(of_section)).collect()
}

/// Sections that have cloth, each with its outer end on it.
fn on_cloth(figures: &Figures) -> impl Iterator<Item = (&SectionFigures, f64)> {
    let end_mm = figures.fold.length_mm;
    figures.sections.iter().filter(move |section| section.inner_mm < end_mm).map(move |s| (s, s.outer_mm.min(end_mm)))
}

fn add_words(drawing: &mut Drawing, words: &[Words], y_mm: f64, anchor: Anchor) {
    for words in words {
        let text = shortened(&words.text, face(words.bold), words.cap_mm, LONGEST_WORDS_MM);
        let text = Text::new(text, (words.x_mm + 0.5 * words.cap_mm, y_mm), words.cap_mm).anchored(anchor).rotated(-FRAC_PI_2);
        drawing.text(if words.bold { text.bold() } else { text });
    }
}

/// Each section's pattern between the band's edges.
fn band(drawing: &mut Drawing, layout: &Layout, figures: &Figures) {
    for ((section, outer_mm), colour) in on_cloth(figures).zip(layout.section_colours()) {
        let pattern = colour.map_or(Pattern::Blank, Pattern::nth);
        let band = Rect::new(section.inner_mm, BAND_TOP_MM, outer_mm, BAND_FOOT_MM);
        drawing.add(Layer::Fill, Shape::Area { outline: kurbo::Shape::to_path(&band, 0.1), pattern });
    }
    let mut rows = BezPath::new();
    for y in [BAND_TOP_MM, BAND_FOOT_MM] {
        rows.move_to((0.0, y));
        rows.line_to((figures.fold.length_mm, y));
    }
    drawing.path(Layer::Outline, rows);
}
