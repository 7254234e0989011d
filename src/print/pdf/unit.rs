//! PDF units.

use crate::print::paper::pt_from_mm;

/// PDF units from mm, at the file's precision.
#[expect(clippy::cast_possible_truncation, reason = "the PDF library takes f32; a page has at most 14 400 units")]
pub(super) fn f32_pt(mm: f64) -> f32 {
    ((pt_from_mm(mm) * 1000.0).round() / 1000.0) as f32
}
