//! Why a job was not done, and the exit status that says so.

use pleatwright::handbook::BookError;
use pleatwright::plan::PlanError;
use pleatwright::print::PrintError;
use pleatwright::print::parts::{HandoutError, OrderPrintError};
use pleatwright::store::journal::JournalError;
use pleatwright::store::{PictureError, ReadError, SaveError};
use pleatwright::telling::{Refused, Told, Voice};
use std::fmt;
use std::io;
use std::process::ExitCode;

/// A job that was not done.
#[derive(Debug, thiserror::Error)]
pub(crate) enum CliError {
    /// There is no display to open a window on.
    NoWindow {
        /// What the system said.
        reason: String,
        /// The command that prints without a window, in words.
        without_one: String,
    },
    /// A file could not be read, or says what can't be.
    Read(#[from] ReadError),
    /// The sheets can't be made as asked.
    Print(#[from] PrintError),
    /// The handbook can't be set as asked.
    Book(#[from] BookError),
    /// The handout can't be made as asked.
    Handout(#[from] HandoutError),
    /// The sheets of an order can't be made as asked.
    PrintOrder(#[from] OrderPrintError),
    /// The order can't be planned.
    Plan(#[from] PlanError),
    /// Something could not be written into the journal or read from it.
    Journal(#[from] JournalError),
    /// A picture can't be made.
    Picture(#[from] PictureError),
    /// An argument can't be used.
    Argument(Told),
    /// Some of the files checked are wrong; each has been named.
    Check {
        /// Files that can't be used.
        wrong: usize,
        /// Files checked.
        all: usize,
    },
    /// A file could not be written.
    Save(#[from] SaveError),
    /// The output could not be written to.
    Output(#[from] io::Error),
}

impl Refused for CliError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::NoWindow { reason, without_one } => {
                Told::new(format!("no display was found to open a window on ({reason})"), without_one)
            }
            Self::Read(error) => error.told(voice),
            Self::Print(error) => error.told(voice),
            Self::Book(error) => error.told(voice),
            Self::Handout(error) => error.told(voice),
            Self::PrintOrder(error) => error.told(voice),
            Self::Plan(error) => error.told(voice),
            Self::Journal(error) => error.told(voice),
            Self::Picture(error) => error.told(voice),
            Self::Argument(told) => told.clone(),
            Self::Check { wrong, all } => Told::new(format!("{wrong} of {all} files can't be used"), "correct those named above"),
            Self::Save(error) => error.told(voice),
            Self::Output(error) => {
                let told = error.told(voice);
                Told::new(format!("the output could not be written: {}", told.what), told.cure)
            }
        }
    }
}

impl fmt::Display for CliError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.say(Voice::FILE))
    }
}

impl CliError {
    /// An argument that can't be used: what it says, what is wrong with that, what would be right.
    pub(crate) fn argument(argument: impl Into<String>, what: impl Into<String>, cure: impl Into<String>) -> Self {
        Self::Argument(Told::new(what, cure).at(argument))
    }

    /// The same where the library says why.
    pub(crate) fn because(argument: impl Into<String>, refused: &dyn Refused) -> Self {
        let Told { what, cure, .. } = refused.told(Voice::FILE);
        Self::argument(argument, what, cure)
    }

    /// Whether whoever read the output has stopped listening: nothing went wrong, and there is nobody to tell.
    pub(crate) fn is_unheard(&self) -> bool {
        matches!(self, Self::Output(error) if error.kind() == io::ErrorKind::BrokenPipe)
    }

    /// 2 for input that can't be used, 1 for a write that failed; a reader that stopped listening is no failure.
    pub(crate) fn exit_code(&self) -> ExitCode {
        match self {
            _ if self.is_unheard() => ExitCode::SUCCESS,
            Self::Save(_) | Self::Output(_) | Self::NoWindow { .. } => ExitCode::from(1),
            Self::Journal(error) if error.is_failed_write() => ExitCode::from(1),
            Self::Journal(_) => ExitCode::from(2),
            Self::Read(_)
            | Self::Print(_)
            | Self::Book(_)
            | Self::Handout(_)
            | Self::PrintOrder(_)
            | Self::Plan(_)
            | Self::Picture(_)
            | Self::Argument(_)
            | Self::Check { .. } => ExitCode::from(2),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pleatwright::plan::PlanError;
    use pleatwright::print::parts::OrderPrintError;
    use std::path::PathBuf;

    /// Every kind of error is told with what is wrong and what would be right, the library's as it says them itself.
    #[test]
    fn every_error_says_what_would_be_right() {
        let (path, source) = (PathBuf::from("tee.ron"), || io::Error::from(io::ErrorKind::StorageFull));
        let errors = [
            CliError::NoWindow { reason: "3 displays".to_owned(), without_one: "\"pleatwright print\" prints it".to_owned() },
            ReadError::File { path: path.clone(), source: source() }.into(),
            PrintError::NoPages { title: "tee".to_owned() }.into(),
            BookError::Roll { width_mm: 610.0 }.into(),
            HandoutError::Plan(PlanError::Stopped).into(),
            OrderPrintError::Cancelled.into(),
            PlanError::Stopped.into(),
            JournalError::Busy { path: path.clone() }.into(),
            CliError::argument("--paper 300", "a sheet needs two sides", "write both"),
            CliError::Check { wrong: 1, all: 3 },
            SaveError { path, source: source() }.into(),
            source().into(),
        ];
        for error in &errors {
            // Fails to compile when a kind is added; an encoder's error can't be made here.
            match error {
                CliError::NoWindow { .. }
                | CliError::Read(_)
                | CliError::Print(_)
                | CliError::Book(_)
                | CliError::Handout(_)
                | CliError::PrintOrder(_)
                | CliError::Plan(_) => {}
                CliError::Journal(_) | CliError::Picture(_) | CliError::Argument(_) | CliError::Check { .. } => {}
                CliError::Save(_) | CliError::Output(_) => {}
            }
            let told = error.told(Voice::FILE);
            assert!(!told.what.is_empty() && !told.cure.is_empty(), "{error:?}");
            assert!(error.to_string().ends_with(&format!("{}; {}", told.what, told.cure)), "{error}");
        }
        assert_eq!(errors[8].to_string(), "--paper 300: a sheet needs two sides; write both");
    }
}
