//! Areas of cloth in the units of the table.

use pleatwright::measure::LengthStyle;

/// The unit of areas.
pub(crate) fn unit(style: LengthStyle) -> &'static str {
    style.area_unit().1
}

/// An area in [`unit`].
pub(crate) fn area(mm2: f64, style: LengthStyle) -> f64 {
    let unit_mm = style.area_unit().0.in_mm();
    mm2 / (unit_mm * unit_mm)
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
