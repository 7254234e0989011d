//! `testcloth`: layouts, sheets, plan and instructions of a day that shows most calibration values.

use super::CliError;
use super::arguments::TestClothArguments;
use super::paper::paper;
use super::progress::watched;
use pleatwright::telling::{Refused as _, Voice};
use pleatwright::test_day::{TestDayError, write_test_day};
use std::io::Write;

pub(crate) fn run(arguments: &TestClothArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let paper = paper(arguments.paper.as_deref().unwrap_or("A4"))?;
    let write = |cancel: &_| write_test_day(&arguments.output, arguments.start, &paper, cancel);
    let files = watched("planning and printing", write).map_err(|error| match error {
        TestDayError::Save(error) => error.into(),
        error => CliError::Argument(error.told(Voice::FILE)),
    })?;
    for file in &files {
        writeln!(output, "{}: {}", file.path.display(), file.words)?;
    }
    writeln!(output, "On {paper}. Print at 100 % (actual size) and measure the 100 mm or 4 in bar before cutting.")?;
    Ok(())
}
