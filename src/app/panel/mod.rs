//! The panel beside the table: what each step of the work lets the maker say.

mod binds;
mod blocks;
mod burst;
mod colours;
mod dips;
mod flat;
mod fold;
mod further;
mod garment;
mod line;
mod mixture;
mod named;
mod numbers;
mod outline;
mod place;
mod points;
mod presets;
mod process;
mod progression;
mod sides;
mod spiral;
mod swatches;
mod taken;
mod thread;
mod ties;
mod wrap;

pub(super) use binds::binds;
pub(super) use colours::colours;
pub(super) use fold::fold;
pub(super) use garment::garment;
pub(super) use numbers::numbers;
pub(super) use presets::Presets;
pub(super) use process::process;
pub(super) use swatches::Swatches;
pub(super) use thread::thread;
