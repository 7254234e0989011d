//! Warnings on a tick that was accepted.

use super::Full;
use crate::plan::{Place, duration};
use crate::telling::{Told, Voice, Warned};
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
    /// Parts of folding and tying were ticked, and not all of them.
    PartsLeft {
        /// The step, with its load.
        step: String,
        /// How many are not.
        left: usize,
    },
    /// Every vessel of the discharge holds another load's bath.
    VesselTaken {
        /// The step that begins a bath, with its load.
        step: String,
        /// What is full.
        full: Full,
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

impl Warned for RunWarning {
    fn name(&self) -> &'static str {
        match self {
            Self::TooEarly { .. } => "too-early",
            Self::TooLate { .. } => "too-late",
            Self::Unfinished { .. } => "unfinished",
            Self::PartsLeft { .. } => "parts-left",
            Self::VesselTaken { .. } => "vessel-taken",
            Self::PlaceFull { .. } => "place-full",
        }
    }

    fn told(&self, _voice: Voice) -> Told {
        match self {
            Self::TooEarly { step, least_min, reason, by_min, ready } => {
                let (least, by) = (duration(i64::from(*least_min)), duration(*by_min));
                let when = ready.strftime("%A %-d %B, %H:%M");
                let why = because(reason.as_deref());
                Told::new(
                    format!("{by} too early: {step} waits at least {least}, until {when}{why}"),
                    "noted as started early; undo the tick if you can still wait",
                )
            }
            Self::TooLate { step, most_min, by_min } => {
                let (most, by) = (duration(i64::from(*most_min)), duration(*by_min));
                Told::new(
                    format!("{by} too late: {step} may wait {most} at most"),
                    "noted as started late; check the piece before you go on",
                )
            }
            Self::Unfinished { step } => Told::new(format!("{step} is not finished, and this step needs it"), "finish it first"),
            Self::PartsLeft { step, left } => {
                let parts = if *left == 1 { "1 part is".to_owned() } else { format!("{left} parts are") };
                Told::new(format!("{parts} not ticked in {step}"), "noted as done; undo the tick if something is missing")
            }
            Self::VesselTaken { step, full } => {
                Told::new(format!("{step} needs a vessel of its own: {full}"), "take another vessel like it, or undo the tick")
            }
            Self::PlaceFull { place, taken, room } => Told::new(
                format!("the {place} has room for {room}, and by the ticks it now holds {taken}"),
                "tick off what has left it",
            ),
        }
    }
}
