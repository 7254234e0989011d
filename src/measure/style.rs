//! Printing lengths the way the maker's rule is marked.

use super::LengthUnit;

/// More decimals than this say nothing about cloth.
const MOST_DECIMALS: u8 = 6;

/// The finest fraction of an inch that is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum InchFraction {
    /// Halves.
    Half,
    /// Quarters.
    Quarter,
    /// Eighths.
    Eighth,
    /// Sixteenths.
    #[default]
    Sixteenth,
}

impl InchFraction {
    /// How many of them make an inch.
    #[must_use]
    pub const fn per_inch(self) -> u8 {
        match self {
            Self::Half => 2,
            Self::Quarter => 4,
            Self::Eighth => 8,
            Self::Sixteenth => 16,
        }
    }
}

/// How lengths are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LengthStyle {
    /// Millimetres with at most this many decimals, never more than six; zeros at the end are left out: `235 mm`, `312.5 mm`.
    Metric {
        /// Digits after the point, at most.
        decimals: u8,
    },
    /// Inches and the nearest fraction in lowest terms: `9 1/4 in`.
    Inches {
        /// The finest fraction.
        nearest: InchFraction,
    },
}

impl Default for LengthStyle {
    /// Millimetres and tenths.
    fn default() -> Self {
        Self::Metric { decimals: 1 }
    }
}

impl LengthStyle {
    /// The length as text with its unit, rounded to the nearest mark (halfway away from zero in inches).
    ///
    /// A length of at most [`LARGEST_LENGTH_MM`](super::LARGEST_LENGTH_MM) reads back with [`parse_length`](super::parse_length)
    /// to within half a mark. A value that is no number is printed as it is.
    ///
    /// ```
    /// use pleatwright::measure::{InchFraction, LengthStyle};
    /// assert_eq!(LengthStyle::default().format(234.62), "234.6 mm");
    /// assert_eq!(LengthStyle::Inches { nearest: InchFraction::Sixteenth }.format(234.95), "9 1/4 in");
    /// ```
    #[must_use]
    pub fn format(self, mm: f64) -> String {
        if mm.is_finite() { format!("{} {}", self.number(mm), self.sign()) } else { format!("{mm} mm") }
    }

    /// A length that may be shorter than a mark as text, such as how far rounding moved something: inches as a decimal.
    ///
    /// ```
    /// use pleatwright::measure::{InchFraction, LengthStyle};
    /// assert_eq!(LengthStyle::default().format_small(0.31), "0.3 mm");
    /// assert_eq!(LengthStyle::Inches { nearest: InchFraction::Eighth }.format_small(1.1), "0.043 in");
    /// ```
    #[must_use]
    pub fn format_small(self, mm: f64) -> String {
        match self {
            Self::Inches { .. } if mm.is_finite() => format!("{} in", neat(mm / LengthUnit::Inch.in_mm())),
            _ => self.format(mm),
        }
    }

    /// How a measurement is written that somebody took: in inches to sixteenths at the coarsest, so that it stands there as it was taken.
    #[must_use]
    pub const fn of_measured(self) -> Self {
        match self {
            Self::Inches { .. } => Self::Inches { nearest: InchFraction::Sixteenth },
            Self::Metric { .. } => self,
        }
    }

    /// The length as text without its unit, for a column whose heading names it; rounded as [`format`](Self::format) does.
    ///
    /// ```
    /// use pleatwright::measure::LengthStyle;
    /// assert_eq!(LengthStyle::default().number(234.62), "234.6");
    /// ```
    #[must_use]
    pub fn number(self, mm: f64) -> String {
        match self {
            _ if !mm.is_finite() => mm.to_string(),
            Self::Metric { decimals } => metric_number(mm, decimals.min(MOST_DECIMALS)),
            Self::Inches { nearest } => inch_number(mm, nearest),
        }
    }

    /// The sign of the unit: `mm` or `in`.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Metric { .. } => "mm",
            Self::Inches { .. } => "in",
        }
    }

    /// The unit in a sentence: `mm` or `inches`; "in" would be read as the word.
    #[must_use]
    pub const fn unit_name(self) -> &'static str {
        match self {
            Self::Metric { .. } => "mm",
            Self::Inches { .. } => "inches",
        }
    }

    /// The distance between neighbouring values that can be printed, in mm.
    #[must_use]
    pub fn mark_mm(self) -> f64 {
        match self {
            Self::Metric { decimals } => 10_f64.powi(-i32::from(decimals.min(MOST_DECIMALS))),
            Self::Inches { nearest } => LengthUnit::Inch.in_mm() / f64::from(nearest.per_inch()),
        }
    }
}

fn metric_number(mm: f64, decimals: u8) -> String {
    without_noughts(&format!("{mm:.*}", usize::from(decimals)))
}

/// Digits without noughts at their end, nor a minus before what rounds to nothing.
fn without_noughts(digits: &str) -> String {
    let digits = if digits.contains('.') { digits.trim_end_matches('0').trim_end_matches('.') } else { digits };
    if digits == "-0" { "0".to_owned() } else { digits.to_owned() }
}

/// A number for a sentence: at most three decimals, zeros at the end left out.
///
/// ```
/// use pleatwright::measure::neat;
/// assert_eq!(neat(46.16173913), "46.162");
/// assert_eq!(neat(230.0), "230");
/// ```
#[must_use]
pub fn neat(number: f64) -> String {
    without_noughts(&format!("{number:.3}"))
}

fn inch_number(mm: f64, nearest: InchFraction) -> String {
    let mut per_inch = f64::from(nearest.per_inch());
    // 254 tenths of a millimetre are an inch: a whole divisor keeps exact fractions exact.
    let marks = (mm.abs() * 10.0 * per_inch / 254.0).round();
    let whole = (marks / per_inch).floor();
    let mut rest = marks - whole * per_inch;
    while rest > 0.0 && rest % 2.0 == 0.0 {
        rest /= 2.0;
        per_inch /= 2.0;
    }
    let sign = if mm < 0.0 && marks > 0.0 { "-" } else { "" };
    match (whole > 0.0, rest > 0.0) {
        (_, false) => format!("{sign}{whole:.0}"),
        (true, true) => format!("{sign}{whole:.0} {rest:.0}/{per_inch:.0}"),
        (false, true) => format!("{sign}{rest:.0}/{per_inch:.0}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::parse_length;
    use crate::seeded::seeded;
    use proptest::prelude::*;

    fn inches(mm: f64) -> String {
        LengthStyle::Inches { nearest: InchFraction::Sixteenth }.format(mm)
    }

    #[test]
    fn fractions_are_nearest_and_in_lowest_terms() {
        assert_eq!(inches(0.0), "0 in");
        assert_eq!(inches(-0.1), "0 in");
        assert_eq!(inches(12.7), "1/2 in");
        assert_eq!(inches(-9.25 * 25.4), "-9 1/4 in");
        assert_eq!(inches(25.4 / 32.0), "1/16 in", "halfway goes up");
        assert_eq!(inches(25.4 * 15.49 / 16.0), "15/16 in");
        assert_eq!(inches(25.4 * 15.97 / 16.0), "1 in", "a full inch is carried");
        assert_eq!(inches(25.4 * 11.0 + 25.4 * 15.6 / 16.0), "12 in");
        assert_eq!(LengthStyle::Inches { nearest: InchFraction::Half }.format(25.4 * 1.3), "1 1/2 in");
    }

    #[test]
    fn millimetres_lose_zeros_at_the_end_and_a_lone_minus() {
        assert_eq!(LengthStyle::Metric { decimals: 0 }.format(-0.4), "0 mm");
        assert_eq!(LengthStyle::Metric { decimals: 2 }.format(-0.004), "0 mm");
        assert_eq!(LengthStyle::Metric { decimals: 1 }.format(-1.06), "-1.1 mm");
        assert_eq!(LengthStyle::Metric { decimals: 200 }.format(0.5), "0.5 mm");
        assert_eq!(LengthStyle::Metric { decimals: 2 }.format(1200.0), "1200 mm");
        assert_eq!(LengthStyle::Metric { decimals: 0 }.format(1200.0), "1200 mm");
        assert_eq!(LengthStyle::default().format(f64::NAN), "NaN mm");
    }

    fn any_style() -> impl Strategy<Value = LengthStyle> {
        use InchFraction::{Eighth, Half, Quarter, Sixteenth};
        let nearest = proptest::sample::select(vec![Half, Quarter, Eighth, Sixteenth]);
        prop_oneof![
            (0_u8..8).prop_map(|decimals| LengthStyle::Metric { decimals }),
            nearest.prop_map(|nearest| LengthStyle::Inches { nearest })
        ]
    }

    proptest! {
        #![proptest_config(seeded(37, 256))]

        #[test]
        fn what_is_printed_reads_back_within_half_a_mark(mm in -1e5..1e5, style in any_style()) {
            let read = parse_length(&style.format(mm), LengthUnit::Metre).unwrap();
            prop_assert!((read - mm).abs() <= style.mark_mm() * 0.5 + 1e-9, "{mm} became {read}");
        }

        #[test]
        fn printing_never_panics(bits in any::<u64>(), style in any_style()) {
            prop_assert!(!style.format(f64::from_bits(bits)).is_empty());
        }
    }
}
