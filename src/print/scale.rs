//! Drawings that leave whole, as SVG or DXF: measuring bars beside them, and the printer's scale put right.

use kurbo::{Affine, Point, Rect};

use super::band::{PRINT_NOTE, add_bars};
use super::bar::BAR_4_IN_MM;
use super::drawing::Drawing;
use super::frame::PrinterCorrection;
use super::shape::Text;

/// Room for the bars below a drawing, in mm.
const ROOM_MM: f64 = 22.0;
/// Border round the bars, in mm.
const BORDER_MM: f64 = 2.5;
/// Height of the note under them, in mm.
const NOTE_CAP_MM: f64 = 1.9;

/// The drawing with a bar of 100 mm and one of 4 in in an area of their own below its bounds, which grow to hold them.
#[must_use]
pub fn with_bars(drawing: &Drawing) -> Drawing {
    let mut out = drawing.clone();
    let b = drawing.bounds;
    let start = Point::new(b.x0 + BORDER_MM, b.y1 + 8.0);
    add_bars(&mut out, start);
    let note = Text::new(PRINT_NOTE.to_owned() + "; the bars are 100 mm and 4 in", (start.x, start.y + 10.0), NOTE_CAP_MM);
    let width_mm = note.width_mm().max(BAR_4_IN_MM) + 2.0 * BORDER_MM;
    out.text(note);
    out.bounds = Rect::new(b.x0, b.y0, b.x1.max(b.x0 + width_mm), b.y1 + ROOM_MM);
    out
}

/// The drawing as it must stand in a file so that the printer brings it out true to size. Everything is scaled about the origin, bars
/// and bounds too.
#[must_use]
pub fn to_print_true(drawing: &Drawing, correction: PrinterCorrection) -> Drawing {
    let by = Affine::scale(correction.page_per_sheet());
    let mut out = drawing.clone();
    for item in &mut out.items {
        item.shape = item.shape.transformed(by);
    }
    out.bounds = by.transform_rect_bbox(drawing.bounds);
    out
}
