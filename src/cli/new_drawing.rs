//! Drawings that `new` takes lines from.

use super::CliError;
use pleatwright::import::{FileUnit, FoundLine, ImportError, choose_line, outlines};
use pleatwright::store::{DrawingError, read_drawing};
use pleatwright::telling::{Refused as _, Voice};
use std::path::Path;

/// A drawing that an argument names.
#[derive(Debug, Clone, Copy)]
pub(super) struct Drawing<'a> {
    pub(super) path: &'a Path,
    /// The argument that names it.
    pub(super) argument: &'static str,
    /// Those that say what its numbers measure and which line is meant, with what they say.
    pub(super) unit: (&'static str, Option<FileUnit>),
    pub(super) which: (&'static str, Option<&'a str>),
}

impl Drawing<'_> {
    /// `--line-from heart.svg`
    pub(super) fn place(&self) -> String {
        format!("{} {}", self.argument, self.path.display())
    }

    /// Its only line, or the one that is asked for.
    pub(super) fn line(&self) -> Result<FoundLine, CliError> {
        self.chosen(self.lines()?)
    }

    /// Its only line that may go round cloth, or the one that is asked for among all.
    pub(super) fn outline(&self) -> Result<FoundLine, CliError> {
        let lines = self.lines()?;
        self.chosen(if self.which.1.is_some() { lines } else { outlines(lines) })
    }

    fn lines(&self) -> Result<Vec<FoundLine>, CliError> {
        read_drawing(self.path, self.unit.1).map_err(|error| match error {
            DrawingError::Drawing(error) => self.refused(&error),
            error => CliError::because(self.place(), &error),
        })
    }

    fn chosen(&self, lines: Vec<FoundLine>) -> Result<FoundLine, CliError> {
        choose_line(lines, self.which.1).map_err(|error| self.refused(&error))
    }

    fn refused(&self, error: &ImportError) -> CliError {
        let told = error.told(Voice::FILE);
        // The cure says what to write on the command line.
        let cure = match error {
            ImportError::UnknownUnit { .. } => format!("add {}: {}", self.unit.0, told.cure.trim_start_matches("say the unit: ")),
            ImportError::Several { .. } => format!("add {} with a number, name or layer", self.which.0),
            _ => told.cure,
        };
        CliError::argument(self.place(), told.what, cure)
    }
}
