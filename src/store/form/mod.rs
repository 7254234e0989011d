//! The forms of preset files, swatch files and journal entries, each with nothing of the program in it.

mod entry;
mod preset;
mod swatches;

pub use entry::{EntryV1, PhotoV1};
pub use preset::PresetV1;
pub use swatches::{DyeSwatchV1, DyeSwatchV2, OriginForm, SwatchesV1, SwatchesV2};
