//! The tied rod, side on.

use super::paged::page_of;
use crate::handbook::fill::example;
use crate::layout::Figures;
use crate::print::Page;
use crate::print::parts::{colour_key, rod as tied_rod};
use kurbo::{Point, Size};

/// Length of the rod in the picture, mm.
const LONG_MM: f64 = 146.0;
/// Between the rod and the names of its colours, mm, and from one name to the next.
const ABOVE_KEY_MM: f64 = 4.0;
const APART_MM: f64 = 40.0;

/// The example burst's rod at true proportions: a pattern for each colour, a stroke for each bind, numbers where there is room.
pub(super) fn rod() -> Option<Page> {
    let layout = example("tee-m")?;
    let mut sketch = tied_rod(&layout, &Figures::of(&layout), Size::new(LONG_MM, f64::INFINITY));
    let foot_mm = sketch.drawing.ink_bounds().map_or(0.0, |ink| ink.y1);
    colour_key(&mut sketch, &layout, Point::new(0.0, foot_mm + ABOVE_KEY_MM), APART_MM);
    Some(page_of(&sketch.finish()))
}
