//! What to do now, what waits, what comes next, what is late.

use super::checked::{later, minutes_up, number};
use super::outlook::Outlook;
use super::{Full, Judged, Run};
use crate::plan::Place;
use jiff::Timestamp;
use jiff::civil::DateTime;
use serde::Serialize;

/// A run at a time of the clock. Steps are named by their numbers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NowView {
    /// The time.
    pub at: DateTime,
    /// Begun and not finished.
    pub doing: Vec<Job>,
    /// Steps due and able to start, most urgent first: those whose maximum wait would expire, then plan order.
    pub now: Vec<Job>,
    /// Possible, but planned for later.
    pub ahead: Vec<Job>,
    /// Possible but for a place that is full.
    pub blocked: Vec<Blocked>,
    /// Loads that wait.
    pub waiting: Vec<Waiting>,
    /// Not possible yet, the next step of each load, the soonest first.
    pub next: Vec<Coming>,
    /// What is late.
    pub late: Vec<Late>,
    /// The waits that are over, and how they came out.
    pub judged: Vec<Judged>,
    /// With nothing to do: when there may be again.
    pub idle_until: Option<DateTime>,
    /// Steps finished or left out.
    pub settled: usize,
    /// All steps.
    pub steps: usize,
    /// Everything is over no sooner than this.
    pub ends: DateTime,
    /// Whether everything is.
    pub over: bool,
}

/// A step for hands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Job {
    /// The step's number.
    pub step: u32,
    /// When it was planned to begin.
    pub planned: DateTime,
    /// By when it has to begin, for the wait before it not to be too long.
    pub before: Option<DateTime>,
    /// Whether another job done first could make it miss that.
    pub pressing: bool,
}

/// A step blocked because its place or every vessel is full.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Blocked {
    /// The step.
    pub job: Job,
    /// What is full.
    pub full: Full,
}

/// Where a wait stands against its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WaitState {
    /// Its least is not over.
    Closed,
    /// Between least and most.
    Open,
    /// Its most is over.
    Over,
}

/// A load that waits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Waiting {
    /// The step whose wait it is.
    pub step: u32,
    /// Why it waits longer than the process says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// Since when.
    pub since: DateTime,
    /// The earliest that it can go on.
    pub earliest: DateTime,
    /// The latest; none where longer does no harm.
    pub latest: Option<DateTime>,
    /// From now to the earliest, s; negative where it is past. The clock may be changed meanwhile.
    pub to_earliest_s: i64,
    /// From now to the latest, s.
    pub to_latest_s: Option<i64>,
    /// The step that takes it on; none after the last.
    pub then: Option<u32>,
    /// Where it stands.
    pub state: WaitState,
}

/// A step that can't begin yet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Coming {
    /// The step's number.
    pub step: u32,
    /// When it was planned to begin.
    pub planned: DateTime,
    /// It begins no sooner than this.
    pub not_before: DateTime,
}

/// Something late.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Late {
    /// A wait longer than it may be.
    Wait {
        /// The step whose wait it is.
        step: u32,
        /// By this, min.
        by_min: i64,
    },
    /// A step that could have begun and was planned to.
    Begin {
        /// The step.
        step: u32,
        /// By this, min.
        by_min: i64,
    },
}

impl Run {
    /// What there is to do, and what is not, at a time.
    #[must_use]
    pub fn now(&self, at: DateTime) -> NowView {
        let instant = self.instant(at);
        let outlook = Outlook::of(self, instant);
        let mut view = NowView {
            at,
            doing: Vec::new(),
            now: Vec::new(),
            ahead: Vec::new(),
            blocked: Vec::new(),
            waiting: (0..self.states.len()).filter_map(|index| self.waiting(index, instant)).collect(),
            next: Vec::new(),
            late: Vec::new(),
            judged: self.verdicts(),
            idle_until: None,
            settled: self.states.iter().filter(|state| state.finished.is_some()).count(),
            steps: self.states.len(),
            ends: outlook.ready.iter().copied().max().map_or(at, |ends| self.clock.shows(ends)),
            over: false,
        };
        view.over = view.settled == view.steps && view.waiting.is_empty();
        self.sort_jobs(&outlook, instant, &mut view);
        view.late = self.late(&view, instant);
        view.idle_until = self.idle_until(&outlook, &view);
        view
    }

    /// Puts every step that is not settled where it belongs.
    fn sort_jobs(&self, outlook: &Outlook, at: Timestamp, view: &mut NowView) {
        let mut possible: Vec<usize> = Vec::new();
        for index in (0..self.states.len()).filter(|&index| self.states[index].finished.is_none()) {
            if self.states[index].begun.is_some() {
                view.doing.push(self.job(index));
            } else if self.is_possible(index, at) {
                possible.push(index);
            } else if self.before[index].is_none_or(|before| self.states[before] != super::checked::State::default()) {
                let (planned, not_before) = (self.raw_step(index).from, self.clock.shows(outlook.begins[index]));
                view.next.push(Coming { step: number(index), planned, not_before });
            }
        }
        view.next.sort_by_key(|coming| (coming.not_before, coming.planned, coming.step));
        let longest_min = possible.iter().map(|&index| i64::from(self.raw_step(index).hands_min)).max().unwrap_or(0);
        let soon = later(at, longest_min);
        for index in possible {
            let mut job = self.job(index);
            job.pressing = self.must_begin(index).is_some_and(|before| before < soon);
            match self.full(index, at) {
                Some(full) => view.blocked.push(Blocked { job, full }),
                None if job.pressing || outlook.begins[index] <= at => view.now.push(job),
                None => view.ahead.push(job),
            }
        }
        let urgency = |job: &Job| (!job.pressing, if job.pressing { job.before } else { None }, job.planned, job.step);
        view.now.sort_by_key(urgency);
        view.ahead.sort_by_key(urgency);
        view.blocked.sort_by_key(|blocked| urgency(&blocked.job));
    }

    fn job(&self, index: usize) -> Job {
        let before = self.must_begin(index).map(|before| self.clock.shows(before));
        Job { step: number(index), planned: self.raw_step(index).from, before, pressing: false }
    }

    /// When the wait before a step is too long.
    fn must_begin(&self, index: usize) -> Option<Timestamp> {
        self.done_before(index).and_then(|waiting| self.latest(waiting))
    }

    /// Whether a step's load is there, its wait over, and what it needs done.
    fn is_possible(&self, index: usize, at: Timestamp) -> bool {
        let is_settled = self.before[index].is_none_or(|before| self.states[before].finished.is_some());
        let is_ready = |step: usize| self.ready(step).is_none_or(|ready| ready <= at);
        let is_there = |&needed: &usize| self.states[needed].finished.is_some() && is_ready(needed);
        is_settled && self.done_before(index).is_none_or(is_ready) && self.needed[index].iter().all(is_there)
    }

    /// What has no room for a step.
    fn full(&self, index: usize, at: Timestamp) -> Option<Full> {
        self.full_place(index, at).map(Full::Place).or_else(|| self.full_vessel(index, at))
    }

    /// The step's place, if it has no room for the step; room that the load itself gives up counts as free.
    fn full_place(&self, index: usize, at: Timestamp) -> Option<Place> {
        let place = self.kind(index).place?;
        let room = *self.raw().rooms.get(&place)?;
        let own = self.done_before(index).filter(|&before| self.kind(before).place == Some(place));
        let freed = own.filter(|&before| self.kind(before).wait.is_some()).map_or(0, |before| self.takes(before));
        (self.taken(place, at).saturating_sub(freed) + self.takes(index) > room).then_some(place)
    }

    fn waiting(&self, index: usize, at: Timestamp) -> Option<Waiting> {
        self.kind(index).wait?;
        let (since, earliest, latest) = (self.finished(index)?, self.ready(index)?, self.latest(index));
        let mut then = self.behind[index];
        while let Some(step) = then.filter(|&step| self.states[step].left_out) {
            then = self.behind[step];
        }
        let is_last = then.is_none();
        if self.ended(index).is_some() || (is_last && earliest <= at) {
            return None;
        }
        let state = if at < earliest {
            WaitState::Closed
        } else if latest.is_some_and(|latest| at > latest) {
            WaitState::Over
        } else {
            WaitState::Open
        };
        let seconds = |time: Timestamp| at.duration_until(time).as_secs();
        Some(Waiting {
            step: number(index),
            reason: self.wait_reason(index),
            since: self.clock.shows(since),
            earliest: self.clock.shows(earliest),
            latest: latest.map(|latest| self.clock.shows(latest)),
            to_earliest_s: seconds(earliest),
            to_latest_s: latest.map(seconds),
            then: then.map(number),
            state,
        })
    }

    fn late(&self, view: &NowView, at: Timestamp) -> Vec<Late> {
        let over = view.waiting.iter().filter(|waiting| waiting.state == WaitState::Over);
        let waits = over.filter_map(|waiting| {
            let over_s = -waiting.to_latest_s?;
            Some(Late::Wait { step: waiting.step, by_min: (over_s + 59).div_euclid(60) })
        });
        let blocked = view.blocked.iter().map(|blocked| &blocked.job);
        let planned = |job: &Job| self.clock.instant(job.planned);
        let jobs = view.now.iter().chain(blocked).filter(|job| planned(job) < at);
        waits.chain(jobs.map(|job| Late::Begin { step: job.step, by_min: minutes_up(planned(job), at) })).collect()
    }

    fn idle_until(&self, outlook: &Outlook, view: &NowView) -> Option<DateTime> {
        if !view.doing.is_empty() || !view.now.is_empty() {
            return None;
        }
        let begins = |job: &Job| self.index(job.step).ok().map(|index| self.clock.shows(outlook.begins[index]));
        let jobs = view.ahead.iter().filter_map(begins);
        // What goes on ahead of the plan goes on in working hours, whenever its wait is over.
        let is_ahead = |index: usize| outlook.begins[index] < self.planned(index).0;
        let goes_ahead = |waiting: &&Waiting| waiting.then.and_then(|then| self.index(then).ok()).is_some_and(is_ahead);
        let waits = view.waiting.iter().filter(|waiting| !goes_ahead(waiting)).map(|waiting| waiting.earliest);
        let vessels = view.blocked.iter().filter_map(|blocked| match blocked.full {
            Full::Vessel { until } => until,
            Full::Place(_) => None,
        });
        let next = view.next.iter().map(|coming| coming.not_before);
        jobs.chain(next).chain(waits).chain(vessels).filter(|&time| time > view.at).min()
    }
}
