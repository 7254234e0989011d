//! Files: reading layouts and presets with errors that say where, saving without losing anything.

mod examples;
mod layout_file;
mod locate;
mod save;

pub use examples::{EXAMPLE_LAYOUTS, EXAMPLE_PRESETS, Example};
pub use layout_file::{
    FileKind, ReadError, TextError, file_kind, layout_text, parse_layout, parse_preset, preset_text, presets_in, read_layout,
    read_preset,
};
pub use locate::{Place, locate};
pub use save::{SaveError, backup_path, save};
