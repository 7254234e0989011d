//! Going on from where a timetable stands: some chains are under way, the rest follows as early as it may.

use super::insert::{MostWaits, Placed};
use super::{Problem, WorkCalendar};
use std::ops::Range;

/// Where a timetable stands.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Standing {
    /// For each task, when it began, if it did. Only the first of a chain may have.
    pub begun: Vec<Option<i64>>,
    /// For each task that did not, the earliest that it may begin.
    pub not_before: Vec<i64>,
}

/// The rest of a timetable: chains are placed one after another in this sequence, each as early as the earlier ones allow, and most waits
/// are kept but for those of tasks already begun, which end when the next task can be done. Where a chain can't keep its own, they are
/// ignored for it; [`conflicts`](super::conflicts()) names what is broken. None if the calendar is too short.
#[must_use]
pub fn resume(problem: &Problem, calendar: &WorkCalendar, standing: &Standing, sequence: &[usize]) -> Option<Vec<i64>> {
    let chains: Vec<Range<usize>> = problem.ranges().collect();
    let mut placed = Placed::resumed(problem, calendar, &standing.begun);
    for &chain in sequence {
        let mut insert = |most| placed.insert_from(chains[chain].clone(), |task| standing.not_before[task], most);
        if !insert(MostWaits::Kept) && !insert(MostWaits::Ignored) {
            return None;
        }
    }
    Some(placed.into_starts())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Capacities, Conflict, Place, Task, conflicts};

    /// A soak of 20 to 60 minutes in the one tub, then ten minutes' rinse; two loads. By hand: the first went in at 0 and comes out at
    /// 20, the second follows into the tub.
    #[test]
    fn what_is_under_way_keeps_its_place_and_the_rest_follows() {
        let soak = Task {
            hands_min: 5,
            least_min: 20,
            most_min: Some(60),
            holds: true,
            place: Some(Place::Tub),
            takes: 1,
            ..Task::default()
        };
        let rinse = Task { hands_min: 10, ..Task::default() };
        let under_way = Task { hands_min: 0, ..soak.clone() };
        let problem = Problem {
            tasks: vec![under_way, rinse.clone(), soak, rinse],
            chains: vec![2, 2],
            room: Capacities::new(1, 1, 1, 1, 1),
        };
        let calendar = WorkCalendar::always(1);
        let standing = |now: i64| Standing { begun: vec![Some(0), None, None, None], not_before: vec![now; 4] };
        let starts = resume(&problem, &calendar, &standing(5), &[0, 1]).unwrap();
        assert_eq!(starts, [0, 20, 30, 55]);
        assert_eq!(conflicts(&problem, &calendar, &starts, None), []);
        // Looked at again only after an hour and a half: the soak was too long by half an hour, and nothing else is wrong.
        let starts = resume(&problem, &calendar, &standing(90), &[0, 1]).unwrap();
        assert_eq!(starts, [0, 90, 100, 125]);
        let late = Conflict::WaitTooLong { task: 0, waits_min: 90, most_min: 60 };
        assert_eq!(conflicts(&problem, &calendar, &starts, None), [late]);
    }
}
