//! How a garment is folded, as the maker gives it: one of several folds.

use crate::geometry::{BurstSpec, Centring, LineFoldSpec, Pleats};

/// A fold as the maker gives it.
#[derive(Debug, Clone, PartialEq)]
pub enum FoldSpec {
    /// A burst.
    Burst(BurstSpec),
    /// Along a line.
    Line(LineFoldSpec),
}

impl FoldSpec {
    /// Which fold it is.
    #[must_use]
    pub const fn kind(&self) -> FoldKind {
        match self {
            Self::Burst(_) => FoldKind::Burst,
            Self::Line(_) => FoldKind::Line,
        }
    }

    /// The burst, if it is one.
    #[must_use]
    pub const fn burst(&self) -> Option<&BurstSpec> {
        match self {
            Self::Burst(burst) => Some(burst),
            Self::Line(_) => None,
        }
    }

    /// The same to be changed.
    pub const fn burst_mut(&mut self) -> Option<&mut BurstSpec> {
        match self {
            Self::Burst(burst) => Some(burst),
            Self::Line(_) => None,
        }
    }

    /// The fold along a line, if it is one.
    #[must_use]
    pub const fn line(&self) -> Option<&LineFoldSpec> {
        match self {
            Self::Burst(_) => None,
            Self::Line(line) => Some(line),
        }
    }

    /// The same to be changed.
    pub const fn line_mut(&mut self) -> Option<&mut LineFoldSpec> {
        match self {
            Self::Burst(_) => None,
            Self::Line(line) => Some(line),
        }
    }

    /// How the garment is laid.
    pub const fn centring_mut(&mut self) -> &mut Centring {
        match self {
            Self::Burst(burst) => &mut burst.centring,
            Self::Line(line) => &mut line.centring,
        }
    }

    /// How deep the pleats are, or how many.
    #[must_use]
    pub const fn pleats(&self) -> Pleats {
        match self {
            Self::Burst(burst) => burst.pleats,
            Self::Line(line) => line.pleats,
        }
    }

    /// The same to be changed.
    pub const fn pleats_mut(&mut self) -> &mut Pleats {
        match self {
            Self::Burst(burst) => &mut burst.pleats,
            Self::Line(line) => &mut line.pleats,
        }
    }

    /// Further lines to mark, for orientation, mm: of a burst radii, of a line signed distances from it.
    #[must_use]
    pub const fn further_mm(&self) -> &Vec<f64> {
        match self {
            Self::Burst(burst) => &burst.further_arcs_mm,
            Self::Line(line) => &line.further_mm,
        }
    }

    /// The same to be changed.
    pub const fn further_mm_mut(&mut self) -> &mut Vec<f64> {
        match self {
            Self::Burst(burst) => &mut burst.further_arcs_mm,
            Self::Line(line) => &mut line.further_mm,
        }
    }
}

/// The folds that a layout can have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum FoldKind {
    /// Pleats round a centre.
    #[default]
    Burst,
    /// Pleats along a line.
    Line,
}

impl FoldKind {
    /// Every fold.
    pub const ALL: [Self; 2] = [Self::Burst, Self::Line];

    /// Its name, as it is asked for.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Burst => "burst",
            Self::Line => "line",
        }
    }

    /// The fold of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }

    /// What it is, in one line.
    #[must_use]
    pub const fn about(self) -> &'static str {
        match self {
            Self::Burst => "pleats round a centre, tied in rings that tighten toward it",
            Self::Line => "pleats along a drawn line, such as a heart or a wave, tied in parallels to it",
        }
    }
}
