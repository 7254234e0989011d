//! What heights on a garment are called.

use crate::geometry::Top;

/// What heights are called among fields and numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Heights {
    /// The label of a field with a height.
    pub(super) field: &'static str,
    /// The same within a sentence.
    pub(super) below: &'static str,
    /// The label of the centre's height among other numbers.
    pub(super) centre: &'static str,
}

/// What heights counted from `top` are called.
pub(super) fn heights(top: Top) -> Heights {
    match top {
        Top::ShoulderPoint => {
            Heights { field: "Below the shoulder", below: "below the shoulder", centre: "Centre below shoulder" }
        }
        Top::UpperEdge => Heights { field: "Below the edge", below: "below the edge", centre: "Centre below edge" },
    }
}
