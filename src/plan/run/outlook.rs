//! What can be expected of the steps to come.

use super::Run;
use super::checked::later;
use jiff::Timestamp;

/// The soonest that each step can begin and be over.
pub(super) struct Outlook {
    /// Hands begin no sooner than this.
    pub(super) begins: Vec<Timestamp>,
    /// Its least wait is over no sooner than this.
    pub(super) ready: Vec<Timestamp>,
}

impl Outlook {
    /// Reckoned from what is ticked, with the planned lengths of what is not; a step begins no sooner than planned. That others
    /// need the same hands and places is not looked at: it is a bound, no timetable.
    pub(super) fn of(run: &Run, at: Timestamp) -> Self {
        let count = run.states.len();
        let mut outlook = Self { begins: vec![at; count], ready: vec![at; count] };
        // Steps done once first: others need them. Along a load by its links.
        let mut order: Vec<usize> = (0..count).collect();
        order.sort_by_key(|&index| (run.raw_step(index).load, run.kind(index).process, run.kind(index).number));
        for index in order {
            outlook.step(run, index, at);
        }
        outlook
    }

    fn step(&mut self, run: &Run, index: usize, at: Timestamp) {
        let ((from, to), state) = (run.planned(index), run.states[index]);
        let before = run.before[index].map(|before| self.ready[before]);
        if state.left_out {
            self.ready[index] = before.unwrap_or(at);
            return;
        }
        let needed = run.needed[index].iter().map(|&needed| self.ready[needed]);
        let free = needed.chain(before).chain([at, from]).max().unwrap_or(at);
        self.begins[index] = state.begun.or(state.finished).unwrap_or(free);
        // Work in several stretches takes its nights with it.
        let span_min = from.duration_until(to).as_mins();
        let done = state.finished.unwrap_or_else(|| later(self.begins[index], span_min).max(at));
        let least_min = run.kind(index).wait.map_or(0, |wait| wait.least_min);
        self.ready[index] = later(done, i64::from(least_min));
    }
}
