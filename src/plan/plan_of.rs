//! The whole plan of an order.

use super::build::room;
use super::timing::{Timing, Way};
use super::untimely::{Deadline, Untimely};
use super::warning::{PlanWarning, vessels_in_turn, warnings};
use super::{
    BlankLine, Caution, CostSheet, DayHours, Entry, GarmentMasses, GarmentWork, GoOn, Hazard, Hours, Load, Order, Place,
    PlanFileError, Region, ShoppingLine, Solution, Timeline, Totals, Vessel, WallClock, Weekday, WorkPlace, costs, shopping_list,
    totals,
};
use crate::measure::{LengthStyle, total};
use crate::reveal::Cancel;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use jiff::civil::DateTime;
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

impl When {
    /// The deadline, if there is one.
    #[must_use]
    pub const fn deadline(self) -> Option<DateTime> {
        match self {
            Self::Start(_) => None,
            Self::Deadline(deadline) | Self::Between { deadline, .. } => Some(deadline),
        }
    }
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
    /// How one is folded and tied, and its layout.
    #[serde(skip)]
    pub work: GarmentWork,
}

/// Everything that a maker needs for an order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Plan {
    /// The order's name.
    pub name: String,
    /// How its lengths are written.
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
    /// Undyed garments against the shelf; none where the shelf knows none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub blanks: Vec<BlankLine>,
    /// The currency of its prices; empty where there are none.
    #[serde(skip)]
    pub currency: String,
    /// Costs, if the order says what work is worth.
    pub costs: Option<CostSheet>,
    /// Room in each place that can be full: loads in tub, sink, washer and on the table, rods on the rack.
    pub rooms: BTreeMap<Place, u32>,
    /// Vessels for the discharge.
    pub vessels: u32,
    /// Working hours.
    pub hours: Vec<Hours>,
    /// Days without work.
    pub days_off: Vec<Weekday>,
    /// The time zone whose clock shows the times, by its name in the IANA tz database; none for a clock that is never changed.
    pub zone: Option<String>,
    /// By when everything is to be over, if that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub deadline: Option<DateTime>,
    /// That it can't be over by its deadline, or begins in the past.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub untimely: Option<Untimely>,
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
        Self::seen(order, when, None, (clock, cancel))
    }

    /// The same at a time that the clock shows now: of a deadline that can't be met from now on, and of a beginning that is past, the plan
    /// says so ([`Plan::untimely`]); for a deadline the plan begins no sooner than now.
    ///
    /// # Errors
    /// As for [`Plan::watched`].
    pub fn at(order: &Order, when: When, now: DateTime, clock: &WallClock, cancel: &Cancel) -> Result<Self, PlanError> {
        Self::seen(order, when, Some(now), (clock, cancel))
    }

    fn seen(order: &Order, when: When, now: Option<DateTime>, (clock, cancel): (&WallClock, &Cancel)) -> Result<Self, PlanError> {
        let totals = totals(order);
        let Found { timeline, numbers, untimely } = find(order, when, now, (clock, cancel))?;
        let mut loads = order.loads().to_vec();
        for (load, number) in loads.iter_mut().zip(numbers) {
            load.number = number;
        }
        let by_order: Vec<u32> = loads.iter().map(|load| load.number).collect();
        let number = |of_order: u32| by_order.get(of_order as usize - 1).copied().unwrap_or(of_order);
        let warnings = warnings(order).into_iter().map(|warning| warning.numbered(number));
        let warnings = warnings.chain(vessels_in_turn(order, &timeline.entries)).collect();
        loads.sort_by_key(|load| load.number);
        let lines: Vec<LinePlan> = order.lines().iter().map(line_plan).collect();
        Ok(Self {
            name: order.raw().name.clone(),
            lengths: order.lengths(),
            recipe: recipe_names(order),
            place: order.raw().workshop.place,
            region: order.raw().workshop.region,
            vessel: order.raw().workshop.vessel,
            garments: order.garments(),
            processes: order.processes().iter().map(|process| process.name.clone()).collect(),
            blanks: order.shelf().blank_lines(&lines.iter().map(|line| &line.work).collect::<Vec<_>>()),
            currency: order.currency().to_owned(),
            lines,
            loads,
            shopping: shopping_list(order, &totals),
            costs: costs(order, &totals),
            rooms: rooms(order),
            vessels: order.raw().workshop.vessels,
            hours: order.raw().workshop.hours.clone(),
            days_off: order.raw().workshop.days_off.clone(),
            zone: clock.zone_name().map(ToOwned::to_owned),
            deadline: when.deadline(),
            untimely,
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
    /// What everything on the shopping list costs, in words: `12.50 EUR`; none where nothing on it has a price.
    #[must_use]
    pub fn shopping_total(&self) -> Option<String> {
        let blanks = self.blanks.iter().filter_map(|line| line.price);
        let price = total(self.shopping.iter().filter_map(|line| line.price).chain(blanks));
        (price > 0.0).then(|| format!("{price:.2} {}", self.currency).trim_end().to_owned())
    }

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
    let name = line.layout.name().to_owned();
    LinePlan { name, count: line.count, each: line.masses.clone(), work: GarmentWork::of(line) }
}

/// A timetable found for an order.
struct Found {
    timeline: Timeline,
    /// Each load's number in it.
    numbers: Vec<u32>,
    untimely: Option<Untimely>,
}

fn find(order: &Order, when: When, now: Option<DateTime>, (clock, cancel): (&WallClock, &Cancel)) -> Result<Found, PlanError> {
    let (asked, way) = match when {
        When::Start(time) | When::Between { start: time, .. } => (time, Way::Forward),
        When::Deadline(time) => (time, Way::Backward),
    };
    let shop = &order.raw().workshop;
    let hours = DayHours::of(&shop.hours, &shop.days_off).map_err(|error| error.within("workshop"))?;
    let out = || if cancel.is_cancelled() { PlanError::Stopped } else { PlanError::OutOfTime { when: asked } };
    let go_on: GoOn<'_> = &|done| cancel.note(done);
    let watch = Deadline { order, clock, now, go_on };
    let timing = Timing::of(order, &hours, (asked, way), clock).ok_or_else(out)?;
    let solution = match way {
        Way::Forward => timing.from(asked, go_on),
        Way::Backward => timing.by(asked, go_on),
    };
    let solution = solution.ok_or_else(out)?;
    let begins = timing.begins(&solution).ok_or_else(out)?;
    let past = now.filter(|now| begins < *now);
    if let (When::Deadline(deadline), Some(now)) = (when, past) {
        // What would have to begin in the past begins now.
        let timing = Timing::of(order, &hours, (now, Way::Forward), clock).ok_or_else(out)?;
        let solution = timing.from(now, go_on).ok_or_else(out)?;
        let ends = timing.ends(&solution).ok_or_else(out)?;
        let untimely = if ends > deadline { watch.late(deadline, now, ends, &solution) } else { None };
        return found(&timing, &solution, untimely).ok_or_else(out);
    }
    let ends = timing.ends(&solution).ok_or_else(out)?;
    let untimely = match when.deadline().filter(|deadline| ends > *deadline) {
        _ if past.is_some() => watch.past(begins, when.deadline()),
        Some(deadline) => watch.late(deadline, asked, ends, &solution),
        None => None,
    };
    found(&timing, &solution, untimely).ok_or_else(out)
}

fn found(timing: &Timing<'_>, solution: &Solution, untimely: Option<Untimely>) -> Option<Found> {
    let (timeline, numbers) = timing.timeline(solution)?;
    Some(Found { timeline, numbers, untimely })
}
