//! Figures of a burst: what every fold has, and its centre, its angles, its whole rings.

use super::fold::{FoldFigures, SideFigures};
use crate::geometry::{Bundle as _, Folded, PanelPair, Top, middle_mm};
use crate::layout::Layout;
use serde::Serialize;

/// The burst.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BurstFigures {
    /// How the garment is laid, in plain words.
    pub centring: &'static str,
    /// What will match what, in plain words.
    pub matching: &'static str,
    /// Centre from the centre line, mm; positive to the wearer's left.
    pub centre_from_centre_line_mm: f64,
    /// What the heights below are counted from.
    pub top: Top,
    /// Centre below the shoulder point, or the upper edge of what has none, mm.
    pub centre_below_shoulder_mm: f64,
    /// Centre above the middle of the garment's length, mm.
    pub centre_above_middle_mm: f64,
    /// The same after a wash, mm.
    pub centre_below_shoulder_washed_mm: f64,
    /// Whether it comes out twice, mirrored at the centre line.
    pub mirrored_pair: bool,
    /// Radius of the guide arc, mm.
    pub guide_radius_mm: f64,
    /// How far the marks of the rule moved the guide arc from the radius asked for, mm; positive is outward.
    pub guide_rounded_by_mm: f64,
    /// Radii of further arcs, mm.
    pub further_arcs_mm: Vec<f64>,
    /// Share of the guide arc that lies on each panel, 0 to 1; none of a panel that the garment lacks.
    pub guide_share: PanelPair<Option<f64>>,
    /// Radius up to which a ring is whole on each panel, clear of neck, sides and hem, and of the fold for a mirrored pair, mm; 0
    /// where the centre itself is bare.
    pub whole_ring_to_mm: PanelPair<f64>,
    /// How far from the centre cloth is found, mm.
    pub farthest_mm: f64,
    /// Number of pleats.
    pub pleats: u32,
    /// Layers in each pleat.
    pub layers: u32,
    /// Angle of one pleat, degrees.
    pub pleat_angle_deg: f64,
    /// Depth of a pleat at the guide arc, mm.
    pub pleat_depth_mm: f64,
    /// Directions of the creases from straight up, degrees.
    pub creases_deg: Vec<f64>,
    /// Gaps from the guide arc to the centre.
    pub inward: SideFigures,
    /// Gaps from the guide arc to the edge.
    pub outward: SideFigures,
}

pub(super) fn burst_figures(layout: &Layout, fold: &FoldFigures) -> Option<BurstFigures> {
    let Folded::Burst(of) = &*layout.folded else { return None };
    let (burst, guide_mm) = (of.burst(), fold.guide_mm);
    let centre = burst.centre();
    Some(BurstFigures {
        centring: fold.centring,
        matching: fold.matching,
        top: fold.top,
        centre_from_centre_line_mm: centre.x,
        centre_below_shoulder_mm: centre.y,
        centre_above_middle_mm: middle_mm(layout.panels()) - centre.y,
        centre_below_shoulder_washed_mm: (layout.wash().washed_from_unwashed() * centre).y,
        mirrored_pair: burst.is_mirrored_pair(),
        guide_radius_mm: guide_mm,
        guide_rounded_by_mm: fold.guide_rounded_by_mm,
        further_arcs_mm: fold.references_mm.clone(),
        guide_share: PanelPair::from_fn(|panel| {
            layout.panels().panel(panel).map(|_| of.cut(guide_mm).of(panel).cloth_mm / burst.ring_capacity_mm(guide_mm))
        }),
        whole_ring_to_mm: PanelPair::from_fn(|panel| of.whole_ring_to_mm(panel)),
        farthest_mm: fold.length_mm,
        pleats: fold.pleats,
        layers: fold.layers,
        pleat_angle_deg: burst.pleat_angle_rad().to_degrees(),
        pleat_depth_mm: fold.pleat_depth_mm,
        creases_deg: burst.creases_rad().into_iter().map(f64::to_degrees).collect(),
        inward: fold.inward,
        outward: fold.outward,
    })
}
