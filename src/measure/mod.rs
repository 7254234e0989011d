//! Lengths and their units: parsing what a maker types, printing what a maker reads.
//!
//! Everything inside the program is in millimetres; this module is the only one that knows inches. It must not know garments.

mod cut;
mod marks;
mod mass;
mod parse;
#[cfg(test)]
mod parse_tests;
mod style;
mod total;
mod unit;

pub use marks::RuleMarks;
pub use mass::grams_per_m2_from_oz_per_yd2;
pub use parse::{LARGEST_LENGTH_MM, ParseLengthError, is_in_inches, parse_length};
pub use style::{InchFraction, LengthStyle, neat};
pub use total::total;
pub use unit::LengthUnit;
