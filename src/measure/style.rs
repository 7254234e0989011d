//! Printing lengths the way the maker's rule is marked.

use super::LengthUnit;
use std::fmt;

/// More decimals than this say nothing about cloth.
const MOST_DECIMALS: u8 = 6;
/// Decimals of a number in a sentence.
const DECIMALS: usize = 3;
/// Thinner than this, inches, a length in decimals of an inch has two decimals more (practice: a third of a hair).
const HAIR_IN: f64 = 0.001;
/// So many it has.
const HAIR_DECIMALS: usize = 5;
/// An area below this has a decimal, so that it is said to three figures or better.
const THREE_FIGURES: f64 = 100.0;

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

/// The metric units that lengths are printed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum MetricUnit {
    /// `234.6 mm`.
    #[default]
    Millimetre,
    /// `23.46 cm`.
    Centimetre,
}

impl MetricUnit {
    /// The unit of length that it is.
    #[must_use]
    pub const fn unit(self) -> LengthUnit {
        match self {
            Self::Millimetre => LengthUnit::Millimetre,
            Self::Centimetre => LengthUnit::Centimetre,
        }
    }
}

/// How lengths are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LengthStyle {
    /// A metric unit with at most this many decimals, never more than six; zeros at the end are left out: `235 mm`, `31.25 cm`.
    Metric {
        /// Which one.
        unit: MetricUnit,
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
        Self::MILLIMETRES
    }
}

impl LengthStyle {
    /// Millimetres and tenths.
    pub const MILLIMETRES: Self = Self::Metric { unit: MetricUnit::Millimetre, decimals: 1 };
    /// Centimetres, to a tenth of a millimetre as well.
    pub const CENTIMETRES: Self = Self::Metric { unit: MetricUnit::Centimetre, decimals: 2 };

    /// The unit that lengths are printed in, and that a number typed without one is in.
    #[must_use]
    pub const fn unit(self) -> LengthUnit {
        match self {
            Self::Metric { unit, .. } => unit.unit(),
            Self::Inches { .. } => LengthUnit::Inch,
        }
    }

    /// Whether that unit is a metric one.
    #[must_use]
    pub const fn is_metric(self) -> bool {
        matches!(self, Self::Metric { .. })
    }

    /// Of two ways to say something, the one for this unit.
    #[must_use]
    pub const fn either<'a>(self, metric: &'a str, inches: &'a str) -> &'a str {
        if self.is_metric() { metric } else { inches }
    }

    /// The same with a metric unit's thousandths of a millimetre: more than cloth has, so that a value and its limit differ.
    #[must_use]
    pub const fn finest(self) -> Self {
        match self {
            Self::Metric { unit: MetricUnit::Millimetre, .. } => Self::Metric { unit: MetricUnit::Millimetre, decimals: 3 },
            Self::Metric { unit: MetricUnit::Centimetre, .. } => Self::Metric { unit: MetricUnit::Centimetre, decimals: 4 },
            Self::Inches { .. } => self,
        }
    }

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
        self.with_sign(self.number(mm))
    }

    /// A length that may be shorter than a mark as text, such as how far rounding moved something or how thick a thread is: inches as
    /// a decimal, with as many digits as a hair's breadth needs.
    ///
    /// ```
    /// use pleatwright::measure::{InchFraction, LengthStyle};
    /// assert_eq!(LengthStyle::default().format_small(0.31), "0.3 mm");
    /// let inches = LengthStyle::Inches { nearest: InchFraction::Eighth };
    /// assert_eq!((inches.format_small(1.1), inches.format_small(0.02)), ("0.043 in".to_owned(), "0.00079 in".to_owned()));
    /// ```
    #[must_use]
    pub fn format_small(self, mm: f64) -> String {
        match self {
            Self::Inches { .. } if mm.is_finite() => {
                let (inches, decimals) = (mm / LengthUnit::Inch.in_mm(), small_decimals(mm));
                self.with_sign(without_noughts(&format!("{inches:.decimals$}")))
            }
            _ => self.format(mm),
        }
    }

    /// The distance between neighbouring values that [`format_small`](Self::format_small) prints about a length, in mm.
    #[must_use]
    pub fn small_mark_mm(self, mm: f64) -> f64 {
        match self {
            Self::Inches { .. } => LengthUnit::Inch.in_mm() / small_parts(mm),
            Self::Metric { .. } => self.mark_mm(),
        }
    }

    /// A thickness as text: in metric units to their thousandths of a millimetre, in inches as a decimal.
    ///
    /// ```
    /// use pleatwright::measure::LengthStyle;
    /// assert_eq!(LengthStyle::CENTIMETRES.format_thickness(0.45), "0.045 cm");
    /// ```
    #[must_use]
    pub fn format_thickness(self, mm: f64) -> String {
        self.finest().format_small(mm)
    }

    /// The length as text with this many decimals of its unit, in inches too; zeros at the end are left out.
    ///
    /// ```
    /// use pleatwright::measure::{InchFraction, LengthStyle};
    /// assert_eq!(LengthStyle::Inches { nearest: InchFraction::Eighth }.format_to(25.5, 4), "1.0039 in");
    /// ```
    #[must_use]
    pub fn format_to(self, mm: f64, decimals: u8) -> String {
        self.with_sign(decimal_number(mm / self.unit().in_mm(), decimals.min(MOST_DECIMALS)))
    }

    /// An area as text: `310 cm²`, or `48.1 in²`.
    ///
    /// ```
    /// use pleatwright::measure::LengthStyle;
    /// assert_eq!(LengthStyle::default().format_area(31_000.0), "310 cm²");
    /// ```
    #[must_use]
    pub fn format_area(self, mm2: f64) -> String {
        let (unit, sign) = self.area_unit();
        let area = mm2 / (unit.in_mm() * unit.in_mm());
        let decimals = usize::from(area.abs() < THREE_FIGURES);
        format!("{} {sign}", without_noughts(&format!("{area:.decimals$}")))
    }

    /// What areas of cloth are counted in, and its sign: square centimetres or square inches.
    #[must_use]
    pub const fn area_unit(self) -> (LengthUnit, &'static str) {
        match self {
            Self::Metric { .. } => (LengthUnit::Centimetre, "cm²"),
            Self::Inches { .. } => (LengthUnit::Inch, "in²"),
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
            Self::Metric { unit, decimals } => decimal_number(mm / unit.unit().in_mm(), decimals.min(MOST_DECIMALS)),
            Self::Inches { nearest } => inch_number(mm, nearest),
        }
    }

    /// The sign of the unit: `mm`, `cm` or `in`.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Metric { unit: MetricUnit::Millimetre, .. } => "mm",
            Self::Metric { unit: MetricUnit::Centimetre, .. } => "cm",
            Self::Inches { .. } => "in",
        }
    }

    /// The unit in a sentence: `mm`, `cm` or `inches`; "in" would be read as the word.
    #[must_use]
    pub const fn unit_name(self) -> &'static str {
        match self {
            Self::Metric { .. } => self.sign(),
            Self::Inches { .. } => "inches",
        }
    }

    fn with_sign(self, number: impl fmt::Display) -> String {
        format!("{number} {}", self.sign())
    }

    /// The distance between neighbouring values that can be printed, in mm.
    #[must_use]
    pub fn mark_mm(self) -> f64 {
        match self {
            Self::Metric { unit, decimals } => unit.unit().in_mm() * 10_f64.powi(-i32::from(decimals.min(MOST_DECIMALS))),
            Self::Inches { nearest } => LengthUnit::Inch.in_mm() / f64::from(nearest.per_inch()),
        }
    }
}

/// Decimals of a length in decimals of an inch.
fn small_decimals(mm: f64) -> usize {
    if is_hair(mm) { HAIR_DECIMALS } else { DECIMALS }
}

/// Into how many parts they divide an inch.
fn small_parts(mm: f64) -> f64 {
    if is_hair(mm) { 1e5 } else { 1e3 }
}

fn is_hair(mm: f64) -> bool {
    mm.abs() < HAIR_IN * LengthUnit::Inch.in_mm()
}

fn decimal_number(number: f64, decimals: u8) -> String {
    without_noughts(&format!("{number:.*}", usize::from(decimals)))
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
    without_noughts(&format!("{number:.DECIMALS$}"))
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
        assert_eq!(LengthStyle::Metric { unit: MetricUnit::Millimetre, decimals: 0 }.format(-0.4), "0 mm");
        assert_eq!(LengthStyle::Metric { unit: MetricUnit::Millimetre, decimals: 2 }.format(-0.004), "0 mm");
        assert_eq!(LengthStyle::Metric { unit: MetricUnit::Millimetre, decimals: 1 }.format(-1.06), "-1.1 mm");
        assert_eq!(LengthStyle::Metric { unit: MetricUnit::Millimetre, decimals: 200 }.format(0.5), "0.5 mm");
        assert_eq!(LengthStyle::Metric { unit: MetricUnit::Millimetre, decimals: 2 }.format(1200.0), "1200 mm");
        assert_eq!(LengthStyle::Metric { unit: MetricUnit::Millimetre, decimals: 0 }.format(1200.0), "1200 mm");
        assert_eq!(LengthStyle::default().format(f64::NAN), "NaN mm");
    }

    /// A centimetre is ten millimetres: NIST Handbook 44, appendix C, as copied into `tests/reference/units.csv`.
    #[test]
    fn centimetres_say_what_millimetres_do() {
        let cm = LengthStyle::CENTIMETRES;
        assert_eq!([234.6, 230.0, 4.5, 0.0].map(|mm| cm.format(mm)), ["23.46 cm", "23 cm", "0.45 cm", "0 cm"]);
        assert_eq!((cm.number(1200.0), cm.sign(), cm.unit_name()), ("120".to_owned(), "cm", "cm"));
        assert_eq!((cm.format_long(12_345.0), cm.format_small(0.31)), ("12.345 m".to_owned(), "0.03 cm".to_owned()));
        assert_eq!((cm.unit(), cm.of_measured(), cm.mark_mm()), (LengthUnit::Centimetre, cm, 0.1));
        assert_eq!(parse_length("23.5", cm.unit()), Ok(235.0), "typed numbers follow");
    }

    /// A square inch is 6.4516 cm² exactly (NIST Handbook 44, appendix C).
    #[test]
    fn areas_are_in_the_units_of_cloth() {
        let inches = LengthStyle::Inches { nearest: InchFraction::Sixteenth };
        assert_eq!([64_516.0, 645.16, 0.0].map(|mm2| inches.format_area(mm2)), ["100 in²", "1 in²", "0 in²"]);
        assert_eq!([64_516.0, 5_040.0].map(|mm2| LengthStyle::CENTIMETRES.format_area(mm2)), ["645 cm²", "50.4 cm²"]);
    }

    fn any_style() -> impl Strategy<Value = LengthStyle> {
        use InchFraction::{Eighth, Half, Quarter, Sixteenth};
        let nearest = proptest::sample::select(vec![Half, Quarter, Eighth, Sixteenth]);
        prop_oneof![
            (any::<bool>(), 0_u8..8).prop_map(|(is_cm, decimals)| {
                let unit = if is_cm { MetricUnit::Centimetre } else { MetricUnit::Millimetre };
                LengthStyle::Metric { unit, decimals }
            }),
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
