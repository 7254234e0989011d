//! The whole plan of an order.

use super::build::{TaskLabel, problem, room};
use super::timeline::Solved;
use super::warning::{PlanWarning, vessels_taken, warnings};
use super::{
    Caution, CostSheet, DayHours, Entry, GarmentMasses, GoOn, Hazard, Hours, Load, Order, Place, PlanFileError, Problem, Region,
    ShoppingLine, Timeline, Totals, Vessel, WallClock, Weekday, WorkCalendar, WorkPlace, costs, shopping_list, solve_backward,
    solve_forward, totals,
};
use crate::measure::LengthStyle;
use crate::reveal::Cancel;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use jiff::ToSpan as _;
use jiff::civil::{Date, DateTime, Time};
use serde::Serialize;
use std::collections::BTreeMap;

/// When.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// From this time on, as soon as possible.
    Start(DateTime),
    /// Over by this time, as late as possible.
    Deadline(DateTime),
    /// From this time on; what is over after the deadline is a conflict.
    Between {
        /// From.
        start: DateTime,
        /// The deadline.
        deadline: DateTime,
    },
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PlanError {
    /// A time that no calendar of ours can reckon with.
    OutOfTime {
        /// The time asked for.
        when: DateTime,
    },
    /// It was stopped.
    Stopped,
    /// The order can't be.
    Order(#[from] PlanFileError),
}

displayed_as_in_files!(PlanError);

impl Refused for PlanError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::OutOfTime { when } => {
                Told::new(format!("from {when} the plan would run past the last calendar year"), "give an earlier time")
            }
            Self::Stopped => Told::new("planning was stopped", "start it again for a plan"),
            Self::Order(error) => error.told(voice),
        }
    }
}

/// A line of the order in the plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LinePlan {
    /// The layout's name.
    pub name: String,
    /// How many.
    pub count: u32,
    /// What one takes.
    pub each: GarmentMasses,
}

/// Everything that a maker needs for an order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Plan {
    /// The order's name.
    pub name: String,
    /// How lengths are written for whoever has the rule of its first layout.
    #[serde(skip)]
    pub lengths: LengthStyle,
    /// The recipe's name; of several, all.
    pub recipe: String,
    /// Where the discharge is done.
    pub place: WorkPlace,
    /// Whose limits and terms the cautions tell.
    pub region: Region,
    /// The vessel that it is done in.
    pub vessel: Vessel,
    /// How many garments.
    pub garments: u32,
    /// The processes' names.
    pub processes: Vec<String>,
    /// The lines.
    pub lines: Vec<LinePlan>,
    /// The tub loads, numbered by the time they begin.
    pub loads: Vec<Load>,
    /// Totals by colour and material.
    pub totals: Totals,
    /// What to buy.
    pub shopping: Vec<ShoppingLine>,
    /// Costs, if the order says what work is worth.
    pub costs: Option<CostSheet>,
    /// Room in each place that can be full: loads in tub, sink, washer and on the table, rods on the rack.
    pub rooms: BTreeMap<Place, u32>,
    /// Working hours.
    pub hours: Vec<Hours>,
    /// Days without work.
    pub days_off: Vec<Weekday>,
    /// The time zone whose clock shows the times, by its name in the IANA tz database; none for a clock that is never changed.
    pub zone: Option<String>,
    /// What may spoil the pieces.
    pub warnings: Vec<PlanWarning>,
    /// When to do what.
    pub timeline: Timeline,
}

impl Plan {
    /// Whether an amount of it is told in spoons or cups too.
    #[must_use]
    pub fn has_kitchen_measures(&self) -> bool {
        let soaks = self.loads.iter().filter_map(|load| load.soak.as_ref());
        let strewn = self.lines.iter().map(|line| &line.each.soda_strewn);
        strewn.chain(soaks.map(|soak| &soak.soda_ash)).any(|amount| amount.kitchen.is_some())
    }

    /// Plans an order by a clock that is never put forward or back.
    ///
    /// # Errors
    /// [`PlanError`] when the years run out.
    pub fn new(order: &Order, when: When) -> Result<Self, PlanError> {
        Self::by_clock(order, when, &WallClock::unchanged())
    }

    /// Plans an order. Times are what the clock shows; waits are true lengths of time, also where it is put forward or back.
    ///
    /// # Errors
    /// [`PlanError`] when the years run out.
    pub fn by_clock(order: &Order, when: When, clock: &WallClock) -> Result<Self, PlanError> {
        Self::watched(order, when, clock, &Cancel::new())
    }

    /// The same, told about and stopped by a handle.
    ///
    /// # Errors
    /// [`PlanError`] when the years run out, or when stopped.
    pub fn watched(order: &Order, when: When, clock: &WallClock, cancel: &Cancel) -> Result<Self, PlanError> {
        let totals = totals(order);
        let (timeline, numbers) = timeline(order, when, clock, cancel)?;
        let mut loads = order.loads().to_vec();
        for (load, number) in loads.iter_mut().zip(numbers) {
            load.number = number;
        }
        let by_order: Vec<u32> = loads.iter().map(|load| load.number).collect();
        let number = |of_order: u32| by_order.get(of_order as usize - 1).copied().unwrap_or(of_order);
        let warnings = warnings(order).into_iter().map(|warning| warning.numbered(number));
        let warnings = warnings.chain(vessels_taken(order, &timeline.entries)).collect();
        loads.sort_by_key(|load| load.number);
        Ok(Self {
            name: order.raw().name.clone(),
            lengths: order.lengths(),
            recipe: recipe_names(order),
            place: order.raw().workshop.place,
            region: order.raw().workshop.region,
            vessel: order.raw().workshop.vessel,
            garments: order.garments(),
            processes: order.processes().iter().map(|process| process.name.clone()).collect(),
            lines: order.lines().iter().map(line_plan).collect(),
            loads,
            shopping: shopping_list(order, &totals),
            costs: costs(order, &totals),
            rooms: rooms(order),
            hours: order.raw().workshop.hours.clone(),
            days_off: order.raw().workshop.days_off.clone(),
            zone: clock.zone_name().map(ToOwned::to_owned),
            warnings,
            timeline,
            totals,
        })
    }
}

fn recipe_names(order: &Order) -> String {
    let mut names: Vec<&str> = Vec::new();
    for recipe in order.recipes() {
        if !names.contains(&recipe.name.as_str()) {
            names.push(&recipe.name);
        }
    }
    names.join(", ")
}

/// A caution of a plan, and the steps it stands beside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanCaution<'a> {
    /// The caution; of those of one hazard, that of the largest discharge bath, whose bound is the one to show.
    pub caution: &'a Caution,
    /// The steps, by name.
    pub steps: Vec<&'a str>,
}

impl Plan {
    /// Each step once with its words, process by process, in the order of the work.
    #[must_use]
    pub fn steps(&self) -> Vec<&Entry> {
        let mut told: Vec<&Entry> = Vec::new();
        for entry in &self.timeline.entries {
            if !told.iter().any(|known| (known.process, known.number) == (entry.process, entry.number)) {
                told.push(entry);
            }
        }
        told.sort_by_key(|entry| (entry.process, entry.number));
        told
    }

    /// Each caution once, the gravest first; without the deferring one, which goes with them all.
    #[must_use]
    pub fn cautions(&self) -> Vec<PlanCaution<'_>> {
        told_once(self.by_bath().into_iter())
    }

    /// The cautions that concern the garments of one line, by its index.
    #[must_use]
    pub fn cautions_of(&self, line: usize) -> Vec<PlanCaution<'_>> {
        let own = self.entries_of(line);
        told_once(self.by_bath().into_iter().filter(|entry| own.iter().any(|other| std::ptr::eq(*other, *entry))))
    }

    /// The warnings that stand beside the garments of one line, by its index: those about whole loads only where all are its own loads.
    pub fn warnings_of(&self, line: usize) -> impl Iterator<Item = &PlanWarning> {
        let is_own = move |number: &u32| self.loads_of(line).any(|load| load.number == *number);
        self.warnings.iter().filter(move |warning| warning.loads().iter().all(is_own))
    }

    /// The tub loads that hold garments of a line, by its index.
    pub fn loads_of(&self, line: usize) -> impl Iterator<Item = &Load> {
        self.loads.iter().filter(move |load| load.items.iter().any(|item| item.line == line))
    }

    /// The steps that garments of a line go through, and those done once for their process, by the time they begin.
    #[must_use]
    pub fn entries_of(&self, line: usize) -> Vec<&Entry> {
        let is_own = |entry: &&Entry| {
            self.loads_of(line).any(|load| match entry.load {
                Some(number) => load.number == number,
                None => load.process == entry.process,
            })
        };
        self.timeline.entries.iter().filter(is_own).collect()
    }

    /// The steps with those of the largest discharge bath first.
    fn by_bath(&self) -> Vec<&Entry> {
        let bath_g = |entry: &Entry| {
            let load = entry.load.and_then(|number| self.loads.binary_search_by_key(&number, |load| load.number).ok());
            load.and_then(|index| self.loads[index].discharge.as_ref()).map_or(0.0, |bath| bath.mass.value)
        };
        let mut entries: Vec<&Entry> = self.timeline.entries.iter().collect();
        entries.sort_by(|a, b| bath_g(b).total_cmp(&bath_g(a)));
        entries
    }
}

/// Each caution of these steps once, the gravest first.
fn told_once<'a>(entries: impl Iterator<Item = &'a Entry>) -> Vec<PlanCaution<'a>> {
    let mut told: Vec<PlanCaution<'_>> = Vec::new();
    for entry in entries {
        for caution in entry.cautions.iter().filter(|caution| caution.hazard != Hazard::Defer) {
            match told.iter_mut().find(|known| known.caution.hazard == caution.hazard) {
                Some(known) if known.steps.contains(&entry.step.as_str()) => {}
                Some(known) => known.steps.push(&entry.step),
                None => told.push(PlanCaution { caution, steps: vec![&entry.step] }),
            }
        }
    }
    told.sort_by_key(|known| known.caution.hazard);
    told
}

fn rooms(order: &Order) -> BTreeMap<Place, u32> {
    let shop = room(&order.raw().workshop);
    Place::ALL.into_iter().filter(|&place| place != Place::Line).map(|place| (place, shop.of(place))).collect()
}

fn line_plan(line: &super::OrderLine) -> LinePlan {
    LinePlan { name: line.layout.name().to_owned(), count: line.count, each: line.masses.clone() }
}

/// The timetable, and each load's number in it.
fn timeline(order: &Order, when: When, clock: &WallClock, cancel: &Cancel) -> Result<(Timeline, Vec<u32>), PlanError> {
    let asked = match when {
        When::Start(time) | When::Between { start: time, .. } | When::Deadline(time) => time,
    };
    let out = || PlanError::OutOfTime { when: asked };
    let (problem, labels) = problem(order);
    let shop = &order.raw().workshop;
    let hours = DayHours::of(&shop.hours, &shop.days_off).map_err(|error| error.within("workshop"))?;
    let span_days = span_days(&problem, hours.worked_min() * hours.days_a_week());
    // Backward, the calendar has to begin before anything could.
    let back_days = if matches!(when, When::Deadline(_)) { span_days } else { 0 };
    let base = asked.date().checked_sub(back_days.days()).map_err(|_too_early| out())?;
    let midnight = base.to_datetime(Time::midnight());
    let calendar = work_calendar(&hours, midnight, back_days + span_days, clock).ok_or_else(out)?;
    let minute = |time: DateTime| clock.minutes(midnight, time).ok_or_else(out);
    let go_on: GoOn<'_> = &|done| cancel.note(done);
    let (solution, deadline) = match when {
        When::Start(start) => (solve_forward(&problem, &calendar, minute(start)?, go_on), None),
        When::Between { start, deadline } => (solve_forward(&problem, &calendar, minute(start)?, go_on), Some(minute(deadline)?)),
        When::Deadline(deadline) => {
            let deadline = minute(deadline)?;
            (solve_backward(&problem, &calendar, deadline, go_on), Some(deadline))
        }
    };
    let solution = solution.ok_or_else(|| if cancel.is_cancelled() { PlanError::Stopped } else { out() })?;
    let numbers = numbers(order.loads().len(), &labels, &solution.starts);
    let solved = Solved {
        order,
        problem: &problem,
        labels: &labels,
        calendar: &calendar,
        solution: &solution,
        clock,
        midnight,
        numbers: &numbers,
        deadline,
    };
    Ok((solved.timeline().ok_or_else(out)?, numbers))
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
    (2 * hands + waits) / 1440 + SPARE_DAYS
}
