//! The timetable as a maker reads it: steps of loads at times of the clock.

use super::build::{TaskLabel, loads_of};
use super::instruction::instruction;
use super::needs::{For, Needed, Share, each, listed, needs, shares};
use super::wait::StepWait;
use super::{
    Caution, CautionContext, Chemistry, ClockChange, Conflict, Hazard, Load, LoadItem, Need, Order, Place, Problem, Process,
    Solution, Step, Temperature, Wait, WallClock, WorkCalendar, cautions, conflicts, duration,
};
use jiff::civil::DateTime;
use serde::Serialize;

/// A stretch of hands-on work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Stretch {
    /// From.
    pub from: DateTime,
    /// To.
    pub to: DateTime,
}

/// One step of one load, or a step done once.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Entry {
    /// Number of the load; none for a step done once.
    pub load: Option<u32>,
    /// Index of its process, as of [`Load::process`](super::Load::process).
    pub process: usize,
    /// Its place in the process, from 1.
    pub number: usize,
    /// The step's name.
    pub step: String,
    /// Its name, with the process' where another process has a step of that name that is done once too.
    pub title: String,
    /// What to do.
    pub what: String,
    /// Garments that it is done to; 1 for a scrap, which stands for them all.
    pub garments: u32,
    /// Where.
    pub place: Option<Place>,
    /// Temperature.
    pub temperature: Option<Temperature>,
    /// Hands-on work, in one stretch or several.
    pub stretches: Vec<Stretch>,
    /// Hands-on time, min.
    pub hands_min: i64,
    /// How much of it, at its end, somebody only stays beside what is heated or gives off gas, min.
    #[serde(skip_serializing_if = "is_zero")]
    pub attended_min: u32,
    /// Whether work may pause between two garments.
    pub one_by_one: bool,
    /// Whether it is done in the discharge's vessel, where a spent bath stays to the next day.
    #[serde(skip)]
    pub vessel: bool,
    /// How long it waits: as the process says, or until what takes longer is over.
    pub wait: Option<Wait>,
    /// Why its least wait is longer than the process says, in words that end a sentence; none where it is not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wait_reason: Option<String>,
    /// Steps done once for the process that have to be over before it, by name.
    pub after: Vec<String>,
    /// When its least wait is over; none without a wait.
    pub ready: Option<DateTime>,
    /// When its most wait is over; none where longer does no harm.
    pub latest: Option<DateTime>,
    /// When the next step takes the load; none for the last.
    pub next: Option<DateTime>,
    /// What to have weighed out, for all its garments.
    pub needs: Vec<Needed>,
    /// What of it each garment gets, by the order's lines; nothing where there is one garment, or only a bath.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub shares: Vec<Share>,
    /// The garments that are tied in it, by the order's lines; none where nothing is tied.
    #[serde(skip)]
    pub tied: Vec<LoadItem>,
    /// What may hurt, the last deferring to the product's own sheet.
    pub cautions: Vec<Caution>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde passes a reference")]
const fn is_zero(value: &u32) -> bool {
    *value == 0
}

impl Entry {
    /// When hands begin.
    #[must_use]
    pub fn begins(&self) -> DateTime {
        self.stretches.first().map_or(DateTime::ZERO, |stretch| stretch.from)
    }

    /// The same for a column of a table: `20 min (14:20) to 1 h (15:00)`; the day is named where it is another.
    #[must_use]
    pub fn short_wait_words(&self) -> Option<String> {
        let hands_end = self.stretches.last()?.to;
        let clock = |time: DateTime| {
            let days = hands_end.date().until(time.date()).map_or(i32::MAX, |span| span.get_days());
            let form = match days {
                0 => "%H:%M",
                1..=6 => "%a %H:%M",
                _ => "%-d %b %H:%M",
            };
            time.strftime(form).to_string()
        };
        let until = |minutes: u32, time: DateTime| format!("{} ({})", duration(i64::from(minutes)), clock(time));
        match self.wait_ends() {
            (None, None) => None,
            (Some((least, ready)), None) => Some(format!("{} or more", until(least, ready))),
            (None, Some((most, latest))) => Some(format!("at most {}", until(most, latest))),
            (Some((least, ready)), Some((most, latest))) => Some(format!("{} to {}", until(least, ready), until(most, latest))),
        }
    }

    /// What its wait comes to, in words: `Then wait at least 20 min (until 14:20), at most ...`; none without one.
    #[must_use]
    pub fn wait_words(&self) -> Option<String> {
        let hands_end = self.stretches.last()?.to;
        let clock = |time: DateTime| {
            let form = if time.date() == hands_end.date() { "%H:%M" } else { "%a %-d %b %H:%M" };
            time.strftime(form).to_string()
        };
        let until =
            |(minutes, time): WaitEnd, word: &str| format!("{word} {} (until {})", duration(i64::from(minutes)), clock(time));
        let words = match self.wait_ends() {
            (None, None) => return None,
            (Some(ready), None) => format!("Then wait {}", until(ready, "at least")),
            (None, Some(latest)) => format!("Go on {}", until(latest, "within")),
            (Some(ready), Some(latest)) => format!("Then wait {}, {}", until(ready, "at least"), until(latest, "at most")),
        };
        if let Some(stay) = self.attended_words() {
            return Some(format!("{stay} {words}."));
        }
        Some(self.wait_reason.as_ref().map_or_else(|| format!("{words}."), |reason| format!("{words}: {reason}.")))
    }

    /// `The last 14 min stay beside it: the water takes about 14 min to reach 98 °C.`; none where nobody has to.
    #[must_use]
    pub fn attended_words(&self) -> Option<String> {
        let stay = format!("Stay beside it for the last {}", duration(i64::from(self.attended_min)));
        let reason = self.wait_reason.as_ref().map_or_else(String::new, |reason| format!(": {reason}"));
        (self.attended_min > 0).then(|| format!("{stay}{reason}."))
    }

    /// What may hurt, in a few words; none where nothing may.
    #[must_use]
    pub fn marks(&self) -> Option<String> {
        Hazard::marks(self.cautions.iter().map(|caution| caution.hazard))
    }

    /// What to have ready, a sentence each; where it is portioned for the whole order, every garment's share first, then their sum.
    #[must_use]
    pub fn needs_words(&self) -> Vec<String> {
        let told = self.shares.iter().filter(|_| self.load.is_none());
        let told = told.map(|share| each(share.count, &share.name, &listed(&share.needs)));
        told.chain(self.sum_words(self.load.is_none() && !self.shares.is_empty())).collect()
    }

    /// The same for the garments of one line, by its index: what one of them gets, or what their bath takes.
    #[must_use]
    pub fn needs_words_of(&self, line: usize) -> Vec<String> {
        match self.shares.iter().find(|share| share.line == line) {
            Some(share) => vec![format!("Have ready for one garment: {}.", listed(&share.needs))],
            None => self.sum_words(false).into_iter().collect(),
        }
    }

    fn sum_words(&self, is_sum: bool) -> Option<String> {
        let of = For { garments: self.garments, once: self.load.is_none() };
        (!self.needs.is_empty()).then(|| of.sentence(&listed(&self.needs), is_sum))
    }

    /// The least and the most of its wait, min, and when each is over. Not told from the times: the clock may be changed between them.
    fn wait_ends(&self) -> (Option<WaitEnd>, Option<WaitEnd>) {
        let wait = self.wait.unwrap_or_default();
        (self.ready.map(|ready| (wait.least_min, ready)), wait.most_min.zip(self.latest))
    }
}

/// So many minutes, over then.
type WaitEnd = (u32, DateTime);

/// A timetable.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Timeline {
    /// The steps, by the time they begin.
    pub entries: Vec<Entry>,
    /// When the first begins.
    pub begins: DateTime,
    /// When the last is over.
    pub ends: DateTime,
    /// Where the clock is put forward or back meanwhile.
    pub clock_changes: Vec<ClockChange>,
    /// All hands-on time, min.
    pub hands_min: i64,
    /// Whether no timetable from the same start is shown to end earlier.
    pub optimal: bool,
    /// What can't be kept, in words.
    pub conflicts: Vec<String>,
}

/// What a timetable is written out from.
pub(super) struct Solved<'a> {
    pub order: &'a Order,
    pub problem: &'a Problem,
    pub labels: &'a [TaskLabel],
    pub calendar: &'a WorkCalendar,
    pub solution: &'a Solution,
    /// The clock that shows the times.
    pub clock: &'a WallClock,
    /// The time that the calendar's minutes count from.
    pub midnight: DateTime,
    /// For each load of the order, its number.
    pub numbers: &'a [u32],
}

/// The garments of these loads.
fn items(loads: &[&Load]) -> Vec<LoadItem> {
    loads.iter().flat_map(|load| load.items.iter().cloned()).collect()
}

impl Solved<'_> {
    /// The timetable; none if a time lies beyond what a calendar can name.
    pub(super) fn timeline(&self) -> Option<Timeline> {
        let mut entries: Vec<Entry> = Vec::new();
        let mut last: Option<TaskLabel> = None;
        for (task, &label) in self.labels.iter().enumerate() {
            match entries.last_mut().filter(|_| last == Some(label)) {
                Some(entry) => self.append(task, entry)?,
                None => entries.push(self.entry(task, label)?),
            }
            last = Some(label);
        }
        entries.sort_by(|a, b| (a.begins(), a.load, &a.step).cmp(&(b.begins(), b.load, &b.step)));
        let found = conflicts(self.problem, self.calendar, &self.solution.starts, None);
        let begins = entries.first().map_or(DateTime::ZERO, Entry::begins);
        let ends = self.shown(self.problem.finish(&self.solution.starts))?;
        Some(Timeline {
            begins,
            ends,
            clock_changes: self.clock.changes(begins, ends),
            hands_min: self.problem.hands_min(),
            optimal: self.solution.optimal,
            conflicts: self.passed_waits().into_iter().chain(found.iter().map(|conflict| self.words(conflict))).collect(),
            entries,
        })
    }

    fn shown(&self, minute: i64) -> Option<DateTime> {
        self.clock.after(self.midnight, minute)
    }

    fn stretch(&self, task: usize) -> Option<Stretch> {
        let starts = &self.solution.starts;
        Some(Stretch { from: self.shown(starts[task])?, to: self.shown(self.problem.hands_end(task, starts))? })
    }

    fn entry(&self, task: usize, label: TaskLabel) -> Option<Entry> {
        let (step, loads) = (self.step(label), loads_of(self.order, label));
        let bath = loads.first().filter(|_| label.load.is_some()).and_then(|load| load.discharge.as_ref());
        let wait = StepWait::of(self.order, step, &loads);
        let mut entry = Entry {
            load: label.load.map(|index| self.numbers[index]),
            process: label.process,
            number: label.step + 1,
            step: step.name.clone(),
            title: self.name(label),
            what: instruction(self.order, label.process, step),
            garments: if step.scrap { 1 } else { loads.iter().map(|load| load.garments).sum() },
            place: step.place,
            temperature: step.temperature,
            stretches: Vec::new(),
            hands_min: 0,
            attended_min: wait.as_ref().map_or(0, |wait| wait.attended_min),
            one_by_one: step.one_by_one,
            vessel: step.in_vessel(),
            wait: wait.as_ref().map(|wait| wait.wait),
            wait_reason: wait.and_then(|wait| wait.reason),
            after: step.after.clone(),
            ready: None,
            latest: None,
            next: None,
            needs: needs(self.order, step, &loads),
            shares: shares(self.order, step, &loads),
            tied: if step.needs.contains(&Need::Thread) { items(&loads) } else { Vec::new() },
            cautions: cautions(
                step,
                &CautionContext {
                    agent: self.order.recipes()[label.process].discharge.as_ref().map(|rule| rule.agent),
                    bath: bath.filter(|_| step.needs.contains(&Need::Discharge)),
                    after_discharge: self.follows_discharge(label),
                    rinsed_once: self.is_rinsed_once(label),
                    in_alkali: self.is_in_alkali(label),
                    place: self.order.raw().workshop.place,
                    region: self.order.raw().workshop.region,
                },
            ),
        };
        self.append(task, &mut entry)?;
        Some(entry)
    }

    fn name(&self, label: TaskLabel) -> String {
        let (processes, step) = (self.order.processes(), self.step(label));
        let twin = |(index, other): (usize, &Process)| {
            index != label.process && other.steps.iter().any(|other| other.once && other.name == step.name)
        };
        if step.once && processes.iter().enumerate().any(twin) {
            format!("{}: {}", step.name, processes[label.process].name)
        } else {
            step.name.clone()
        }
    }

    /// Whether the step before it in its process is a reductive discharge.
    fn follows_discharge(&self, label: TaskLabel) -> bool {
        let before = label.step.checked_sub(1).and_then(|before| self.order.processes()[label.process].steps.get(before));
        before.is_some_and(|before| before.chemistry == Chemistry::Reductive && !before.rinses)
    }

    /// Whether its load was rinsed just once since a reductive discharge.
    fn is_rinsed_once(&self, label: TaskLabel) -> bool {
        let before = self.order.processes()[label.process].steps[..label.step].iter().filter(|step| !step.once);
        let before: Vec<&Step> = before.collect();
        let last = before.iter().rposition(|step| step.chemistry == Chemistry::Reductive).filter(|_| label.load.is_some());
        last.is_some_and(|last| before[last..].iter().filter(|step| step.rinses).count() == 1)
    }

    /// Whether its load comes to it with soda ash in the cloth: soaked, and not rinsed since.
    fn is_in_alkali(&self, label: TaskLabel) -> bool {
        let before = self.order.processes()[label.process].steps[..label.step].iter().filter(|step| !step.once);
        let last = before.rev().find(|step| step.rinses || step.needs.contains(&Need::SodaSoak));
        label.load.is_some() && last.is_some_and(|step| !step.rinses)
    }

    /// Adds one more task of the same step; the last one's waits count.
    fn append(&self, task: usize, entry: &mut Entry) -> Option<()> {
        let (own, starts) = (&self.problem.tasks[task], &self.solution.starts);
        let stretch = self.stretch(task)?;
        match entry.stretches.last_mut() {
            Some(before) if before.to == stretch.from => before.to = stretch.to,
            _ => entry.stretches.push(stretch),
        }
        entry.hands_min += own.hands_min;
        let hands_end = self.problem.hands_end(task, starts);
        entry.ready = if own.least_min > 0 { Some(self.shown(hands_end + own.least_min)?) } else { None };
        entry.latest = own.most_min.map(|most_min| self.shown(hands_end + most_min)).and_then(|latest| latest);
        let same_load = self.labels.get(task + 1).filter(|next| next.load.is_some() && next.load == self.labels[task].load);
        entry.next = match same_load {
            Some(_) => Some(self.shown(starts[task + 1])?),
            None => None,
        };
        Some(())
    }

    fn step(&self, label: TaskLabel) -> &Step {
        &self.order.processes()[label.process].steps[label.step]
    }

    /// Steps that wait longer than their process lets them, in words.
    fn passed_waits(&self) -> Vec<String> {
        let mut passed: Vec<String> = Vec::new();
        for &label in self.labels {
            let step = self.step(label);
            let Some(wait) = StepWait::of(self.order, step, &loads_of(self.order, label)) else { continue };
            if let (Some(most_min), Some(reason)) = (wait.passed_most_min, wait.reason) {
                let words = format!("{} may wait {} at most, but {reason}", step.name, duration(i64::from(most_min)));
                if !passed.contains(&words) {
                    passed.push(words);
                }
            }
        }
        passed
    }

    fn title(&self, label: TaskLabel) -> String {
        let load = label.load.map_or_else(String::new, |index| format!("load {}: ", self.numbers[index]));
        format!("{load}{}", self.step(label).name)
    }

    fn words(&self, conflict: &Conflict) -> String {
        let name = |task: usize| self.title(self.labels[task]);
        match *conflict {
            Conflict::HandsTwice { first, second } => {
                format!("{} and {} need the same hands at once", name(first), name(second))
            }
            Conflict::PlaceFull { place, task, taken, room } => {
                format!("{}: the {place} has room for {room} and would hold {taken}", name(task))
            }
            Conflict::VesselTaken { task, baths, vessels } => {
                let vessels =
                    if vessels == 1 { "the discharge vessel".to_owned() } else { format!("{vessels} discharge vessels") };
                format!("{}: {vessels} would hold {baths} baths", name(task))
            }
            Conflict::WaitTooShort { task, waits_min, least_min } => {
                format!("{} waits {}; it must wait at least {}", name(task), duration(waits_min), duration(least_min))
            }
            Conflict::WaitTooLong { task, waits_min, most_min } => {
                format!("{} waits {}; it may wait at most {}", name(task), duration(waits_min), duration(most_min))
            }
            Conflict::OutsideHours { task } => {
                let hands_min = self.problem.tasks[task].hands_min;
                format!("{} needs {} without a break, longer than any working period", name(task), duration(hands_min))
            }
            Conflict::Late { by_min } => format!("the plan ends {} after the deadline", duration(by_min)),
        }
    }
}
