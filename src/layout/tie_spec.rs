//! Several ties on one garment, as the maker gives them.

use super::{Colours, FoldSpec, Swatch};
use crate::geometry::{SpacingSpec, Thread};

/// Most ties on one garment: more than knots that would find room on the largest (own choice).
pub const MOST_TIES: usize = 12;

/// What makes a layout one of several ties: the layout's own fold is tied first, these after it.
#[derive(Debug, Clone, PartialEq)]
pub struct TiesSpec {
    /// What the first tie is called.
    pub first: String,
    /// The others, in the order in which they are tied.
    pub further: Vec<TieSpec>,
    /// The colour of the cloth that no tie takes, one of those that any tie is dyed with, by its name; none where it gets no dye, or one of
    /// its own.
    pub loose: Option<String>,
    /// A dye of its own for that cloth, which no tie needs to have; only where `loose` names none.
    pub loose_dye: Option<Swatch>,
}

/// One of several ties: a fold of its own, with its binds, thread and colours.
#[derive(Debug, Clone, PartialEq)]
pub struct TieSpec {
    /// What it is called.
    pub name: String,
    /// How its cloth is folded.
    pub fold: FoldSpec,
    /// Where its binds go.
    pub binds: SpacingSpec,
    /// What it is bound with.
    pub thread: Thread,
    /// Which colour each of its sections gets.
    pub colours: Colours,
}
