//! A bundle to hand on: one file with a layout, the spacing presets and swatches that belong to it, and its reveal's picture.
//!
//! It is a ZIP archive (APPNOTE 6.3, stored or deflated entries) that begins, as other containers of documents do, with an entry `mimetype`,
//! stored, by which any program knows it. `bundle.ron` says its format and what it holds; then come `layout.ron`, `preset-1.ron` and so
//! on, `swatches.ron`, each a file of this program in a format of its own, and `reveal.png`. Every other name is refused, and nothing is
//! ever unpacked to a disk under a name that it gives.
//!
//! Nothing private is in it: of notes the layout's own alone, no prices, no journal, no times.

mod begins;
mod contents;
mod error;
mod gather;
mod read;
#[cfg(test)]
mod tests;
mod write;

pub use begins::{is_bundle, reads_as_bundle};
pub use contents::Contents;
pub use error::{BundleError, BundleProblem};
pub use read::{parse_bundle, read_bundle};

use crate::geometry::SpacingPreset;
use crate::layout::Layout;
use crate::reveal::colour::SwatchBook;

/// Ending of a bundle's name, without the dot.
pub const BUNDLE_ENDING: &str = "pleatbundle";

/// Most presets in one.
pub const MOST_PRESETS: usize = 32;
/// Most bytes of the file.
const MOST_BUNDLE_BYTES: u64 = 32 << 20;
/// Most bytes of all its entries together, unpacked.
const MOST_UNPACKED_BYTES: u64 = 48 << 20;
/// Most pixels of the picture: what a reveal has at most.
const MOST_PICTURE_PIXELS: u64 = crate::reveal::MOST_PIXELS as u64;

/// What the entry `mimetype` holds.
const KIND: &str = "application/x-pleatwright-bundle+zip";

/// Names of the entries.
const KIND_NAME: &str = "mimetype";
const CONTENTS_NAME: &str = "bundle.ron";
const LAYOUT_NAME: &str = "layout.ron";
const SWATCHES_NAME: &str = "swatches.ron";
const PICTURE_NAME: &str = "reveal.png";

/// The name of a preset's entry, by its number from 1.
fn preset_name(number: usize) -> String {
    format!("preset-{number}.ron")
}

/// What is handed on.
#[derive(Debug, Clone)]
pub struct Bundle {
    /// The layout.
    pub layout: Layout,
    /// Spacing presets, each name once.
    pub presets: Vec<SpacingPreset>,
    /// The swatches of its dyes.
    pub swatches: Option<SwatchBook>,
    /// The reveal's picture, as PNG.
    pub picture: Option<Vec<u8>>,
}

impl Bundle {
    /// What it holds beside the layout.
    #[must_use]
    pub fn contents(&self) -> Contents {
        Contents { presets: self.presets.len(), swatches: self.swatches.is_some(), picture: self.picture.is_some() }
    }
}
