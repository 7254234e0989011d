//! Where the program starts to warn.

/// Limits of what a hand can fold and tie. A layout beyond them is warned about, never refused.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Shallowest pleat at the guide arc that holds, mm. Hands fold 20 to 50; below 15 the pleats spring open (common practice, no
    /// source).
    pub shallowest_pleat_mm: f64,
    /// Deepest pleat at the guide arc, mm. Above 60 its inside stays out of the dye's reach (common practice, no source).
    pub deepest_pleat_mm: f64,
    /// Thickest rod that can be pulled tight, as the diameter under a bind, mm. 60, about the grip of a hand (common practice, no
    /// source).
    pub thickest_rod_mm: f64,
    /// Least share of the guide arc that should lie on the cloth of each panel: 0.75, or the fan fold has nothing to follow (our
    /// own judgement, no source).
    pub least_guide_share: f64,
    /// Least cloth left bare between the wraps of two binds that can be tied, in diameters of the thread: 2 (common practice, no
    /// source).
    pub smallest_gap_threads: f64,
}

/// How much deeper than the deepest pleat at the guide arc a pleat may be at the outermost bind: the fan widens with the radius, and
/// a guide arc at two fifths of the way is the least that still leads the folding (our own judgement, no source).
const DEEPEST_OUTSIDE: f64 = 2.5;

impl Limits {
    /// The deepest that a pleat may be at the outermost bind, mm.
    pub(super) fn deepest_outside_mm(&self) -> f64 {
        DEEPEST_OUTSIDE * self.deepest_pleat_mm
    }
}

impl Default for Limits {
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
