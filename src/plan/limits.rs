//! The limits of a plan that pass unless one is there in time: told before the work begins.

use super::{Plan, Wait, duration};
use serde::Serialize;

/// A wait that may not become longer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WaitLimit {
    /// The step after which it is.
    pub step: String,
    /// The step that ends it; none after the last.
    pub then: Option<String>,
    /// Its limits; the most is given.
    pub wait: Wait,
}

impl Plan {
    /// Every wait with a most, once for all loads, in the order of the work.
    #[must_use]
    pub fn limits(&self) -> Vec<WaitLimit> {
        let steps = self.steps();
        let limit = |(at, entry): (usize, &&super::Entry)| {
            let wait = entry.wait.filter(|wait| wait.most_min.is_some())?;
            let then =
                steps[at + 1..].iter().find(|next| next.process == entry.process && next.load.is_some() == entry.load.is_some());
            Some(WaitLimit { step: entry.step.clone(), then: then.map(|next| next.step.clone()), wait })
        };
        let mut limits: Vec<WaitLimit> = Vec::new();
        for limit in steps.iter().enumerate().filter_map(limit) {
            if !limits.contains(&limit) {
                limits.push(limit);
            }
        }
        limits
    }
}

impl std::fmt::Display for WaitLimit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let time = |minutes: u32| duration(i64::from(minutes));
        let least = if self.wait.least_min > 0 { format!("at least {}, ", time(self.wait.least_min)) } else { String::new() };
        let most = self.wait.most_min.map_or_else(String::new, |most_min| format!("at most {}", time(most_min)));
        let then = self.then.as_ref().map_or_else(String::new, |then| format!(", then {then}"));
        let waits = if self.wait.least_min > 0 { "waits" } else { "may wait" };
        write!(f, "{} {waits} {least}{most}{then}", self.step)
    }
}
