//! The voice of a face: its unit, and what it calls fields.

use super::capitalised;
use super::words::words_of;
use crate::measure::{LengthStyle, neat};

/// What fields are called.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Names {
    /// By their keys in files.
    Keys,
    /// In the words of the window.
    Words,
}

/// How a face speaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Voice {
    /// How it writes lengths.
    pub lengths: LengthStyle,
    /// What it calls fields.
    pub names: Names,
}

/// From here on a number is written as a power of ten.
const FAR: f64 = 1e9;
/// From here on a limit in mm is told in tenths, mm: nothing finer is measured on cloth.
const TENTHS_FROM_MM: f64 = 10.0;
/// A number of marks this near to a whole one is whole: limits are converted by a factor.
const WHOLE: f64 = 1e-6;

/// The side of a limit that is right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Above,
    Below,
}

impl Voice {
    /// The voice of files: their keys, lengths in mm.
    pub const FILE: Self = Self { lengths: LengthStyle::MILLIMETRES.finest(), names: Names::Keys };

    /// The voice of the window, the paper and the command line's tables: plain words, lengths in the maker's unit.
    #[must_use]
    pub const fn window(lengths: LengthStyle) -> Self {
        Self { lengths, names: Names::Words }
    }

    /// Whether fields are called by their keys.
    #[must_use]
    pub const fn has_keys(self) -> bool {
        matches!(self.names, Names::Keys)
    }

    /// A sentence as it begins here: with a capital letter in the window.
    #[must_use]
    pub fn begin(self, sentence: &str) -> String {
        if self.has_keys() { sentence.to_owned() } else { capitalised(sentence) }
    }

    /// A field's name within a sentence.
    #[must_use]
    pub fn key(self, key: &str) -> String {
        if self.has_keys() { key.to_owned() } else { words_of("", key) }
    }

    /// What is written so in a file and chosen otherwise in the window.
    #[must_use]
    pub fn either<'a>(self, in_file: &'a str, in_window: &'a str) -> &'a str {
        if self.has_keys() { in_file } else { in_window }
    }

    /// A length as it was typed. What is thinner than a mark of an inch rule is said in decimals of an inch.
    ///
    /// ```
    /// use pleatwright::{measure::LengthStyle, telling::Voice};
    /// assert_eq!(Voice::FILE.length(46.16173913), "46.162 mm");
    /// assert_eq!(Voice::window(LengthStyle::default()).length(415.0), "415 mm");
    /// ```
    #[must_use]
    pub fn length(self, mm: f64) -> String {
        match self.lengths {
            _ if !mm.is_finite() => mm.to_string(),
            lengths if mm.abs() >= FAR => format!("{:.1e} {}", mm / lengths.unit().in_mm(), lengths.sign()),
            LengthStyle::Inches { .. } if self.is_thin(mm) => self.lengths.format_small(mm),
            lengths => lengths.finest().format(mm),
        }
    }

    /// A length that was computed, rounded to the face's own marks.
    #[must_use]
    pub fn about(self, mm: f64) -> String {
        if self.is_thin(mm) || mm.abs() >= FAR { self.length(mm) } else { self.lengths.format(mm) }
    }

    /// A length as it was typed, in decimals where the marks of an inch rule would write it like this other one.
    #[must_use]
    pub fn unlike(self, mm: f64, other: &str) -> String {
        let written = self.length(mm);
        if written == other { self.lengths.format_small(mm) } else { written }
    }

    /// A length and its limit, in decimals where the marks of an inch rule would write both the same.
    #[must_use]
    pub fn apart(self, mm: f64, limit_mm: f64) -> [String; 2] {
        let written = [mm, limit_mm].map(|mm| self.about(mm));
        if written[0] != written[1] {
            return written;
        }
        [mm, limit_mm].map(|mm| self.lengths.format_thickness(mm))
    }

    /// The least length that is right, on a mark that is.
    #[must_use]
    pub fn least(self, mm: f64) -> String {
        self.limit(mm, Side::Above)
    }

    /// The greatest length that is right, on a mark that is.
    #[must_use]
    pub fn most(self, mm: f64) -> String {
        self.limit(mm, Side::Below)
    }

    /// The lengths that are right: `60 to 420 mm`.
    #[must_use]
    pub fn range(self, least_mm: f64, most_mm: f64) -> String {
        let (least, most) = (self.least(least_mm), self.most(most_mm));
        match (least.rsplit_once(' '), most.rsplit_once(' ')) {
            (Some((number, unit)), Some((_, other))) if unit == other => format!("{number} to {most}"),
            _ => format!("{least} to {most}"),
        }
    }

    /// An area, in squares of the face's unit.
    #[must_use]
    pub fn area(self, mm2: f64) -> String {
        let unit_mm = self.lengths.unit().in_mm();
        format!("{} {}²", number(mm2 / (unit_mm * unit_mm)), self.lengths.sign())
    }

    /// A plain number, to three decimals.
    #[must_use]
    pub fn number(self, value: f64) -> String {
        number(value)
    }

    /// Whether a length is no nothing, and below the first mark of an inch rule.
    fn is_thin(self, mm: f64) -> bool {
        !self.lengths.is_metric() && mm != 0.0 && mm.abs() < self.lengths.mark_mm()
    }

    fn limit(self, mm: f64, side: Side) -> String {
        let step_mm = match self.lengths {
            LengthStyle::Inches { .. } if self.is_thin(mm) => self.lengths.small_mark_mm(mm),
            LengthStyle::Inches { .. } => self.lengths.mark_mm(),
            _ if mm.abs() >= TENTHS_FROM_MM => 0.1,
            _ => 0.001,
        };
        let steps = mm / step_mm;
        let whole = match side {
            _ if (steps - steps.round()).abs() < WHOLE => steps.round(),
            Side::Above => steps.ceil(),
            Side::Below => steps.floor(),
        };
        self.length(if mm.abs() < FAR { whole * step_mm } else { mm })
    }
}

/// A plain number, to three decimals.
pub(super) fn number(value: f64) -> String {
    if value.is_finite() && value.abs() >= FAR { format!("{value:.1e}") } else { neat(value) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{InchFraction, LengthUnit, parse_length};
    use crate::seeded::seeded;
    use proptest::prelude::*;

    const INCHES: Voice = Voice::window(LengthStyle::Inches { nearest: InchFraction::Sixteenth });

    #[test]
    fn lengths_are_in_the_makers_unit() {
        assert_eq!((Voice::FILE.length(25.4), INCHES.length(25.4)), ("25.4 mm".to_owned(), "1 in".to_owned()));
        assert_eq!(INCHES.range(25.4, 762.0), "1 to 30 in");
        assert_eq!(Voice::FILE.range(0.02, 20.0), "0.02 to 20 mm");
        assert_eq!((INCHES.length(f64::NAN), INCHES.length(-25.4)), ("NaN".to_owned(), "-1 in".to_owned()));
        assert_eq!((Voice::FILE.length(1e300), INCHES.length(2.54e301)), ("1.0e300 mm".to_owned(), "1.0e300 in".to_owned()));
    }

    /// A sixteenth of an inch is coarse beside the thickness of cloth, which used to be told in mm beside inches.
    #[test]
    fn what_is_thinner_than_a_mark_is_in_decimals() {
        assert_eq!((INCHES.length(0.4), INCHES.length(0.0)), ("0.016 in".to_owned(), "0 in".to_owned()));
        assert_eq!(INCHES.range(0.02, 25.4), "0.00079 to 1 in");
        assert_eq!((INCHES.about(1.0), INCHES.most(1.0)), ("0.039 in".to_owned(), "0.039 in".to_owned()));
    }

    #[test]
    fn centimetres_are_spoken_too() {
        let cm = Voice::window(LengthStyle::CENTIMETRES);
        assert_eq!((cm.length(415.0), cm.about(46.1617)), ("41.5 cm".to_owned(), "4.62 cm".to_owned()));
        assert_eq!((cm.range(60.0, 420.0), cm.range(0.02, 20.0)), ("6 to 42 cm".to_owned(), "0.002 to 2 cm".to_owned()));
        assert_eq!(
            (cm.apart(1.234, 1.226), cm.area(645.16)),
            (["0.1234 cm", "0.1226 cm"].map(str::to_owned), "6.452 cm²".to_owned())
        );
    }

    #[test]
    fn a_value_and_its_limit_are_told_apart() {
        assert_eq!(INCHES.apart(25.4, 50.8), ["1 in", "2 in"]);
        assert_eq!(INCHES.apart(25.4, 25.6), ["1 in", "1.008 in"]);
        assert_eq!(Voice::window(LengthStyle::default()).apart(1.234, 1.226), ["1.234 mm", "1.226 mm"]);
        assert_eq!((INCHES.unlike(25.6, "1 in"), INCHES.unlike(25.6, "2 in")), ("1.008 in".to_owned(), "1 in".to_owned()));
    }

    proptest! {
        #![proptest_config(seeded(74, 256))]

        /// Who gives the limit that was named is not refused again.
        #[test]
        fn a_limit_that_is_told_is_right(mm in prop_oneof![0.01..1.6, 1.6..6000.0]) {
            let read = |words: String| parse_length(&words, LengthUnit::Millimetre).unwrap();
            prop_assert!(read(INCHES.least(mm)) >= mm - 1e-5 && read(INCHES.most(mm)) <= mm + 1e-5, "{mm}");
            for metric in [Voice::FILE, Voice::window(LengthStyle::CENTIMETRES)] {
                prop_assert!(read(metric.least(mm)) >= mm - 1e-6 && read(metric.most(mm)) <= mm + 1e-6, "{mm}");
            }
            prop_assert!((read(INCHES.least(mm)) - read(INCHES.most(mm))).abs() <= 25.4 / 16.0 + 1e-5, "{mm}");
        }
    }
}
