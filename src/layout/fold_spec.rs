//! How a garment is folded, as the maker gives it: one of several folds.

use crate::geometry::BurstSpec;

/// A fold as the maker gives it.
#[derive(Debug, Clone, PartialEq)]
pub enum FoldSpec {
    /// A burst.
    Burst(BurstSpec),
}

impl FoldSpec {
    /// Which fold it is.
    #[must_use]
    pub const fn kind(&self) -> FoldKind {
        match self {
            Self::Burst(_) => FoldKind::Burst,
        }
    }

    /// The burst, if it is one.
    #[must_use]
    pub const fn burst(&self) -> Option<&BurstSpec> {
        match self {
            Self::Burst(burst) => Some(burst),
        }
    }

    /// The same to be changed.
    pub const fn burst_mut(&mut self) -> Option<&mut BurstSpec> {
        match self {
            Self::Burst(burst) => Some(burst),
        }
    }
}

/// The folds that a layout can have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum FoldKind {
    /// Pleats round a centre.
    #[default]
    Burst,
}

impl FoldKind {
    /// Every fold.
    pub const ALL: [Self; 1] = [Self::Burst];

    /// Its name, as it is asked for.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Burst => "burst",
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
        }
    }
}
