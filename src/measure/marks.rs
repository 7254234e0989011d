//! The marks on the rule a maker measures with.

use super::{InchFraction, LengthStyle, LengthUnit};

/// The marks a length is rounded to, so that it can be found on a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum RuleMarks {
    /// No rounding.
    Exact,
    /// Every millimetre.
    #[default]
    Millimetres1,
    /// Every five millimetres.
    Millimetres5,
    /// Every eighth of an inch.
    InchEighth,
    /// Every sixteenth of an inch.
    InchSixteenth,
}

impl RuleMarks {
    /// Every kind of marks, from the freest.
    pub const ALL: [Self; 5] = [Self::Exact, Self::Millimetres1, Self::Millimetres5, Self::InchEighth, Self::InchSixteenth];

    /// The distance between neighbouring marks in mm; none when lengths stay exact.
    #[must_use]
    pub const fn step_mm(self) -> Option<f64> {
        match self {
            Self::Exact => None,
            Self::Millimetres1 => Some(1.0),
            Self::Millimetres5 => Some(5.0),
            Self::InchEighth => Some(LengthUnit::Inch.in_mm() / 8.0),
            Self::InchSixteenth => Some(LengthUnit::Inch.in_mm() / 16.0),
        }
    }

    /// The mark nearest to a length, mm: the farther one halfway, and the first mark for anything shorter. Without marks a length stays
    /// as it is, and so does what is no length above 0.
    ///
    /// ```
    /// use pleatwright::measure::RuleMarks;
    /// assert_eq!(RuleMarks::Millimetres5.nearest_mm(251.1), 250.0);
    /// ```
    #[must_use]
    pub fn nearest_mm(self, mm: f64) -> f64 {
        match self.step_mm() {
            Some(step_mm) if mm > 0.0 && mm.is_finite() => (mm / step_mm).round().max(1.0) * step_mm,
            _ => mm,
        }
    }

    /// How lengths are written for whoever has this rule: in its unit and, in inches, no finer than its marks.
    #[must_use]
    pub const fn lengths(self) -> LengthStyle {
        match self {
            Self::Exact | Self::Millimetres1 | Self::Millimetres5 => LengthStyle::MILLIMETRES,
            Self::InchEighth => LengthStyle::Inches { nearest: InchFraction::Eighth },
            Self::InchSixteenth => LengthStyle::Inches { nearest: InchFraction::Sixteenth },
        }
    }

    /// Plain words for them.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Exact => "no marks",
            Self::Millimetres1 => "every 1 mm",
            Self::Millimetres5 => "every 5 mm",
            Self::InchEighth => "every 1/8 in",
            Self::InchSixteenth => "every 1/16 in",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_mark_is_on_the_rule_and_within_half_a_mark() {
        assert_eq!(RuleMarks::Millimetres5.nearest_mm(252.5), 255.0);
        assert_eq!(RuleMarks::Millimetres5.nearest_mm(1.0), 5.0, "a rule has no mark before its first");
        assert_eq!(RuleMarks::InchSixteenth.nearest_mm(9.26 * 25.4), 9.25 * 25.4);
        assert_eq!(RuleMarks::Exact.nearest_mm(251.123), 251.123);
        for no_length in [0.0, -3.0, f64::INFINITY] {
            assert_eq!(RuleMarks::Millimetres1.nearest_mm(no_length), no_length);
        }
        assert!(RuleMarks::Millimetres1.nearest_mm(f64::NAN).is_nan());
    }

    /// Written by its own rule, a length on a mark says just where the mark is.
    #[test]
    fn a_mark_is_written_as_it_stands_on_the_rule() {
        for marks in RuleMarks::ALL {
            let Some(step_mm) = marks.step_mm() else { continue };
            for count in 1..400 {
                let mark_mm = f64::from(count) * step_mm;
                let read = crate::measure::parse_length(&marks.lengths().format(mark_mm), LengthUnit::Metre).unwrap();
                assert!((read - mark_mm).abs() < 1e-6, "{marks:?}: {mark_mm} is written {}", marks.lengths().format(mark_mm));
            }
        }
    }
}
