//! Drawings as pages of their own size, shrunk or cut to the breadth of a picture.

use super::WIDTH_MM;
use crate::print::{Drawing, Page};
use kurbo::{Affine, Rect, Size};

/// A drawing as a page of its own size.
pub(super) fn page_of(drawing: &Drawing) -> Page {
    let bounds = drawing.bounds;
    let scale = (WIDTH_MM / bounds.width()).min(1.0);
    let mut page = Page::of_drawing(drawing.title.clone(), scale * bounds.size(), drawing);
    page.placed.iter_mut().for_each(|placed| placed.page_from_drawing = Affine::scale(scale) * placed.page_from_drawing);
    page
}

/// The beginning of a drawing at its true size: so much of it, from its left edge on.
pub(super) fn beginning_of(drawing: &Drawing, width_mm: f64) -> Page {
    let bounds = drawing.bounds;
    let seen = Rect::from_origin_size(bounds.origin(), (width_mm.min(bounds.width()), bounds.height()));
    let size = Size::new(seen.width(), seen.height());
    let mut page = Page::of_drawing(drawing.title.clone(), size, drawing);
    page.placed.iter_mut().for_each(|placed| placed.clip = Some(seen));
    page
}
