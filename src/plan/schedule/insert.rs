//! The quick way: chain after chain, each as early as those already placed allow.
//!
//! With the others fixed, every rule has the form "this task begins no earlier than ...", and the bound only grows when another
//! task's does. So going round the rules until nothing moves gives the earliest times of all tasks of the chain at once.

use super::hands::FreeHands;
use super::held::{Held, Stay};
use super::{Bath, Problem, WorkCalendar};
use std::ops::Range;

/// Whether most waits are kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum MostWaits {
    /// They are.
    Kept,
    /// They are not: the answer to report from when they can't be.
    Ignored,
}

/// What is already placed.
#[derive(Debug)]
pub(super) struct Placed<'a> {
    problem: &'a Problem,
    next: Vec<Option<usize>>,
    /// When each task began that did: such a task is not moved, and the wait after it may become too long.
    begun: Vec<Option<i64>>,
    /// Begin of each task; only placed chains' are read.
    starts: Vec<i64>,
    hands: FreeHands<'a>,
    /// What each place holds.
    places: [Held; 6],
    /// What the vessels hold.
    vessels: Held,
    calendar: &'a WorkCalendar,
    /// For each task that begins a bath in a vessel, that bath.
    baths: Vec<Option<Bath>>,
}

impl<'a> Placed<'a> {
    pub(super) fn new(problem: &'a Problem, calendar: &'a WorkCalendar) -> Self {
        let count = problem.tasks.len();
        let (starts, begun) = (vec![0; count], vec![None; count]);
        let most_work_min = problem.tasks.iter().map(|task| task.hands_min).max().unwrap_or(0);
        let hands = FreeHands::new(calendar, most_work_min);
        let mut baths = vec![None; count];
        problem.baths().into_iter().for_each(|bath| baths[bath.first] = Some(bath));
        let (places, vessels) = (Default::default(), Held::default());
        Self { problem, next: problem.next(), begun, starts, hands, places, vessels, calendar, baths }
    }

    /// The same with tasks under way: hands and places are theirs as long as they need them at least.
    pub(super) fn resumed(problem: &'a Problem, calendar: &'a WorkCalendar, begun: &[Option<i64>]) -> Self {
        let mut placed = Self { begun: begun.to_vec(), ..Self::new(problem, calendar) };
        let mut hands: Vec<(i64, i64)> = Vec::new();
        for (task, at) in begun.iter().enumerate() {
            let Some(at) = *at else { continue };
            placed.starts[task] = at;
            let own = &problem.tasks[task];
            hands.push((at, at + own.hands_min));
            if let Some(place) = own.place {
                placed.places[place as usize].add(at, placed.leaves_at_least(task), own.takes);
            }
            if placed.baths[task].is_some() {
                placed.vessels.add(at, placed.vessel_free_at_least(task), 1);
            }
        }
        apart(hands).into_iter().for_each(|(from, to)| placed.hands.take(from, to));
        placed
    }

    /// When a task leaves its place if the next comes as soon as it may.
    fn leaves_at_least(&self, task: usize) -> i64 {
        if self.problem.tasks[task].holds {
            self.problem.ready(task, &self.starts)
        } else {
            self.problem.hands_end(task, &self.starts)
        }
    }

    /// When a vessel is free again if the task that begins its bath is the only one.
    fn vessel_free_at_least(&self, task: usize) -> i64 {
        self.calendar.next_day(self.leaves_at_least(task))
    }

    pub(super) fn into_starts(self) -> Vec<i64> {
        self.starts
    }

    /// Places a chain as early as possible from `from` on; false, and nothing placed, if it can't be before the calendar's end.
    ///
    /// What is already placed only grows, so a chain can't be earlier than one with equal tasks was: with such a one, `alike`, the
    /// search goes on from its times.
    pub(super) fn insert(&mut self, chain: Range<usize>, from: i64, alike: Option<Range<usize>>, most: MostWaits) -> bool {
        let (first, times) = (chain.start, alike.map(|alike| self.starts[alike].to_vec()));
        self.insert_from(chain, |task| times.as_ref().map_or(from, |times| times[task - first]), most)
    }

    /// The same, each task from a time of its own on.
    pub(super) fn insert_from(&mut self, chain: Range<usize>, from: impl Fn(usize) -> i64, most: MostWaits) -> bool {
        let fits = self.settle(&chain, from, most);
        if fits {
            chain.for_each(|task| self.occupy(task));
        }
        fits
    }

    /// When a chain could be over at the earliest if it were placed now, from `from` on; it is not.
    pub(super) fn finish_of(&mut self, chain: Range<usize>, from: i64, most: MostWaits) -> Option<i64> {
        let fits = self.settle(&chain, |_| from, most);
        let finish = chain.clone().map(|task| self.problem.ready(task, &self.starts)).max();
        self.starts[chain].fill(0);
        finish.filter(|_| fits)
    }

    /// The earliest times of a chain's tasks; false if they can't be before the calendar's end.
    fn settle(&mut self, chain: &Range<usize>, from: impl Fn(usize) -> i64, most: MostWaits) -> bool {
        for task in chain.clone() {
            self.starts[task] = self.begun[task].unwrap_or_else(|| from(task));
        }
        loop {
            match self.raise(chain, most) {
                None => return false,
                Some(true) => {}
                Some(false) => return true,
            }
        }
    }

    /// One round of the rules: whether anything moved; none beyond the calendar's end.
    fn raise(&mut self, chain: &Range<usize>, most: MostWaits) -> Option<bool> {
        let mut moved = false;
        for task in chain.clone() {
            let at = self.earliest(task, chain.start)?;
            moved |= at > self.starts[task];
            self.starts[task] = at;
        }
        if most == MostWaits::Kept {
            for task in chain.clone().rev().skip(1) {
                if let Some(most_min) = self.problem.tasks[task].most_min.filter(|_| self.begun[task].is_none()) {
                    let at = self.starts[task + 1] - most_min - self.problem.tasks[task].hands_min;
                    moved |= at > self.starts[task];
                    self.starts[task] = self.starts[task].max(at);
                }
            }
        }
        Some(moved)
    }

    /// The earliest begin that one task's own rules allow, given the others' present times.
    fn earliest(&self, task: usize, chain_start: usize) -> Option<i64> {
        let own = &self.problem.tasks[task];
        if let Some(begun) = self.begun[task] {
            return Some(begun);
        }
        let mut at = self.starts[task];
        if task > chain_start {
            at = at.max(self.problem.ready(task - 1, &self.starts));
        }
        for &earlier in &own.after {
            at = at.max(self.problem.ready(earlier, &self.starts));
        }
        if let Some(before) = self.baths[task].and_then(|bath| bath.after) {
            at = at.max(self.problem.vessel_free(before, self.next[before], &self.starts, self.calendar));
        }
        let stay = own.place.map(|place| (&self.places[place as usize], self.stay(task), self.problem.room.of(place)));
        let bath = self.baths[task].map(|bath| (&self.vessels, self.bath_stay(bath), self.problem.room.vessels()));
        loop {
            at = self.hands.earliest(at, own.hands_min)?;
            let free_at = stay.iter().chain(&bath).map(|(held, stay, room)| held.earliest(at, *stay, *room)).max();
            match free_at {
                Some(free_at) if free_at > at => at = free_at,
                _ => return Some(at),
            }
        }
    }

    /// How long a bath keeps its vessel, as far as is known: its tasks' times only rise.
    fn bath_stay(&self, bath: Bath) -> Stay<'_> {
        let own = &self.problem.tasks[bath.first];
        let long_min = own.hands_min + if own.holds { own.least_min } else { 0 };
        let last = if bath.last > bath.first { self.starts[bath.last] } else { i64::MIN };
        let holds = self.problem.tasks[bath.last].holds;
        let next = self.next[bath.last].filter(|_| holds).map_or(i64::MIN, |next| self.starts[next]);
        let leaves = if bath.last > bath.first { self.leaves_at_least(bath.last) } else { i64::MIN };
        Stay { long_min, until: last.max(next).max(leaves), takes: 1, days: Some(self.calendar) }
    }

    /// How long a task keeps its place at least, and until when: where the next tasks of its chain stay in it, until they leave it.
    /// Their times only rise, so none of that is too much.
    fn stay(&self, task: usize) -> Stay<'_> {
        let own = &self.problem.tasks[task];
        let long_min = own.hands_min + if own.holds { own.least_min } else { 0 };
        let mut until = i64::MIN;
        let mut last = task;
        while let Some(next) = self.next[last].filter(|_| self.problem.tasks[last].holds) {
            until = until.max(self.starts[next]);
            let other = &self.problem.tasks[next];
            if other.place != own.place || other.takes != own.takes {
                break;
            }
            until = until.max(self.leaves_at_least(next));
            last = next;
        }
        Stay { long_min, until, takes: own.takes, days: None }
    }

    fn occupy(&mut self, task: usize) {
        let own = &self.problem.tasks[task];
        if self.begun[task].is_some() {
            return self.stay_on(task);
        }
        let at = self.starts[task];
        self.hands.take(at, at + own.hands_min);
        if let Some(place) = own.place {
            let leaves = self.problem.leaves(task, self.next[task], &self.starts);
            self.places[place as usize].add(at, leaves, own.takes);
        }
        self.occupy_vessel(task, at);
    }

    /// Takes a vessel from a time on for the bath that a task begins, if it begins one.
    fn occupy_vessel(&mut self, task: usize, from: i64) {
        if let Some(bath) = self.baths[task] {
            let free = self.problem.vessel_free(bath.last, self.next[bath.last], &self.starts, self.calendar);
            self.vessels.add(from, free, 1);
        }
    }

    /// A task under way keeps its place until the next comes.
    fn stay_on(&mut self, task: usize) {
        let (own, from) = (&self.problem.tasks[task], self.leaves_at_least(task));
        let leaves = self.problem.leaves(task, self.next[task], &self.starts);
        if let Some(place) = own.place {
            self.places[place as usize].add(from, leaves, own.takes);
        }
        self.occupy_vessel(task, self.vessel_free_at_least(task));
    }
}

/// Stretches in order, those that overlap as one; empty ones are left out.
fn apart(mut busy: Vec<(i64, i64)>) -> Vec<(i64, i64)> {
    busy.retain(|(from, to)| from < to);
    busy.sort_unstable();
    let mut apart: Vec<(i64, i64)> = Vec::new();
    for (from, to) in busy {
        match apart.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => apart.push((from, to)),
        }
    }
    apart
}
