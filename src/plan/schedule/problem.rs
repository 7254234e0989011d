//! The bare question: tasks in chains, lengths and waits in minutes, places with room for so much.

use crate::plan::Place;

/// Room in each place. The line is never full.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Capacities {
    /// By [`Place`], in the order of [`Place::ALL`].
    of: [u32; 6],
}

impl Capacities {
    /// Tubs, sinks, washers, tables and rods on the rack.
    #[must_use]
    pub const fn new(tubs: u32, sinks: u32, washers: u32, tables: u32, rack_rods: u32) -> Self {
        Self { of: [tubs, sinks, washers, tables, rack_rods, u32::MAX] }
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
