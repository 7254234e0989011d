//! The bare question: tasks in chains, lengths and waits in minutes, places with room for so much, vessels that a bath stays in.

use super::WorkCalendar;
use crate::plan::Place;

/// Room in each place, and vessels for the bath that stays where it is to the next day. The line is never full.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Capacities {
    /// By [`Place`], in the order of [`Place::ALL`].
    of: [u32; 6],
    vessels: u32,
}

impl Capacities {
    /// Tubs, sinks, washers, tables and rods on the rack; one vessel.
    #[must_use]
    pub const fn new(tubs: u32, sinks: u32, washers: u32, tables: u32, rack_rods: u32) -> Self {
        Self { of: [tubs, sinks, washers, tables, rack_rods, u32::MAX], vessels: 1 }
    }

    /// The same with so many vessels.
    #[must_use]
    pub const fn with_vessels(self, vessels: u32) -> Self {
        Self { vessels, ..self }
    }

    /// Vessels: each takes one load's bath at a time.
    #[must_use]
    pub const fn vessels(&self) -> u32 {
        self.vessels
    }

    /// Room in a place.
    #[must_use]
    pub const fn of(&self, place: Place) -> u32 {
        self.of[place as usize]
    }
}

/// A task: hands-on work without a break, then a wait.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Task {
    /// Hands-on time, min, 0 or more.
    pub hands_min: i64,
    /// Least wait before the next task of its chain, and before tasks that name it, min.
    pub least_min: i64,
    /// Most wait before the next task of its chain, min.
    pub most_min: Option<i64>,
    /// Whether it keeps its place until the next task of its chain begins; else until its hands-on time is over.
    pub holds: bool,
    /// Its place.
    pub place: Option<Place>,
    /// Room that it takes there.
    pub takes: u32,
    /// Whether it is done in a vessel too. Such tasks that follow each other are one bath: it is in its vessel from the first one's begin,
    /// and spent stays there to the next day.
    pub vessel: bool,
    /// Tasks of other chains that have to be over, by index.
    pub after: Vec<usize>,
}

/// Tasks in chains: each follows the one before it in its chain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// The tasks, chain after chain.
    pub tasks: Vec<Task>,
    /// Number of tasks of each chain. Chains that others' `after` names come first.
    pub chains: Vec<usize>,
    /// Room in the places.
    pub room: Capacities,
}

impl Problem {
    /// The tasks of each chain as ranges of indices.
    pub fn ranges(&self) -> impl Iterator<Item = std::ops::Range<usize>> + '_ {
        self.chains.iter().scan(0, |at, &count| {
            let range = *at..*at + count;
            *at += count;
            Some(range)
        })
    }

    /// For each task, the next of its chain.
    #[must_use]
    pub fn next(&self) -> Vec<Option<usize>> {
        let mut next = vec![None; self.tasks.len()];
        for range in self.ranges() {
            for (index, slot) in next.iter_mut().enumerate().take(range.end.saturating_sub(1)).skip(range.start) {
                *slot = Some(index + 1);
            }
        }
        next
    }

    /// When a task's hands-on time is over.
    #[must_use]
    pub fn hands_end(&self, task: usize, starts: &[i64]) -> i64 {
        starts[task] + self.tasks[task].hands_min
    }

    /// When a task's least wait is over.
    #[must_use]
    pub fn ready(&self, task: usize, starts: &[i64]) -> i64 {
        self.hands_end(task, starts) + self.tasks[task].least_min
    }

    /// When a task leaves its place.
    #[must_use]
    pub fn leaves(&self, task: usize, next: Option<usize>, starts: &[i64]) -> i64 {
        match (self.tasks[task].holds, next) {
            (true, Some(next)) => self.ready(task, starts).max(starts[next]),
            (true, None) => self.ready(task, starts),
            (false, _) => self.hands_end(task, starts),
        }
    }

    /// The baths in vessels: the first and last task of each, in the order of the tasks.
    pub(super) fn baths(&self) -> Vec<Bath> {
        let in_chain = |chain: std::ops::Range<usize>| {
            let mut baths: Vec<Bath> = Vec::new();
            for task in chain.filter(|&task| self.tasks[task].vessel) {
                match baths.last_mut() {
                    Some(bath) if bath.last + 1 == task => bath.last = task,
                    _ => baths.push(Bath { first: task, last: task, after: baths.last().map(|bath| bath.last) }),
                }
            }
            baths
        };
        self.ranges().flat_map(in_chain).collect()
    }

    /// When a vessel is free again of a bath whose last task this is: on the day after that leaves it.
    pub(super) fn vessel_free(&self, last: usize, next: Option<usize>, starts: &[i64], calendar: &WorkCalendar) -> i64 {
        calendar.next_day(self.leaves(last, next, starts))
    }

    /// When everything is over.
    #[must_use]
    pub fn finish(&self, starts: &[i64]) -> i64 {
        (0..self.tasks.len()).map(|task| self.ready(task, starts)).max().unwrap_or(0)
    }

    /// All hands-on time, min.
    #[must_use]
    pub fn hands_min(&self) -> i64 {
        self.tasks.iter().map(|task| task.hands_min).sum()
    }
}

/// A bath in a vessel: tasks of one chain that follow each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Bath {
    /// Its first task.
    pub(super) first: usize,
    /// Its last task.
    pub(super) last: usize,
    /// The last task of the bath before it in its chain: its vessel is free only after that.
    pub(super) after: Option<usize>,
}
