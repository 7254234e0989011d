//! Papers as a maker types them.

use super::CliError;
use super::arguments::length_mm;
use pleatwright::print::Paper;

/// A paper from its name, its size or the width of its roll.
pub(crate) fn paper(text: &str) -> Result<Paper, CliError> {
    let argument = || format!("--paper {text}");
    if let Some(width) = text.trim().to_lowercase().strip_prefix("roll") {
        let width_mm = length_mm(width.trim_start_matches([':', ' '])).map_err(|_not_a_length| {
            CliError::argument(
                argument(),
                "the width of the roll is missing or not a length",
                "write for example roll:610 or roll:24in",
            )
        })?;
        return Paper::roll(width_mm).map_err(|error| CliError::because(argument(), &error));
    }
    match text.parse::<Paper>() {
        Ok(paper) => Ok(paper),
        Err(_) if length_mm(text).is_ok() => Err(CliError::argument(
            argument(),
            "a sheet needs two sides",
            format!("write both, such as {text}x400, or a roll, such as roll:{text}"),
        )),
        Err(error) => Err(CliError::because(argument(), &error)),
    }
}
