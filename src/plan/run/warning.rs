//! What a tick that can be should be told.

use crate::plan::{Place, duration};
use jiff::civil::DateTime;

/// Something to know about a tick that was taken.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum RunWarning {
    /// The wait before it was not over.
    TooEarly {
        /// The step that waited, with its load.
        step: String,
        /// How long it had to, min.
        least_min: u32,
        /// Why that is longer than the process says.
        reason: Option<String>,
        /// How much was missing, min, rounded up.
        by_min: i64,
        /// When it would have been over.
        ready: DateTime,
    },
    /// The wait before it was longer than it may be.
    TooLate {
        /// The step that waited, with its load.
        step: String,
        /// How long it could, min.
        most_min: u32,
        /// By how much, min, rounded up.
        by_min: i64,
    },
    /// A step done once that it needs is not finished.
    Unfinished {
        /// That step.
        step: String,
    },
    /// The place holds as much as it can.
    PlaceFull {
        /// The place.
        place: Place,
        /// What it would hold.
        taken: u32,
        /// What it can.
        room: u32,
    },
}

/// A wait's reason in brackets, where there is one.
pub(super) fn because(reason: Option<&str>) -> String {
    reason.map_or_else(String::new, |reason| format!(" ({reason})"))
}

impl std::fmt::Display for RunWarning {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::TooEarly { step, least_min, reason, by_min, ready } => {
                let (least, by) = (duration(i64::from(*least_min)), duration(*by_min));
                let when = ready.strftime("%A %-d %B, %H:%M");
                let why = because(reason.as_deref());
                write!(f, "{by} too early: {step} has to wait {least} at least, until {when}{why}; it is noted as begun early")
            }
            Self::TooLate { step, most_min, by_min } => {
                let (most, by) = (duration(i64::from(*most_min)), duration(*by_min));
                write!(f, "{by} too late: {step} may wait {most} at most; it is noted as begun late")
            }
            Self::Unfinished { step } => write!(f, "{step} is not finished, and this step needs it"),
            Self::PlaceFull { place, taken, room } => {
                write!(f, "the {place} has room for {room}, and by the ticks it now holds {taken}")
            }
        }
    }
}
