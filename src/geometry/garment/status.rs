//! Where a figure comes from.

use serde::{Deserialize, Serialize};
use std::fmt;

/// How far a figure can be trusted: shown beside the figure wherever a maker asks where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum SourceStatus {
    /// Read in a published source, which the documentation names.
    Published,
    /// Calculated from other figures.
    Computed,
    /// Common practice, no source.
    Practice,
    /// Recalled and not confirmed: a default to be measured against the garment in hand.
    Memory,
}

impl SourceStatus {
    /// The words that stand for the status in print.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::Computed => "computed",
            Self::Practice => "common practice, no source",
            Self::Memory => "unverified, please measure",
        }
    }
}

impl fmt::Display for SourceStatus {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}
