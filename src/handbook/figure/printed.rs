//! What is printed, made small or cut short.

use super::WIDTH_MM;
use super::paged::{beginning_of, page_of};
use crate::handbook::fill::example;
use crate::layout::{Figures, Layout};
use crate::print::parts::{TemplateOptions, rod_strip, swing_strip, template};
use crate::print::{Drawing, Page, Paper, TilingOptions, template_part};
use kurbo::Affine;

/// Greatest height of the map, mm.
const HIGH_MM: f64 = 130.0;

/// The assembly map of the example burst's template, as its first sheet shows it.
pub(super) fn sheets() -> Option<Page> {
    let layout = example("tee-m")?;
    let drawing = template(&layout, &Figures::of(&layout), &TemplateOptions::default());
    let part = template_part(&drawing, &Paper::usual_in(None), &TilingOptions::default()).ok()?;
    let map = part.pages.into_iter().next()?;
    let scale = (WIDTH_MM / map.size_mm.width).min(HIGH_MM / map.size_mm.height);
    let size_mm = scale * map.size_mm;
    let mut placed = map.placed;
    placed.iter_mut().for_each(|placed| placed.page_from_drawing = Affine::scale(scale) * placed.page_from_drawing);
    let mut edge = Drawing::new(map.name.clone());
    edge.path(crate::print::Layer::Map, kurbo::Shape::to_path(&size_mm.to_rect().inset(-0.2), 0.1));
    edge.bounds = size_mm.to_rect();
    placed.extend(page_of(&edge).placed);
    Some(Page { name: map.name, size_mm, placed, links: Vec::new() })
}

pub(super) fn rod_strip_beginning() -> Option<Page> {
    beginning(|layout, figures| rod_strip(layout, figures, layout.marks().lengths()))
}

pub(super) fn swing_strip_beginning() -> Option<Page> {
    beginning(|layout, figures| swing_strip(layout, figures, layout.marks().lengths()))
}

fn beginning(draw: impl Fn(&Layout, &Figures) -> Drawing) -> Option<Page> {
    let layout = example("tee-m")?;
    Some(beginning_of(&draw(&layout, &Figures::of(&layout)), WIDTH_MM))
}
