//! From the guide arc to the rod: a fan of wedges, and the same wedges on each other.

use super::paged::page_of;
use crate::handbook::fill::example;
use crate::layout::Figures;
use crate::print::parts::{Sketch, through};
use crate::print::{Anchor, Layer, Page};
use kurbo::{Point, Rect, Vec2};

/// Wedges drawn of the fan.
const WEDGES: i32 = 6;
/// Length of the fan in the picture, mm.
const LONG_MM: f64 = 62.0;

/// The wedges beside each other on the cloth, then pleated: each wedge of the example burst, drawn at its own angle.
pub(super) fn pleats() -> Option<Page> {
    let figures = Figures::of(&example("tee-m")?);
    let burst = figures.burst.as_ref()?;
    let angle = burst.pleat_angle_deg.to_radians();
    let scale = LONG_MM / figures.fold.length_mm.min(1.35 * burst.guide_radius_mm);
    let guide = scale * burst.guide_radius_mm;
    let mut sketch = Sketch::new("From the arc to the rod", Rect::ZERO, Point::ZERO, 1.0);
    let half = 0.5 * f64::from(WEDGES) * angle;
    let fan = |turn: f64, radius: f64| Point::new(radius * turn.cos(), radius * turn.sin());
    for wedge in 0..=WEDGES {
        let turn = f64::from(wedge) * angle - half;
        let layer = if wedge % 2 == 0 { Layer::Cut } else { Layer::Behind };
        sketch.drawing.line(layer, Point::ZERO, fan(turn, LONG_MM));
    }
    for (radius, layer) in rings(&figures, scale) {
        sketch.drawing.path(layer, through((0..=48).map(|step| fan(2.0 * half * f64::from(step) / 48.0 - half, radius))));
    }
    sketch.words("fold over", fan(half, LONG_MM) + Vec2::new(2.0, 0.0), Anchor::Start);
    sketch.words("fold under", fan(half - angle, LONG_MM) + Vec2::new(2.0, 0.0), Anchor::Start);
    sketch.words("guide arc", fan(half, guide) + Vec2::new(-2.0, 6.0), Anchor::End);
    sketch.pointer(fan(half, guide) + Vec2::new(-3.0, 4.5), fan(half, guide));
    folded(&mut sketch, &figures, scale, angle);
    Some(page_of(&sketch.finish()))
}

/// The rings that lie within the fan, with how they are drawn.
fn rings(figures: &Figures, scale: f64) -> Vec<(f64, Layer)> {
    let radius = |bind: &crate::layout::BindFigures| scale * bind.radius_mm;
    let layer = |bind: &crate::layout::BindFigures| if bind.on_guide_arc { Layer::Guide } else { Layer::Across };
    figures.binds.iter().map(|bind| (radius(bind), layer(bind))).filter(|(radius, _)| *radius < LONG_MM).collect()
}

/// The wedges on each other, each a little behind the one before, so that they can be told apart; rings lie straight across them.
fn folded(sketch: &mut Sketch, figures: &Figures, scale: f64, angle: f64) {
    let tip = Point::new(LONG_MM + 26.0, 0.0);
    let behind = Vec2::new(0.9, -1.1);
    for wedge in (0..WEDGES).rev() {
        let from = tip + f64::from(wedge) * behind;
        let edge = |side: f64| from + Vec2::new(LONG_MM * (0.5 * angle).cos(), side * LONG_MM * (0.5 * angle).sin());
        if wedge == 0 {
            sketch.drawing.path(Layer::Cut, through([edge(-1.0), from, edge(1.0), edge(-1.0)]));
        } else {
            sketch.drawing.path(Layer::Map, through([from, edge(-1.0), edge(1.0)]));
        }
    }
    for (radius, layer) in rings(figures, scale) {
        let half = radius * (0.5 * angle).tan();
        sketch.drawing.line(layer, tip + Vec2::new(radius, -half), tip + Vec2::new(radius, half));
    }
    let arrow = Point::new(LONG_MM + 12.0, 0.0);
    sketch.drawing.line(Layer::Cut, arrow, arrow + Vec2::new(8.0, 0.0));
    let head = [Vec2::new(5.5, -1.6), Vec2::new(8.0, 0.0), Vec2::new(5.5, 1.6)].map(|by| arrow + by);
    sketch.drawing.path(Layer::Cut, through(head));
    sketch.words("rings lie straight across the rod", tip + Vec2::new(20.0, 14.0), Anchor::Start);
}
