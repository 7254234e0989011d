//! Figures that every fold has: how the garment lies, guide, pleats, and the two solved progressions.

use crate::geometry::{Extent, Solved, Top};
use crate::layout::{FoldSpec, FoldWords, Layout};
use crate::measure::LengthStyle;
use serde::Serialize;

/// The fold, whichever it is.
#[derive(Debug, Clone, PartialEq)]
pub struct FoldFigures {
    /// How the garment is laid, in plain words.
    pub centring: &'static str,
    /// What will match what, in plain words.
    pub matching: &'static str,
    /// What heights are counted from.
    pub top: Top,
    /// Where along the bundle the guide runs, mm: the radius of a guide arc.
    pub guide_mm: f64,
    /// How far the marks of the rule moved the guide from where it was asked for, mm; positive is outward.
    pub guide_rounded_by_mm: f64,
    /// Where along the bundle the pleats are measured, mm.
    pub pleated_mm: f64,
    /// Where along the bundle its maker's rule has its zero, mm: a burst's centre, or the line.
    pub zero_mm: f64,
    /// What its parts are called.
    pub words: FoldWords,
    /// Where along the bundle further lines are marked, mm.
    pub references_mm: Vec<f64>,
    /// How far along the bundle cloth is found, mm.
    pub length_mm: f64,
    /// Number of pleats.
    pub pleats: u32,
    /// Layers in each pleat.
    pub layers: u32,
    /// Depth of a pleat where pleats are measured, mm.
    pub pleat_depth_mm: f64,
    /// Gaps from the guide toward the tip.
    pub inward: SideFigures,
    /// Gaps from the guide to the edge.
    pub outward: SideFigures,
}

/// Less than this is not worth telling, mm: what lengths are written to.
const TOLD_MM: f64 = 0.05;

impl FoldFigures {
    /// What the marks of the rule did to the guide, in words: `moved in by 1.1 mm to the nearest mark`; none where it lies as asked.
    #[must_use]
    pub fn guide_rounding(&self, lengths: LengthStyle) -> Option<String> {
        Self::rounding_words(self.guide_rounded_by_mm, lengths)
    }

    pub(super) fn rounding_words(by_mm: f64, lengths: LengthStyle) -> Option<String> {
        let way = if by_mm < 0.0 { "in" } else { "out" };
        (by_mm.abs() >= TOLD_MM).then(|| format!("moved {way} by {} to the nearest mark", lengths.format_small(by_mm.abs())))
    }
}

/// A solved progression of gaps, before rounding and corrections by hand.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SideFigures {
    /// Number of gaps.
    pub count: u32,
    /// Gap next to the guide arc, mm; 0 when the side has no binds.
    pub first_gap_mm: f64,
    /// Farthest gap, mm; 0 when the side has no binds.
    pub last_gap_mm: f64,
    /// All gaps together, mm.
    pub span_mm: f64,
    /// What the progression goes by: its step (mm), ratio or exponent, where it has one.
    pub factor: Option<f64>,
}

pub(super) fn fold_figures(layout: &Layout) -> FoldFigures {
    let (lay, guide_mm, pleated_mm) = (layout.lay(), layout.guide_mm(), layout.pleated_mm());
    let Extent { length_mm, pleats, layers, .. } = layout.fold().extent();
    let asked_mm = match &layout.raw().fold {
        FoldSpec::Burst(burst) => burst.guide_radius_mm,
        // Lines are drawn where they are; no mark moves them.
        // Nor a puck's bands.
        FoldSpec::Line(_) | FoldSpec::Spiral(_) => guide_mm,
        FoldSpec::Flat(flat) => flat.first_bind_mm.unwrap_or(guide_mm),
    };
    FoldFigures {
        centring: lay.centring().name(),
        matching: lay.centring().matching(layout.garment().panels()),
        top: lay.panels().top,
        guide_mm,
        guide_rounded_by_mm: guide_mm - asked_mm,
        pleated_mm,
        zero_mm: layout.zero_mm(),
        words: layout.words(),
        references_mm: layout.references_mm(),
        length_mm,
        pleats,
        layers,
        pleat_depth_mm: layout.fold().width_mm(pleated_mm),
        inward: side_figures(&layout.binds().inward),
        outward: side_figures(&layout.binds().outward),
    }
}

fn side_figures(side: &Solved) -> SideFigures {
    SideFigures {
        count: side.count,
        first_gap_mm: side.first_gap_mm,
        last_gap_mm: side.last_gap_mm,
        span_mm: side.span_mm,
        factor: side.factor,
    }
}
