//! The gaps of a spacing as bars, and what each spacing rule makes of the same room.

use super::paged::page_of;
use crate::geometry::{ProgressionKind, Side, SpacingContext, solve};
use crate::handbook::fill::example;
use crate::layout::{Figures, Layout};
use crate::print::parts::Sketch;
use crate::print::{Anchor, Layer, Page, Pattern, Shape};
use kurbo::{Point, Rect, Shape as _};

/// Length of the rod in the picture, mm, and of the highest bar.
const LONG_MM: f64 = 130.0;
const HIGH_MM: f64 = 34.0;

/// A bar for each gap of the example burst, from the centre outward: as broad as the gap, and as high in proportion.
pub(super) fn gaps() -> Option<Page> {
    let figures = Figures::of(&example("tee-m")?);
    let scale = LONG_MM / figures.fold.length_mm;
    let widest = figures.binds.iter().map(|bind| bind.gap_inside_mm).fold(1.0, f64::max);
    let mut sketch = Sketch::new("Gaps from the centre to the edge", Rect::ZERO, Point::ZERO, 1.0);
    for bind in &figures.binds {
        let high = HIGH_MM * bind.gap_inside_mm / widest;
        let bar = Rect::new(scale * (bind.radius_mm - bind.gap_inside_mm), -high, scale * bind.radius_mm - 0.5, 0.0);
        sketch.drawing.path(Layer::Cut, bar.to_path(0.1));
        sketch.drawing.add(Layer::Fill, Shape::Area { outline: bar.to_path(0.1), pattern: Pattern::Level });
    }
    let guide = scale * figures.fold.guide_mm;
    sketch.drawing.line(Layer::Guide, (guide, 0.0), (guide, -HIGH_MM - 4.0));
    sketch.drawing.line(Layer::Outline, (0.0, 0.0), (LONG_MM, 0.0));
    sketch.words("centre", (0.0, 4.5), Anchor::Start);
    sketch.words("guide arc", (guide, 4.5), Anchor::Middle);
    sketch.words("edge", (LONG_MM, 4.5), Anchor::End);
    Some(page_of(&sketch.finish()))
}

/// From rule to rule, mm.
const ROW_MM: f64 = 11.0;
/// Where the rows begin and how long they are, mm.
const BEGIN_MM: f64 = 34.0;
const ROW_LONG_MM: f64 = 110.0;

/// A row for each rule: the binds that it places over the same room inward, as many each.
pub(super) fn rules() -> Option<Page> {
    let layout = example("tee-m")?;
    let guide_mm = layout.guide_mm();
    let scale = ROW_LONG_MM / guide_mm;
    let mut sketch = Sketch::new("The spacing rules", Rect::ZERO, Point::ZERO, 1.0);
    for (index, kind) in (0..).zip(ProgressionKind::ALL) {
        let y = ROW_MM * f64::from(index);
        sketch.words(name(kind), (0.0, y), Anchor::Start);
        let at = |radius_mm: f64| BEGIN_MM + scale * radius_mm;
        sketch.drawing.line(Layer::Map, (at(0.0), y), (at(guide_mm), y));
        sketch.drawing.line(Layer::Guide, (at(guide_mm), y - 3.5), (at(guide_mm), y + 3.5));
        for radius_mm in placed(&layout, kind)? {
            sketch.drawing.line(Layer::Cut, (at(radius_mm), y - 3.0), (at(radius_mm), y + 3.0));
        }
    }
    let foot = ROW_MM * ProgressionKind::ALL.len() as f64 - 3.0;
    sketch.words("centre", (BEGIN_MM, foot), Anchor::Start);
    sketch.words("guide arc", (BEGIN_MM + ROW_LONG_MM, foot), Anchor::End);
    Some(page_of(&sketch.finish()))
}

const fn name(kind: ProgressionKind) -> &'static str {
    match kind {
        ProgressionKind::Even => "even",
        ProgressionKind::Step => "steady change",
        ProgressionKind::Ratio => "ratio",
        ProgressionKind::Power => "power",
        ProgressionKind::EqualCloth => "equal cloth",
        ProgressionKind::List => "by hand",
    }
}

/// Where a rule of this kind, in place of the layout's own, puts the binds inward, mm from the centre.
fn placed(layout: &Layout, kind: ProgressionKind) -> Option<Vec<f64>> {
    let cloth_area = |along_mm: f64| layout.fold().cut(along_mm).map(|cut| cut.area_mm2).sum();
    let guide_radius_mm = layout.guide_mm();
    let context = SpacingContext {
        guide_radius_mm,
        zero_mm: layout.zero_mm(),
        farthest_mm: layout.fold().length_mm(),
        cloth_area: &cloth_area,
    };
    let progression = kind.like(&layout.binds().inward, Side::Inward, guide_radius_mm);
    solve(&progression, Side::Inward, &context).ok().map(|solved| solved.radii_mm)
}
