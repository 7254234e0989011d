//! When hands are free: the stretches of working hours that nothing has taken yet, found by their length.

use super::WorkCalendar;

/// Most stretches in a run of them; a longer one is cut in two. What is looked through at once is short, and so is the list of runs.
const MOST_IN_RUN: usize = 128;

/// Free stretches in order and apart, in runs that know their longest.
#[derive(Debug, Clone)]
pub(super) struct FreeHands<'a> {
    calendar: &'a WorkCalendar,
    runs: Vec<Vec<(i64, i64)>>,
    /// The longest stretch of each run, min.
    longest_min: Vec<i64>,
    /// When hands are busy, in order and apart; kept only where work has to run over working hours.
    busy: Option<Vec<(i64, i64)>>,
}

fn longest_min(run: &[(i64, i64)]) -> i64 {
    run.iter().map(|(from, to)| to - from).max().unwrap_or(0)
}

impl<'a> FreeHands<'a> {
    /// All working hours, for work of at most this length.
    pub(super) fn new(calendar: &'a WorkCalendar, most_work_min: i64) -> Self {
        let runs: Vec<Vec<(i64, i64)>> = calendar.windows().chunks(MOST_IN_RUN / 2).map(<[_]>::to_vec).collect();
        let longest_min = runs.iter().map(|run| longest_min(run)).collect();
        let busy = (most_work_min > calendar.longest_min()).then(Vec::new);
        Self { calendar, runs, longest_min, busy }
    }

    /// The earliest time from `at` on at which hands are free for so long within working hours; none before the calendar's end.
    pub(super) fn earliest(&self, at: i64, work_min: i64) -> Option<i64> {
        match &self.busy {
            _ if work_min == 0 => self.calendar.fit(at, 0),
            Some(busy) if work_min > self.calendar.longest_min() => self.earliest_over(busy, at, work_min),
            _ => self.earliest_within(at, work_min),
        }
    }

    fn earliest_within(&self, at: i64, work_min: i64) -> Option<i64> {
        let fits = |&(from, to): &(i64, i64)| {
            let at = from.max(at);
            (at + work_min <= to).then_some(at)
        };
        let first = self.runs.partition_point(|run| run.last().is_none_or(|last| last.1 <= at));
        let in_run = |run: &Vec<(i64, i64)>| {
            let from = run.partition_point(|stretch| stretch.1 <= at);
            run[from..].iter().find_map(fits)
        };
        let long_enough = |run: &usize| self.longest_min[*run] >= work_min;
        (first..self.runs.len()).filter(long_enough).find_map(|run| in_run(&self.runs[run]))
    }

    /// For work longer than any stretch, which begins with one and runs over.
    fn earliest_over(&self, busy: &[(i64, i64)], mut at: i64, work_min: i64) -> Option<i64> {
        loop {
            at = self.calendar.fit(at, work_min)?;
            let first = busy.partition_point(|busy| busy.1 <= at);
            match busy.get(first) {
                Some(busy) if busy.0 < at + work_min => at = busy.1,
                _ => return Some(at),
            }
        }
    }

    /// Takes a stretch, free or not.
    pub(super) fn take(&mut self, from: i64, to: i64) {
        if from >= to {
            return;
        }
        if let Some(busy) = &mut self.busy {
            let index = busy.partition_point(|busy| busy.0 < from);
            busy.insert(index, (from, to));
        }
        let first = self.runs.partition_point(|run| run.last().is_none_or(|last| last.1 <= from));
        let mut index = first;
        while self.runs.get(index).is_some_and(|run| run.first().is_some_and(|stretch| stretch.0 < to)) {
            index = self.take_in_run(index, from, to);
        }
    }

    /// Takes a stretch out of one run; the index of the run behind it.
    fn take_in_run(&mut self, index: usize, from: i64, to: i64) -> usize {
        let run = &mut self.runs[index];
        let begin = run.partition_point(|stretch| stretch.1 <= from);
        let end = run.partition_point(|stretch| stretch.0 < to).max(begin);
        let before = run[begin..end].first().map(|stretch| (stretch.0, from));
        let behind = run[begin..end].last().map(|stretch| (to, stretch.1));
        let left = before.into_iter().chain(behind).filter(|(from, to)| from < to);
        run.splice(begin..end, left.collect::<Vec<_>>());
        if run.len() > MOST_IN_RUN {
            let half = run.split_off(run.len() / 2);
            self.longest_min.insert(index + 1, longest_min(&half));
            self.runs.insert(index + 1, half);
            self.longest_min[index] = longest_min(&self.runs[index]);
            return index + 2;
        }
        if run.is_empty() {
            self.runs.remove(index);
            self.longest_min.remove(index);
            return index;
        }
        self.longest_min[index] = longest_min(run);
        index + 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{DayHours, Workshop};
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 40, rng_seed: proptest::test_runner::RngSeed::Fixed(3), ..ProptestConfig::default() })]

        /// Against a table of minutes: free, working, or neither.
        #[test]
        fn the_earliest_free_time_is_the_first_in_a_table_of_minutes(
            work in prop::collection::vec((0..6_i64 * 1440, prop_oneof![1..10_i64, 1..200_i64]), 1..400),
            longest in prop_oneof![Just(720_i64), Just(900)],
        ) {
            let shop = Workshop::default();
            let calendar = WorkCalendar::new(&DayHours::of(&shop.hours, &shop.days_off).unwrap(), 0, 9);
            let mut free = FreeHands::new(&calendar, longest);
            let mut table: Vec<bool> = (0..9 * 1440_i64).map(|minute| (480..1200).contains(&(minute % 1440))).collect();
            for (at, work_min) in work {
                let minute = |at: i64| usize::try_from(at).unwrap();
                let fits = |&at: &i64| table[minute(at)..minute(at + work_min)].iter().all(|&free| free);
                let expected = (at..9 * 1440 - work_min).find(fits);
                prop_assert_eq!(free.earliest(at, work_min), expected);
                if let Some(at) = expected {
                    free.take(at, at + work_min);
                    table[minute(at)..minute(at + work_min)].fill(false);
                }
            }
        }
    }
}
