//! The vessels of the discharge in a run: each holds one load's bath, spent to the next day.

use super::{Full, Run};
use jiff::Timestamp;
use jiff::civil::Time;

/// A bath in a vessel: when it was begun, and when the vessel is free again, as far as that is known.
pub(super) struct RunBath {
    /// Its first step.
    pub(super) first: usize,
    /// The last of its steps that was done.
    pub(super) last: usize,
    pub(super) begun: Timestamp,
    /// When its goods left it.
    pub(super) left: Option<Timestamp>,
    pub(super) free: Option<Timestamp>,
}

impl Run {
    /// Whether a step begins a bath in a vessel.
    fn begins_bath(&self, index: usize) -> bool {
        self.kind(index).vessel && !self.before[index].is_some_and(|before| self.kind(before).vessel)
    }

    /// The baths that were begun.
    pub(super) fn baths(&self) -> Vec<RunBath> {
        (0..self.states.len()).filter(|&index| self.begins_bath(index)).filter_map(|first| self.bath(first)).collect()
    }

    /// The bath that a step begins, if any of its steps was begun.
    fn bath(&self, first: usize) -> Option<RunBath> {
        let next = |step: &usize| self.behind[*step].filter(|&next| self.kind(next).vessel);
        let steps: Vec<usize> = std::iter::successors(Some(first), next).collect();
        let done = |step: usize| self.states[step].begun.or(self.finished(step));
        let is_open = steps.iter().any(|&step| self.states[step].finished.is_none());
        let kept: Vec<usize> = steps.into_iter().filter(|&step| done(step).is_some()).collect();
        let (begun, last) = (kept.iter().find_map(|&step| done(step))?, *kept.last()?);
        let left = if is_open { None } else { self.left_vessel(last) };
        Some(RunBath { first, last, begun, left, free: left.map(|left| self.next_day(left)) })
    }

    /// When goods left the vessel of a step that is done: as the next step takes them, or with its least wait where none does.
    fn left_vessel(&self, last: usize) -> Option<Timestamp> {
        let goes_on = self.kind(last).wait.is_some() && self.behind[last].is_some();
        if goes_on { self.ended(last) } else { self.ready(last) }
    }

    /// When the day after an instant begins.
    fn next_day(&self, at: Timestamp) -> Timestamp {
        let date = self.clock.shows(at).date();
        self.clock.instant(date.tomorrow().unwrap_or(date).to_datetime(Time::midnight()))
    }

    /// That every vessel holds a bath of another load when a step would begin its own.
    pub(super) fn full_vessel(&self, index: usize, at: Timestamp) -> Option<Full> {
        if !self.begins_bath(index) {
            return None;
        }
        let is_there = |bath: &RunBath| bath.first != index && bath.begun <= at && bath.free.is_none_or(|free| at < free);
        let there: Vec<RunBath> = self.baths().into_iter().filter(is_there).collect();
        if u32::try_from(there.len()).is_ok_and(|there| there < self.raw.vessels) {
            return None;
        }
        let until = there.iter().filter_map(|bath| bath.free).min().map(|free| self.clock.shows(free));
        Some(Full::Vessel { until })
    }
}
