//! A run's file checked: numbers that name something, steps in chains, ticks that could have been.

use super::checked::{State, check_note};
use super::{Run, RunError, RunRecord};
use crate::plan::error::check_name;
use crate::plan::wait::leads_on;
use crate::plan::{DayHours, PlanFileError, PlanProblem, WallClock};
use crate::telling::Field;
use std::collections::BTreeMap;

/// Most steps, kinds, cautions and ticks of a run: beyond any order that can be planned.
const MOST: usize = 100_000;
/// Most garments that are tied in one step: as many as an order has at most.
const MOST_TIED: f64 = 2000.0;

impl TryFrom<RunRecord> for Run {
    type Error = PlanFileError;

    /// Checks a run's numbers and takes its ticks one by one.
    ///
    /// # Errors
    /// [`PlanFileError`] naming the field: a number that names nothing, a tick that could not have been.
    fn try_from(mut raw: RunRecord) -> Result<Self, PlanFileError> {
        check_name("name", &raw.name)?;
        PlanFileError::check_count("steps", raw.steps.len(), MOST)?;
        PlanFileError::check_count("kinds", raw.kinds.len(), MOST)?;
        check_numbers(&raw)?;
        let links = Links::of(&raw)?;
        for known in &raw.acknowledged {
            check_number("acknowledged".into(), known.step, raw.steps.len())?;
        }
        for (&step, text) in &raw.notes {
            let field = || Field::from("notes").item(step as usize);
            check_number(field(), step, raw.steps.len())?;
            check_note(text).map_err(|error| PlanFileError::new(field(), error))?;
        }
        let clock = raw.zone.as_deref().map_or_else(|| Ok(WallClock::unchanged()), WallClock::of_zone);
        let clock = clock.map_err(|error| PlanFileError::new("zone", error))?;
        let hours = hours(&raw)?;
        let states = vec![State::default(); raw.steps.len()];
        let ticks = std::mem::take(&mut raw.ticks);
        let mut run = Self {
            raw,
            clock,
            hours,
            states,
            before: links.before,
            behind: links.behind,
            needed: links.needed,
            parts: BTreeMap::new(),
        };
        for (turn, tick) in (1..).zip(ticks) {
            run.tick(tick).map_err(|error| PlanFileError::new(Field::from("ticks").item(turn), error))?;
        }
        Ok(run)
    }
}

/// Working hours, where the file says any.
fn hours(raw: &RunRecord) -> Result<Option<DayHours>, PlanFileError> {
    if raw.hours.is_empty() {
        return Ok(None);
    }
    DayHours::of(&raw.hours, &raw.days_off).map(Some)
}

fn check_number(field: Field, number: u32, most: usize) -> Result<(), PlanFileError> {
    #[expect(clippy::cast_precision_loss, reason = "counts are at most MOST")]
    PlanFileError::check(field, f64::from(number), 1.0, most as f64)
}

fn check_numbers(raw: &RunRecord) -> Result<(), PlanFileError> {
    for (number, step) in (1..).zip(&raw.steps) {
        let field = |key: &'static str| Field::from("steps").item(number).then(key);
        check_number(field("kind"), step.kind, raw.kinds.len())?;
        for &caution in &step.cautions {
            check_number(field("cautions"), caution, raw.cautions.len())?;
        }
        for tied in &step.tied {
            check_number(field("tied"), tied.layout, raw.layouts.len())?;
        }
        let tied: f64 = step.tied.iter().map(|tied| f64::from(tied.count)).sum();
        PlanFileError::check(field("tied"), tied, 0.0, MOST_TIED)?;
        let backward =
            step.stretches.iter().find(|stretch| stretch.to < stretch.from || stretch.from < step.from || stretch.to > step.to);
        if step.to < step.from || backward.is_some() {
            let (from, to) = backward.map_or((step.from, step.to), |stretch| (stretch.from, stretch.to));
            let problem = PlanProblem::Backward { from: from.to_string(), to: to.to_string() };
            return Err(PlanFileError::new(field("to"), problem));
        }
    }
    for (number, kind) in (1..).zip(&raw.kinds) {
        let field = |key: &'static str| Field::from("kinds").item(number).then(key);
        check_name(field("name"), &kind.name)?;
        if let Some(wait) = kind.wait
            && let Some(most_min) = wait.most_min.filter(|&most_min| most_min < wait.least_min)
        {
            let problem = PlanProblem::Wait { least_min: wait.least_min, most_min };
            return Err(PlanFileError::new(field("wait"), problem));
        }
    }
    Ok(())
}

/// Which step follows which.
struct Links {
    before: Vec<Option<usize>>,
    behind: Vec<Option<usize>>,
    needed: Vec<Vec<usize>>,
}

impl Links {
    /// Steps of one process and load follow each other by their numbers in the process.
    fn of(raw: &RunRecord) -> Result<Self, PlanFileError> {
        let kind = |index: usize| &raw.kinds[raw.steps[index].kind as usize - 1];
        let key = |index: usize| (kind(index).process, raw.steps[index].load);
        let mut order: Vec<usize> = (0..raw.steps.len()).collect();
        order.sort_by_key(|&index| (key(index), kind(index).number, index));
        let (mut before, mut behind) = (vec![None; order.len()], vec![None; order.len()]);
        for pair in order.windows(2).filter(|pair| key(pair[0]) == key(pair[1])) {
            let number = kind(pair[1]).number;
            if kind(pair[0]).number == number {
                let field = Field::from("steps").item(pair[1] + 1);
                return Err(PlanFileError::new(field, RunError::SamePlace { number }));
            }
            if leads_on(raw.steps[pair[0]].load.is_none(), kind(pair[0]).wait.is_some()) {
                (before[pair[1]], behind[pair[0]]) = (Some(pair[0]), Some(pair[1]));
            }
        }
        let once: Vec<usize> = order.iter().copied().filter(|&index| raw.steps[index].load.is_none()).collect();
        let needed = |index: usize| {
            let own = kind(index);
            let is_named = |&&other: &&usize| {
                let other = kind(other);
                other.process == own.process && other.number < own.number && own.after.contains(&other.name)
            };
            once.iter().filter(is_named).copied().collect()
        };
        Ok(Self { needed: (0..order.len()).map(needed).collect(), before, behind })
    }
}
