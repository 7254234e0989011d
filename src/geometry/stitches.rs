//! Gathering by a needle in place of folding: a running stitch that is drawn up lays the same pleats.
//!
//! Drawn up, the thread runs straight through the middle of every pleat, so its holes in the flat cloth lie half a pleat from the creases:
//! one in each pleat, in and out by turns.

use super::{BundlePoint, Fold, Panel};
use kurbo::Point;

/// How cloth is gathered along a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Gather {
    /// Fan folded by hand, crease by crease.
    #[default]
    FanFold,
    /// A running stitch, drawn up.
    Stitch,
}

impl Gather {
    /// Both.
    pub const ALL: [Self; 2] = [Self::FanFold, Self::Stitch];

    /// Plain words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::FanFold => "fan fold",
            Self::Stitch => "stitch and draw up",
        }
    }
}

/// Where a needle goes through all layers of the laid cloth along a cut across the bundle, mm, pleat by pleat: in the middle of each pleat
/// that has cloth there, in any layer.
#[must_use]
pub fn stitch_holes(fold: &dyn Fold, along_mm: f64) -> Vec<Point> {
    let (lay, layers) = (fold.lay(), fold.layers());
    let hole = |pleat: u32| {
        let middle = BundlePoint { along_mm, across: 0.5, place: f64::from(pleat * layers) };
        let laid = lay.as_laid(fold.to_cloth(middle)?);
        lay.outlines(&Panel::BOTH).any(|outline| outline.contains(laid)).then_some(laid)
    };
    (0..fold.extent().pleats).filter_map(hole).collect()
}
