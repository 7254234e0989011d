//! The forms of recipe, process, order and run files, each with nothing of the program in it.
//!
//! Every format that ever was is read; only the newest is written. What formats share stands in [`parts`].

mod order;
pub mod parts;
mod process;
mod recipe;
mod run;
mod shelf;

pub use order::{OrderV1, OrderV2};
pub use process::{NeedV1, NeedV2, ProcessV1, ProcessV2};
pub use recipe::{DyeV1, DyeV2, RecipeV1, RecipeV2, SodaV1, SodaV2};
pub use run::RunV1;
pub use shelf::ShelfV1;
