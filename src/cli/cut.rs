//! Thread and cloth in the units of the table: thread rounded up, so that what is cut is long enough.

use pleatwright::measure::{LengthStyle, LengthUnit};

/// Steps that thread is cut to, mm: 5 mm or half an inch (practice: nobody cuts string closer).
const CUT_MM: f64 = 5.0;
const CUT_INCHES_MM: f64 = 12.7;
/// Share of a step below which a remainder is a rounding error.
const NOTHING: f64 = 1e-9;

/// A length of thread, rounded up to what is cut, mm.
pub(crate) fn thread_to_cut_mm(mm: f64, style: LengthStyle) -> f64 {
    let step_mm = match style {
        LengthStyle::Metric { .. } => CUT_MM,
        LengthStyle::Inches { .. } => CUT_INCHES_MM,
    };
    (mm / step_mm - NOTHING).ceil() * step_mm
}

/// All thread together as it is cut: `5.43 m`, or `5 yd 2 ft 10 in`, rounded up.
pub(crate) fn thread_in_all(lengths_mm: impl Iterator<Item = f64>, style: LengthStyle) -> String {
    let mm: f64 = lengths_mm.map(|mm| thread_to_cut_mm(mm, style)).sum();
    match style {
        LengthStyle::Metric { .. } => format!("{:.2} m", (mm / 10.0 - NOTHING).ceil() / 100.0),
        LengthStyle::Inches { .. } => yards(mm),
    }
}

fn yards(mm: f64) -> String {
    let inches = (mm / LengthUnit::Inch.in_mm() - NOTHING).ceil();
    let (yards, feet, rest) = ((inches / 36.0).floor(), (inches % 36.0 / 12.0).floor(), inches % 12.0);
    let parts = [(yards, "yd"), (feet, "ft"), (rest, "in")];
    let words: Vec<String> = parts.iter().filter(|(n, _)| *n > 0.0).map(|(n, unit)| format!("{n} {unit}")).collect();
    if words.is_empty() { "0 in".to_owned() } else { words.join(" ") }
}

/// The unit of areas.
pub(crate) fn area_unit(style: LengthStyle) -> &'static str {
    match style {
        LengthStyle::Metric { .. } => "cm²",
        LengthStyle::Inches { .. } => "in²",
    }
}

/// An area in [`area_unit`].
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

    #[test]
    fn thread_is_rounded_up_and_never_short() {
        let inches = LengthStyle::Inches { nearest: InchFraction::Sixteenth };
        assert_eq!(thread_to_cut_mm(601.2, LengthStyle::default()), 605.0);
        assert_eq!(thread_to_cut_mm(600.0, LengthStyle::default()), 600.0);
        assert!((thread_to_cut_mm(13.0, inches) - 25.4).abs() < 1e-9);
        assert_eq!(thread_in_all([601.2, 1299.0].into_iter(), LengthStyle::default()), "1.91 m");
        assert_eq!(thread_in_all([914.4, 304.8, 25.4].into_iter(), inches), "1 yd 1 ft 1 in");
        assert!((area(645.16, inches) - 1.0).abs() < 1e-12);
    }
}
