//! Where measurements are taken, and how a garment is laid.

use super::paged::page_of;
use crate::geometry::{Centring, Lay};
use crate::handbook::fill::example;
use crate::measure::LengthStyle;
use crate::print::parts::{Sketch, through};
use crate::print::{Anchor, Layer, Page};
use kurbo::{Arc, Point, Rect, Shape as _, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};

/// Breadth of the garment in the picture, mm.
const BROAD_MM: f64 = 88.0;
/// From line to line of the key, mm.
const KEY_LINE_MM: f64 = 6.0;
/// Radius of a number's circle, mm.
const CIRCLE_MM: f64 = 2.4;

/// A tee with a numbered line for each measurement, and what the numbers mean.
pub(super) fn measures() -> Option<Page> {
    let layout = example("tee-m")?;
    let garment = layout.garment();
    let (front, back) = (garment.draft().front.whole().path(), garment.draft().back.whole().path());
    let box_mm = front.bounding_box().union(back.bounding_box());
    let mut sketch = Sketch::new("Where measurements are taken", box_mm, Point::ZERO, BROAD_MM / box_mm.width());
    sketch.path(Layer::Behind, back);
    sketch.path(Layer::Outline, front);
    let mut taken: Vec<Point> = Vec::new();
    for (number, measurement) in (1..).zip(garment.measurements()) {
        let [from, to] = garment.figure_line(measurement.measure)?.map(|point| sketch.point(point));
        sketch.drawing.line(Layer::Across, from, to);
        ends(&mut sketch, from, to);
        let at = free_place(from, to, &taken);
        taken.push(at);
        sketch.drawing.circle(Layer::Map, at, CIRCLE_MM);
        sketch.bold(number.to_string(), at, Anchor::Middle);
        let line = Point::new(BROAD_MM + 10.0, 4.0 + KEY_LINE_MM * f64::from(number - 1));
        sketch.bold(number.to_string(), line, Anchor::End);
        let length = LengthStyle::MILLIMETRES.format(measurement.value_mm);
        sketch.words(format!("{}: {length}", measurement.measure.name()), line + Vec2::new(2.5, 0.0), Anchor::Start);
    }
    Some(page_of(&sketch.finish()))
}

/// Strokes across both ends of a measured line.
fn ends(sketch: &mut Sketch, from: Point, to: Point) {
    let along = to - from;
    let across = Vec2::new(-along.y, along.x) * (1.2 / along.hypot().max(1e-9));
    for end in [from, to] {
        sketch.drawing.line(Layer::Across, end - across, end + across);
    }
}

/// Where a number stands on its line: as near to the middle as no other number stands.
fn free_place(from: Point, to: Point, taken: &[Point]) -> Point {
    let shares = (0..19).map(|step| 0.5 + 0.05 * f64::from((step + 1) / 2) * if step % 2 == 0 { 1.0 } else { -1.0 });
    let place = |share: f64| from.lerp(to, share);
    let is_free = |at: &Point| taken.iter().all(|other| other.distance(*at) > 2.2 * CIRCLE_MM);
    // A short line has its number beside it.
    let beside = (1..8).map(|step| to + Vec2::new(2.0 * CIRCLE_MM * f64::from(step), 0.0));
    shares.map(place).chain(beside).find(is_free).unwrap_or_else(|| place(0.5))
}

/// Length of a layer in the picture, and between two, mm.
const LAYER_MM: f64 = 22.0;
const BETWEEN_MM: f64 = 5.0;
/// From one way to the next, mm.
const APART_MM: f64 = 52.0;

/// The layers of a tee laid in each of the three ways, with what joins them: the garment's own fold at the left, its side seams at the right.
pub(super) fn half_folds() -> Option<Page> {
    let layout = example("tee-m")?;
    let mut sketch = Sketch::new("How a garment is laid", Rect::ZERO, Point::ZERO, 1.0);
    for (index, centring) in (0..).zip([Centring::Nested, Centring::PlainHalf, Centring::Open]) {
        let lay = Lay::new(centring, layout.panels().clone());
        let left = APART_MM * f64::from(index);
        let layers = lay.layers();
        let foot = BETWEEN_MM * 3.0;
        let level = |layer: u32| foot - BETWEEN_MM * f64::from(layer);
        let names: Vec<String> = (0..layers).map(|layer| named(&lay, layer)).collect();
        for layer in 0..layers {
            sketch.drawing.line(Layer::Guide, (left, level(layer)), (left + LAYER_MM, level(layer)));
            let name = names.get(layer as usize).cloned().unwrap_or_default();
            sketch.words(name, (left + LAYER_MM + 7.0, level(layer)), Anchor::Start);
        }
        for layer in 0..layers {
            if let Some(other) = lay.over_the_fold(layer).filter(|other| *other > layer) {
                bow(&mut sketch, left, level(layer), level(other), Side::Left);
            }
        }
        seams(&mut sketch, &lay, left, &level);
        sketch.bold(centring.name(), (left, -7.0), Anchor::Start);
    }
    Some(page_of(&sketch.finish()))
}

/// A layer's name: of a garment laid open, its panel.
fn named(lay: &Lay, layer: u32) -> String {
    let point = lay.cloth_at(layer, Point::new(50.0, 300.0));
    let panel = point.panel.name();
    match (lay.is_folded(), point.x_mm < 0.0) {
        (false, _) => panel.to_owned(),
        (true, false) => format!("{panel} left"),
        (true, true) => format!("{panel} right"),
    }
}

/// Front and back of one side are joined at its seam.
fn seams(sketch: &mut Sketch, lay: &Lay, left: f64, level: &dyn Fn(u32) -> f64) {
    let side = |layer: u32| lay.cloth_at(layer, Point::new(50.0, 300.0));
    for layer in 0..lay.layers() {
        for other in layer + 1..lay.layers() {
            let (one, two) = (side(layer), side(other));
            if one.panel != two.panel && (one.x_mm < 0.0) == (two.x_mm < 0.0) {
                bow(sketch, left + LAYER_MM, level(layer), level(other), Side::Right);
                if !lay.is_folded() {
                    bow(sketch, left, level(layer), level(other), Side::Left);
                }
            }
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Right,
}

/// A bow that joins two layers at their ends.
fn bow(sketch: &mut Sketch, x: f64, from: f64, to: f64, side: Side) {
    let (middle, half) = (0.5 * (from + to), 0.5 * (from - to).abs());
    let (start, sweep) = if side == Side::Left { (FRAC_PI_2, PI) } else { (-FRAC_PI_2, PI) };
    // Flat ellipses: bows of four layers keep clear of the names.
    let arc = Arc::new((x, middle), (half.min(3.0) + 1.0, half), start, sweep, 0.0);
    let points = (0..=24).map(|step| {
        let angle = start + sweep * f64::from(step) / 24.0;
        arc.center + Vec2::new(arc.radii.x * angle.cos(), arc.radii.y * angle.sin())
    });
    sketch.drawing.path(if side == Side::Left { Layer::Guide } else { Layer::Across }, through(points));
}
