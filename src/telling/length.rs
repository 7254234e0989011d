//! What can be wrong with a length as a maker types it, in words.

use super::voice::Voice;
use super::{Refused, Told, displayed_as_in_files};
use crate::measure::{LARGEST_LENGTH_MM, LengthStyle, MetricUnit, ParseLengthError};

displayed_as_in_files!(ParseLengthError);

impl Refused for ParseLengthError {
    fn told(&self, voice: Voice) -> Told {
        // The one that this maker would write.
        let such_as = |mm: &str, cm: &str, inches: &str| {
            let example = match voice.lengths {
                LengthStyle::Metric { unit: MetricUnit::Millimetre, .. } => mm,
                LengthStyle::Metric { unit: MetricUnit::Centimetre, .. } => cm,
                LengthStyle::Inches { .. } => inches,
            };
            format!("for example {example}")
        };
        let simple = || format!("write {}", such_as("235 mm", "23.5 cm", "9 1/4 in"));
        let sum = such_as("12 cm + 5 mm", "12 cm + 5 mm", "12 in + 1/2 in");
        // A file's letters are counted; a maker sees them in the field.
        let at = |column: &usize| if voice.has_keys() { format!(" at column {column}") } else { String::new() };
        match self {
            Self::Empty => Told::new("a length is missing here", simple()),
            Self::Unfinished { column } => {
                let place = if voice.has_keys() { format!(" (column {column})") } else { String::new() };
                Told::new(format!("a number is missing at the end{place}"), format!("write {sum}"))
            }
            Self::NotANumber { found, column } => Told::new(format!("not a number: \"{found}\"{}", at(column)), simple()),
            Self::UnknownUnit { found, column } => {
                Told::new(format!("not a unit of length: \"{found}\"{}", at(column)), "use mm, cm, m, in, ft or yd")
            }
            Self::MissingUnit { column } => {
                let number = if voice.has_keys() { format!("the number at column {column}") } else { "a number".to_owned() };
                Told::new(format!("{number} has no unit although another has one"), format!("give both, {sum}"))
            }
            Self::AmbiguousComma { found, column } => {
                let what = format!("\"{found}\"{} can be read in two ways", at(column));
                Told::new(what, "write 1234 or 1.234 instead of 1,234")
            }
            Self::ZeroDenominator { found, column } => {
                Told::new(format!("the fraction \"{found}\"{} divides by zero", at(column)), "write for example 1/2")
            }
            Self::BadFraction { found, column } => {
                let what = format!("not a fraction of whole numbers: \"{found}\"{}", at(column));
                Told::new(what, "write for example 9 1/4 or 9.25")
            }
            Self::TooLarge { column } => Told::new(
                format!("the length{} is too long", at(column)),
                format!("give at most {}", voice.most(LARGEST_LENGTH_MM)),
            ),
        }
    }
}
