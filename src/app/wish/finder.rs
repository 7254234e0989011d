//! Looking for binds off the window's thread.

use crate::app::job::Job;
use crate::layout::Layout;
use crate::wish::{Chart, FulfilError, Fulfilled, Wish, WishOptions, fulfil};
use std::sync::Arc;

/// A search for binds.
pub(super) type Search = Job<Arc<Layout>, Result<Fulfilled, FulfilError>>;

pub(super) fn search(wish: Wish, layout: &Arc<Layout>, egui: &egui::Context) -> Option<Search> {
    let own = layout.clone();
    Job::begin("wish", layout.clone(), egui, move |cancel| fulfil(&wish, &own, &WishOptions::default(), cancel))
}

/// Measuring how far each pixel lies.
pub(super) type Charting = Job<Arc<Layout>, Option<Chart>>;

pub(super) fn chart(layout: &Arc<Layout>, egui: &egui::Context) -> Option<Charting> {
    let own = layout.clone();
    let extent_mm = layout.panels().iter().map(|(_, panel)| panel.whole().bounds().width().max(panel.whole().bounds().height()));
    let pixel_mm = (extent_mm.fold(0.0, f64::max) / PIXELS).clamp(0.5, 8.0);
    Job::begin("wish chart", layout.clone(), egui, move |_| Chart::of(&own, pixel_mm).ok())
}

/// Pixels along the longest side of a panel.
const PIXELS: f64 = 260.0;
