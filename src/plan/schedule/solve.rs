//! Timetables: forward from a start, backward from a deadline.

use super::insert::{MostWaits, Placed};
use super::{Problem, Task, WorkCalendar, exact};
use std::cell::Cell;
use std::collections::BTreeMap;
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

/// Told what share of the work is done, 0 to 1, as an estimate that never falls; false to stop it.
pub type GoOn<'a> = &'a dyn Fn(f64) -> bool;

/// The timetable from `from` on that finishes earliest.
///
/// Chains are placed one after another, each as early as the earlier ones allow; neighbours in that sequence are exchanged while it
/// helps. That is optimal where its finish meets a lower bound: the longest chain alone, or all hands-on time without a gap. Else, up to
/// 30 tasks, a branch and bound proves or betters it. Always the same answer to the same question.
///
/// Where a chain's most waits can't be kept within working hours, they are ignored for that chain:
/// [`conflicts`](super::conflicts()) then names them. None if the calendar is too short, or when stopped.
#[must_use]
pub fn solve_forward(problem: &Problem, calendar: &WorkCalendar, from: i64, go_on: GoOn<'_>) -> Option<Solution> {
    Question::of(problem, calendar).forward(from, &Passes::new(go_on, MOST_EXCHANGES + 1))
}

/// The timetable that begins as late as possible and is over by `deadline`, as far as the quick way finds one: its start is searched to
/// the quarter of an hour. None if it would begin before the calendar does, or when stopped.
#[must_use]
pub fn solve_backward(problem: &Problem, calendar: &WorkCalendar, deadline: i64, go_on: GoOn<'_>) -> Option<Solution> {
    let question = Question::of(problem, calendar);
    let passes = Passes::new(go_on, USUAL_TRIALS + MOST_EXCHANGES + 1);
    let from = question.latest_start(deadline, &passes)?;
    question.forward(from, &passes)
}

const MINUTES_A_DAY: i64 = 1440;
/// How finely a start is searched, min.
const GRID_MIN: i64 = 15;
/// Starts that are tried for a deadline, as far as progress is estimated.
const USUAL_TRIALS: usize = 20;

/// How often all chains are placed anew, and how far that is.
struct Passes<'a> {
    go_on: GoOn<'a>,
    most: usize,
    done: Cell<usize>,
    /// The greatest share told; none once it was stopped.
    told: Cell<Option<f64>>,
}

impl<'a> Passes<'a> {
    fn new(go_on: GoOn<'a>, most: usize) -> Self {
        Self { go_on, most, done: Cell::new(0), told: Cell::new(Some(0.0)) }
    }

    /// Tells what share of the present pass is done; none to stop.
    fn reach(&self, share: f64) -> Option<()> {
        let done = ((self.done.get() as f64 + share) / self.most as f64).min(1.0).max(self.told.get()?);
        self.told.set((self.go_on)(done).then_some(done));
        self.told.get().map(drop)
    }

    fn close(&self) {
        self.done.set(self.done.get() + 1);
    }
}

/// A problem with what is asked of it again and again.
struct Question<'a> {
    problem: &'a Problem,
    calendar: &'a WorkCalendar,
    chains: Vec<Range<usize>>,
    /// For each chain a number that those with equal tasks share.
    kinds: Vec<usize>,
}

impl<'a> Question<'a> {
    fn of(problem: &'a Problem, calendar: &'a WorkCalendar) -> Self {
        let chains: Vec<Range<usize>> = problem.ranges().collect();
        let mut known: BTreeMap<&[Task], usize> = BTreeMap::new();
        let kinds = chains.iter().enumerate().map(|(index, chain)| *known.entry(&problem.tasks[chain.clone()]).or_insert(index));
        Self { problem, calendar, kinds: kinds.collect(), chains }
    }

    fn forward(&self, from: i64, passes: &Passes<'_>) -> Option<Solution> {
        let problem = self.problem;
        let mut sequence: Vec<usize> = (0..self.chains.len()).collect();
        let mut starts = self.in_sequence(from, &sequence, passes)?;
        let bound = self.lower_bound(from);
        let mut finish = problem.finish(&starts);
        let named = self.named();
        let exchanges = sequence.len().saturating_sub(1).min(MOST_EXCHANGES);
        for at in 0..exchanges {
            if finish <= bound {
                break;
            }
            let (one, other) = (sequence[at], sequence[at + 1]);
            // Chains that others name stay before them; and nothing comes of exchanging what is alike.
            if named[one] || named[other] || self.kinds[one] == self.kinds[other] {
                continue;
            }
            sequence.swap(at, at + 1);
            match self.in_sequence(from, &sequence, passes) {
                Some(other) if problem.finish(&other) < finish => {
                    finish = problem.finish(&other);
                    starts = other;
                }
                _ => sequence.swap(at, at + 1),
            }
            passes.reach(0.0)?;
        }
        let next = problem.next();
        let keeps_waits = next.iter().enumerate().all(|(task, next)| keeps_most(problem, task, *next, &starts));
        let mut optimal = finish <= bound && keeps_waits;
        if !optimal && problem.tasks.len() <= EXACT_TASKS && keeps_waits {
            let (better, complete) = exact::improve(problem, self.calendar, from, finish);
            optimal = complete;
            starts = better.unwrap_or(starts);
        }
        Some(Solution { starts, optimal })
    }

    /// The latest start with which everything in sequence is over by the deadline.
    fn latest_start(&self, deadline: i64, passes: &Passes<'_>) -> Option<i64> {
        let sequence: Vec<usize> = (0..self.chains.len()).collect();
        let finish = |from: i64| Some(self.problem.finish(&self.in_sequence(from, &sequence, passes)?));
        let (mut late, mut from) = (deadline, deadline);
        loop {
            if from < 0 {
                return None;
            }
            // Beyond the calendar's end counts as a day over.
            let over = finish(from).map_or(MINUTES_A_DAY, |finish| finish - deadline);
            passes.reach(0.0)?;
            if over <= 0 {
                break;
            }
            late = from;
            from = if from < over && from > 0 { 0 } else { from - over };
        }
        while late - from > GRID_MIN {
            let middle = from + (late - from) / 2;
            if finish(middle).is_some_and(|finish| finish <= deadline) {
                from = middle;
            } else {
                late = middle;
            }
            passes.reach(0.0)?;
        }
        Some(from)
    }

    fn in_sequence(&self, from: i64, sequence: &[usize], passes: &Passes<'_>) -> Option<Vec<i64>> {
        let mut placed = Placed::new(self.problem, self.calendar);
        // The last chain placed of each kind, and whether its most waits were kept.
        let mut last: Vec<Option<(usize, MostWaits)>> = vec![None; self.chains.len()];
        for (turn, &chain) in sequence.iter().enumerate() {
            passes.reach(turn as f64 / sequence.len() as f64)?;
            let before = last[self.kinds[chain]];
            let alike = |most| before.filter(|before| before.1 == most).map(|(before, _)| self.chains[before].clone());
            // What one could not keep, none placed after it can.
            let first = before.map_or(MostWaits::Kept, |(_, most)| most);
            let mut tries = [first, MostWaits::Ignored].into_iter();
            let most = tries.find(|&most| placed.insert(self.chains[chain].clone(), from, alike(most), most))?;
            last[self.kinds[chain]] = Some((chain, most));
        }
        passes.close();
        Some(placed.into_starts())
    }

    /// No timetable finishes before the longest chain does alone, nor before hands have done everything.
    fn lower_bound(&self, from: i64) -> i64 {
        let mut empty = Placed::new(self.problem, self.calendar);
        let mut longest = 0;
        // One of each kind: the others take as long.
        for (_, chain) in self.chains.iter().enumerate().filter(|&(index, _)| self.kinds[index] == index) {
            longest = longest.max(empty.finish_of(chain.clone(), from, MostWaits::Kept).unwrap_or(0));
        }
        longest.max(self.calendar.worked_by(from, self.problem.hands_min()).unwrap_or(0))
    }

    /// For each chain, whether tasks of others wait for one of its tasks.
    fn named(&self) -> Vec<bool> {
        let mut is_named = vec![false; self.problem.tasks.len()];
        for &earlier in self.problem.tasks.iter().flat_map(|task| &task.after) {
            is_named[earlier] = true;
        }
        self.chains.iter().map(|chain| is_named[chain.clone()].contains(&true)).collect()
    }
}

fn keeps_most(problem: &Problem, task: usize, next: Option<usize>, starts: &[i64]) -> bool {
    match (next, problem.tasks[task].most_min) {
        (Some(next), Some(most_min)) => starts[next] - problem.hands_end(task, starts) <= most_min,
        _ => true,
    }
}
