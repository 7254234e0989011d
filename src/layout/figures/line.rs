//! Figures of a fold along a line: what every fold has, and its line, its pleats, its cloth that can't lie flat.

use super::fold::{FoldFigures, SideFigures};
use crate::geometry::{Fold as _, Gather, LineKind, Panel, Top, Unflat, stitch_holes};
use crate::layout::Layout;
use serde::Serialize;

/// The fold along a line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LineFigures {
    /// How the garment is laid, in plain words.
    pub centring: &'static str,
    /// What will match what, in plain words.
    pub matching: &'static str,
    /// What the line is to the cloth: `ring`, `across`, `stroke` or `point`.
    pub kind: &'static str,
    /// The shape that it was drawn from; none of a line of the maker's own.
    pub shape: Option<&'static str>,
    /// What the heights below are counted from.
    pub top: Top,
    /// The middle of the shape from the centre line, mm.
    pub middle_from_centre_line_mm: Option<f64>,
    /// The same below the shoulder, or the upper edge of what has none, mm.
    pub middle_below_shoulder_mm: Option<f64>,
    /// Breadth of the line where it lies on the laid cloth, mm.
    pub width_mm: f64,
    /// Its height, mm.
    pub height_mm: f64,
    /// Length of the line on the garment as it is laid, mm.
    pub length_mm: f64,
    /// Distance of the parallel that is pleated along from the line, mm.
    pub guide_mm: f64,
    /// Depth of the cloth within the line, mm; 0 where none lies within.
    pub inside_mm: f64,
    /// How far from the line cloth is found outside it, mm.
    pub outside_mm: f64,
    /// Distances of further lines, mm.
    pub further_mm: Vec<f64>,
    /// Number of pleats.
    pub pleats: u32,
    /// How many of them have cloth on the guide; the others end before it.
    pub pleats_on_guide: u32,
    /// Layers in each pleat.
    pub layers: u32,
    /// Depth of a pleat at the guide, mm: the mean by the cloth that they hold.
    pub pleat_depth_mm: f64,
    /// Depth of the shallowest pleat and of the deepest one at the guide, mm, those left out that come to a point in a corner.
    pub pleat_depths_mm: [f64; 2],
    /// The running stitch that draws the pleats up; none of pleats folded by hand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stitches: Option<StitchFigures>,
    /// How far to either side of each other the edges of the pleats come to lie at the guide, mm: where they are unequal a stack leans.
    pub lean_mm: f64,
    /// Cloth that can't lie flat.
    #[serde(flatten)]
    pub unflat: Unflat,
    /// Gaps from the line inward.
    pub inward: SideFigures,
    /// Gaps from the line to the edge.
    pub outward: SideFigures,
}

/// A running stitch along the guide.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct StitchFigures {
    /// How often the needle goes through all layers.
    pub holes: u32,
    /// From hole to hole, mm: the mean.
    pub stitch_mm: f64,
    /// Thread to cut, mm: along the guide and two tails.
    pub thread_mm: f64,
}

/// The stitches of a layout whose pleats are drawn up.
fn stitches(layout: &Layout, along_mm: f64) -> Option<StitchFigures> {
    if layout.gather() != Gather::Stitch {
        return None;
    }
    let fold = layout.fold();
    let guide_mm: f64 = fold.parallel(&Panel::BOTH, along_mm).iter().map(crate::geometry::Stretch::length_mm).sum();
    let holes = u32::try_from(stitch_holes(fold, along_mm).len()).unwrap_or(u32::MAX);
    let stitch_mm = guide_mm / f64::from(holes.max(1));
    Some(StitchFigures { holes, stitch_mm, thread_mm: guide_mm + 2.0 * layout.thread().tail_mm })
}

pub(super) fn line_figures(layout: &Layout, fold: &FoldFigures) -> Option<LineFigures> {
    let (line, spec) = (layout.line()?, layout.raw().fold.line()?);
    let ends =
        line.source().into_iter().flat_map(|part| (0..=SAMPLES).map(move |at| part.point(f64::from(at) / f64::from(SAMPLES))));
    let box_of = ends.fold(None, |all: Option<kurbo::Rect>, at| {
        let point = kurbo::Rect::from_points(at, at);
        Some(all.map_or(point, |all| all.union_pt(at)))
    });
    let halves = if line.lay().is_folded() && box_of.is_some_and(|all| all.x0 < ON_FOLD_MM) { 2.0 } else { 1.0 };
    // A pleat in a corner comes to a point on the line itself, and has its depth beside it.
    let widths: Vec<f64> = line.pleat_widths_mm(fold.pleated_mm).into_iter().filter(|&width_mm| width_mm > POINT_MM).collect();
    let middle = layout.middle();
    Some(LineFigures {
        centring: fold.centring,
        matching: fold.matching,
        kind: match line.kind() {
            LineKind::Ring => "ring",
            LineKind::Across => "across",
            LineKind::Stroke => "stroke",
            LineKind::Point => "point",
        },
        shape: spec.line.shape().map(|shape| shape.name()),
        top: fold.top,
        middle_from_centre_line_mm: middle.map(|at| at.x),
        middle_below_shoulder_mm: middle.map(|at| at.y),
        width_mm: box_of.map_or(0.0, |all| halves * all.width()),
        height_mm: box_of.map_or(0.0, |all| all.height()),
        length_mm: line.source_length_mm(),
        guide_mm: fold.pleated_mm - fold.zero_mm,
        inside_mm: fold.zero_mm,
        outside_mm: fold.length_mm - fold.zero_mm,
        further_mm: fold.references_mm.iter().map(|along_mm| along_mm - fold.zero_mm).collect(),
        pleats: fold.pleats,
        pleats_on_guide: line.pleats_at(fold.pleated_mm),
        layers: fold.layers,
        pleat_depth_mm: fold.pleat_depth_mm,
        pleat_depths_mm: [widths.iter().copied().fold(f64::INFINITY, f64::min), widths.iter().copied().fold(0.0, f64::max)],
        stitches: stitches(layout, fold.pleated_mm),
        lean_mm: line.lean_mm(fold.pleated_mm),
        unflat: line.unflat_within(layout.fold().length_mm()),
        inward: fold.inward,
        outward: fold.outward,
    })
}

/// What is no deeper than this comes to a point, mm.
const POINT_MM: f64 = 1.0;
/// Points of a part of the line that its box is taken of.
const SAMPLES: u32 = 16;
/// What is no farther from the fold than this lies on it, mm.
const ON_FOLD_MM: f64 = 0.5;
