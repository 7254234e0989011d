//! How a garment is folded, as the maker gives it: one of several folds.

use super::FoldKind;
use crate::geometry::{BurstSpec, Centring, FlatFoldSpec, LineFoldSpec, Pleats, SpiralSpec};

/// A fold as the maker gives it.
#[derive(Debug, Clone, PartialEq)]
pub enum FoldSpec {
    /// A burst.
    Burst(BurstSpec),
    /// Along a line.
    Line(LineFoldSpec),
    /// Flat, along straight creases.
    Flat(FlatFoldSpec),
    /// Twisted into a puck.
    Spiral(SpiralSpec),
}

impl FoldSpec {
    /// Which fold it is.
    #[must_use]
    pub const fn kind(&self) -> FoldKind {
        match self {
            Self::Burst(_) => FoldKind::Burst,
            Self::Line(_) => FoldKind::Line,
            Self::Flat(flat) => FoldKind::Flat(flat.pattern.kind()),
            Self::Spiral(_) => FoldKind::Spiral,
        }
    }

    /// The burst, if it is one.
    #[must_use]
    pub const fn burst(&self) -> Option<&BurstSpec> {
        match self {
            Self::Burst(burst) => Some(burst),
            Self::Line(_) | Self::Flat(_) | Self::Spiral(_) => None,
        }
    }

    /// The same to be changed.
    pub const fn burst_mut(&mut self) -> Option<&mut BurstSpec> {
        match self {
            Self::Burst(burst) => Some(burst),
            Self::Line(_) | Self::Flat(_) | Self::Spiral(_) => None,
        }
    }

    /// The fold along a line, if it is one.
    #[must_use]
    pub const fn line(&self) -> Option<&LineFoldSpec> {
        match self {
            Self::Line(line) => Some(line),
            Self::Burst(_) | Self::Flat(_) | Self::Spiral(_) => None,
        }
    }

    /// The same to be changed.
    pub const fn line_mut(&mut self) -> Option<&mut LineFoldSpec> {
        match self {
            Self::Line(line) => Some(line),
            Self::Burst(_) | Self::Flat(_) | Self::Spiral(_) => None,
        }
    }

    /// The flat bundle, if it is one.
    #[must_use]
    pub const fn flat(&self) -> Option<&FlatFoldSpec> {
        match self {
            Self::Flat(flat) => Some(flat),
            Self::Burst(_) | Self::Line(_) | Self::Spiral(_) => None,
        }
    }

    /// The same to be changed.
    pub const fn flat_mut(&mut self) -> Option<&mut FlatFoldSpec> {
        match self {
            Self::Flat(flat) => Some(flat),
            Self::Burst(_) | Self::Line(_) | Self::Spiral(_) => None,
        }
    }

    /// The spiral, if it is one.
    #[must_use]
    pub const fn spiral(&self) -> Option<&SpiralSpec> {
        match self {
            Self::Spiral(spiral) => Some(spiral),
            Self::Burst(_) | Self::Line(_) | Self::Flat(_) => None,
        }
    }

    /// The same to be changed.
    pub const fn spiral_mut(&mut self) -> Option<&mut SpiralSpec> {
        match self {
            Self::Spiral(spiral) => Some(spiral),
            Self::Burst(_) | Self::Line(_) | Self::Flat(_) => None,
        }
    }

    /// How the garment is laid.
    #[must_use]
    pub const fn centring(&self) -> Centring {
        match self {
            Self::Burst(burst) => burst.centring,
            Self::Line(line) => line.centring,
            Self::Flat(flat) => flat.centring,
            Self::Spiral(spiral) => spiral.centring,
        }
    }

    /// How the garment is laid.
    pub const fn centring_mut(&mut self) -> &mut Centring {
        match self {
            Self::Burst(burst) => &mut burst.centring,
            Self::Line(line) => &mut line.centring,
            Self::Flat(flat) => &mut flat.centring,
            Self::Spiral(spiral) => &mut spiral.centring,
        }
    }

    /// How deep the pleats are, or how many; a flat bundle has none, and a spiral's form by themselves.
    #[must_use]
    pub const fn pleats(&self) -> Option<Pleats> {
        match self {
            Self::Burst(burst) => Some(burst.pleats),
            Self::Line(line) => Some(line.pleats),
            Self::Flat(_) | Self::Spiral(_) => None,
        }
    }

    /// The same to be changed.
    pub const fn pleats_mut(&mut self) -> Option<&mut Pleats> {
        match self {
            Self::Burst(burst) => Some(&mut burst.pleats),
            Self::Line(line) => Some(&mut line.pleats),
            Self::Flat(_) | Self::Spiral(_) => None,
        }
    }

    /// Further lines to mark, for orientation, mm: of a burst radii, of a line signed distances from it, of others none.
    #[must_use]
    pub fn further_mm(&self) -> &[f64] {
        match self {
            Self::Burst(burst) => &burst.further_arcs_mm,
            Self::Line(line) => &line.further_mm,
            Self::Flat(_) | Self::Spiral(_) => &[],
        }
    }

    /// The same to be changed; none of a fold that takes none.
    pub const fn further_mm_mut(&mut self) -> Option<&mut Vec<f64>> {
        match self {
            Self::Burst(burst) => Some(&mut burst.further_arcs_mm),
            Self::Line(line) => Some(&mut line.further_mm),
            Self::Flat(_) | Self::Spiral(_) => None,
        }
    }
}
