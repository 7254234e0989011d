//! Files: reading layouts, bundles, presets, swatches, recipes, processes, orders and runs with errors that say where, saving without losing
//! anything.

mod any_layout;
mod bundle;
mod drawing;
mod examples;
pub mod form;
mod formats;
mod home;
pub mod journal;
mod kind_file;
mod kinds;
mod layout_file;
mod learned_file;
mod locate;
mod marks_file;
mod now;
mod order_draft;
mod photograph;
mod picture_file;
mod piece_file;
mod plain_words;
mod plan_file;
mod preset_shelf;
mod projector_file;
mod read;
mod read_error;
mod region;
mod run_file;
mod save;
mod shelf_file;
mod swatch_file;
mod swatch_shelf;
pub(crate) mod system;
mod text_file;
mod wish_file;

pub use crate::layout::layout_text;
pub use any_layout::read_layout;
pub use bundle::{
    BUNDLE_ENDING, Bundle, BundleError, BundleProblem, Contents, MOST_PRESETS, is_bundle, parse_bundle, read_bundle,
    reads_as_bundle,
};
pub use drawing::{DrawingError, read_drawing};
pub use examples::{
    EXAMPLE_LAYOUTS, EXAMPLE_ORDERS, EXAMPLE_PRESETS, EXAMPLE_PROCESSES, EXAMPLE_RECIPES, EXAMPLE_SWATCHES, EXAMPLE_WISHES,
    Example,
};
pub use home::data_folder;
pub use kind_file::{OtherKind, file_kind, refuse_other_kind};
pub use kinds::FileKind;
pub use layout_file::{
    LAYOUT_ENDING, check_preset, parse_layout, parse_preset, preset_text, presets_in, read_layout_text, read_preset,
};
pub use learned_file::{learned_text, parse_learned, photograph_mark, read_learned};
pub use locate::{Place, locate};
pub use marks_file::{marks_path, marks_text, parse_marks, read_marks, save_marks};
pub use now::{fixed_time, planning_time, today};
pub use order_draft::{LineFault, OrderDraft, path_from};
pub use photograph::{
    PHOTOGRAPH_ENDINGS, PhotographError, PhotographProblem, is_named_photograph, photograph_of, read_photograph,
};
pub use picture_file::{PictureError, picture_png};
pub use piece_file::{Teaches, read_piece};
pub use plan_file::{
    OfLayout, OrderError, order_of_layout, order_text, parse_order, parse_process, parse_recipe, process_text, read_order,
    read_order_spec, read_process, read_recipe, recipe_text,
};
pub use preset_shelf::{Kept, PresetShelf, ShelfError, ShelvedPreset};
pub use projector_file::{parse_projectors, projectors_text, read_projectors, save_projectors};
pub use read::{NotRead, read_regular, read_regular_text};
pub use read_error::{ReadError, Shipped, TextError};
pub use region::system_region;
pub use run_file::{parse_run, read_run, run_text, save_run};
pub use save::{
    MOST_BACKUPS, SaveError, allow_writing, backup_path, backup_paths, is_write_protected, save, save_all, save_each,
    save_each_in, save_over,
};
pub use shelf_file::{parse_shelf, read_shelf, save_shelf, shelf_text};
pub use swatch_file::{parse_swatches, read_swatches, swatches_text};
pub use swatch_shelf::{SwatchShelf, SwatchShelfError, USUAL_DEPTH_PERCENT};
pub(crate) use system::file_said;
pub use system::{FileFault, FileWork};
pub(crate) use text_file::{MOST_TEXT_BYTES, read_text};
pub use wish_file::{parse_wish, read_wish, read_wish_alone, wish_layout_path, wish_text};
