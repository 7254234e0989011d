//! An order's timetable as a question: how long, within which working hours, by which clock.

use super::build::{TaskLabel, problem};
use super::timeline::Solved;
use super::{DayHours, GoOn, Order, Problem, Solution, Timeline, WallClock, WorkCalendar, solve_backward, solve_forward};
use jiff::ToSpan as _;
use jiff::civil::{Date, DateTime, Time};

/// Which way a calendar has to reach from the time asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// From a start on.
    Forward,
    /// Back from a deadline.
    Backward,
}

/// The question: tasks, hours and clock, in minutes from a midnight on.
pub(super) struct Timing<'a> {
    order: &'a Order,
    clock: &'a WallClock,
    problem: Problem,
    labels: Vec<TaskLabel>,
    calendar: WorkCalendar,
    midnight: DateTime,
}

impl<'a> Timing<'a> {
    /// The question from a time on or back; none where the years run out.
    pub(super) fn of(order: &'a Order, hours: &DayHours, (asked, way): (DateTime, Way), clock: &'a WallClock) -> Option<Self> {
        let (problem, labels) = problem(order);
        let span_days = span_days(&problem, hours.worked_min() * hours.days_a_week());
        // Backward, the calendar has to begin before anything could.
        let back_days = if way == Way::Backward { span_days } else { 0 };
        let midnight = asked.date().checked_sub(back_days.days()).ok()?.to_datetime(Time::midnight());
        let calendar = work_calendar(hours, midnight, back_days + span_days, clock)?;
        Some(Self { order, clock, problem, labels, calendar, midnight })
    }

    /// The timetable that ends earliest, begun no sooner than a time; none where the years run out, or when stopped.
    pub(super) fn from(&self, start: DateTime, go_on: GoOn<'_>) -> Option<Solution> {
        solve_forward(&self.problem, &self.calendar, self.minute(start)?, go_on)
    }

    /// The timetable that begins latest and is over by a time; none where the years run out, or when stopped.
    pub(super) fn by(&self, deadline: DateTime, go_on: GoOn<'_>) -> Option<Solution> {
        solve_backward(&self.problem, &self.calendar, self.minute(deadline)?, go_on)
    }

    /// When the first step of a timetable begins.
    pub(super) fn begins(&self, solution: &Solution) -> Option<DateTime> {
        self.clock.after(self.midnight, solution.starts.iter().copied().min()?)
    }

    /// When a timetable is over.
    pub(super) fn ends(&self, solution: &Solution) -> Option<DateTime> {
        self.clock.after(self.midnight, self.problem.finish(&solution.starts))
    }

    /// A timetable written out, and each load's number in it.
    pub(super) fn timeline(&self, solution: &Solution) -> Option<(Timeline, Vec<u32>)> {
        let numbers = numbers(self.order.loads().len(), &self.labels, &solution.starts);
        let solved = Solved {
            order: self.order,
            problem: &self.problem,
            labels: &self.labels,
            calendar: &self.calendar,
            solution,
            clock: self.clock,
            midnight: self.midnight,
            numbers: &numbers,
        };
        Some((solved.timeline()?, numbers))
    }

    fn minute(&self, time: DateTime) -> Option<i64> {
        self.clock.minutes(self.midnight, time)
    }
}

/// Numbers of the loads, 1 for the one that begins first.
fn numbers(loads: usize, labels: &[TaskLabel], starts: &[i64]) -> Vec<u32> {
    let mut begins: Vec<Option<i64>> = vec![None; loads];
    for (label, &start) in labels.iter().zip(starts) {
        if let Some(load) = label.load {
            begins[load].get_or_insert(start);
        }
    }
    let mut order: Vec<usize> = (0..loads).collect();
    order.sort_by_key(|&load| (begins[load], load));
    let mut numbers = vec![0; loads];
    for (number, load) in (1..).zip(order) {
        numbers[load] = number;
    }
    numbers
}

fn weekday(date: Date) -> usize {
    usize::try_from(date.weekday().to_monday_zero_offset()).unwrap_or(0)
}

/// Working hours in minutes that pass from a midnight on; none beyond the years that a calendar knows.
pub(super) fn work_calendar(hours: &DayHours, midnight: DateTime, days: i64, clock: &WallClock) -> Option<WorkCalendar> {
    let by_day = WorkCalendar::new(hours, weekday(midnight.date()), days);
    by_day.carried(|minute| clock.minutes(midnight, midnight.checked_add(minute.minutes()).ok()?))
}

/// Minutes of a week.
const WEEK_MIN: i64 = 7 * 1440;

/// Days that surely hold the plan if it can be held at all: every task one after another, in working hours, with all its waits.
pub(super) fn span_days(problem: &Problem, worked_a_week_min: i64) -> i64 {
    /// Room for what does not fit just before a closing hour, and for a first week begun at its end, days.
    const SPARE_DAYS: i64 = 60;
    let hands = problem.hands_min() * WEEK_MIN / worked_a_week_min.max(1);
    let waits: i64 = problem.tasks.iter().map(|task| task.least_min).sum();
    // A task that can't begin before closing waits for the next working day; chains overlap, so this is ample.
    // Of one vessel's baths each has a day of its own.
    let baths = i64::try_from(problem.tasks.iter().filter(|task| task.vessel).count()).unwrap_or(0);
    (2 * hands + waits) / 1440 + baths + SPARE_DAYS
}
