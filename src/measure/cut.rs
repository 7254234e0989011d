//! Lengths of thread: a piece is cut long rather than short, on a mark that is found at the table, and pieces add up to what is said of
//! all of them.

use super::{LengthStyle, LengthUnit, RuleMarks};

/// Thread is cut in steps of this by a metric rule, mm (own choice: what is measured off at the table without squinting).
const CUT_STEP_MM: f64 = 5.0;
/// The same by an inch rule, in parts of an inch.
const CUT_STEPS_PER_INCH: f64 = 4.0;
/// Share of a step below which a remainder is a rounding error.
const NOTHING: f64 = 1e-9;
/// A long length in metres is said to so many decimals: the millimetre.
const METRE_DECIMALS: usize = 3;

impl RuleMarks {
    /// A piece of thread as it is cut by this rule, mm: up to the next 5 mm or quarter inch, which are marks of any such rule.
    ///
    /// ```
    /// use pleatwright::measure::RuleMarks;
    /// assert_eq!(RuleMarks::Millimetres1.to_cut_mm(410.1), 415.0);
    /// ```
    #[must_use]
    pub fn to_cut_mm(self, mm: f64) -> f64 {
        let step_mm = self.cut_step_mm();
        (mm / step_mm - NOTHING).ceil() * step_mm
    }

    /// The steps that [`to_cut_mm`](Self::to_cut_mm) goes by, mm.
    #[must_use]
    pub const fn cut_step_mm(self) -> f64 {
        match self {
            Self::Exact | Self::Millimetres1 | Self::Millimetres5 => CUT_STEP_MM,
            Self::InchEighth | Self::InchSixteenth => LengthUnit::Inch.in_mm() / CUT_STEPS_PER_INCH,
        }
    }
}

impl LengthStyle {
    /// A long length (mm) as text: metres to the millimetre, or yards and inches to the style's mark, so that lengths on a rule's marks
    /// add up to what is said of all of them.
    ///
    /// ```
    /// use pleatwright::measure::LengthStyle;
    /// assert_eq!(LengthStyle::default().format_long(12_345.0), "12.345 m");
    /// ```
    #[must_use]
    pub fn format_long(self, mm: f64) -> String {
        match self {
            Self::Metric { .. } => {
                let metres = format!("{:.METRE_DECIMALS$}", mm / LengthUnit::Metre.in_mm());
                format!("{} m", metres.trim_end_matches('0').trim_end_matches('.'))
            }
            Self::Inches { .. } => {
                // Rounded first, so that inches which come out as 36 are carried.
                let marks_mm = (mm / self.mark_mm()).round() * self.mark_mm();
                let yards = (marks_mm / LengthUnit::Yard.in_mm() + NOTHING).floor();
                let rest_mm = (marks_mm - yards * LengthUnit::Yard.in_mm()).max(0.0);
                match (yards > 0.0, self.number(rest_mm).as_str()) {
                    (true, "0") => format!("{yards} yd"),
                    (true, inches) => format!("{yards} yd {inches} in"),
                    (false, inches) => format!("{inches} in"),
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{InchFraction, parse_length};
    use crate::seeded::seeded;
    use proptest::prelude::*;

    #[test]
    fn thread_is_cut_long_rather_than_short() {
        let metric = [410.0, 410.1, 414.9].map(|length| RuleMarks::Millimetres5.to_cut_mm(length));
        assert_eq!(metric, [410.0, 415.0, 415.0]);
        let sixteenths = RuleMarks::InchSixteenth;
        assert_eq!(sixteenths.lengths().format(sixteenths.to_cut_mm(16.1 * 25.4)), "16 1/4 in");
    }

    /// A yard is 36 in (NIST Handbook 44, appendix C).
    #[test]
    fn long_lengths_are_said_whole() {
        let (mm, inches) = (LengthStyle::default(), LengthStyle::Inches { nearest: InchFraction::Sixteenth });
        assert_eq!([12_345.0, 12_340.0, 12_000.0].map(|length| mm.format_long(length)), ["12.345 m", "12.34 m", "12 m"]);
        let long = [13.0 * 914.4 + 6.35, 13.0 * 914.4, 30.25 * 25.4, 914.39].map(|length| inches.format_long(length));
        assert_eq!(long, ["13 yd 1/4 in", "13 yd", "30 1/4 in", "1 yd"]);
    }

    fn any_marks() -> impl Strategy<Value = RuleMarks> {
        proptest::sample::select(RuleMarks::ALL.to_vec())
    }

    proptest! {
        #![proptest_config(seeded(35, 256))]

        /// A maker who adds up the pieces as they are written comes to what is written of all of them.
        #[test]
        fn written_pieces_add_up_to_the_whole(marks in any_marks(), needed_mm in proptest::collection::vec(1.0..900.0, 1..60)) {
            let lengths = marks.lengths();
            let pieces: Vec<f64> = needed_mm.iter().map(|&mm| marks.to_cut_mm(mm)).collect();
            for (&needed_mm, &piece_mm) in needed_mm.iter().zip(&pieces) {
                prop_assert!(piece_mm >= needed_mm - 1e-6 && piece_mm < needed_mm + 6.36, "{needed_mm} is cut to {piece_mm}");
            }
            let read = |text: &str| parse_length(text, LengthUnit::Millimetre).unwrap();
            let added_mm: f64 = pieces.iter().map(|&mm| read(&lengths.format(mm))).sum();
            let whole_mm = read(&lengths.format_long(pieces.iter().sum()));
            prop_assert!((added_mm - whole_mm).abs() < 1e-3, "{added_mm} against {whole_mm}");
        }
    }
}
