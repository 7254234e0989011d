//! Lengths that arguments give.

use super::CliError;
use pleatwright::measure::{LengthUnit, parse_length};

/// A length that an argument gives, mm; one without a unit is in this one.
pub(super) fn given_mm(name: &str, text: Option<&str>, unit: LengthUnit) -> Result<Option<f64>, CliError> {
    let parse = |text| parse_length(text, unit).map_err(|error| CliError::because(format!("{name} {text}"), &error));
    text.map(parse).transpose()
}
