//! The panel beside the table: what each step of the work lets the maker say.

mod binds;
mod burst;
mod colours;
mod garment;
mod numbers;
mod presets;
mod process;
mod progression;
mod swatches;
mod thread;

pub(super) use binds::binds;
pub(super) use burst::burst;
pub(super) use colours::colours;
pub(super) use garment::garment;
pub(super) use numbers::numbers;
pub(super) use presets::Presets;
pub(super) use process::process;
pub(super) use swatches::Swatches;
pub(super) use thread::thread;
