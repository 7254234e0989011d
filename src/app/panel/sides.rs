//! Breadth and height of a line.

use crate::app::context::Context;
use crate::app::field;
use egui::{Id, Ui};
use kurbo::Size;

/// Breadth and height; both together where proportions are kept.
pub(super) fn sides(ctx: &Context<'_>, size: Size, ui: &mut Ui) -> Option<Size> {
    let id = Id::unique("keep the line's proportions");
    let mut keep = ui.data(|data| data.get_temp(id)).unwrap_or(true);
    let width = field::length(ctx, ui, "Line width", size.width);
    let height = field::length(ctx, ui, "Line height", size.height);
    if ui.checkbox(&mut keep, "Keep proportions").changed() {
        ui.data_mut(|data| data.insert_temp(id, keep));
    }
    match (width, height) {
        (Some(width), _) if keep => Some(Size::new(width, size.height * width / size.width)),
        (Some(width), _) => Some(Size::new(width, size.height)),
        (None, Some(height)) if keep => Some(Size::new(size.width * height / size.height, height)),
        (None, Some(height)) => Some(Size::new(size.width, height)),
        (None, None) => None,
    }
}
