//! Whether the waits were kept.

use super::Run;
use super::checked::{minutes_up, number};
use super::warning::because;
use crate::plan::Wait;
use crate::plan::duration;
use jiff::civil::DateTime;
use serde::Serialize;

/// How a wait came out against its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Within them.
    Kept,
    /// Ended before its least.
    Early {
        /// By this, min, begun minutes counted.
        by_min: i64,
    },
    /// Ended after its most.
    Late {
        /// By this, min, begun minutes counted.
        by_min: i64,
    },
}

/// The wait of one finished step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Judged {
    /// The step's number.
    pub step: u32,
    /// Its name, with its load.
    pub title: String,
    /// When hands were done.
    pub from: DateTime,
    /// When the next step of its load began.
    pub to: DateTime,
    /// How long it waited, s: the clock may have been changed meanwhile.
    pub waited_s: i64,
    /// Its limits.
    pub wait: Wait,
    /// Why its least is longer than the process says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// How it came out.
    pub verdict: Verdict,
}

impl Judged {
    /// How long it waited, min, begun minutes not counted.
    #[must_use]
    pub fn waited_min(&self) -> i64 {
        self.waited_s.div_euclid(60)
    }

    /// In words: `soda ash soak, load 2: waited 18 min, 20 min at least: 2 min too short`.
    #[must_use]
    pub fn sentence(&self) -> String {
        let least = duration(i64::from(self.wait.least_min));
        let most = |most_min: u32| duration(i64::from(most_min));
        let limits = match self.wait.most_min {
            Some(most_min) => format!("{least} to {}", most(most_min)),
            None => format!("{least} at least"),
        };
        let end = match self.verdict {
            Verdict::Kept => "kept".to_owned(),
            Verdict::Early { by_min } => format!("{} too short", duration(by_min)),
            Verdict::Late { by_min } => format!("{} too long", duration(by_min)),
        };
        let why = because(self.reason.as_deref());
        format!("{}: waited {}, {limits}{why}: {end}", self.title, duration(self.waited_min()))
    }
}

impl Run {
    /// The verdict on the wait of a step; none while it goes on, and for a step that has no wait or was left out.
    #[must_use]
    pub fn verdict(&self, step: u32) -> Option<Judged> {
        let index = usize::try_from(step).ok()?.checked_sub(1).filter(|&index| index < self.states.len())?;
        let wait = self.kind(index).wait?;
        let (from, to) = (self.finished(index)?, self.ended(index)?);
        let (ready, latest) = (self.ready(index)?, self.latest(index));
        let verdict = if to < ready {
            Verdict::Early { by_min: minutes_up(to, ready) }
        } else if let Some(latest) = latest.filter(|&latest| to > latest) {
            Verdict::Late { by_min: minutes_up(latest, to) }
        } else {
            Verdict::Kept
        };
        let waited_s = from.duration_until(to).as_secs();
        let (from, to) = (self.clock.shows(from), self.clock.shows(to));
        Some(Judged { step, title: self.title(index), from, to, waited_s, wait, reason: self.wait_reason(index), verdict })
    }

    /// The verdicts there are, in the order of the steps.
    #[must_use]
    pub fn verdicts(&self) -> Vec<Judged> {
        (0..self.states.len()).filter_map(|index| self.verdict(number(index))).collect()
    }
}
