//! A garment folded up in one of the ways that the program knows.

use super::{Burst, BurstFold, FlatFold, Fold, LineFold, SpiralFold};

/// A garment folded up.
#[derive(Debug, Clone)]
pub enum Folded {
    /// Along a burst.
    Burst(Box<BurstFold>),
    /// Along a line.
    Line(Box<LineFold>),
    /// Flat, along straight creases.
    Flat(Box<FlatFold>),
    /// Twisted into a puck.
    Spiral(Box<SpiralFold>),
}

impl Folded {
    /// The fold, whichever it is.
    #[must_use]
    pub fn as_fold(&self) -> &dyn Fold {
        match self {
            Self::Burst(fold) => &**fold,
            Self::Line(fold) => &**fold,
            Self::Flat(fold) => &**fold,
            Self::Spiral(fold) => &**fold,
        }
    }

    /// The burst, if it is one.
    #[must_use]
    pub fn burst(&self) -> Option<&Burst> {
        match self {
            Self::Burst(fold) => Some(fold.burst()),
            Self::Line(_) | Self::Flat(_) | Self::Spiral(_) => None,
        }
    }

    /// Where along the bundle the bind is that is tied first, from which the others go inward and outward, mm: on a burst's guide arc, on
    /// a line, or at the guide of a line that nothing lies within; of a flat bundle across its middle, or where it was put; at a puck's zero.
    #[must_use]
    pub fn first_bind_mm(&self) -> f64 {
        match self {
            Self::Burst(fold) => fold.burst().guide_radius_mm(),
            Self::Line(fold) => fold.first_bind_mm(),
            Self::Flat(fold) => fold.first_bind_mm(),
            Self::Spiral(_) => 0.0,
        }
    }

    /// Where along the bundle the pleats are measured, mm: on the guide; a flat bundle's at its first bind; a puck's, alike all round, at
    /// its zero.
    #[must_use]
    pub fn pleated_mm(&self) -> f64 {
        match self {
            Self::Burst(fold) => fold.burst().guide_radius_mm(),
            Self::Line(fold) => fold.guide_mm(),
            Self::Flat(fold) => fold.first_bind_mm(),
            Self::Spiral(_) => 0.0,
        }
    }

    /// Where along the bundle the zero lies that its maker counts from, mm: a burst's centre, the line, the end of a flat bundle, or a puck's zero.
    #[must_use]
    pub fn zero_mm(&self) -> f64 {
        match self {
            Self::Burst(_) | Self::Flat(_) | Self::Spiral(_) => 0.0,
            Self::Line(fold) => fold.line_mm(),
        }
    }

    /// Where along the bundle further lines are marked, for orientation, mm.
    #[must_use]
    pub fn references_mm(&self) -> Vec<f64> {
        match self {
            Self::Burst(fold) => fold.burst().further_arcs_mm().to_vec(),
            Self::Line(fold) => fold.further_mm(),
            Self::Flat(_) | Self::Spiral(_) => Vec::new(),
        }
    }

    /// The fold along a line, if it is one.
    #[must_use]
    pub fn line(&self) -> Option<&LineFold> {
        match self {
            Self::Burst(_) | Self::Flat(_) | Self::Spiral(_) => None,
            Self::Line(fold) => Some(fold),
        }
    }

    /// The flat bundle, if it is one.
    #[must_use]
    pub fn flat(&self) -> Option<&FlatFold> {
        match self {
            Self::Burst(_) | Self::Line(_) | Self::Spiral(_) => None,
            Self::Flat(fold) => Some(fold),
        }
    }

    /// The spiral, if it is one.
    #[must_use]
    pub fn spiral(&self) -> Option<&SpiralFold> {
        match self {
            Self::Burst(_) | Self::Line(_) | Self::Flat(_) => None,
            Self::Spiral(fold) => Some(fold),
        }
    }
}
