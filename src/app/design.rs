//! A layout as a small picture: its front in the colours of its sections.

use super::canvas::tinted;
use super::theme::tone;
use crate::geometry::Panel;
use crate::layout::Layout;
use crate::reveal::{PixelFrame, coverage};
use egui::{Color32, ColorImage};
use kurbo::{BezPath, Rect, Shape as _};

/// Cloth whose colour is not known.
const PLAIN: Color32 = Color32::from_rgb(205, 202, 194);

/// The outlines that show from the front, the one below first.
pub(super) fn outlines(layout: &Layout) -> Vec<BezPath> {
    let panels = layout.panels();
    let shown = [panels.panel(Panel::Back), Some(&panels.front)];
    shown.into_iter().flatten().map(|panel| panel.whole().path().clone()).collect()
}

/// The least rectangle round them, mm.
pub(super) fn bounds(paths: &[BezPath]) -> Rect {
    paths.iter().map(BezPath::bounding_box).reduce(|a, b| a.union(b)).unwrap_or_default()
}

/// The front over `bounds` (mm), transparent where there is no cloth, `pixels` along the longer side.
pub(super) fn picture(layout: &Layout, bounds: Rect, pixels: u16) -> ColorImage {
    let front = layout.panels().front.whole();
    let own = layout.raw().garment.colour.as_ref().map_or(PLAIN, |swatch| tone(swatch.srgb));
    let mut cloth = tinted(layout, bounds, own, pixels);
    let [width, height] = cloth.size;
    // Pixels are square but for what the shorter side is rounded up by.
    let pixel_mm = bounds.width() / width.max(1) as f64;
    let frame = PixelFrame { width, height, pixel_mm, left_mm: bounds.x0, top_mm: bounds.y0 };
    for (pixel, share) in cloth.pixels.iter_mut().zip(coverage(front, &frame, &(0..height), false)) {
        *pixel = pixel.gamma_multiply(share);
    }
    cloth
}
