//! Bracketed root finding.

use kurbo::common::solve_itp;

/// The root of an increasing function between `low` and `high`, to within `accuracy` (at least what `f64` resolves).
///
/// The interpolate-truncate-project method of Oliveira and Takahashi (2020), never slower than halving. If the function does not
/// change sign the end nearer to the root is returned; none if an end is no number.
pub(super) fn increasing_root(f: impl Fn(f64) -> f64, low: f64, high: f64, accuracy: f64) -> Option<f64> {
    let (at_low, at_high) = (f(low), f(high));
    if !(at_low.is_finite() && at_high.is_finite() && low.is_finite() && high.is_finite()) {
        return None;
    }
    if at_low >= 0.0 || high <= low {
        return Some(low);
    }
    if at_high <= 0.0 {
        return Some(high);
    }
    let resolved = 4.0 * f64::EPSILON * low.abs().max(high.abs());
    Some(solve_itp(f, low, high, accuracy.max(resolved), 1, 0.2 / (high - low), at_low, at_high))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_are_found_and_ends_returned_outside() {
        let root = increasing_root(|x| x * x - 2.0, 0.0, 2.0, 1e-14).unwrap();
        assert!((root - 2.0_f64.sqrt()).abs() < 1e-14);
        assert_eq!(increasing_root(|x| x + 1.0, 0.0, 2.0, 1e-14), Some(0.0));
        assert_eq!(increasing_root(|x| x - 5.0, 0.0, 2.0, 1e-14), Some(2.0));
        assert_eq!(increasing_root(|_| f64::NAN, 0.0, 2.0, 1e-14), None);
    }
}
