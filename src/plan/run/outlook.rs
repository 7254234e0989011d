//! What can be expected of the steps to come.

use super::Run;
use super::checked::later;
use crate::plan::timing::work_calendar;
use jiff::Timestamp;
use jiff::civil::Time;

/// The soonest that each step can begin and be over.
pub(super) struct Outlook {
    /// Hands begin no sooner than this.
    pub(super) begins: Vec<Timestamp>,
    /// Its least wait is over no sooner than this.
    pub(super) ready: Vec<Timestamp>,
    /// Its most wait is over no sooner than this; none where longer does no harm.
    latest: Vec<Option<Timestamp>>,
}

/// Days in which hands surely come back, however many of the week are off.
const DAYS: i64 = 9;

impl Outlook {
    /// Reckoned from what is ticked, with the planned lengths of what is not; a step begins no sooner than planned, unless what was done
    /// ahead of the plan can't wait so long. That others need the same hands and places is not looked at: it is a bound, no timetable.
    pub(super) fn of(run: &Run, at: Timestamp) -> Self {
        let count = run.states.len();
        let mut outlook = Self { begins: vec![at; count], ready: vec![at; count], latest: vec![None; count] };
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
            self.latest[index] = run.before[index].and_then(|before| self.latest[before]);
            return;
        }
        let due = self.due(run, index);
        let needed = run.needed[index].iter().map(|&needed| self.ready[needed]);
        let free = needed.chain(before).chain([at, due]).max().unwrap_or(at);
        self.begins[index] = state.begun.or(state.finished).unwrap_or(free);
        // Work in several stretches takes its nights with it.
        let span_min = from.duration_until(to).as_mins();
        let done = state.finished.unwrap_or_else(|| later(self.begins[index], span_min).max(at));
        let least_min = run.kind(index).wait.map_or(0, |wait| wait.least_min);
        self.ready[index] = later(done, i64::from(least_min));
        let most_min = run.kind(index).wait.and_then(|wait| wait.most_min);
        self.latest[index] = most_min.map(|most_min| later(done, i64::from(most_min)));
    }

    /// When a step is to begin: as planned, unless what waits for it can't wait so long. Then as soon as that may go on, in working hours if
    /// they keep its limit.
    fn due(&self, run: &Run, index: usize) -> Timestamp {
        let planned = run.planned(index).0;
        let Some(before) = run.before[index] else { return planned };
        match (self.ready[before], self.latest[before]) {
            (ready, Some(latest)) if latest < planned => {
                run.opens(ready, index).filter(|&opens| opens <= latest).unwrap_or(ready)
            }
            _ => planned,
        }
    }
}

impl Run {
    /// When hands can begin a step in working hours, from a time on; none where hours are too short for it.
    fn opens(&self, from: Timestamp, index: usize) -> Option<Timestamp> {
        let Some(hours) = &self.hours else { return Some(from) };
        let midnight = self.clock.shows(from).date().to_datetime(Time::midnight());
        let calendar = work_calendar(hours, midnight, DAYS, &self.clock)?;
        let zero = self.clock.instant(midnight);
        let hands_min = if self.kind(index).one_by_one { 1 } else { i64::from(self.raw_step(index).hands_min).max(1) };
        let minute = (zero.duration_until(from).as_secs() + 59).div_euclid(60);
        let opens = calendar.fit(minute, hands_min)?;
        Some(if opens == minute { from } else { later(zero, opens) })
    }
}
