//! Timetables: forward from a start, backward from a deadline.

use super::insert::{MostWaits, Placed};
use super::{Problem, WorkCalendar, exact};
use std::ops::Range;

/// A timetable.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Solution {
    /// When each task begins, in minutes of the calendar.
    pub starts: Vec<i64>,
    /// Whether no timetable from the same start finishes earlier. False means only that this is not shown.
    pub optimal: bool,
}

/// Orders up to this many tasks are searched through.
const EXACT_TASKS: usize = 30;
/// Most exchanges of two neighbouring chains that are tried for larger ones.
const MOST_EXCHANGES: usize = 40;

/// The timetable from `from` on that finishes earliest.
///
/// Chains are placed one after another, each as early as the earlier ones allow; neighbours in that sequence are exchanged while it
/// helps. That is optimal where its finish meets a lower bound: the longest chain alone, or all hands-on time without a gap. Else, up to
/// 30 tasks, a branch and bound proves or betters it. Always the same answer to the same question.
///
/// Where a chain's most waits can't be kept within working hours, they are ignored for that chain:
/// [`conflicts`](super::conflicts()) then names them. None if the calendar is too short.
#[must_use]
pub fn solve_forward(problem: &Problem, calendar: &WorkCalendar, from: i64) -> Option<Solution> {
    let chains: Vec<Range<usize>> = problem.ranges().collect();
    let mut sequence: Vec<usize> = (0..chains.len()).collect();
    let mut starts = in_sequence(problem, calendar, from, &chains, &sequence)?;
    let bound = lower_bound(problem, calendar, from, &chains);
    let mut finish = problem.finish(&starts);
    let exchanges = sequence.len().saturating_sub(1).min(MOST_EXCHANGES);
    for at in 0..exchanges {
        if finish <= bound {
            break;
        }
        // Chains that others name stay before them.
        if is_named(problem, &chains[sequence[at]]) || is_named(problem, &chains[sequence[at + 1]]) {
            continue;
        }
        sequence.swap(at, at + 1);
        match in_sequence(problem, calendar, from, &chains, &sequence) {
            Some(other) if problem.finish(&other) < finish => {
                finish = problem.finish(&other);
                starts = other;
            }
            _ => sequence.swap(at, at + 1),
        }
    }
    let keeps_waits = || problem.next().iter().enumerate().all(|(task, next)| keeps_most(problem, task, *next, &starts));
    let mut optimal = finish <= bound && keeps_waits();
    if !optimal && problem.tasks.len() <= EXACT_TASKS && keeps_waits() {
        let (better, complete) = exact::improve(problem, calendar, from, finish);
        optimal = complete;
        starts = better.unwrap_or(starts);
    }
    Some(Solution { starts, optimal })
}

/// The timetable that begins as late as possible and is over by `deadline`, as far as the quick way finds one: its start is searched to
/// the quarter of an hour. None if it would begin before the calendar does.
#[must_use]
pub fn solve_backward(problem: &Problem, calendar: &WorkCalendar, deadline: i64) -> Option<Solution> {
    let chains: Vec<Range<usize>> = problem.ranges().collect();
    let sequence: Vec<usize> = (0..chains.len()).collect();
    let finish = |from: i64| Some(problem.finish(&in_sequence(problem, calendar, from, &chains, &sequence)?));
    let (mut late, mut from) = (deadline, deadline);
    loop {
        if from < 0 {
            return None;
        }
        // Beyond the calendar's end counts as a day over.
        let over = finish(from).map_or(MINUTES_A_DAY, |finish| finish - deadline);
        if over <= 0 {
            break;
        }
        late = from;
        from = if from < over && from > 0 { 0 } else { from - over };
    }
    while late - from > GRID_MIN {
        let middle = from + (late - from) / 2;
        if finish(middle).is_some_and(|finish| finish <= deadline) { from = middle } else { late = middle }
    }
    solve_forward(problem, calendar, from)
}

const MINUTES_A_DAY: i64 = 1440;
/// How finely a start is searched, min.
const GRID_MIN: i64 = 15;

fn in_sequence(
    problem: &Problem,
    calendar: &WorkCalendar,
    from: i64,
    chains: &[Range<usize>],
    sequence: &[usize],
) -> Option<Vec<i64>> {
    let mut placed = Placed::new(problem, calendar);
    for &chain in sequence {
        let tasks = || chains[chain].clone();
        if !placed.insert(tasks(), from, MostWaits::Kept) && !placed.insert(tasks(), from, MostWaits::Ignored) {
            return None;
        }
    }
    Some(placed.into_starts())
}

/// No timetable finishes before the longest chain does alone, nor before hands have done everything.
fn lower_bound(problem: &Problem, calendar: &WorkCalendar, from: i64, chains: &[Range<usize>]) -> i64 {
    let alone = |chain: &Range<usize>| {
        let mut placed = Placed::new(problem, calendar);
        let fits = placed.insert(chain.clone(), from, MostWaits::Kept);
        let starts = placed.into_starts();
        if fits { chain.clone().map(|task| problem.ready(task, &starts)).max().unwrap_or(0) } else { 0 }
    };
    let longest = chains.iter().map(alone).max().unwrap_or(0);
    longest.max(calendar.worked_by(from, problem.hands_min()).unwrap_or(0))
}

fn is_named(problem: &Problem, chain: &Range<usize>) -> bool {
    problem.tasks.iter().any(|task| task.after.iter().any(|earlier| chain.contains(earlier)))
}

fn keeps_most(problem: &Problem, task: usize, next: Option<usize>, starts: &[i64]) -> bool {
    match (next, problem.tasks[task].most_min) {
        (Some(next), Some(most_min)) => starts[next] - problem.hands_end(task, starts) <= most_min,
        _ => true,
    }
}
