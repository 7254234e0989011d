//! A garment folded up in one of the ways that the program knows.

use super::{Burst, BurstFold, Fold, LineFold};

/// A garment folded up.
#[derive(Debug, Clone)]
pub enum Folded {
    /// Along a burst.
    Burst(Box<BurstFold>),
    /// Along a line.
    Line(Box<LineFold>),
}

impl Folded {
    /// The fold, whichever it is.
    #[must_use]
    pub fn as_fold(&self) -> &dyn Fold {
        match self {
            Self::Burst(fold) => &**fold,
            Self::Line(fold) => &**fold,
        }
    }

    /// The burst, if it is one.
    #[must_use]
    pub fn burst(&self) -> Option<&Burst> {
        match self {
            Self::Burst(fold) => Some(fold.burst()),
            Self::Line(_) => None,
        }
    }

    /// The fold along a line, if it is one.
    #[must_use]
    pub fn line(&self) -> Option<&LineFold> {
        match self {
            Self::Burst(_) => None,
            Self::Line(fold) => Some(fold),
        }
    }
}
