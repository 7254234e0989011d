//! A coarse reveal of the example burst.

use super::WIDTH_MM;
use super::paged::page_of;
use crate::handbook::fill::example;
use crate::print::{Drawing, Image, Layer, Page, Pixels, Shape};
use crate::reveal::colour::DyeSet;
use crate::reveal::{Cancel, RevealOptions, picture, reveal_doses};
use kurbo::Rect;
use std::sync::Arc;

/// Edge of a pixel on the cloth, mm: about 170 to the inch in the picture.
const PIXEL_MM: f64 = 2.0;

pub(super) fn reveal() -> Option<Page> {
    let layout = example("tee-m")?;
    let options = RevealOptions { pixel_mm: PIXEL_MM, ..RevealOptions::preview() };
    let reveal = reveal_doses(&layout, &options, &Cancel::new()).ok()?;
    let shown = picture(&reveal, &DyeSet::of_layout(&layout, None));
    let pixels = Pixels::on_paper(shown.width, shown.height, &shown.rgba, shown.width.max(shown.height))?;
    let high_mm = WIDTH_MM * pixels.height() as f64 / pixels.width() as f64;
    let mut drawing = Drawing::new("A reveal");
    let at = Rect::new(0.0, 0.0, WIDTH_MM, high_mm);
    drawing.add(Layer::Fill, Shape::Image(Image::new(Arc::new(pixels), at)));
    drawing.bounds = at;
    Some(page_of(&drawing))
}
