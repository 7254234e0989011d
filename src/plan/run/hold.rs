//! Why a step can't begin yet, and until when.

use super::Run;
use super::checked::later;
use crate::plan::duration;
use jiff::Timestamp;
use jiff::civil::DateTime;
use serde::Serialize;

/// Something that a step has to wait for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Hold {
    /// A wait that is not over.
    Wait {
        /// The step whose wait it is, with its load.
        title: String,
        /// How long it lasts at least, min.
        least_min: u32,
        /// Until when.
        until: DateTime,
        /// Why it is longer than the process says, in words that end a sentence.
        reason: Option<String>,
    },
    /// A step that has to be done first.
    Undone {
        /// It, with its load.
        title: String,
    },
}

impl std::fmt::Display for Hold {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Wait { title, least_min, until, reason } => {
                let (least, until) = (duration(i64::from(*least_min)), until.strftime("%a %-d %b %H:%M"));
                write!(f, "after {title} wait {least}, until {until}")?;
                reason.as_ref().map_or(Ok(()), |reason| write!(f, ": {reason}"))
            }
            Self::Undone { title } => write!(f, "{title} has to be done first"),
        }
    }
}

impl Run {
    /// What a step still has to wait for at a time; nothing for one that could begin, and for a number that names none.
    #[must_use]
    pub fn held(&self, step: u32, at: DateTime) -> Vec<Hold> {
        let at = self.instant(at);
        let Some(index) = usize::try_from(step).ok().and_then(|step| step.checked_sub(1)) else { return Vec::new() };
        if index >= self.states.len() || self.states[index].finished.is_some() {
            return Vec::new();
        }
        let before = self.before[index].filter(|&before| self.states[before].finished.is_none());
        let undone = before.into_iter().chain(self.needed[index].iter().copied());
        let undone = undone.filter(|&other| self.states[other].finished.is_none());
        let undone = undone.map(|other| Hold::Undone { title: self.title(other) });
        let waited = self.done_before(index).into_iter().chain(self.needed[index].iter().copied());
        undone.chain(waited.filter_map(|waiting| self.held_by(waiting, at))).collect()
    }

    /// The least wait of a finished step, where it is not over.
    fn held_by(&self, waiting: usize, at: Timestamp) -> Option<Hold> {
        let least_min = self.kind(waiting).wait?.least_min;
        let until = later(self.finished(waiting)?, i64::from(least_min));
        (at < until).then(|| Hold::Wait {
            title: self.title(waiting),
            least_min,
            until: self.clock.shows(until),
            reason: self.wait_reason(waiting),
        })
    }
}
