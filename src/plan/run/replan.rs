//! The steps still ahead, timed anew from what was really done.

use super::checked::{later, minutes_up, number};
use super::{Run, RunStepRecord};
use crate::plan::duration;
use crate::plan::timing::{span_days, work_calendar};
use crate::plan::{Capacities, Conflict, Place, Problem, Standing, Task, WorkCalendar, conflicts, resume};
use jiff::civil::{DateTime, Time};
use jiff::{SignedDuration, Timestamp};
use serde::Serialize;

/// A run's steps to come at the times that they can now be expected at. Each keeps its planned time where it still can; the others come
/// as soon as waits, hands, places and working hours allow: so does what follows work begun so far ahead of the plan that it can't wait for
/// its planned time.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Replan {
    /// The time from which it was made.
    pub at: DateTime,
    /// Every step not finished, by the time it is now expected to begin.
    pub steps: Vec<Ahead>,
    /// What can't be kept as things stand: the deadline first, then limits in the order of the steps.
    pub endangered: Vec<Endangered>,
    /// When everything is over, as expected now.
    pub ends: DateTime,
    /// When it was planned to be.
    pub planned_end: DateTime,
}

/// A step to come.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Ahead {
    /// The step's number.
    pub step: u32,
    /// Planned: hands begin.
    pub planned: DateTime,
    /// Now expected: hands begin, or began.
    pub from: DateTime,
    /// Hands are done.
    pub to: DateTime,
    /// Its least wait is over; none without one.
    pub ready: Option<DateTime>,
    /// Its most wait is over; none where longer does no harm.
    pub latest: Option<DateTime>,
    /// How much later than planned it begins, min; negative for earlier.
    pub moved_min: i64,
}

impl Ahead {
    /// When its wait is over, in words: `Mon 14:20, at most Mon 15:00`; nothing without one.
    #[must_use]
    pub fn wait_words(&self) -> String {
        let clock = |time: DateTime| time.strftime("%a %-d %b %H:%M").to_string();
        match (self.ready.map(clock), self.latest.map(clock)) {
            (Some(ready), Some(latest)) => format!("{ready}, at most {latest}"),
            (Some(ready), None) => ready,
            (None, Some(latest)) => format!("at most {latest}"),
            (None, None) => String::new(),
        }
    }

    /// What was planned beside what is to be expected, in words: `as planned`, `Mon 13:05, 40 min later`.
    #[must_use]
    pub fn planned_words(&self) -> String {
        let way = match self.moved_min {
            0 => return "as planned".to_owned(),
            later if later > 0 => "later",
            _ => "earlier",
        };
        format!("{}, now {} {way}", self.planned.strftime("%a %-d %b %H:%M"), duration(self.moved_min.abs()))
    }
}

/// A limit that can't be kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Endangered {
    /// A wait that becomes longer than it may be.
    Wait {
        /// The step that waits, with its load.
        title: String,
        /// How long it may, min.
        most_min: i64,
        /// Until when.
        latest: DateTime,
        /// The step that takes it on.
        then: String,
        /// When that can begin.
        goes_on: DateTime,
        /// By how much it is too long, min, begun ones counted.
        by_min: i64,
    },
    /// The deadline.
    Deadline {
        /// The deadline.
        deadline: DateTime,
        /// When everything is over.
        ends: DateTime,
        /// By how much that is late, min, begun ones counted.
        by_min: i64,
    },
    /// Work that working hours don't hold.
    Hours {
        /// The step, with its load.
        title: String,
    },
    /// A bath for which no vessel is free.
    Vessel {
        /// The step that would begin it, with its load.
        title: String,
    },
    /// A place that would hold more than it can.
    Place {
        /// The place.
        place: Place,
        /// The step that would overfill it.
        title: String,
    },
}

impl std::fmt::Display for Endangered {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let clock = |time: &DateTime| time.strftime("%A %-d %B, %H:%M").to_string();
        match self {
            Self::Wait { title, most_min, latest, then, goes_on, by_min } => {
                let (most, by) = (duration(*most_min), duration(*by_min));
                let (latest, goes_on) = (clock(latest), clock(goes_on));
                write!(f, "{title} may wait {most} at most, until {latest}; {then} can begin {goes_on}: {by} too long")
            }
            Self::Deadline { deadline, ends, by_min } => {
                let (deadline, ends, by) = (clock(deadline), clock(ends), duration(*by_min));
                write!(f, "the deadline, {deadline}, can't be met: the work ends {ends}, {by} late")
            }
            Self::Hours { title } => write!(f, "{title} does not fit into working hours"),
            Self::Vessel { title } => write!(f, "every discharge vessel holds a bath when {title} needs one"),
            Self::Place { place, title } => write!(f, "the {place} is full when {title} needs it"),
        }
    }
}

impl Run {
    /// Times the steps to come anew from where the run stands at a time; none where the years run out.
    #[must_use]
    pub fn replan(&self, at: DateTime) -> Option<Replan> {
        Rest::of(self, at)?.solve()
    }
}

/// The rest of a run as a bare question.
struct Rest<'a> {
    run: &'a Run,
    at: DateTime,
    now: Timestamp,
    /// The time that minutes count from.
    zero: Timestamp,
    problem: Problem,
    calendar: WorkCalendar,
    standing: Standing,
    /// For each task, which step it is of.
    steps: Vec<usize>,
    /// For each chain: whether others may name it, the limit that presses it, when it was planned to go on.
    urgency: Vec<(bool, i64, i64)>,
}

impl<'a> Rest<'a> {
    fn of(run: &'a Run, at: DateTime) -> Option<Self> {
        let now = run.instant(at);
        // Work under way is followed from the day on which it began.
        let under_way = run.states.iter().filter(|state| state.finished.is_none()).filter_map(|state| state.begun);
        let first = under_way.chain([now]).min().unwrap_or(now);
        let midnight = run.clock.shows(first).date().to_datetime(Time::midnight());
        let rooms = |place| run.raw.rooms.get(&place).copied().unwrap_or(u32::MAX);
        let [tub, sink, washer, table, rack] = [Place::Tub, Place::Sink, Place::Washer, Place::Table, Place::Rack].map(rooms);
        let room = Capacities::new(tub, sink, washer, table, rack).with_vessels(run.raw.vessels);
        let mut rest = Self {
            run,
            at,
            now,
            zero: run.clock.instant(midnight),
            problem: Problem { tasks: Vec::new(), chains: Vec::new(), room },
            calendar: WorkCalendar::always(1),
            standing: Standing::default(),
            steps: Vec::new(),
            urgency: Vec::new(),
        };
        // Days enough for everything from the beginning.
        let all = Problem {
            tasks: (0..run.states.len()).map(|step| rest.task(step, rest.hands_min(step))).collect(),
            ..rest.problem.clone()
        };
        let a_week_min = run.hours.as_ref().map_or(7 * 1440, |hours| hours.worked_min() * hours.days_a_week());
        let days = span_days(&all, a_week_min) + first.duration_until(now).as_hours() / 24;
        rest.calendar = match &run.hours {
            Some(hours) => work_calendar(hours, midnight, days, &run.clock)?,
            None => WorkCalendar::always(days),
        };
        // Steps done once come first: others name them.
        let mut firsts: Vec<usize> = (0..run.states.len()).filter(|&step| run.before[step].is_none()).collect();
        firsts.sort_by_key(|&step| (run.raw_step(step).load.is_some(), step));
        firsts.into_iter().for_each(|first| rest.chain(first));
        rest.spent_baths();
        Some(rest)
    }

    /// Whole minutes to an instant, begun ones counted or not.
    fn minute_up(&self, time: Timestamp) -> i64 {
        (self.zero.duration_until(time).as_secs() + 59).div_euclid(60)
    }

    fn minute_down(&self, time: Timestamp) -> i64 {
        self.zero.duration_until(time).as_secs().div_euclid(60)
    }

    fn instant(&self, minute: i64) -> Timestamp {
        self.zero.checked_add(SignedDuration::from_mins(minute)).unwrap_or(Timestamp::MAX)
    }

    fn shown(&self, minute: i64) -> DateTime {
        self.run.clock.shows(self.instant(minute))
    }

    fn hands_min(&self, step: usize) -> i64 {
        i64::from(self.run.raw_step(step).hands_min)
    }

    /// A step as one task with so much work.
    fn task(&self, step: usize, hands_min: i64) -> Task {
        let kind = self.run.kind(step);
        Task {
            hands_min,
            least_min: kind.wait.map_or(0, |wait| i64::from(wait.least_min)),
            most_min: kind.wait.and_then(|wait| wait.most_min).map(i64::from),
            holds: kind.wait.is_some(),
            place: kind.place,
            takes: self.run.takes(step),
            vessel: kind.vessel,
            after: Vec::new(),
        }
    }

    /// Adds what is left of a chain, by its first step.
    fn chain(&mut self, first: usize) {
        let (run, before) = (self.run, self.steps.len());
        let all = std::iter::successors(Some(first), |&step| run.behind[step]);
        let open: Vec<usize> = all.filter(|&step| run.states[step].finished.is_none()).collect();
        let Some(&next) = open.first() else { return };
        let mut limit = None;
        let mut ahead_min = 0;
        if run.states[next].begun.is_some() {
            let done = self.under_way(next);
            if let Some(&then) = open.get(1) {
                ahead_min = self.ahead_min(next, done, then);
            }
        } else if let Some(waiting) = run.done_before(next) {
            limit = run.latest(waiting);
            let finished = self.minute_down(run.finished(waiting).unwrap_or(self.now));
            self.push(waiting, self.task(waiting, 0), Some(finished), 0);
            ahead_min = self.ahead_min(waiting, finished, next);
        }
        let planned = run.planned(next).0;
        for &step in open.iter().filter(|&&step| run.states[step].begun.is_none()) {
            self.ahead(step, ahead_min, if step == next { run.done_before(next) } else { None });
        }
        self.problem.chains.push(self.steps.len() - before);
        let is_once = run.raw_step(first).load.is_none();
        self.urgency.push((!is_once, limit.map_or(i64::MAX, |limit| self.minute_down(limit)), self.minute_up(planned)));
    }

    /// Baths whose goods have left them, and that stay in their vessels to the next day: each a chain of its own, which is over.
    fn spent_baths(&mut self) {
        for bath in self.run.baths() {
            let (Some(left), Some(free)) = (bath.left, bath.free) else { continue };
            // What still waits in it is a task already.
            if free <= self.now || self.steps.contains(&bath.last) {
                continue;
            }
            let (from, left) = (self.minute_down(bath.begun), self.minute_down(left));
            let task = Task { least_min: left - from, holds: true, vessel: true, ..Task::default() };
            self.push(bath.last, task, Some(from), 0);
            self.problem.chains.push(1);
            self.urgency.push((false, i64::MIN, from));
        }
    }

    /// How much earlier than planned a chain goes on from a step whose hands are done at a minute, min: not at all where its wait can last
    /// until the next step's planned time, else from when its least is over.
    fn ahead_min(&self, waiting: usize, done: i64, next: usize) -> i64 {
        let planned = self.minute_up(self.run.planned(next).0);
        let wait = self.run.kind(waiting).wait;
        let limit = wait.and_then(|wait| wait.most_min).map(|most_min| done + i64::from(most_min));
        let ready = done + wait.map_or(0, |wait| i64::from(wait.least_min));
        if limit.is_some_and(|limit| limit < planned) { (planned - ready).max(0) } else { 0 }
    }

    /// A step that hands are at: the minute at which they are done. Its pieces are taken to be done at the planned pace since it began; the
    /// last one lasts until now at least, for the step is not done.
    fn under_way(&mut self, step: usize) -> i64 {
        let begun = self.run.states[step].begun.unwrap_or(self.now);
        let (from, now) = (self.minute_down(begun), self.minute_up(self.now));
        let pieces = self.pieces(step);
        let late_min = from - pieces.first().map_or(from, |piece| piece.0);
        let started = pieces.iter().take_while(|piece| piece.0 + late_min < now).count().max(1);
        let done = pieces[..started].last().map_or(from, |piece| piece.0 + late_min + piece.1);
        let is_last = started == pieces.len();
        let done = if is_last { done.max(now) } else { done };
        self.push(step, piece(self.task(step, done - from), is_last), Some(from), 0);
        let mut over = done;
        for (turn, &(planned, hands_min)) in (1..).zip(&pieces[started..]) {
            let task = piece(self.task(step, hands_min), started + turn == pieces.len());
            let begins = planned.max(now).max(over);
            self.push(step, task, None, planned.max(now));
            over = begins + hands_min;
        }
        over
    }

    /// A step to come, in as many pieces as it may be done in.
    fn ahead(&mut self, step: usize, ahead_min: i64, waiting: Option<usize>) {
        let run = self.run;
        let settled = waiting.into_iter().chain(run.needed[step].iter().copied()).filter_map(|earlier| run.ready(earlier));
        let now = self.minute_up(self.now);
        let not_before = settled.map(|ready| self.minute_up(ready)).fold(now, i64::max);
        let named = |needed: &usize| self.steps.iter().rposition(|other| other == needed);
        let open = run.needed[step].iter().filter(|&&needed| run.states[needed].finished.is_none());
        let after: Vec<usize> = open.filter_map(named).collect();
        let pieces = self.pieces(step);
        for (turn, &(planned, hands_min)) in (1..).zip(&pieces) {
            let task = piece(self.task(step, hands_min), turn == pieces.len());
            self.push(step, Task { after: after.clone(), ..task }, None, not_before.max(planned - ahead_min));
        }
    }

    /// The pieces that a step's work may be done in, with when each was planned to begin: its planned stretches, and of each as many as
    /// garments were done in it where work may pause between two.
    fn pieces(&self, step: usize) -> Vec<(i64, i64)> {
        let (run, raw) = (self.run, self.run.raw_step(step));
        let (from, hands_min) = (self.minute_up(run.planned(step).0), self.hands_min(step));
        let mut stretches: Vec<(i64, i64)> = Vec::new();
        for stretch in &raw.stretches {
            let begins = run.clock.instant(stretch.from);
            let ends = run.clock.instant_from(stretch.to, begins);
            stretches.push((self.minute_up(begins), begins.duration_until(ends).as_mins()));
        }
        if stretches.is_empty() {
            stretches.push((from, hands_min));
        }
        if !run.kind(step).one_by_one {
            return stretches;
        }
        let garment_min = (hands_min / i64::from(raw.garments.max(1))).max(1);
        let of_stretch = |(from, long_min): (i64, i64)| {
            let many = (long_min / garment_min).max(1);
            let bound = move |turn: i64| long_min * turn / many;
            (0..many).map(move |turn| (from + bound(turn), bound(turn + 1) - bound(turn)))
        };
        stretches.into_iter().flat_map(of_stretch).collect()
    }

    fn push(&mut self, step: usize, task: Task, begun: Option<i64>, not_before: i64) {
        self.problem.tasks.push(task);
        self.steps.push(step);
        self.standing.begun.push(begun);
        self.standing.not_before.push(not_before);
    }

    /// The best of two ways: what is pressed by a limit goes first, or what was planned first does.
    fn solve(&self) -> Option<Replan> {
        let mut pressed: Vec<usize> = (0..self.problem.chains.len()).collect();
        let mut planned = pressed.clone();
        pressed.sort_by_key(|&chain| self.urgency[chain]);
        planned.sort_by_key(|&chain| (self.urgency[chain].0, self.urgency[chain].2));
        let solved = [pressed, planned].into_iter().filter_map(|sequence| {
            let starts = resume(&self.problem, &self.calendar, &self.standing, &sequence)?;
            let found = conflicts(&self.problem, &self.calendar, &starts, None);
            let too_long = |conflict: &Conflict| match conflict {
                Conflict::WaitTooLong { waits_min, most_min, .. } => waits_min - most_min,
                _ => 0,
            };
            Some((found.iter().map(too_long).sum::<i64>(), self.problem.finish(&starts), starts, found))
        });
        let (_, _, starts, found) = solved.min_by_key(|(too_long_min, finish, ..)| (*too_long_min, *finish))?;
        Some(self.told(&starts, &found))
    }

    fn told(&self, starts: &[i64], found: &[Conflict]) -> Replan {
        let run = self.run;
        let mut steps: Vec<Ahead> = Vec::new();
        for (task, &step) in self.steps.iter().enumerate().filter(|(_, step)| run.states[**step].finished.is_none()) {
            let own = &self.problem.tasks[task];
            let end = self.problem.hands_end(task, starts);
            let (to, ready) = (self.shown(end), (own.least_min > 0).then(|| self.shown(end + own.least_min)));
            let latest = own.most_min.map(|most_min| self.shown(end + most_min));
            match steps.last_mut().filter(|last| last.step == number(step)) {
                Some(last) => (last.to, last.ready, last.latest) = (to, ready, latest),
                None => steps.push(self.first_piece(step, starts[task], (to, ready, latest))),
            }
        }
        steps.sort_by_key(|ahead| (ahead.from, ahead.step));
        let last = (0..self.steps.len()).map(|task| self.problem.ready(task, starts)).max();
        let over = |step: &RunStepRecord| {
            let least_min = run.raw.kinds[step.kind as usize - 1].wait.map_or(0, |wait| wait.least_min);
            later(run.clock.instant(step.to), i64::from(least_min))
        };
        let planned_end = run.raw.steps.iter().map(over).max().unwrap_or(self.now);
        let late = last.and_then(|last| self.late(last));
        Replan {
            at: self.at,
            steps,
            endangered: late.into_iter().chain(found.iter().filter_map(|conflict| self.endangered(conflict, starts))).collect(),
            ends: last.map_or(self.at, |last| self.shown(last)),
            planned_end: run.clock.shows(planned_end),
        }
    }

    /// That everything is over after the deadline.
    fn late(&self, last: i64) -> Option<Endangered> {
        let (deadline, ends) = (self.run.raw.deadline?, self.instant(last));
        let due = self.run.clock.instant(deadline);
        (ends > due).then(|| Endangered::Deadline { deadline, ends: self.shown(last), by_min: minutes_up(due, ends) })
    }

    fn first_piece(&self, step: usize, start: i64, (to, ready, latest): (DateTime, Option<DateTime>, Option<DateTime>)) -> Ahead {
        let planned = self.run.planned(step).0;
        let moved_s = planned.duration_until(self.instant(start)).as_secs();
        let planned = self.run.raw_step(step).from;
        Ahead { step: number(step), planned, from: self.shown(start), to, ready, latest, moved_min: moved_s.div_euclid(60) }
    }

    /// What a conflict says of the run; none for what lies in the past or is no limit of the work.
    fn endangered(&self, conflict: &Conflict, starts: &[i64]) -> Option<Endangered> {
        let title = |task: usize| self.run.title(self.steps[task]);
        let is_ahead = |task: usize| self.standing.begun[task].is_none();
        match *conflict {
            Conflict::WaitTooLong { task, waits_min, most_min } => Some(Endangered::Wait {
                title: title(task),
                most_min,
                latest: self.shown(self.problem.hands_end(task, starts) + most_min),
                then: title(task + 1),
                goes_on: self.shown(starts[task + 1]),
                by_min: waits_min - most_min,
            }),
            Conflict::OutsideHours { task } if is_ahead(task) => Some(Endangered::Hours { title: title(task) }),
            Conflict::VesselTaken { task, .. } if is_ahead(task) => Some(Endangered::Vessel { title: title(task) }),
            Conflict::PlaceFull { place, task, .. } if is_ahead(task) => Some(Endangered::Place { place, title: title(task) }),
            _ => None,
        }
    }
}

/// One piece of a step: only the last has its wait.
fn piece(whole: Task, is_last: bool) -> Task {
    if is_last { whole } else { Task { least_min: 0, most_min: None, holds: false, ..whole } }
}
