//! The document being worked on: commands, undo, saving, recovery. Knows no window.
//!
//! Every change is an [`EditCommand`] performed on a [`Document`]: it is checked as a whole layout before it counts, so that the
//! document is right at every moment and a refused change loses nothing.

mod binds;
mod blocks;
mod change;
mod command;
mod document;
mod giving;
mod history;
mod naming;
mod path;
mod preset;
#[cfg(test)]
mod random_tests;
mod recovered;
mod recovery;
mod target;
mod ties;
mod tying;
mod wrap;

pub use blocks::{BlockHandle, BlocksGrip};
pub use change::{Change, Changed};
pub use command::EditCommand;
pub use document::{Document, DocumentError, OnDisk};
pub use giving::GivenOrder;
pub use history::History;
pub use path::{HandleSide, LinePoint, LinePoints};
pub use preset::{PresetChange, PresetEdits, PresetMarks, PresetUse};
pub use recovered::Recovered;
pub use recovery::RecoveryFolder;
pub use target::{DragRules, Target, folded, section_at, with_points};
pub use ties::{TieChange, another_tie, mirrored, tie_name};
pub use tying::Tying;
pub use wrap::{WrapEnd, WrapGrip};
