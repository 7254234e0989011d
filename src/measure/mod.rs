//! Lengths and their units: parsing what a maker types, printing what a maker reads.
//!
//! Everything inside the program is in millimetres; this module is the only one that knows inches. It must not know garments.

mod counted;
mod cut;
mod marks;
mod mass;
mod parse;
#[cfg(test)]
mod parse_tests;
mod region;
mod style;
mod total;
mod unbroken;
mod unit;

pub use counted::counted;
pub use marks::RuleMarks;
pub use mass::{grams_number, grams_per_m2_from_oz_per_yd2};
pub use parse::{LARGEST_LENGTH_MM, ParseLengthError, is_in_inches, parse_length};
pub use region::Region;
pub use style::{InchFraction, LengthStyle, MetricUnit, neat};
pub use total::total;
pub use unbroken::{held_together, unbroken};
pub use unit::LengthUnit;
