//! Values that a hand would set: a share of what is there, on the marks of a ruler.

use crate::measure::{LengthStyle, LengthUnit, RuleMarks};

/// Millimetres that a varied length is rounded to, metric: what a maker reads off a tape without looking twice (own choice).
const METRIC_MM: f64 = 5.0;
/// The same on a rule in inches: a quarter of one.
const INCH_MM: f64 = LengthUnit::Inch.in_mm() / 4.0;

/// A length on the marks of the layout's rule, mm; never less than one step.
pub(super) fn length_mm(mm: f64, marks: RuleMarks) -> f64 {
    let step = match marks.lengths() {
        LengthStyle::Metric { .. } => METRIC_MM,
        LengthStyle::Inches { .. } => INCH_MM,
    };
    // Steps and not lengths are rounded, so that 127 mm stay 127.
    ((mm / step).round().max(1.0) * step * PER_MM).round() / PER_MM
}

/// Steps in a millimetre that such a length is written with.
const PER_MM: f64 = 1e3;

/// A number times a share, and never the same number again.
pub(super) fn count(number: u32, share: f64) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a positive number; casts saturate")]
    let varied = (f64::from(number) * share).round() as u32;
    match varied == number {
        true if share > 1.0 => number.saturating_add(1),
        true => number.saturating_sub(1),
        false => varied,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_lie_on_marks_and_counts_differ() {
        let metric = RuleMarks::default();
        assert_eq!([34.9, 127.0, 0.2].map(|mm| length_mm(mm, metric)), [35.0, 125.0, 5.0]);
        assert_eq!([(8, 1.4), (1, 1.4), (2, 0.7), (1, 0.7), (10, 0.7)].map(|(n, share)| count(n, share)), [11, 2, 1, 0, 7]);
    }
}
