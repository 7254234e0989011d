//! From numbers to screen points.

/// Screen coordinates are single precision; this is the one place where lengths become so.
#[expect(clippy::cast_possible_truncation, reason = "screens are small and coarse")]
pub(super) fn screen(value: f64) -> f32 {
    value as f32
}
