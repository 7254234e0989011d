//! Smooth noise from a seed: lattice values by an integer hash, joined by cubic B-splines. The same everywhere, for ever.

/// A value in -1 to 1 for a point of a lattice, by the finalizer of `SplitMix64` (Steele, Lea, Flood 2014; constants from memory).
pub(super) fn lattice(seed: u64, i: i64, j: i64) -> f64 {
    let mut hash =
        seed ^ i.cast_unsigned().wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ j.cast_unsigned().wrapping_mul(0xC2B2_AE3D_27D4_EB4F);
    for factor in [0xBF58_476D_1CE4_E5B9_u64, 0x94D0_49BB_1331_11EB] {
        hash = (hash ^ (hash >> 30)).wrapping_mul(factor);
    }
    // 53 bits fill the mantissa.
    ((hash ^ (hash >> 31)) >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
}

/// Weights of the four lattice points about a fraction of a cell, from the one before it on.
pub(super) fn weights(t: f64) -> [f64; 4] {
    let s = 1.0 - t;
    [s * s * s / 6.0, 2.0 / 3.0 - t * t * (1.0 - 0.5 * t), 2.0 / 3.0 - s * s * (1.0 - 0.5 * s), t * t * t / 6.0]
}

/// The cell of a place, and the fraction of it.
pub(super) fn cell(x: f64) -> (i64, f64) {
    let whole = x.floor();
    #[expect(clippy::cast_possible_truncation, reason = "a number of cells of a garment")]
    (whole as i64, x - whole)
}

/// Mean square of the spline along one axis, of lattice values of mean square 1: the mean over a cell of the squared weights' sum,
/// 151/315 (computed).
const SPLINE_POWER: f64 = 151.0 / 315.0;
/// Mean square of values spread evenly over -1 to 1.
const EVEN_POWER: f64 = 1.0 / 3.0;

/// What lattice values' noise in the plane is multiplied by to have a mean square of 1.
pub(super) fn plane_scale() -> f64 {
    1.0 / (SPLINE_POWER * EVEN_POWER.sqrt())
}

/// Noise along a line, of mean square 1 and unit length, for one of many lines.
pub(super) fn on_line(seed: u64, line: i64, x: f64) -> f64 {
    let (at, t) = cell(x);
    let sum: f64 = (-1..3).zip(weights(t)).map(|(step, weight)| weight * lattice(seed, line, at + step)).sum();
    sum / (SPLINE_POWER * EVEN_POWER).sqrt()
}

/// Noise in the plane, of mean square 1 and unit length.
pub(super) fn in_plane(seed: u64, x: f64, y: f64) -> f64 {
    let ((i, s), (j, t)) = (cell(x), cell(y));
    spline(seed, (i, j), &weights(s), &weights(t))
}

/// The noise of two seeds at the same place.
#[inline]
pub(super) fn two_in_plane(seeds: [u64; 2], x: f64, y: f64) -> (f64, f64) {
    let ((i, s), (j, t)) = (cell(x), cell(y));
    let (across, down) = (weights(s), weights(t));
    (spline(seeds[0], (i, j), &across, &down), spline(seeds[1], (i, j), &across, &down))
}

/// The noise in a cell, by the weights of the lattice points about it.
#[inline]
fn spline(seed: u64, (i, j): (i64, i64), across: &[f64; 4], down: &[f64; 4]) -> f64 {
    let row = |dj: i64| -> f64 { (-1..3).zip(across).map(|(di, weight)| weight * lattice(seed, i + di, j + dj)).sum() };
    let sum: f64 = (-1..3).zip(down).map(|(dj, weight)| weight * row(dj)).sum();
    sum * plane_scale()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_has_the_strength_it_is_asked_for() {
        let square = |n: i32| in_plane(7, f64::from(n) * 0.613, f64::from(n % 97) * 0.437).powi(2);
        let mean = (0..20_000).map(square).sum::<f64>() / 20_000.0;
        assert!((mean - 1.0).abs() < 0.1, "{mean}");
        let line = (0..20_000).map(|n| on_line(7, 3, f64::from(n) * 0.613).powi(2)).sum::<f64>() / 20_000.0;
        assert!((line - 1.0).abs() < 0.1, "{line}");
    }
}
