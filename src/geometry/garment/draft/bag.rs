//! The tote bag, with its handles standing up or left out.
//!
//! # Limits
//! - A handle stands as an arch; cloth tape laid flat makes a rougher one. Its feet start at the bag's edge; the ends sewn to the
//!   bag are left out.
//! - A handle drop of nothing leaves the handles out, for a maker who keeps them out of the fold.
//! - No gusset: front and back are alike and meet at the sides and the foot.

use kurbo::{BezPath, Point};

use super::pen::{DOWN, INWARD, OUTWARD, Pen, UP};
use crate::geometry::garment::Measure::{BagHeight, BagWidth, HandleDrop, HandleSpacing, HandleWidth};
use crate::geometry::garment::Measurements;

/// Handle of a cubic that stands for a quarter of an ellipse.
const QUARTER: [f64; 2] = [0.552_284_75; 2];

/// A tote bag. Inside the handle the outline runs along the gap: up its inner edge, and back down its outer one.
pub(super) fn outline(m: &Measurements) -> BezPath {
    let mut pen = Pen::at(Point::ORIGIN);
    if m.of(HandleDrop) > 0.0 {
        handle(&mut pen, m);
    }
    let side_mm = m.of(BagWidth) / 2.0;
    pen.line_to(Point::new(side_mm, 0.0));
    pen.line_to(Point::new(side_mm, m.of(BagHeight)));
    pen.line_to(Point::new(0.0, m.of(BagHeight)));
    pen.finish()
}

/// Half a handle: straight up from its foot, then a quarter turn to the centre line.
fn handle(pen: &mut Pen, m: &Measurements) {
    let inner = Point::new(m.of(HandleSpacing) / 2.0, -m.of(HandleDrop));
    let outer = Point::new(inner.x + m.of(HandleWidth), inner.y - m.of(HandleWidth));
    let turn_y_mm = (inner.y + inner.x).min(0.0);
    pen.line_to(Point::new(inner.x, 0.0));
    pen.line_to(Point::new(inner.x, turn_y_mm));
    pen.round_to(Point::new(0.0, inner.y), UP, INWARD, QUARTER);
    pen.line_to(Point::new(0.0, outer.y));
    pen.round_to(Point::new(outer.x, turn_y_mm), OUTWARD, DOWN, QUARTER);
    pen.line_to(Point::new(outer.x, 0.0));
}
