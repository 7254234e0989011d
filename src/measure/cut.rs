//! Lengths of thread: cut long rather than short, and added up to what is bought.

use super::{LengthStyle, LengthUnit};

/// Thread is cut in steps of this by a metric rule, mm (own choice: what is measured off at the table without squinting).
const CUT_STEP_MM: f64 = 5.0;
/// The same by an inch rule, in parts of an inch.
const CUT_STEPS_PER_INCH: f64 = 4.0;
/// A long length is said in steps of this, mm.
const LONG_STEP_MM: f64 = 10.0;
/// Feet in a yard (published: NIST Handbook 44, appendix C).
const FEET_PER_YARD: f64 = 3.0;

impl LengthStyle {
    /// A piece of thread as it is cut, mm: up to the next 5 mm or quarter inch.
    ///
    /// ```
    /// use pleatwright::measure::LengthStyle;
    /// assert_eq!(LengthStyle::default().to_cut_mm(410.1), 415.0);
    /// ```
    #[must_use]
    pub fn to_cut_mm(self, mm: f64) -> f64 {
        match self {
            Self::Metric { .. } => up_to(mm, CUT_STEP_MM),
            Self::Inches { .. } => up_to(mm, LengthUnit::Inch.in_mm() / CUT_STEPS_PER_INCH),
        }
    }

    /// A long length (mm) as text: metres up to the next 10 mm, or yards and feet up to the next foot.
    ///
    /// ```
    /// use pleatwright::measure::LengthStyle;
    /// assert_eq!(LengthStyle::default().format_long(12_341.0), "12.35 m");
    /// ```
    #[must_use]
    pub fn format_long(self, mm: f64) -> String {
        match self {
            Self::Metric { .. } => format!("{:.2} m", up_to(mm, LONG_STEP_MM) / 1000.0),
            Self::Inches { .. } => {
                let foot_mm = LengthUnit::Foot.in_mm();
                let feet = (up_to(mm, foot_mm) / foot_mm).round();
                format!("{:.0} yd {:.0} ft", (feet / FEET_PER_YARD).floor(), feet.rem_euclid(FEET_PER_YARD))
            }
        }
    }
}

/// The next whole number of steps; a length that is one but for rounding stays.
fn up_to(length_mm: f64, step_mm: f64) -> f64 {
    (length_mm / step_mm - 1e-9).ceil() * step_mm
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::InchFraction;

    #[test]
    fn thread_is_cut_long_rather_than_short() {
        let (mm, inches) = (LengthStyle::default(), LengthStyle::Inches { nearest: InchFraction::Sixteenth });
        assert_eq!([410.0, 410.1, 414.9].map(|length| mm.to_cut_mm(length)), [410.0, 415.0, 415.0]);
        assert_eq!(inches.format(inches.to_cut_mm(16.1 * 25.4)), "16 1/4 in");
        assert_eq!([12_341.0, 12_340.0].map(|length| mm.format_long(length)), ["12.35 m", "12.34 m"]);
        let long = [13.0 * 914.4 + 305.0, 13.0 * 914.4, 2.5 * 304.8].map(|length| inches.format_long(length));
        assert_eq!(long, ["13 yd 2 ft", "13 yd 0 ft", "1 yd 0 ft"]);
    }
}
