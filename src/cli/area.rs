//! Areas of cloth in the units of the table.

use pleatwright::measure::{LengthStyle, LengthUnit};

/// The unit of areas.
pub(crate) fn unit(style: LengthStyle) -> &'static str {
    match style {
        LengthStyle::Metric { .. } => "cm²",
        LengthStyle::Inches { .. } => "in²",
    }
}

/// An area in [`unit`].
pub(crate) fn area(mm2: f64, style: LengthStyle) -> f64 {
    match style {
        LengthStyle::Metric { .. } => mm2 / 100.0,
        LengthStyle::Inches { .. } => mm2 / (LengthUnit::Inch.in_mm() * LengthUnit::Inch.in_mm()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pleatwright::measure::InchFraction;

    /// A square inch is 645.16 mm2 exactly (NIST Handbook 44, appendix C).
    #[test]
    fn areas_are_the_handbooks() {
        let inches = LengthStyle::Inches { nearest: InchFraction::Sixteenth };
        assert!((area(645.16, inches) - 1.0).abs() < 1e-12);
        assert_eq!(area(645.16, LengthStyle::default()), 6.4516);
    }
}
