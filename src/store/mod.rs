//! Files: reading layouts, presets and swatches with errors that say where, saving without losing anything.

mod examples;
mod layout_file;
mod locate;
mod save;
mod swatch_file;

pub use examples::{EXAMPLE_LAYOUTS, EXAMPLE_PRESETS, EXAMPLE_SWATCHES, Example};
pub use layout_file::{
    FileKind, ReadError, TextError, file_kind, layout_text, parse_layout, parse_preset, preset_text, presets_in, read_layout,
    read_preset,
};
pub use locate::{Place, locate};
pub use save::{SaveError, backup_path, save};
pub use swatch_file::{parse_swatches, read_swatches, swatches_text};
