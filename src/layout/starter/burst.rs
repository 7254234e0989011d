//! A burst to begin with.

use super::gaps::spacing;
use super::{Room, SPARE_OF_REACH};
use crate::geometry::{BurstSpec, Centring, Pleats, SpacingSpec, Thread};
use crate::layout::{FoldSpec, Limits};

/// The guide arc's radius, as a share of the distance from the centre to the nearest edge, so that it lies on cloth all round.
const GUIDE_SHARE: f64 = 0.95;
/// Pleat depth wished for, mm: hands fold 20 to 50 (common practice, no source).
const PLEAT_MM: f64 = 35.0;
/// Fewest pleats worth folding.
const FEWEST_PLEATS: f64 = 6.0;

pub(super) fn burst(room: &Room, thread: &Thread) -> (FoldSpec, SpacingSpec) {
    let guide_radius_mm = room.round(GUIDE_SHARE * room.edge_mm).max(5.0);
    // A fan widens outward: on long sleeves it begins with narrower pleats, so that dye still reaches into them there.
    let widest = SPARE_OF_REACH * Limits::default().deepest_outside_mm();
    let reach_mm = widest * guide_radius_mm / room.farthest_mm.max(guide_radius_mm);
    let pleat_mm = PLEAT_MM.min(std::f64::consts::PI * guide_radius_mm / FEWEST_PLEATS);
    let pleat_mm = if reach_mm < pleat_mm { room.round(reach_mm - 2.5) } else { room.round(pleat_mm) };
    let fold = FoldSpec::Burst(BurstSpec {
        centring: Centring::Nested,
        centre: room.centre(),
        guide_radius_mm,
        further_arcs_mm: Vec::new(),
        pleats: Pleats::Depth { depth_mm: pleat_mm.max(1.0) },
    });
    (fold, spacing(guide_radius_mm, room.farthest_mm, thread, room.marks))
}
