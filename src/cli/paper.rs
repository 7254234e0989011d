//! Papers as a maker types them.

use super::CliError;
use super::arguments::length_mm;
use pleatwright::measure::neat;
use pleatwright::print::{Paper, PrintError};

/// A paper from its name, its size or the width of its roll.
pub(crate) fn paper(text: &str) -> Result<Paper, CliError> {
    let wrong = |why: String| CliError::Argument(format!("--paper {text}: {why}"));
    if let Some(width) = text.trim().to_lowercase().strip_prefix("roll") {
        let width_mm = length_mm(width.trim_start_matches([':', ' '])).map_err(|why| {
            wrong(format!("the width of a roll is missing or no length ({why}); write for example roll:610 or roll:24in"))
        })?;
        return Paper::roll(width_mm).map_err(|error| wrong(in_words(&error)));
    }
    match text.parse::<Paper>() {
        Ok(paper) => Ok(paper),
        Err(_) if length_mm(text).is_ok() => {
            Err(wrong(format!("one length is no sheet; write both sides, such as {text}x400, or a roll, such as roll:{text}")))
        }
        Err(error) => Err(wrong(in_words(&error))),
    }
}

fn in_words(error: &PrintError) -> String {
    match error {
        PrintError::PaperSize { width_mm, height_mm, min_mm, max_mm } => {
            // The longer side of a roll is the longest page there is, and no fault of the maker's.
            let (least, most) = (neat(*min_mm), neat(*max_mm));
            let wrong: Vec<String> =
                [*width_mm, *height_mm].into_iter().filter(|side| !(*min_mm..=*max_mm + 1e-6).contains(side)).map(neat).collect();
            format!("a side of {} mm is out of range; each side must be {least} to {most} mm", wrong.join(" and "))
        }
        PrintError::UnknownPaper { known, .. } => {
            format!("there is no such paper; give one of {known}, a size such as 300x400, or a roll such as roll:610")
        }
        other => other.to_string(),
    }
}
