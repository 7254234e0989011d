//! What a progression may be given at most.

/// The most gaps on one side (practice: far more than any rod holds, so more is a slip of the hand).
pub const MOST_GAPS: u32 = 500;
/// The ratios that are accepted (practice: beyond them only two or three gaps fit on cloth).
pub const RATIO_RANGE: (f64, f64) = (0.01, 100.0);
/// The exponents that are accepted (practice, as for the ratios).
pub const EXPONENT_RANGE: (f64, f64) = (0.01, 100.0);
