//! The forms of bundles, preset files, swatch files, projectors, marks on photographs, what was learned, wishes and journal entries, each with nothing of the program in it.

mod bundle;
mod entry;
mod learned;
mod marks;
mod preset;
mod projectors;
mod swatches;
mod wish;

pub use bundle::BundleV1;
pub use entry::{EntryV1, PhotoV1};
pub use learned::{ComponentV1, DyeStrengthV1, LearnedV1, TaughtByV1, ValueV1};
pub use marks::{MarkedPointV1, MarksV1, SheetV1, SideForm};
pub use preset::PresetV1;
pub use projectors::{PictureForm, ProjectorV1, ProjectorsV1, RectangleForm};
pub use swatches::{DyeSwatchV1, DyeSwatchV2, OriginForm, SwatchesV1, SwatchesV2};
pub use wish::{TintV1, WishColourV1, WishPartV1, WishV1};
