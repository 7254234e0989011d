//! The cloth that a tie takes.

use crate::geometry::{ClothPoint, Fold, Folded};
use std::sync::Arc;

/// The cloth that one tie takes from the garment: all that lies no farther along its bundle than its last bind.
#[derive(Debug, Clone)]
pub struct Taken {
    pub(super) folded: Arc<Folded>,
    pub(super) until_mm: f64,
}

impl Taken {
    /// The cloth of a garment folded so, up to a distance along the bundle, mm.
    #[must_use]
    pub fn new(folded: Arc<Folded>, until_mm: f64) -> Self {
        Self { folded, until_mm }
    }

    /// How far along its bundle its last bind sits, mm.
    #[must_use]
    pub fn until_mm(&self) -> f64 {
        self.until_mm
    }

    /// How much farther along the bundle than its last bind a point of the cloth's plane lies, mm; below 0 where the tie takes it.
    ///
    /// That is never farther than the point is from the nearest cloth of the tie.
    #[must_use]
    pub fn beyond_mm(&self, point: ClothPoint) -> f64 {
        let fold = self.fold();
        fold.along_as_laid_mm(fold.lay().as_laid(point)) - self.until_mm
    }

    /// Whether a point is within its last bind, be it cloth or not.
    #[must_use]
    pub fn holds(&self, point: ClothPoint) -> bool {
        self.beyond_mm(point) <= 0.0
    }

    pub(super) fn fold(&self) -> &dyn Fold {
        self.folded.as_fold()
    }
}

/// The index of the tie that a point of the cloth belongs to: the first, in the order of tying, that holds it. `None` for loose cloth.
#[must_use]
pub fn owner(ties: &[Taken], point: ClothPoint) -> Option<usize> {
    ties.iter().position(|tie| tie.holds(point))
}
