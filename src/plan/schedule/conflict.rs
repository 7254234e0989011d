//! What is wrong with a timetable, whoever made it.

use super::{Bath, Problem, WorkCalendar};
use crate::plan::Place;
use serde::Serialize;

/// Something that can't be, or should not. Tasks by index, times in minutes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[non_exhaustive]
pub enum Conflict {
    /// One pair of hands, two tasks.
    HandsTwice {
        /// The task under way.
        first: usize,
        /// The task that begins meanwhile.
        second: usize,
    },
    /// A place holds more than it has room for when a task begins.
    PlaceFull {
        /// The place.
        place: Place,
        /// The task that begins.
        task: usize,
        /// What would be in it.
        taken: u32,
        /// Its room.
        room: u32,
    },
    /// More baths than there are vessels when one begins.
    VesselTaken {
        /// The task that begins its bath.
        task: usize,
        /// How many baths there would be.
        baths: u32,
        /// How many vessels there are.
        vessels: u32,
    },
    /// The next step begins before the least wait is over.
    WaitTooShort {
        /// The task that is to wait.
        task: usize,
        /// How long it waits.
        waits_min: i64,
        /// How long it has to.
        least_min: i64,
    },
    /// The next step begins after the most wait is over.
    WaitTooLong {
        /// The task that waits.
        task: usize,
        /// How long it waits.
        waits_min: i64,
        /// How long it may.
        most_min: i64,
    },
    /// Hands-on work outside working hours.
    OutsideHours {
        /// The task.
        task: usize,
    },
    /// Everything is over after the deadline.
    Late {
        /// By how much.
        by_min: i64,
    },
}

/// Everything wrong with a timetable, in the order of the tasks.
#[must_use]
pub fn conflicts(problem: &Problem, calendar: &WorkCalendar, starts: &[i64], deadline: Option<i64>) -> Vec<Conflict> {
    let next = problem.next();
    let taken = Taken::of(problem, &next, starts);
    let mut found = Vec::new();
    for (task, own) in problem.tasks.iter().enumerate() {
        waits(problem, task, next[task], starts, &mut found);
        if !calendar.holds(starts[task], own.hands_min) {
            found.push(Conflict::OutsideHours { task });
        }
        if let Some(place) = own.place {
            let room = problem.room.of(place);
            let in_it = taken.at(place, starts[task]);
            if in_it > room && problem.leaves(task, next[task], starts) > starts[task] {
                found.push(Conflict::PlaceFull { place, task, taken: in_it, room });
            }
        }
    }
    found.extend(vessels_taken(problem, &next, calendar, starts));
    found.extend(hands_twice(problem, starts));
    if let Some(deadline) = deadline {
        let by_min = problem.finish(starts) - deadline;
        if by_min > 0 {
            found.push(Conflict::Late { by_min });
        }
    }
    found
}

fn waits(problem: &Problem, task: usize, next: Option<usize>, starts: &[i64], found: &mut Vec<Conflict>) {
    let own = &problem.tasks[task];
    let mut short = |earlier: usize, later: usize| {
        let waits_min = starts[later] - problem.hands_end(earlier, starts);
        let least_min = problem.tasks[earlier].least_min;
        if waits_min < least_min {
            found.push(Conflict::WaitTooShort { task: earlier, waits_min, least_min });
        }
        waits_min
    };
    for &earlier in &own.after {
        short(earlier, task);
    }
    if let Some(next) = next {
        let waits_min = short(task, next);
        if let Some(most_min) = own.most_min
            && waits_min > most_min
        {
            found.push(Conflict::WaitTooLong { task, waits_min, most_min });
        }
    }
}

/// The baths that begin while others are in all vessels.
fn vessels_taken(problem: &Problem, next: &[Option<usize>], calendar: &WorkCalendar, starts: &[i64]) -> Vec<Conflict> {
    let baths = problem.baths();
    let mut came: Sums = Vec::new();
    let mut left: Sums = Vec::new();
    for bath in &baths {
        came.push((starts[bath.first], 1));
        left.push((problem.vessel_free(bath.last, next[bath.last], starts, calendar), 1));
    }
    [&mut came, &mut left].into_iter().for_each(|times| add_up(times));
    let vessels = problem.room.vessels();
    let conflict = |bath: &Bath| {
        let there = by_then(&came, starts[bath.first]).saturating_sub(by_then(&left, starts[bath.first]));
        let baths = u32::try_from(there).unwrap_or(u32::MAX);
        (baths > vessels).then_some(Conflict::VesselTaken { task: bath.first, baths, vessels })
    };
    baths.iter().filter_map(conflict).collect()
}

/// Times in order, each with the sum by then.
type Sums = Vec<(i64, u64)>;

/// What each place holds, as what has come into it and what has left it.
struct Taken {
    /// By place: times in order, each with all that has come or left by then.
    came: [Sums; 6],
    left: [Sums; 6],
}

impl Taken {
    fn of(problem: &Problem, next: &[Option<usize>], starts: &[i64]) -> Self {
        let mut came: [Sums; 6] = Default::default();
        let mut left: [Sums; 6] = Default::default();
        for (task, own) in problem.tasks.iter().enumerate() {
            let leaves = problem.leaves(task, next[task], starts);
            if let Some(place) = own.place.filter(|_| leaves > starts[task]) {
                came[place as usize].push((starts[task], u64::from(own.takes)));
                left[place as usize].push((leaves, u64::from(own.takes)));
            }
        }
        came.iter_mut().chain(&mut left).for_each(|times| add_up(times));
        Self { came, left }
    }

    /// What is in a place at a time.
    fn at(&self, place: Place, at: i64) -> u32 {
        let taken = by_then(&self.came[place as usize], at) - by_then(&self.left[place as usize], at);
        u32::try_from(taken).unwrap_or(u32::MAX)
    }
}

/// The sum by a time.
fn by_then(times: &[(i64, u64)], at: i64) -> u64 {
    times[..times.partition_point(|time| time.0 <= at)].last().map_or(0, |time| time.1)
}

/// Amounts at times as their sums by then.
fn add_up(times: &mut [(i64, u64)]) {
    times.sort_unstable();
    let mut sum = 0;
    for time in times {
        sum += time.1;
        time.1 = sum;
    }
}

fn hands_twice(problem: &Problem, starts: &[i64]) -> Vec<Conflict> {
    let mut busy: Vec<usize> = (0..starts.len()).filter(|&task| problem.tasks[task].hands_min > 0).collect();
    busy.sort_by_key(|&task| (starts[task], task));
    let mut found = Vec::new();
    let mut last: Option<usize> = None;
    for task in busy {
        if let Some(first) = last.filter(|&first| problem.hands_end(first, starts) > starts[task]) {
            found.push(Conflict::HandsTwice { first, second: task });
        }
        if last.is_none_or(|first| problem.hands_end(first, starts) < problem.hands_end(task, starts)) {
            last = Some(task);
        }
    }
    found
}
