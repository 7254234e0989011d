//! A garment folded up in one of the ways that the program knows.

use super::{Burst, BurstFold, Fold};

/// A garment folded up.
#[derive(Debug, Clone)]
pub enum Folded {
    /// Along a burst.
    Burst(BurstFold),
}

impl Folded {
    /// The fold, whichever it is.
    #[must_use]
    pub fn as_fold(&self) -> &dyn Fold {
        match self {
            Self::Burst(fold) => fold,
        }
    }

    /// The burst, if it is one.
    #[must_use]
    pub fn burst(&self) -> Option<&Burst> {
        match self {
            Self::Burst(fold) => Some(fold.burst()),
        }
    }
}
