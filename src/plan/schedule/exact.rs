//! The thorough way for small orders: branch and bound over who goes first.
//!
//! Where two tasks want the same hands, or more want a place than it has room for, one of them has to wait for another. Each such
//! order is one more rule of the form "begins no earlier than"; with a set of them chosen, going round all rules until nothing
//! moves gives the earliest times of all tasks at once, so the finish is the least that the set allows. (The set of tasks that overfill
//! a place always holds two that do not overlap in any allowed answer: intervals that all meet in pairs meet in one point. That
//! branching is complete: Igelmund & Radermacher 1983, from memory.)

use super::{Bath, Problem, WorkCalendar};

/// Which of two goes first, and in what.
#[derive(Debug, Clone, Copy)]
enum Before {
    Hands(usize, usize),
    Place(usize, usize),
    /// Two baths, by the first one's last task and the second one's first.
    Vessel(usize, usize),
}

/// Most sets of orders looked at.
const MOST_STATES: u32 = 6000;

/// Looks for an answer that finishes before `best_finish`. The flag says whether the search was complete: then the answer, or if there
/// is none the one already known, is the optimum.
pub(super) fn improve(problem: &Problem, calendar: &WorkCalendar, from: i64, best_finish: i64) -> (Option<Vec<i64>>, bool) {
    let (next, baths) = (problem.next(), problem.baths());
    let mut search = Search { problem, calendar, next, baths, best: None, best_finish, states: 0 };
    search.go(&mut Vec::new(), vec![from; problem.tasks.len()]);
    (search.best, search.states < MOST_STATES)
}

struct Search<'a> {
    problem: &'a Problem,
    calendar: &'a WorkCalendar,
    next: Vec<Option<usize>>,
    baths: Vec<Bath>,
    best: Option<Vec<i64>>,
    best_finish: i64,
    states: u32,
}

impl Search<'_> {
    fn go(&mut self, orders: &mut Vec<Before>, starts: Vec<i64>) {
        self.states += 1;
        if self.states >= MOST_STATES {
            return;
        }
        let Some(starts) = self.settle(orders, starts) else { return };
        let choices = self.choices(&starts);
        if choices.is_empty() {
            self.best_finish = self.problem.finish(&starts);
            self.best = Some(starts);
            return;
        }
        // The order that costs least first: it makes the bound sharp early.
        let mut children: Vec<(i64, i64, Before, Vec<i64>)> = Vec::new();
        for choice in choices {
            orders.push(choice);
            if let Some(settled) = self.settle(orders, starts.clone()) {
                children.push((self.problem.finish(&settled), settled.iter().sum(), choice, settled));
            }
            orders.pop();
        }
        children.sort_by_key(|child| (child.0, child.1));
        for (finish, _, choice, settled) in children {
            if finish < self.best_finish {
                orders.push(choice);
                self.go(orders, settled);
                orders.pop();
            }
        }
    }

    /// Goes round the rules until nothing moves; none if that is no better than the best or beyond the calendar's end.
    fn settle(&self, orders: &[Before], mut starts: Vec<i64>) -> Option<Vec<i64>> {
        loop {
            let before: i64 = starts.iter().sum();
            for task in 0..starts.len() {
                self.raise_for(task, &mut starts);
                starts[task] = self.calendar.fit(starts[task], self.problem.tasks[task].hands_min)?;
            }
            for bath in &self.baths {
                if let Some(before) = bath.after {
                    starts[bath.first] = starts[bath.first].max(self.vessel_free(before, &starts));
                }
            }
            for order in orders {
                let (first, second, at) = match *order {
                    Before::Hands(a, b) => (a, b, self.problem.hands_end(a, &starts)),
                    Before::Place(a, b) => (a, b, self.problem.leaves(a, self.next[a], &starts)),
                    Before::Vessel(a, b) => (a, b, self.vessel_free(a, &starts)),
                };
                debug_assert!(first != second, "a task does not wait for itself");
                starts[second] = starts[second].max(at);
            }
            if self.problem.finish(&starts) >= self.best_finish {
                return None;
            }
            if starts.iter().sum::<i64>() == before {
                return Some(starts);
            }
        }
    }

    fn vessel_free(&self, last: usize, starts: &[i64]) -> i64 {
        self.problem.vessel_free(last, self.next[last], starts, self.calendar)
    }

    /// The rules of a task's own chain: least wait forward, most wait back; and of the tasks it names.
    fn raise_for(&self, task: usize, starts: &mut [i64]) {
        let own = &self.problem.tasks[task];
        for &earlier in &own.after {
            starts[task] = starts[task].max(self.problem.ready(earlier, starts));
        }
        if let Some(next) = self.next[task] {
            starts[next] = starts[next].max(self.problem.ready(task, starts));
            if let Some(most_min) = own.most_min {
                starts[task] = starts[task].max(starts[next] - most_min - own.hands_min);
            }
        }
    }

    /// The ways to settle the earliest clash; none if there is none.
    fn choices(&self, starts: &[i64]) -> Vec<Before> {
        let clash = [self.hands_clash(starts), self.place_clash(starts), self.vessel_clash(starts)];
        clash.into_iter().flatten().min_by_key(|clash| clash.0).map_or_else(Vec::new, |clash| clash.1)
    }

    fn hands_clash(&self, starts: &[i64]) -> Option<(i64, Vec<Before>)> {
        let mut busy: Vec<usize> = (0..starts.len()).filter(|&task| self.problem.tasks[task].hands_min > 0).collect();
        busy.sort_by_key(|&task| (starts[task], task));
        let pair = busy.windows(2).find(|pair| self.problem.hands_end(pair[0], starts) > starts[pair[1]])?;
        Some((starts[pair[1]], vec![Before::Hands(pair[0], pair[1]), Before::Hands(pair[1], pair[0])]))
    }

    fn place_clash(&self, starts: &[i64]) -> Option<(i64, Vec<Before>)> {
        let stay = |task: usize| (starts[task], self.problem.leaves(task, self.next[task], starts));
        let mut all: Vec<usize> = (0..starts.len()).filter(|&task| stay(task).1 > stay(task).0).collect();
        all.sort_by_key(|&task| (starts[task], task));
        for &task in &all {
            let Some(place) = self.problem.tasks[task].place else { continue };
            let at = starts[task];
            let present: Vec<usize> = all
                .iter()
                .copied()
                .filter(|&other| self.problem.tasks[other].place == Some(place) && stay(other).0 <= at && at < stay(other).1)
                .collect();
            let taken: u64 = present.iter().map(|&other| u64::from(self.problem.tasks[other].takes)).sum();
            if taken > u64::from(self.problem.room.of(place)) {
                let pairs =
                    present.iter().flat_map(|&a| present.iter().filter(move |&&b| a != b).map(move |&b| Before::Place(a, b)));
                return Some((at, pairs.collect()));
            }
        }
        None
    }

    fn vessel_clash(&self, starts: &[i64]) -> Option<(i64, Vec<Before>)> {
        let mut baths = self.baths.clone();
        baths.sort_by_key(|bath| (starts[bath.first], bath.first));
        let is_there = |bath: &&Bath, at: i64| starts[bath.first] <= at && at < self.vessel_free(bath.last, starts);
        baths.iter().find_map(|bath| {
            let at = starts[bath.first];
            let present: Vec<&Bath> = baths.iter().filter(|other| is_there(other, at)).collect();
            let is_full = u32::try_from(present.len()).is_ok_and(|present| present > self.problem.room.vessels());
            let others = |a: &Bath| present.iter().filter(|b| b.first != a.first).map(|b| b.first).collect::<Vec<_>>();
            let pairs = present.iter().flat_map(|a| others(a).into_iter().map(|b| Before::Vessel(a.last, b)));
            is_full.then(|| (at, pairs.collect()))
        })
    }
}
