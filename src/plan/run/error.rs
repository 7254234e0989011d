//! Errors that refuse a tick.

use crate::layout::usual;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use jiff::civil::DateTime;

/// A tick that can't be.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum RunError {
    /// No step has that number.
    NoStep {
        /// The number.
        step: u32,
        /// How many there are.
        steps: usize,
    },
    /// The step is ticked already.
    Ticked {
        /// The step, with its load.
        step: String,
        /// When it was.
        at: DateTime,
    },
    /// The load is not there yet.
    NotYet {
        /// The step, with its load.
        step: String,
        /// The one before it.
        before: String,
    },
    /// A time before something that it follows.
    TimeBefore {
        /// The step, with its load.
        step: String,
        /// The time given.
        at: DateTime,
        /// The earliest that can be.
        least: DateTime,
    },
    /// Said to be done at a time that is still to come.
    ToCome {
        /// The step, with its load.
        step: String,
        /// The time given.
        at: DateTime,
        /// What time it is.
        now: DateTime,
    },
    /// Said to be done before it could begin.
    BeforeReady {
        /// The step, with its load.
        step: String,
        /// The time given.
        at: DateTime,
        /// When it could begin.
        least: DateTime,
    },
    /// The step has no such garment, or its garments no such part.
    NoPart {
        /// The step, with its load.
        step: String,
        /// The garment's number in it.
        garment: u32,
    },
    /// The part is ticked already.
    PartTicked {
        /// The part, with its garment.
        part: String,
    },
    /// A part of a step that was not begun.
    NotBegun {
        /// The step, with its load.
        step: String,
    },
    /// What follows is ticked: it would hang in the air.
    Followed {
        /// The step, with its load.
        step: String,
        /// The one that follows.
        after: String,
    },
    /// Two steps of a load claim the same place in the process.
    SamePlace {
        /// The number.
        number: usize,
    },
    /// A note longer than a note can be.
    LongNote {
        /// Its characters.
        length: usize,
        /// Most allowed.
        most: usize,
    },
}

displayed_as_in_files!(RunError);

impl Refused for RunError {
    fn told(&self, _voice: Voice) -> Told {
        let shown = |time: &DateTime| time.strftime("%A %-d %B, %H:%M").to_string();
        match self {
            Self::NoStep { step, steps } => Told::new(format!("{step} is not a step"), format!("choose 1 to {steps}")),
            Self::Ticked { step, at } => Told::new(format!("{step} is ticked already, {}", shown(at)), "undo that first"),
            Self::NotYet { step, before } => Told::new(format!("{before} comes before {step}"), "tick that first, or skip it"),
            Self::TimeBefore { step, at, least } => Told::new(
                format!("{step} can't be ticked at {}, before what it follows", shown(at)),
                format!("give {} or later", shown(least)),
            ),
            Self::ToCome { step, at, now } => Told::new(
                format!("{step} can't be done by {}: it is {}", shown(at), shown(now)),
                "give the time when it was done",
            ),
            Self::BeforeReady { step, at, least } => {
                Told::new(format!("{step} could not begin by {}", shown(at)), format!("give {} or later", shown(least)))
            }
            Self::NoPart { step, garment } => {
                Told::new(format!("{step} has no such part of a garment {garment}"), "choose one that is listed in the step")
            }
            Self::PartTicked { part } => Told::new(format!("{part} is ticked already"), "undo that first"),
            Self::NotBegun { step } => Told::new(format!("{step} is not started"), "tick its start first"),
            Self::Followed { step, after } => Told::new(format!("{after} is ticked and follows {step}"), "undo that first"),
            Self::SamePlace { number } => {
                Told::new(format!("two steps are number {number} of the same load and process"), "number each once")
            }
            Self::LongNote { length, most } => usual::long_text(*length, *most),
        }
    }
}
