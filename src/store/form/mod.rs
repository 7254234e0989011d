//! The forms of preset and swatch files, each with nothing of the program in it.

mod preset;
mod swatches;

pub use preset::PresetV1;
pub use swatches::{DyeSwatchV1, DyeSwatchV2, OriginForm, SwatchesV1, SwatchesV2};
