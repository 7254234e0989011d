//! Gaps to begin with: such as can be tied and dyed.

use super::EDGE_MM;
use crate::geometry::{Progression, SpacingSpec, Span, Thread, least_gap_mm};
use crate::measure::RuleMarks;

/// First gap, as a share of the guide arc's radius, and the ratio from gap to gap inward and outward.
const FIRST_GAP_SHARE: f64 = 0.15;
const INWARD_RATIO: f64 = 0.88;
pub(super) const OUTWARD_RATIO: f64 = 1.08;
/// Radius left free at the centre, as a share of the guide arc's.
const CORE_SHARE: f64 = 0.06;
/// Cloth left bare between the wraps of two binds at the least, mm, that lets dye into the section between them: with 6 a third of the
/// section and more takes it in the reveal of every starter (computed by it; no source).
const BARE_MM: f64 = 6.0;
/// How much wider the first gap is than the tightest, at the least, so that the rings tighten toward the centre even on a small garment
/// (our own judgement).
pub(super) const FIRST_OVER_TIGHTEST: f64 = 1.4;
/// Gap wished for between even binds, mm: a hand's breadth (our own judgement).
const EVEN_MM: f64 = 70.0;

/// The tightest gap between two binds of thin places that leaves cloth bare between them, mm. Rounding to the marks can take one from a
/// gap.
pub(super) fn tightest_mm(thread: &Thread, marks: RuleMarks) -> f64 {
    least_gap_mm(thread, [thread.wraps + thread.thin_extra_wraps; 2], bare_threads(thread, marks))
}

fn bare_threads(thread: &Thread, marks: RuleMarks) -> f64 {
    (BARE_MM + marks.step_mm().unwrap_or(0.0)) / thread.diameter_mm
}

/// Even gaps from a first bind to both ends, which lie so far from it; `leave_mm` stays free there.
pub(super) fn even_gaps(rooms_mm: [f64; 2], leave_mm: f64, thread: &Thread, marks: RuleMarks) -> SpacingSpec {
    let side = |room_mm: f64| {
        let leave_mm = leave_mm.min(0.5 * room_mm);
        // The first bind may be rounded half a mark nearer to an end.
        let held_mm = room_mm - leave_mm - marks.step_mm().unwrap_or(0.0);
        let gap_mm = EVEN_MM.max(tightest_mm(thread, marks)).min(held_mm);
        Progression::Even { count: None, gap_mm: Some(gap_mm), span: Some(Span::ToEnd { leave_mm }) }
    };
    let [inward, outward] = rooms_mm.map(side);
    SpacingSpec { inward, outward, marks, smallest_gap_mm: None, edits: Vec::new() }
}

/// Gaps that can be tied and dyed: they tighten toward the centre by [`INWARD_RATIO`], or less where the tightest would be too small for
/// the wraps of a thin rod.
pub(super) fn spacing(guide_radius_mm: f64, farthest_mm: f64, thread: &Thread, marks: RuleMarks) -> SpacingSpec {
    let (tightest_mm, thin_wraps) = (tightest_mm(thread, marks), thread.wraps + thread.thin_extra_wraps);
    let first_mm = (FIRST_GAP_SHARE * guide_radius_mm).max(FIRST_OVER_TIGHTEST * tightest_mm).round();
    let core_mm = (CORE_SHARE * guide_radius_mm).max(least_gap_mm(thread, [0, thin_wraps], bare_threads(thread, marks)));
    // On a scrap of cloth half of what there is stays for the binds.
    let inside_leave_mm = core_mm.ceil().min(0.5 * guide_radius_mm);
    let outside_mm = (farthest_mm - guide_radius_mm).max(0.0);
    let outside_leave_mm = EDGE_MM.min(0.5 * outside_mm);
    let inside_mm = guide_radius_mm - inside_leave_mm;
    SpacingSpec {
        inward: side(first_mm.min(inside_mm), inward_ratio(first_mm, tightest_mm, inside_mm), inside_leave_mm),
        outward: side(first_mm.min(outside_mm - outside_leave_mm), OUTWARD_RATIO, outside_leave_mm),
        marks,
        smallest_gap_mm: None,
        edits: Vec::new(),
    }
}

pub(super) fn side(first_gap_mm: f64, ratio: f64, leave_mm: f64) -> Progression {
    Progression::Ratio {
        count: None,
        first_gap_mm: Some(first_gap_mm),
        last_gap_mm: None,
        ratio: Some(ratio),
        span: Some(Span::ToEnd { leave_mm }),
    }
}

/// The ratio from gap to gap at which gaps that fill the span end with one of `last_mm`, to the next hundredth upward;
/// [`INWARD_RATIO`] where its last gap is larger.
///
/// `n` gaps from `first` to `last` span `(first - ratio last) / (1 - ratio)`, the sum of a geometric series.
pub(super) fn inward_ratio(first_mm: f64, last_mm: f64, span_mm: f64) -> f64 {
    let ratio = (span_mm - first_mm) / (span_mm - last_mm);
    ((100.0 * ratio).ceil() / 100.0).clamp(INWARD_RATIO, 1.0)
}
