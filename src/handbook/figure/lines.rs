//! The shapes of lines to fold along.

use super::paged::page_of;
use crate::geometry::{LineKind, LineShape};
use crate::print::parts::Sketch;
use crate::print::{Anchor, Layer, Page};
use kurbo::{Point, Rect, Size};

/// Room of a shape, mm, and shapes in a row.
const ROOM_MM: Size = Size::new(24.0, 28.0);
const A_ROW: u32 = 6;
/// Greatest side of a shape, mm.
const SIDE_MM: f64 = 17.0;
/// Height of one from edge to edge, mm.
const WAVE_MM: f64 = 5.0;

/// Every shape with its name: whole, its half on the fold bold.
pub(super) fn shapes() -> Page {
    let mut sketch = Sketch::new("Shapes of lines", Rect::ZERO, Point::ZERO, 1.0);
    for (index, shape) in (0..).zip(LineShape::ALL) {
        let corner = Point::new(ROOM_MM.width * f64::from(index % A_ROW), ROOM_MM.height * f64::from(index / A_ROW));
        let natural = shape.natural_size(SIDE_MM);
        let size = match shape.kind() {
            LineKind::Across => Size::new(1.2 * SIDE_MM, WAVE_MM),
            _ => natural * (SIDE_MM / natural.width.max(natural.height)).min(1.0),
        };
        let middle = corner + (0.5 * ROOM_MM.width, 0.5 * SIDE_MM);
        sketch.drawing.path(Layer::Behind, shape.path(middle, size));
        sketch.drawing.path(Layer::Guide, shape.half_path(middle, size));
        sketch.words(shape.name(), corner + (0.5 * ROOM_MM.width, SIDE_MM + 4.5), Anchor::Middle);
    }
    page_of(&sketch.finish())
}
