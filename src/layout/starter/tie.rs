//! A further tie to begin with: a small burst.

use super::gaps::spacing;
use crate::geometry::{BurstSpec, Centre, Centring, Pleats, Progression, SpacingSpec, Thread};
use crate::layout::{Colours, FoldSpec, TieSpec};
use crate::measure::RuleMarks;
use kurbo::Point;

/// Pleat depth wished for, mm: a small burst is folded finer than one that takes the whole garment (our own judgement).
const PLEAT_MM: f64 = 25.0;
/// Fewest pleats worth folding.
const FEWEST_PLEATS: f64 = 6.0;
/// The gap beyond its guide arc, as a share of the arc's radius.
const OUTWARD_SHARE: f64 = 0.3;

/// A small burst as one of several ties: its centre somewhere in the garment's frame, mm, the garment laid open, and one bind beyond the
/// guide arc.
#[must_use]
pub fn starter_tie(name: &str, at: Point, guide_radius_mm: f64, thread: &Thread, marks: RuleMarks, colours: Colours) -> TieSpec {
    let depth_mm = PLEAT_MM.min(std::f64::consts::PI * guide_radius_mm / FEWEST_PLEATS).max(1.0);
    let centre = Centre::BelowShoulder { from_centre_line_mm: at.x.round(), below_shoulder_mm: at.y.round() };
    let burst = BurstSpec {
        centring: Centring::Open,
        centre,
        guide_radius_mm,
        further_arcs_mm: Vec::new(),
        pleats: Pleats::Depth { depth_mm: depth_mm.round() },
    };
    let inner = spacing(guide_radius_mm, guide_radius_mm, thread, marks);
    let gap_mm = (OUTWARD_SHARE * guide_radius_mm).round();
    let outward = Progression::Even { count: Some(1), gap_mm: Some(gap_mm), span: None };
    TieSpec {
        name: name.to_owned(),
        fold: FoldSpec::Burst(burst),
        binds: SpacingSpec { outward, ..inner },
        thread: *thread,
        colours: colours.in_turn(),
    }
}
