//! What goes into a layout's bundle from its maker's shelves.

use super::Bundle;
use crate::geometry::{Fit, SpacingPreset};
use crate::layout::Layout;
use crate::reveal::colour::{DyeSwatch, SwatchBook, SwatchBookError};
use crate::store::check_preset;
use crate::store::swatch_shelf::by_eye;

impl Bundle {
    /// The bundle of a layout, without a picture: of these presets those that its binds are spaced by, or its own spacing under its own name
    /// where none is; of this book the swatches of its dyes, of a dye without one its colour as chosen by eye. Their notes stay at home.
    ///
    /// # Errors
    /// [`SwatchBookError`] where a dye of the layout is none that a book can hold.
    pub fn of(layout: Layout, presets: &[SpacingPreset], book: &SwatchBook) -> Result<Self, SwatchBookError> {
        let presets = presets_of(&layout, presets);
        let swatches = swatches_of(&layout, book)?;
        Ok(Self { layout, presets, swatches, picture: None })
    }
}

fn presets_of(layout: &Layout, presets: &[SpacingPreset]) -> Vec<SpacingPreset> {
    let (spacing, guide_mm) = (&layout.raw().binds, layout.guide_mm());
    let is_used = |preset: &SpacingPreset| {
        [Fit::Scaled, Fit::Kept].into_iter().any(|fit| {
            let applied = preset.apply(guide_mm, fit);
            applied.is_ok_and(|applied| applied.inward == spacing.inward && applied.outward == spacing.outward)
        })
    };
    let mut used: Vec<SpacingPreset> = Vec::new();
    for preset in presets.iter().filter(|preset| is_used(preset)) {
        if used.len() < super::MOST_PRESETS && used.iter().all(|other| other.name != preset.name) {
            used.push(SpacingPreset { note: String::new(), ..preset.clone() });
        }
    }
    if used.is_empty() {
        let own = SpacingPreset::of(layout.name().to_owned(), String::new(), guide_mm, spacing);
        // A puck's bands are no spacing, and some spacings need their layout.
        used.extend((layout.raw().fold.spiral().is_none() && check_preset(&own).is_ok()).then_some(own));
    }
    used
}

fn swatches_of(layout: &Layout, book: &SwatchBook) -> Result<Option<SwatchBook>, SwatchBookError> {
    let mut swatches: Vec<DyeSwatch> = Vec::new();
    for colour in layout.swatches() {
        let kept = book.swatches().iter().find(|swatch| swatch.colour == *colour).cloned();
        let swatch = DyeSwatch { note: String::new(), ..kept.unwrap_or_else(|| by_eye(colour)) };
        if swatches.iter().all(|other| other.colour.name != colour.name) {
            swatches.push(swatch);
        }
    }
    if swatches.is_empty() {
        return Ok(None);
    }
    Ok(Some(SwatchBook::new(layout.name().to_owned(), String::new(), swatches)?))
}
