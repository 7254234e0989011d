//! The bars that every sheet carries, to be measured before anything is cut.

use crate::measure::LengthStyle;

/// Length of the metric bar in mm.
pub const BAR_MM: f64 = 100.0;
/// Length of the customary bar in mm: 4 in of 25.4 mm (published: NIST Handbook 44, appendix C).
pub const BAR_4_IN_MM: f64 = 4.0 * 25.4;

/// A bar to measure on a print. Every sheet has both, for either rule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuringBar {
    /// What it is called: its length.
    pub name: &'static str,
    /// How long it is, mm.
    pub length_mm: f64,
}

impl MeasuringBar {
    /// The metric one.
    pub const METRIC: Self = Self { name: "100 mm", length_mm: BAR_MM };
    /// The customary one.
    pub const INCHES: Self = Self { name: "4 in", length_mm: BAR_4_IN_MM };

    /// The one for whoever measures so.
    #[must_use]
    pub const fn of(lengths: LengthStyle) -> Self {
        if lengths.is_metric() { Self::METRIC } else { Self::INCHES }
    }
}
