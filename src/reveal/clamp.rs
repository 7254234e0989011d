//! Blocks on a bundle: what they press and what they keep dry.

use crate::geometry::Block;

/// Two equal blocks, one on each flat of a bundle, that press all layers between them and bar both faces.
///
/// # Limits
/// They press no farther than they reach, and layers under them count as thick as beside them.
#[derive(Debug, Clone, PartialEq)]
pub struct Clamp {
    /// Where they lie.
    pub block: Block,
    /// What is left of the cloth's conductance where they press, above 0 to 1.
    pub conductance: f64,
    /// The share of the faces under them that they keep dry, 0 to 1.
    pub cover: f64,
}

impl Clamp {
    /// Blocks screwed tight: a fiftieth of the conductance is left, and 3 % of the faces get wet (our own judgement).
    #[must_use]
    pub fn tight(block: Block) -> Self {
        Self { block, conductance: 0.02, cover: 0.97 }
    }
}
