//! Where the middle of a fold lies: a burst's centre, or the middle of a shape.

use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::heights::heights;
use crate::edit::EditCommand;
use crate::geometry::middle_mm;
use egui::Ui;
use kurbo::Point;

/// The fields of the place; `by_middle` says whether its height is kept above the middle of the garment.
pub(super) fn place(ctx: &Context<'_>, by_middle: bool, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(middle) = ctx.layout.middle() else { return };
    let middle_of_length_mm = middle_mm(ctx.layout.panels());
    let mut put = |at| asks.push(Ask::Edit(EditCommand::MoveCentre(at)));
    if let Some(x) = field::length(ctx, ui, "From the centre line", middle.x) {
        put(Point::new(x, middle.y));
    }
    if let Some(below) = field::length(ctx, ui, heights(ctx.figures.fold.top).field, middle.y) {
        put(Point::new(middle.x, below));
    }
    if let Some(above) = field::length(ctx, ui, "Above the middle", middle_of_length_mm - middle.y) {
        put(Point::new(middle.x, middle_of_length_mm - above));
    }
    let mut keep_middle = by_middle;
    if ui.checkbox(&mut keep_middle, "Keep this height above the middle when the garment changes").changed() {
        asks.push(Ask::Edit(EditCommand::MeasureCentreFromMiddle(keep_middle)));
    }
}
