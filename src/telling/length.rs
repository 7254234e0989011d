//! What can be wrong with a length as a maker types it, in words.

use super::voice::Voice;
use super::{Refused, Told, displayed_as_in_files};
use crate::measure::{LARGEST_LENGTH_MM, LengthStyle, ParseLengthError};

displayed_as_in_files!(ParseLengthError);

impl Refused for ParseLengthError {
    fn told(&self, voice: Voice) -> Told {
        // Of the two, the one that this maker would write.
        let such_as = |metric: &str, inches: &str| {
            let example = if matches!(voice.lengths, LengthStyle::Metric { .. }) { metric } else { inches };
            format!("for example {example}")
        };
        let simple = || format!("write {}", such_as("235 mm", "9 1/4 in"));
        let sum = such_as("12 cm + 5 mm", "12 in + 1/2 in");
        match self {
            Self::Empty => Told::new("a length is missing here", simple()),
            Self::Unfinished { column } => {
                Told::new(format!("a number is missing at the end (column {column})"), format!("write {sum}"))
            }
            Self::NotANumber { found, column } => Told::new(format!("not a number: \"{found}\" at column {column}"), simple()),
            Self::UnknownUnit { found, column } => {
                Told::new(format!("not a unit of length: \"{found}\" at column {column}"), "use mm, cm, m, in, ft or yd")
            }
            Self::MissingUnit { column } => Told::new(
                format!("the number at column {column} has no unit although another has one"),
                format!("give both, {sum}"),
            ),
            Self::AmbiguousComma { found, column } => Told::new(
                format!("\"{found}\" at column {column} can be read in two ways"),
                "write 1234 or 1.234 instead of 1,234",
            ),
            Self::ZeroDenominator { found, column } => {
                Told::new(format!("the fraction \"{found}\" at column {column} divides by zero"), "write for example 1/2")
            }
            Self::BadFraction { found, column } => Told::new(
                format!("not a fraction of whole numbers: \"{found}\" at column {column}"),
                "write for example 9 1/4 or 9.25",
            ),
            Self::TooLarge { column } => Told::new(
                format!("the length at column {column} is too long"),
                format!("give at most {}", voice.most(LARGEST_LENGTH_MM)),
            ),
        }
    }
}
