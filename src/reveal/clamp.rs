//! Blocks on a bundle: what they press and what they keep dry.

use crate::geometry::Block;
use crate::layout::BlockEffect;

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
    /// Blocks that do this.
    #[must_use]
    pub fn of(block: Block, BlockEffect { conductance, cover }: BlockEffect) -> Self {
        Self { block, conductance, cover }
    }
}
