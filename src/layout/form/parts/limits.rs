//! Where the program starts to warn.

use crate::form::stands_for;
use crate::layout::Limits;
use serde::{Deserialize, Serialize};

/// Limits of what a hand can fold and tie.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct LimitsForm {
    /// Shallowest pleat at the guide arc that holds, mm: 15.
    pub shallowest_pleat_mm: f64,
    /// Deepest pleat at the guide arc, mm: 60.
    pub deepest_pleat_mm: f64,
    /// Thickest rod that can be pulled tight, as the diameter under a bind, mm: 60.
    pub thickest_rod_mm: f64,
    /// Least share of the guide arc that should lie on the cloth of each panel: 0.75.
    pub least_guide_share: f64,
    /// Least cloth left bare between the wraps of two binds, in diameters of the thread: 2.
    pub smallest_gap_threads: f64,
}

impl Default for LimitsForm {
    fn default() -> Self {
        Self {
            shallowest_pleat_mm: 15.0,
            deepest_pleat_mm: 60.0,
            thickest_rod_mm: 60.0,
            least_guide_share: 0.75,
            smallest_gap_threads: 2.0,
        }
    }
}

stands_for!(struct LimitsForm for Limits {
    shallowest_pleat_mm, deepest_pleat_mm, thickest_rod_mm, least_guide_share, smallest_gap_threads
});
