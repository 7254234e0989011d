//! Cloth folded along a drawn line: the line as strips and fans, the foot of every point on it, its pleats, ridge and parallels.
//!
//! | file | subject |
//! |---|---|
//! | `piece.rs` | strips and fans: points beside them, distances, lengths |
//! | `biarc.rs`, `walk.rs`, `source.rs` | from drawn curves to a chain of pieces; `pen.rs` round a pen's strokes, `crossing.rs` whether a line meets itself |
//! | `chain.rs`, `tree.rs`, `tiles.rs` | the chain, and the nearest foot on it |
//! | `pleating.rs`, `bends.rs` | creases and widths of pleats, bends that are too tight for them |
//! | `ridge.rs` | how far every normal reaches |
//! | `edge.rs`, `parallel.rs`, `recent.rs` | where a parallel runs on cloth, how long it is, the cloth within |
//! | `fold.rs`, `joins.rs`, `normals.rs` | the fold map |
//! | `drawn.rs` | the line as a layout has it |
//! | `marks.rs`, `unflat.rs` | what is marked, and what can't lie flat |
//! | `shapes.rs`, `letters.rs` | lines to begin with; `free.rs` one drawn elsewhere, `along.rs` one beside the garment's own edge |
//!
//! The burst is the line that is a point.

mod along;
mod bends;
mod biarc;
mod chain;
mod crossing;
mod drawn;
mod edge;
mod error;
mod fold;
mod free;
mod joins;
mod letters;
mod marks;
mod normals;
mod parallel;
mod pen;
mod piece;
mod pleating;
mod recent;
mod ridge;
mod shapes;
mod source;
mod spec;
mod tiles;
mod tree;
mod unflat;
mod walk;

pub use along::GarmentEdge;
pub use drawn::{DrawnLine, LineFoldSpec};
pub use error::LineError;
pub use fold::LineFold;
pub use free::{FreeLine, LaidLine, half_at_fold, whole_at_fold};
pub use shapes::LineShape;
pub use spec::{LINE_TOLERANCE_MM, LineKind, LineSpec};
pub use unflat::Unflat;
