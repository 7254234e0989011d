//! What is wrong with a timetable, whoever made it.

use super::{Problem, WorkCalendar};
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
    let mut found = Vec::new();
    for (task, own) in problem.tasks.iter().enumerate() {
        waits(problem, task, next[task], starts, &mut found);
        if !calendar.holds(starts[task], own.hands_min) {
            found.push(Conflict::OutsideHours { task });
        }
        if let Some(place) = own.place {
            found.extend(place_full(problem, &next, task, place, starts));
        }
    }
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

fn place_full(problem: &Problem, next: &[Option<usize>], task: usize, place: Place, starts: &[i64]) -> Option<Conflict> {
    let at = starts[task];
    let present = |&other: &usize| {
        problem.tasks[other].place == Some(place) && starts[other] <= at && at < problem.leaves(other, next[other], starts)
    };
    if !present(&task) {
        return None;
    }
    let taken = (0..starts.len()).filter(present).map(|other| problem.tasks[other].takes).fold(0, u32::saturating_add);
    let room = problem.room.of(place);
    (taken > room).then_some(Conflict::PlaceFull { place, task, taken, room })
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
