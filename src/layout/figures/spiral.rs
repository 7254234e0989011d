//! Figures of a spiral: its pinch and turns, the puck, its bands.

use super::fold::FoldFigures;
use super::sections::SectionFigures;
use crate::geometry::Top;
use crate::layout::Layout;
use serde::Serialize;

/// A spiral.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SpiralFigures {
    /// How the garment is laid, in plain words.
    pub centring: &'static str,
    /// What will match what, in plain words.
    pub matching: &'static str,
    /// What the heights below are counted from.
    pub top: Top,
    /// The pinch from the centre line, mm; positive to the wearer's left.
    pub pinch_from_centre_line_mm: f64,
    /// The same below the shoulder, or the upper edge of what has none, mm.
    pub pinch_below_shoulder_mm: f64,
    /// Radius of what the fingers hold, mm.
    pub pinch_radius_mm: f64,
    /// How often the pinch is turned.
    pub turns: f64,
    /// Which way, seen from above.
    pub twist: &'static str,
    /// The most turns that the cloth allows without stretching.
    pub most_turns: f64,
    /// Diameter of the puck, mm.
    pub puck_diameter_mm: f64,
    /// Height of the puck, mm.
    pub puck_height_mm: f64,
    /// Length of its rim, mm.
    pub rim_mm: f64,
    /// The share of it that is cloth.
    pub packing: f64,
    /// Layers that lie on each other before it is pinched.
    pub layers: u32,
    /// Bands over it.
    pub bands: u32,
    /// Girth of a band over it, mm.
    pub band_girth_mm: f64,
    /// Wedges that the bands part it into.
    pub wedges: u32,
    /// The cloth of the smallest and of the largest wedge, as shares of all, 0 to 1.
    pub wedge_shares: [f64; 2],
}

impl SpiralFigures {
    /// The most turns as they are told: hundredths, rounded down, so that nobody is told more than the cloth allows.
    #[must_use]
    pub fn told_most_turns(&self) -> f64 {
        (100.0 * self.most_turns).floor() / 100.0
    }
}

pub(super) fn spiral_figures(layout: &Layout, fold: &FoldFigures, wedges: &[SectionFigures]) -> Option<SpiralFigures> {
    let (spiral, middle) = (layout.spiral()?, layout.middle()?);
    let (spec, all_mm2) = (spiral.spec(), wedges.iter().map(|wedge| wedge.area_mm2.sum()).sum::<f64>());
    let shares = wedges.iter().map(|wedge| wedge.area_mm2.sum() / all_mm2);
    let wedge_shares = shares.fold([f64::INFINITY, 0.0], |[least, most], share| [share.min(least), share.max(most)]);
    Some(SpiralFigures {
        centring: fold.centring,
        matching: fold.matching,
        top: fold.top,
        pinch_from_centre_line_mm: middle.x,
        pinch_below_shoulder_mm: middle.y,
        pinch_radius_mm: spec.pinch_radius_mm,
        turns: spec.turns,
        twist: spec.twist.name(),
        most_turns: spiral.most_turns(),
        puck_diameter_mm: 2.0 * spiral.radius_mm(),
        puck_height_mm: spiral.height_mm(),
        rim_mm: spiral.rim_mm(),
        packing: spiral.packing(),
        layers: layout.lay().layers(),
        bands: spec.bands,
        band_girth_mm: spiral.band_girth_mm(),
        wedges: 2 * spec.bands,
        wedge_shares,
    })
}
