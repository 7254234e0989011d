//! What a place holds over time.

use super::WorkCalendar;

/// Room taken in one place, as steps: from each time on so much, until the next. Before the first it is empty, and at the last it
/// becomes so.
#[derive(Debug, Clone, Default)]
pub(super) struct Held {
    steps: Vec<(i64, u64)>,
}

/// A stay in a place: from when it begins for so long, and at least until a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stay<'a> {
    pub(super) long_min: i64,
    pub(super) until: i64,
    pub(super) takes: u32,
    /// The days, where it lasts to the next.
    pub(super) days: Option<&'a WorkCalendar>,
}

impl Stay<'_> {
    /// When it is over, begun at a time.
    fn ends(&self, at: i64) -> i64 {
        let end = self.until.max(at + self.long_min);
        self.days.map_or(end, |days| days.next_day(end))
    }
}

impl Held {
    /// Adds room taken.
    pub(super) fn add(&mut self, from: i64, to: i64, takes: u32) {
        if from >= to {
            return;
        }
        let begin = self.cut(from);
        let end = self.cut(to);
        for step in &mut self.steps[begin..end] {
            step.1 += u64::from(takes);
        }
    }

    /// The index of the step that begins then, made where there is none.
    fn cut(&mut self, at: i64) -> usize {
        let index = self.steps.partition_point(|step| step.0 < at);
        if self.steps.get(index).is_none_or(|step| step.0 != at) {
            let taken = index.checked_sub(1).map_or(0, |before| self.steps[before].1);
            self.steps.insert(index, (at, taken));
        }
        index
    }

    /// The earliest time from `at` on from which on a stay has room. A place that is empty takes any one.
    pub(super) fn earliest(&self, mut at: i64, stay: Stay<'_>, room: u32) -> i64 {
        let is_full = |taken: u64| taken > 0 && taken + u64::from(stay.takes) > u64::from(room);
        let first = self.steps.partition_point(|step| step.0 <= at).saturating_sub(1);
        for (index, &(from, taken)) in self.steps.iter().enumerate().skip(first) {
            if from > at && from >= stay.ends(at) {
                break;
            }
            // The last step is empty, so that a full one has another behind it.
            if let Some(&(to, _)) = self.steps.get(index + 1).filter(|(to, _)| is_full(taken) && *to > at) {
                at = to;
            }
        }
        at
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 200, rng_seed: proptest::test_runner::RngSeed::Fixed(4), ..ProptestConfig::default() })]

        /// Against a table of what is taken minute by minute.
        #[test]
        fn the_earliest_room_is_the_first_in_a_table_of_minutes(
            stays in prop::collection::vec((0..200_i64, 0..40_i64, 0..60_i64, 1..4_u32), 1..30),
            room in 1..4_u32,
        ) {
            let (mut held, mut table) = (Held::default(), vec![0_u64; 4000]);
            let minute = |at: i64| usize::try_from(at).unwrap();
            for (at, long_min, more_min, takes) in stays {
                let stay = Stay { long_min, until: at + more_min, takes, days: None };
                let is_full = |&taken: &u64| taken > 0 && taken + u64::from(takes) > u64::from(room);
                let covers = |from: i64| minute(from)..minute(stay.until.max(from + long_min).max(from + 1));
                let expected = (at..).find(|&from| !table[covers(from)].iter().any(&is_full)).unwrap();
                prop_assert_eq!(held.earliest(at, stay, room), expected);
                held.add(expected, expected + long_min, takes);
                table[minute(expected)..minute(expected + long_min)].iter_mut().for_each(|taken| *taken += u64::from(takes));
            }
        }
    }
}
