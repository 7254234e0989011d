//! A layout as it lies: outline, fold line, lines to mark, creases; and the same on the opened front.

use super::paged::page_of;
use crate::geometry::Panel;
use crate::handbook::fill::example;
use crate::layout::Layout;
use crate::print::parts::{Shown, Sketch, as_laid, marked};
use crate::print::{Anchor, Layer, Page};
use kurbo::{Affine, Point, Shape as _, Size};

/// Height of the garment in the picture, mm.
const HIGH_MM: f64 = 96.0;
const SIZE_MM: Size = Size::new(f64::INFINITY, HIGH_MM);
/// Arm of the cross at the centre in the picture, mm.
const CROSS_MM: f64 = 3.0;
/// Between words and what they point to, mm.
const BESIDE_MM: f64 = 6.0;

pub(super) fn burst() -> Option<Page> {
    let layout = example("tee-m")?;
    let (mut sketch, box_mm) = as_laid(&layout, "A burst as it lies", SIZE_MM, Shown::All);
    let centre = sketch.point(layout.middle_as_laid()?);
    sketch.drawing.line(Layer::Pin, centre - (CROSS_MM, 0.0), centre + (CROSS_MM, 0.0));
    sketch.drawing.line(Layer::Pin, centre - (0.0, CROSS_MM), centre + (0.0, CROSS_MM));
    sketch.words("burst centre", centre - (BESIDE_MM, 0.0), Anchor::End);
    let guide = layout.burst()?.guide_radius_mm();
    let foot = sketch.point(layout.middle_as_laid()? + (0.0, guide));
    name(&mut sketch, "guide arc", foot);
    let innermost = layout.binds().binds.last()?.radius_mm;
    let outer = sketch.point(layout.middle_as_laid()? + (0.0, innermost.min(box_mm.y1 - layout.middle_as_laid()?.y - 20.0)));
    name(&mut sketch, "binds", outer);
    let top = sketch.point((0.0, layout.panels().centre_line_mm(&Panel::BOTH).start + 40.0));
    name(&mut sketch, "on the fold", top);
    opened_front(&mut sketch, &layout);
    Some(page_of(&sketch.finish()))
}

pub(super) fn heart() -> Option<Page> {
    let layout = example("heart-tee-m")?;
    let (mut sketch, _) = as_laid(&layout, "A fold along a heart", SIZE_MM, Shown::All);
    let ridge = layout.fold().ridge();
    ridge.iter().for_each(|line| sketch.line(Layer::Ridge, *line));
    let foot = layout.fold().source().iter().map(|stretch| stretch.point(0.5)).max_by(|a, b| a.y.total_cmp(&b.y))?;
    let foot = sketch.point((0.0, foot.y));
    name(&mut sketch, "the line", foot);
    let longest = ridge.iter().max_by(|a, b| a.p0.distance(a.p1).total_cmp(&b.p0.distance(b.p1)))?;
    let ridge = sketch.point(longest.midpoint());
    name(&mut sketch, "ridge", ridge);
    opened_front(&mut sketch, &layout);
    Some(page_of(&sketch.finish()))
}

/// Words left of the picture, with a line to what they name.
fn name(sketch: &mut Sketch, words: &str, at: Point) {
    let left = Point::new(-BESIDE_MM, at.y);
    sketch.words(words, left, Anchor::End);
    sketch.pointer(left + (1.0, 0.0), at);
}

/// The front as it comes out, its rings on both halves, right of what was drawn.
fn opened_front(sketch: &mut Sketch, layout: &Layout) {
    let front = layout.panels().front.whole().path();
    let box_mm = front.bounding_box();
    let beside = sketch.drawing.ink_bounds().map_or(0.0, |ink| ink.x1) + 12.0;
    let top = sketch.point((0.0, box_mm.y0)).y;
    sketch.move_to(box_mm, (beside, top), HIGH_MM / box_mm.height());
    sketch.path(Layer::Outline, front);
    for mark in layout.marks_on(&[Panel::Front]) {
        for half in [Affine::IDENTITY, Affine::FLIP_X] {
            marked(sketch, &mark, half);
        }
    }
    let below = sketch.point((0.0, box_mm.y1)) + (0.0, 5.0);
    sketch.words("the front, opened", below, Anchor::Middle);
}
