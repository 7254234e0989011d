//! Figures of the burst: centre, guide arc, pleats, creases, and the two solved progressions.

use crate::geometry::{Fold as _, PanelPair, Solved, Top, middle_mm};
use crate::layout::Layout;
use crate::measure::LengthStyle;
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

/// Less than this is not worth telling, mm: what lengths are written to.
const TOLD_MM: f64 = 0.05;

impl BurstFigures {
    /// What the marks of the rule did to the guide arc, in words: `moved in by 1.1 mm to the nearest mark`; none where it lies as asked.
    #[must_use]
    pub fn guide_rounding(&self, lengths: LengthStyle) -> Option<String> {
        let by_mm = self.guide_rounded_by_mm;
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

pub(super) fn burst_figures(layout: &Layout) -> BurstFigures {
    let (burst, fold) = (layout.burst(), layout.fold());
    let guide_mm = burst.guide_radius_mm();
    let centre = burst.centre();
    BurstFigures {
        centring: burst.centring().name(),
        matching: burst.centring().matching(layout.garment().panels()),
        top: fold.panels().top,
        centre_from_centre_line_mm: centre.x,
        centre_below_shoulder_mm: centre.y,
        centre_above_middle_mm: middle_mm(fold.panels()) - centre.y,
        centre_below_shoulder_washed_mm: (layout.wash().washed_from_unwashed() * centre).y,
        mirrored_pair: burst.is_mirrored_pair(),
        guide_radius_mm: guide_mm,
        guide_rounded_by_mm: guide_mm - layout.raw().fold.burst().map_or(guide_mm, |burst| burst.guide_radius_mm),
        further_arcs_mm: burst.further_arcs_mm().to_vec(),
        guide_share: PanelPair::from_fn(|panel| {
            fold.panels().panel(panel).map(|_| fold.cut(guide_mm).of(panel).cloth_mm / burst.ring_capacity_mm(guide_mm))
        }),
        whole_ring_to_mm: PanelPair::from_fn(|panel| fold.whole_ring_to_mm(panel)),
        farthest_mm: fold.length_mm(),
        pleats: burst.pleats(),
        layers: fold.layers(),
        pleat_angle_deg: burst.pleat_angle_rad().to_degrees(),
        pleat_depth_mm: fold.pleat_width_mm(guide_mm),
        creases_deg: burst.creases_rad().into_iter().map(f64::to_degrees).collect(),
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
