//! Run files: the state of a plan being lived through, saved after every tick.

use super::formats::Known;
use super::kind_file::misread;
use super::plan_file::{Parsed, placed, plan_format};
use super::text_file::read_text;
use super::{FileKind, ReadError, SaveError, save, save_over};
use crate::form::WrittenForm as _;
use crate::layout::to_ron;
use crate::plan::form::RunV1;
use crate::plan::{Run, RunRecord};
use std::path::Path;

/// Every format that a run file has ever had.
const RUN_FORMATS: [Known<RunRecord>; 1] = [Known::by::<RunV1>()];

/// Checks the text of a run.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_run(text: &str) -> Parsed<Run> {
    let (record, keys) = plan_format(text, &RUN_FORMATS)?;
    Run::try_from(record).map_err(|error| placed(text, error, keys))
}

/// Reads a run.
///
/// # Errors
/// [`ReadError`] naming the file, line and column, the field, its value and what would be right.
pub fn read_run(path: &Path) -> Result<Run, ReadError> {
    let text = read_text(path)?;
    parse_run(&text).map_err(|error| misread(path, &text, FileKind::Run, error))
}

/// The text of a run file.
#[must_use]
pub fn run_text(run: &Run) -> String {
    to_ron(&RunV1::of(run.raw().clone()))
}

/// Saves a run, whole or not at all. Over an earlier state of the same run no backup is kept: a run changes by the minute, and its
/// ticks are its history. Anything else that bears the name is kept as [`save`] keeps it.
///
/// # Errors
/// [`SaveError`]; the file is then as it was.
pub fn save_run(path: &Path, run: &Run) -> Result<(), SaveError> {
    let is_same = |earlier: Run| {
        let (old, new) = (earlier.raw(), run.raw());
        (&old.name, &old.steps, &old.kinds) == (&new.name, &new.steps, &new.kinds)
    };
    let text = run_text(run);
    if read_run(path).is_ok_and(is_same) { save_over(path, text.as_bytes()) } else { save(path, text.as_bytes()) }
}
