//! The quick way: chain after chain, each as early as those already placed allow.
//!
//! With the others fixed, every rule has the form "this task begins no earlier than ...", and the bound only grows when another
//! task's does. So going round the rules until nothing moves gives the earliest times of all tasks of the chain at once.

use super::{Problem, WorkCalendar};
use crate::plan::Place;
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
    calendar: &'a WorkCalendar,
    next: Vec<Option<usize>>,
    /// When each task began that did: such a task is not moved, and the wait after it may become too long.
    begun: Vec<Option<i64>>,
    /// Begin of each task; only placed chains' are read.
    starts: Vec<i64>,
    /// When hands are busy, in order and apart.
    hands: Vec<(i64, i64)>,
    /// What each place holds: from, to, room taken.
    places: [Vec<(i64, i64, u32)>; 6],
}

impl<'a> Placed<'a> {
    pub(super) fn new(problem: &'a Problem, calendar: &'a WorkCalendar) -> Self {
        let count = problem.tasks.len();
        let (starts, begun) = (vec![0; count], vec![None; count]);
        Self { problem, calendar, next: problem.next(), begun, starts, hands: Vec::new(), places: Default::default() }
    }

    /// The same with tasks under way: hands and places are theirs as long as they need them at least.
    pub(super) fn resumed(problem: &'a Problem, calendar: &'a WorkCalendar, begun: &[Option<i64>]) -> Self {
        let mut placed = Self { begun: begun.to_vec(), ..Self::new(problem, calendar) };
        for (task, at) in begun.iter().enumerate() {
            let Some(at) = *at else { continue };
            placed.starts[task] = at;
            let own = &problem.tasks[task];
            placed.hands.push((at, at + own.hands_min));
            if let Some(place) = own.place {
                placed.places[place as usize].push((at, placed.leaves_at_least(task), own.takes));
            }
        }
        placed.hands = apart(std::mem::take(&mut placed.hands));
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

    pub(super) fn into_starts(self) -> Vec<i64> {
        self.starts
    }

    /// Places a chain as early as possible from `from` on; false, and nothing placed, if it can't be before the calendar's end.
    pub(super) fn insert(&mut self, chain: Range<usize>, from: i64, most: MostWaits) -> bool {
        self.insert_from(chain, |_| from, most)
    }

    /// The same, each task from a time of its own on.
    pub(super) fn insert_from(&mut self, chain: Range<usize>, from: impl Fn(usize) -> i64, most: MostWaits) -> bool {
        for task in chain.clone() {
            self.starts[task] = self.begun[task].unwrap_or_else(|| from(task));
        }
        loop {
            match self.raise(&chain, most) {
                None => return false,
                Some(true) => {}
                Some(false) => break,
            }
        }
        for task in chain {
            self.occupy(task);
        }
        true
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
        loop {
            at = self.hands_free(at, own.hands_min)?;
            let least = at + own.hands_min + if own.holds { own.least_min } else { 0 };
            let until = self.next[task].filter(|_| own.holds).map_or(least, |next| least.max(self.starts[next]));
            match own.place.and_then(|place| self.full_until(place, at, until, own.takes)) {
                Some(free_at) => at = free_at,
                None => return Some(at),
            }
        }
    }

    /// The earliest time from `at` on at which hands are free for so long within working hours.
    fn hands_free(&self, mut at: i64, work_min: i64) -> Option<i64> {
        if work_min == 0 {
            return self.calendar.fit(at, 0);
        }
        loop {
            at = self.calendar.fit(at, work_min)?;
            let first = self.hands.partition_point(|busy| busy.1 <= at);
            match self.hands.get(first) {
                Some(busy) if busy.0 < at + work_min => at = busy.1,
                _ => return Some(at),
            }
        }
    }

    /// If a place has no room for `takes` at some time from `at` to `until`: a time before which a stay can't begin.
    fn full_until(&self, place: Place, at: i64, until: i64, takes: u32) -> Option<i64> {
        let room = self.problem.room.of(place);
        let held = &self.places[place as usize];
        let moments = std::iter::once(at).chain(held.iter().map(|stay| stay.0).filter(|&t| t > at && t < until));
        let full = |&moment: &i64| {
            let present = || held.iter().filter(|stay| stay.0 <= moment && moment < stay.1);
            let taken: u64 = present().map(|stay| u64::from(stay.2)).sum();
            // Until the first of those present leaves, it stays full.
            if taken + u64::from(takes) > u64::from(room) { present().map(|stay| stay.1).min() } else { None }
        };
        moments.filter_map(|moment| full(&moment)).max()
    }

    fn occupy(&mut self, task: usize) {
        let own = &self.problem.tasks[task];
        if self.begun[task].is_some() {
            return self.stay_on(task);
        }
        let at = self.starts[task];
        if own.hands_min > 0 {
            let index = self.hands.partition_point(|busy| busy.0 < at);
            self.hands.insert(index, (at, at + own.hands_min));
        }
        if let Some(place) = own.place {
            let leaves = self.problem.leaves(task, self.next[task], &self.starts);
            if leaves > at {
                self.places[place as usize].push((at, leaves, own.takes));
            }
        }
    }

    /// A task under way keeps its place until the next comes.
    fn stay_on(&mut self, task: usize) {
        let (own, from) = (&self.problem.tasks[task], self.leaves_at_least(task));
        let leaves = self.problem.leaves(task, self.next[task], &self.starts);
        if let Some(place) = own.place.filter(|_| leaves > from) {
            self.places[place as usize].push((from, leaves, own.takes));
        }
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
