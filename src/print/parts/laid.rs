//! A layout as it lies, made small: outline, fold line, lines to mark, creases.

use super::creases::numbered;
use super::sketch::{CAP_MM, Sketch, through};
use crate::geometry::{Gather, Panel, Stretch};
use crate::layout::{Layout, Mark, MarkRole};
use crate::print::{Anchor, Layer};
use kurbo::{Affine, BezPath, Circle, Line, ParamCurve as _, Point, Rect, Shape as _, Size, Vec2};

/// How far a curve may stray from its chords on the cloth, mm.
const TOLERANCE_MM: f64 = 0.3;
/// Arm of the cross at the centre in the picture, mm.
const CROSS_MM: f64 = 2.4;
/// Radius of a needle's hole in the picture, mm.
const HOLE_MM: f64 = 0.3;
/// Length of an arrow over a crease in the picture, mm, and its barbs.
const ARROW_MM: f64 = 5.0;
const BARB_MM: f64 = 1.3;
/// Where along a crease its number stands, as a share of it: where most of them are crossed by none.
const NUMBER_AT: f64 = 0.35;
/// Numbers of creases nearer to each other than this in the picture are left out, mm.
const NUMBERS_APART_MM: f64 = 3.4;

/// What is shown on the laid garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shown {
    /// Lines to mark and creases.
    All,
    /// Lines to mark alone.
    Marks,
    /// Creases, the ridge and the order of folding alone.
    Creases,
}

/// The garment as it lies, its fold at the left, as large as it goes into a room, and its box on the cloth.
pub(crate) fn as_laid(layout: &Layout, title: &str, room_mm: Size, shown: Shown) -> (Sketch, Rect) {
    let outlines: Vec<BezPath> = layout.lay().outlines(&Panel::BOTH).map(|outline| outline.path().clone()).collect();
    let box_mm = outlines.iter().map(BezPath::bounding_box).reduce(|a, b| a.union(b)).unwrap_or_default();
    let scale = (room_mm.width / box_mm.width()).min(room_mm.height / box_mm.height());
    let mut sketch = Sketch::new(title, box_mm, Point::ZERO, scale);
    for (index, outline) in outlines.iter().enumerate() {
        sketch.path(if index == 0 { Layer::Outline } else { Layer::Behind }, outline);
    }
    let line = layout.panels().centre_line_mm(&Panel::BOTH);
    sketch.line(Layer::Axis, Line::new((0.0, line.start), (0.0, line.end)));
    // Bands lie over a puck, and no line of them is chalked on the cloth.
    if shown != Shown::Creases && layout.spiral().is_none() {
        layout.marks_on(&Panel::BOTH).iter().for_each(|mark| marked(&mut sketch, mark, Affine::IDENTITY));
    }
    if shown != Shown::Marks && layout.gather() == Gather::FanFold {
        for crease in layout.marked_creases() {
            sketch.line(if crease.ends_alone { Layer::LoneCrease } else { Layer::Crease }, crease.line);
        }
    }
    (sketch, box_mm)
}

/// A line to mark, laid on the sketch's cloth.
pub(crate) fn marked(sketch: &mut Sketch, mark: &Mark, cloth_from_laid: Affine) {
    mark.stretches.iter().for_each(|stretch| drawn(sketch, layer_of(mark.role), stretch, cloth_from_laid));
}

fn drawn(sketch: &mut Sketch, layer: Layer, stretch: &Stretch, cloth_from_laid: Affine) {
    let points = match stretch {
        Stretch::Straight(line) => vec![line.p0, line.p1],
        arc @ Stretch::Arc(_) => arc.flattened(TOLERANCE_MM),
    };
    sketch.path(layer, &(cloth_from_laid * through(points)));
}

/// What a line to mark looks like.
const fn layer_of(role: MarkRole) -> Layer {
    match role {
        MarkRole::Guide => Layer::Guide,
        MarkRole::Bind => Layer::Across,
        MarkRole::Reference | MarkRole::Pleats => Layer::Reference,
    }
}

/// A cross where the fold has its middle, or a puck's pinch with its tick; nothing of a fold without one.
pub(super) fn middle(sketch: &mut Sketch, layout: &Layout) {
    if let Some(spiral) = layout.spiral() {
        layout.fold().source().iter().for_each(|stretch| drawn(sketch, Layer::Guide, stretch, Affine::IDENTITY));
        sketch.line(Layer::Reference, spiral.tick());
    }
    let at = layout.spiral().map(|spiral| spiral.centre_as_laid()).or_else(|| layout.middle_as_laid());
    let Some(at) = at.filter(|_| layout.line().is_none()).map(|at| sketch.point(at)) else { return };
    for arm in [Vec2::new(CROSS_MM, 0.0), Vec2::new(0.0, CROSS_MM)] {
        sketch.drawing.line(Layer::Pin, at - arm, at + arm);
    }
}

/// How the marked cloth is folded: the ridge, a needle's holes, and of creases with an order their numbers and arrows.
pub(super) fn order(sketch: &mut Sketch, layout: &Layout) {
    for line in layout.fold().ridge() {
        sketch.line(Layer::Ridge, line);
    }
    for hole in layout.stitch_holes() {
        let hole = Circle::new(sketch.point(hole), HOLE_MM);
        sketch.drawing.path(Layer::Guide, hole.to_path(0.01));
    }
    if layout.flat().is_none() {
        return;
    }
    let mut told: Vec<Point> = Vec::new();
    for crease in numbered(layout) {
        let at = sketch.point(crease.line.eval(NUMBER_AT));
        if told.iter().any(|other| other.distance(at) < NUMBERS_APART_MM) {
            continue;
        }
        told.push(at);
        let aside = crease.toward.unwrap_or(Vec2::new(1.0, 0.0));
        if crease.toward.is_some() {
            arrow(sketch, at, aside);
        }
        // Off the crease, on the side that is folded over.
        let beside = at + (0.8 + 0.5 * CAP_MM) * aside.turn_90() - (0.6 + 0.5 * CAP_MM) * aside;
        sketch.words(crease.number.to_string(), beside, Anchor::Middle);
    }
}

/// An arrow over a place of the picture.
fn arrow(sketch: &mut Sketch, at: Point, toward: Vec2) {
    let (from, tip) = (at - 0.5 * ARROW_MM * toward, at + 0.5 * ARROW_MM * toward);
    sketch.drawing.line(Layer::Arrow, from, tip);
    for turn in [2.6, -2.6] {
        sketch.drawing.line(Layer::Arrow, tip, tip + BARB_MM * Vec2::from_angle(toward.atan2() + turn));
    }
}
