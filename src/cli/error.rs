//! Why a job was not done, and the exit status that says so.

use pleatwright::plan::PlanError;
use pleatwright::print::PrintError;
use pleatwright::print::parts::OrderPrintError;
use pleatwright::store::journal::JournalError;
use pleatwright::store::{ReadError, SaveError};
use std::io;
use std::process::ExitCode;

/// A job that was not done.
#[derive(Debug, thiserror::Error)]
pub(crate) enum CliError {
    /// There is no display to open a window on.
    #[error("no display was found to open a window on ({reason}); {without_one}")]
    NoWindow {
        /// What the system said.
        reason: String,
        /// The command that prints without a window, in words.
        without_one: String,
    },
    /// A file could not be read, or says what can't be.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// The sheets can't be made as asked.
    #[error(transparent)]
    Print(#[from] PrintError),
    /// The sheets of an order can't be made as asked.
    #[error(transparent)]
    PrintOrder(#[from] OrderPrintError),
    /// The order can't be planned.
    #[error(transparent)]
    Plan(#[from] PlanError),
    /// Something could not be written into the journal or read from it.
    #[error(transparent)]
    Journal(#[from] JournalError),
    /// An argument can't be used.
    #[error("{0}")]
    Argument(String),
    /// Some of the files checked are wrong; each has been named.
    #[error("{wrong} of {all} files can't be used")]
    Check {
        /// Files that can't be used.
        wrong: usize,
        /// Files checked.
        all: usize,
    },
    /// A file could not be written.
    #[error(transparent)]
    Save(#[from] SaveError),
    /// The output could not be written to.
    #[error("the output could not be written: {0}")]
    Output(#[from] io::Error),
}

impl CliError {
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
            Self::Read(_) | Self::Print(_) | Self::PrintOrder(_) | Self::Plan(_) | Self::Argument(_) | Self::Check { .. } => {
                ExitCode::from(2)
            }
        }
    }
}
