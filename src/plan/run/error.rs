//! Why a tick can't be.

use jiff::civil::DateTime;

/// A tick that can't be.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum RunError {
    /// No step has that number.
    #[error("there is no step {step}; the steps are 1 to {steps}")]
    NoStep {
        /// The number.
        step: u32,
        /// How many there are.
        steps: usize,
    },
    /// The step is ticked already.
    #[error("{step} is ticked already, {at}; undo that first")]
    Ticked {
        /// The step, with its load.
        step: String,
        /// When it was.
        at: DateTime,
    },
    /// The load is not there yet.
    #[error("{before} comes before {step}; tick that first, or leave it out")]
    NotYet {
        /// The step, with its load.
        step: String,
        /// The one before it.
        before: String,
    },
    /// A time before something that it follows.
    #[error("{step} can't be ticked at {at}, before what it follows; give {least} or later")]
    TimeBefore {
        /// The step, with its load.
        step: String,
        /// The time given.
        at: DateTime,
        /// The earliest that can be.
        least: DateTime,
    },
    /// What follows is ticked: it would hang in the air.
    #[error("{after} is ticked and follows {step}; undo that first")]
    Followed {
        /// The step, with its load.
        step: String,
        /// The one that follows.
        after: String,
    },
    /// Two steps of a load claim the same place in the process.
    #[error("two steps are number {number} of the same load and process")]
    SamePlace {
        /// The number.
        number: usize,
    },
    /// A note longer than a note can be.
    #[error("a note has {length} characters, and at most {most} fit")]
    LongNote {
        /// Its characters.
        length: usize,
        /// Most allowed.
        most: usize,
    },
}
