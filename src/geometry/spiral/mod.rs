//! Spirals: cloth pinched at a point, twisted, and drawn together into a flat round puck.
//!
//! The plan map turns each circle about the pinch and draws it in so that the puck is evenly full (`plan.rs`); what is drawn together rises
//! from valley lines and is folded back and forth between the puck's two faces (`heights.rs`). As a bundle it is a ring: along runs round the
//! rim, `P psi`, so that bands over the puck, which cut it into wedges, lie at distances along; places lie round each other from the middle to the
//! rim; across runs from the underside to the top.
//!
//! | file | subject |
//! |---|---|
//! | `spec.rs`, `error.rs` | what a maker says, why not |
//! | `plan.rs` | how far from the middle and how far round cloth comes to lie; the most turns, stretch |
//! | `heights.rs` | how high it comes to lie, by valley lines that leave the pinch |
//! | `puck.rs` | a spiral laid on a garment, checked: sizes, packing, turns |
//! | `bands.rs` | where bands cross the rim |
//! | `wedges.rs` | how much cloth a wedge holds |
//! | `fold.rs`, `marks.rs` | the fold map, and what is marked |

mod bands;
mod error;
mod fold;
mod heights;
mod marks;
mod plan;
mod puck;
mod spec;
mod wedges;

pub use error::SpiralError;
pub use fold::SpiralFold;
pub use puck::Spiral;
pub use spec::{ORDINARY_PACKING, PINCH_PLEATS, PUCK_BANDS, SpiralSpec, Twist, USUAL_PACKING};
