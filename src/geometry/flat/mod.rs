//! Flat bundles: cloth folded up by series of straight creases, each a reflection.
//!
//! | file | subject |
//! |---|---|
//! | `spec.rs`, `kind.rs`, `pattern.rs`, `error.rs` | what a maker says, the creases that come of it, why not |
//! | `fold_line.rs`, `series.rs`, `pack.rs`, `stack.rs` | reflections, series of them, the order of layers, places as a mixed radix |
//! | `clip.rs`, `facet.rs`, `slicer.rs` | cloth between creases, exactly; what a straight cut through all of it meets |
//! | `frame.rs`, `edges.rs` | the bundle's own frame and outline; what is joined over its edges, and how far cloth creeps round them |
//! | `fold.rs`, `marks.rs` | the fold map, and what is marked |
//! | `grip.rs`, `lattice.rs` | a crease in the hand, and the corners that a pattern can be laid from |
//! | `steps.rs`, `visible.rs` | the way to it fold by fold, as it is seen from above |
//! | `clamp.rs`, `blocks.rs`, `block_grip.rs`, `block_error.rs` | blocks that hold it, where a maker puts them and what they hold, moved by a hand, why not |
//! | `wrap.rs`, `wrap_error.rs` | a thread wound round it aslant, why not |
//! | `dip.rs`, `dip_part.rs`, `dip_error.rs` | its edges, corners and flats lowered into dye, why not |

mod block_error;
mod block_grip;
mod blocks;
mod clamp;
mod clip;
mod dip;
mod dip_error;
mod dip_part;
mod edges;
mod error;
mod facet;
mod fold;
mod fold_line;
mod frame;
mod grip;
mod kind;
mod lattice;
mod marks;
mod pack;
mod pattern;
mod series;
mod slicer;
mod spec;
mod stack;
mod steps;
mod visible;
mod wrap;
mod wrap_error;

pub use block_error::BlockError;
pub use block_grip::BlockRules;
pub use blocks::{BlockMarks, BlocksSpec, UnderBlocks};
pub use clamp::{Block, BlockShape};
pub use dip::DipZone;
pub use dip_error::DipError;
pub use dip_part::DipPart;
pub use error::FlatError;
pub use fold::FlatFold;
pub use grip::{CreaseGrip, CreaseMove, CreaseNear, CreaseRules};
pub use kind::FlatKind;
pub use pack::Pack;
pub use spec::{FlatFoldSpec, FlatPattern, HalfFold, Triangle, WedgesFirst};
pub use steps::FoldStep;
pub use wrap::{BundleFace, Covered, Wrap, WrapCover, WrapMarks, WrapSpec};
pub use wrap_error::WrapError;
