//! What is tied, made small: the bound rod from its side, a flat bundle or a puck from above, a pattern for each colour.

use super::sketch::{Sketch, through};
use crate::geometry::{BundleFace, DipPart, FlatFold, Spiral, Twist};
use crate::layout::{Figures, Layout, RodProfile};
use crate::print::{Anchor, Layer, Pattern, Shape};
use kurbo::{Point, Rect, Shape as _, Size, Vec2};
use std::f64::consts::TAU;

/// Binds nearer to the one labelled before are not labelled, mm.
const LABELS_APART_MM: f64 = 4.5;
/// Height of the numbers above what is tied, mm.
const NUMBERS_MM: f64 = 5.0;
/// How far a bind's stroke reaches over the edge, mm.
const OVER_MM: f64 = 0.8;
/// Stretches that a bundle's edge is drawn with between two binds.
const COLUMNS: u32 = 24;
/// Round a puck: how long its tick is, mm, and the room that it takes.
const TICK_MM: f64 = 2.5;
const ABOUT_MM: f64 = 6.0;
/// Straight pieces that a turn of a puck's rim is drawn with.
const PIECES: f64 = 120.0;

/// The bound rod at true proportions: a pattern for each colour, a stroke for each bind, numbers where there is room.
pub(crate) fn rod(layout: &Layout, figures: &Figures, room_mm: Size) -> Sketch {
    let profile = RodProfile::of(layout, figures);
    let scale = (room_mm.width / profile.length_mm).min((room_mm.height - NUMBERS_MM) / profile.thickest_mm);
    let middle = 0.5 * scale * profile.thickest_mm;
    let mut sketch = Sketch::new("The tied rod", Rect::ZERO, Point::ZERO, 1.0);
    for ((section, heights), colour) in figures.sections.iter().zip(&profile.sections).zip(layout.section_colours()) {
        let stretches = RodProfile::STEPS as f64;
        let edge = |sign: f64| {
            heights.iter().enumerate().map(move |(step, height)| {
                let along_mm = section.inner_mm + (section.outer_mm - section.inner_mm) * step as f64 / stretches;
                Point::new(scale * along_mm, middle + sign * 0.5 * scale * height)
            })
        };
        let lower: Vec<Point> = edge(1.0).collect();
        filled(&mut sketch, edge(-1.0).chain(lower.into_iter().rev()), colour);
    }
    let mut labelled = f64::NEG_INFINITY;
    for bind in &figures.binds {
        let (x, half) = (scale * bind.radius_mm, 0.5 * scale * bind.rod.bound_diameter_mm + OVER_MM);
        sketch.drawing.line(if bind.on_guide_arc { Layer::Guide } else { Layer::Cut }, (x, middle - half), (x, middle + half));
        if x - labelled > LABELS_APART_MM {
            sketch.words(bind.number.to_string(), (x, -4.0), Anchor::Middle);
            labelled = x;
        }
    }
    sketch
}

/// A flat bundle from above with its binds and blocks, its first end at the left; none of another fold.
pub(super) fn bundle(layout: &Layout, figures: &Figures, room_mm: Size) -> Option<Sketch> {
    let fold = layout.flat()?;
    let corners = fold.outline();
    let bounds = corners.iter().fold(Rect::from_origin_size(*corners.first()?, (0.0, 0.0)), |all, corner| all.union_pt(*corner));
    let about_mm = if layout.dips().is_empty() { 0.0 } else { ABOUT_NUMBERS_MM };
    let [width_mm, height_mm] = [room_mm.width - about_mm, room_mm.height - NUMBERS_MM - about_mm];
    let scale = (width_mm / bounds.width()).min(height_mm / bounds.height());
    let mut sketch = Sketch::new("The bundle", bounds, Point::ZERO, scale);
    for (section, colour) in figures.sections.iter().zip(layout.section_colours()) {
        stretch(&mut sketch, fold, [section.inner_mm, section.outer_mm], colour);
    }
    let mut outline = through(corners.iter().map(|&corner| sketch.point(corner)));
    outline.close_path();
    sketch.drawing.path(Layer::Outline, outline);
    if let Some(block) = layout.blocks() {
        sketch.path(Layer::Guide, &block.path());
    }
    for (face, layer) in [(BundleFace::Lower, Layer::Behind), (BundleFace::Upper, Layer::Cut)] {
        for line in layout.wrap().into_iter().flat_map(|wrap| wrap.lines(face)) {
            let ends = [sketch.point(line.p0), sketch.point(line.p1)];
            sketch.drawing.line(layer, ends[0], ends[1]);
        }
    }
    dips(&mut sketch, layout, fold);
    let mut labelled = f64::NEG_INFINITY;
    for bind in &figures.binds {
        let Some(chord) = fold.chord(bind.radius_mm) else { continue };
        let ends = [sketch.point(chord.p0) - (0.0, OVER_MM), sketch.point(chord.p1) + (0.0, OVER_MM)];
        sketch.drawing.line(if bind.on_guide_arc { Layer::Guide } else { Layer::Cut }, ends[0], ends[1]);
        if ends[0].x - labelled > LABELS_APART_MM {
            sketch.words(bind.number.to_string(), ends[0] - (0.0, 2.5), Anchor::Middle);
            labelled = ends[0].x;
        }
    }
    Some(sketch)
}

/// What of a bundle lies in dye, in its colour's pattern, and the numbers by which corners and edges are told.
fn dips(sketch: &mut Sketch, layout: &Layout, fold: &FlatFold) {
    for dip in layout.dips() {
        let points: Vec<Point> = fold.in_dye(&dip.zone).into_iter().map(|point| sketch.point(point)).collect();
        filled(sketch, points, Some(dip.colour));
    }
    if layout.dips().is_empty() {
        return;
    }
    let middle = sketch.point(fold.middle());
    for part in fold.dip_parts() {
        let Some(place) = fold.part_place(part).map(|place| sketch.point(place)) else { continue };
        let away = (place - middle) / (place - middle).hypot().max(f64::MIN_POSITIVE);
        let at = place + BESIDE_MM * away;
        match part {
            DipPart::Corner(number) => sketch.bold(number.to_string(), at, Anchor::Middle),
            // In the middle of an edge there may be a bind's number.
            DipPart::Edge(_) if layout.raw().dips.iter().any(|dip| dip.part == part) => {
                let anchor = if away.x < -UPRIGHT {
                    Anchor::End
                } else if away.x > UPRIGHT {
                    Anchor::Start
                } else {
                    Anchor::Middle
                };
                sketch.words(part.to_string(), place + 1.6 * BESIDE_MM * away, anchor);
            }
            _ => {}
        }
    }
}

/// Room for numbers on both sides of the outline, mm.
const ABOUT_NUMBERS_MM: f64 = 11.0;
/// How far outside the outline a number stands, mm; from which part of a direction on an edge looks to the side.
const BESIDE_MM: f64 = 3.0;
const UPRIGHT: f64 = 0.5;

/// The cloth of a bundle between two cuts across it, with its colour's pattern.
fn stretch(sketch: &mut Sketch, fold: &FlatFold, [from_mm, to_mm]: [f64; 2], colour: Option<usize>) {
    let chord = |column: u32| {
        // Its very ends meet the outline in a corner.
        let share = (f64::from(column) / f64::from(COLUMNS)).clamp(1e-6, 1.0 - 1e-6);
        fold.chord(from_mm + (to_mm - from_mm) * share)
    };
    let chords: Vec<_> = (0..=COLUMNS).filter_map(chord).collect();
    let upper: Vec<Point> = chords.iter().map(|chord| sketch.point(chord.p0)).collect();
    let lower: Vec<Point> = chords.iter().rev().map(|chord| sketch.point(chord.p1)).collect();
    if upper.len() > 1 {
        filled(sketch, upper.into_iter().chain(lower), colour);
    }
}

/// Whether a puck is drawn before or after it is banded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Puck {
    /// Which way its pinch is turned.
    Turned,
    /// With its bands and the numbers of its wedges.
    Banded,
}

/// A puck from above, its tick up; none of another fold.
pub(super) fn puck(layout: &Layout, figures: &Figures, room_mm: Size, which: Puck) -> Option<Sketch> {
    let spiral = layout.spiral()?;
    let radius = 0.5 * (room_mm.width.min(room_mm.height) - 2.0 * ABOUT_MM);
    let mut sketch = Sketch::new("The puck", Rect::ZERO, Point::ZERO, 1.0);
    let at = |share: f64, out: f64| Point::ORIGIN + out * direction(share);
    if which == Puck::Banded {
        for (section, colour) in figures.sections.iter().zip(layout.section_colours()) {
            let [from, to] = [section.inner_mm, section.outer_mm].map(|mm| mm / spiral.rim_mm());
            let steps = (1.0 + ((to - from) * PIECES).ceil()).max(2.0);
            let rim = (0..=PIECES_MOST).map(f64::from).take_while(|step| *step <= steps);
            let rim = rim.map(|step| at(from + (to - from) * step / steps, radius));
            filled(&mut sketch, std::iter::once(Point::ORIGIN).chain(rim), colour);
            sketch.bold(section.number.to_string(), at(0.5 * (from + to), 1.18 * radius), Anchor::Middle);
        }
        for bind in &figures.binds {
            sketch.drawing.line(Layer::Guide, Point::ORIGIN, at(bind.radius_mm / spiral.rim_mm(), radius + OVER_MM));
        }
    } else {
        turned(&mut sketch, spiral, radius);
    }
    sketch.drawing.circle(Layer::Outline, Point::ORIGIN, radius);
    sketch.drawing.line(Layer::Cut, at(0.0, radius), at(0.0, radius + TICK_MM));
    if which == Puck::Turned {
        sketch.words("tick", at(0.0, radius + TICK_MM + 1.8), Anchor::Middle);
    }
    Some(sketch)
}

/// Most pieces of a whole rim.
const PIECES_MOST: u32 = 128;

/// Pleats that wind about the middle, and an arrow that turns as the pinch does.
fn turned(sketch: &mut Sketch, spiral: &Spiral, radius: f64) {
    let sense = match spiral.spec().twist {
        Twist::Clockwise => 1.0,
        Twist::Anticlockwise => -1.0,
    };
    let lines = 4 * spiral.spec().pleats;
    // Cloth farther out lies behind; more than half a turn of it would be no picture of pleats.
    let winds = -sense * spiral.spec().turns.min(0.5);
    for line in 0..lines {
        let from = f64::from(line) / f64::from(lines);
        let at = |step: u32| {
            let share = f64::from(step) / 16.0;
            Point::ORIGIN + share * radius * direction(from + winds * share)
        };
        sketch.drawing.path(Layer::Map, through((1..=16).map(at)));
    }
    let at = |share: f64| Point::ORIGIN + 0.42 * radius * direction(sense * share);
    sketch.drawing.path(Layer::Guide, through((0..=30).map(|step| at(0.75 * f64::from(step) / 30.0))));
    let (tip, before) = (at(0.75), at(0.70));
    let back = 2.2 * (before - tip).normalize();
    for aside in [0.6, -0.6] {
        sketch.drawing.line(Layer::Guide, tip, tip + back + aside * back.turn_90());
    }
}

/// The direction of a share of a turn, clockwise from straight up.
fn direction(turns: f64) -> Vec2 {
    let (sin, cos) = (TAU * turns).sin_cos();
    Vec2::new(sin, -cos)
}

/// An outline with the pattern of a colour in it; bare where there is none.
fn filled(sketch: &mut Sketch, points: impl IntoIterator<Item = Point>, colour: Option<usize>) {
    let mut outline = through(points);
    outline.close_path();
    sketch.drawing.path(Layer::Cut, outline.clone());
    let pattern = colour.map_or(Pattern::Blank, Pattern::nth);
    sketch.drawing.add(Layer::Fill, Shape::Area { outline, pattern });
}

/// Which pattern stands for which colour: squares with names, beside each other from a place on, `apart_mm` from one to the next.
pub(crate) fn colour_key(sketch: &mut Sketch, layout: &Layout, at: Point, apart_mm: f64) {
    for (index, swatch) in (0_u32..).zip(&layout.raw().colours.rotation) {
        let corner = at + (apart_mm * f64::from(index), 0.0);
        let square = Rect::from_origin_size(corner, (8.0, 5.0)).to_path(0.1);
        sketch.drawing.path(Layer::Cut, square.clone());
        let pattern = Pattern::nth(index as usize);
        sketch.drawing.add(Layer::Fill, Shape::Area { outline: square, pattern });
        sketch.words(swatch.name.clone(), corner + (10.0, 2.5), Anchor::Start);
    }
}
