//! The checked run: ticks taken and undone, never into a state that could not have happened.

use super::step::title;
use super::{Mark, RunError, RunKind, RunRecord, RunStep, RunStepRecord, RunWarning, Tick};
use crate::layout::HandPart;
use crate::plan::{DayHours, Place, Plan, PlanFileError, WallClock};
use jiff::civil::DateTime;
use jiff::{SignedDuration, Timestamp, Unit};
use std::collections::{BTreeMap, BTreeSet};

/// Longest note, characters.
const LONGEST_NOTE: usize = 4000;

pub(super) fn check_note(text: &str) -> Result<(), RunError> {
    let length = text.chars().count();
    if length > LONGEST_NOTE { Err(RunError::LongNote { length, most: LONGEST_NOTE }) } else { Ok(()) }
}

/// A plan being lived through: its timetable, frozen, and what was ticked off when.
///
/// A value: what it says at a time ([`Run::now`]) follows from its ticks alone, so that a program closed in the middle of a soak and
/// opened again knows as much as one that stayed open. Times are what the clock of the plan's zone shows; waits are true lengths of
/// time. Of the hour that comes twice when the clock is put back, a time is taken for the first, or for the second where the first
/// lies before the last tick.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    pub(super) raw: RunRecord,
    pub(super) clock: WallClock,
    /// Working hours; none for all hours.
    pub(super) hours: Option<DayHours>,
    pub(super) states: Vec<State>,
    /// For each step, the one before it in its load.
    pub(super) before: Vec<Option<usize>>,
    /// For each step, the one after it in its load.
    pub(super) behind: Vec<Option<usize>>,
    /// For each step, the steps done once that it needs.
    pub(super) needed: Vec<Vec<usize>>,
    /// By step and garment, the parts of folding and tying that are ticked.
    pub(super) parts: BTreeMap<(usize, u32), BTreeSet<HandPart>>,
}

/// What the ticks say of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct State {
    pub(super) begun: Option<Timestamp>,
    /// Also set where it was left out.
    pub(super) finished: Option<Timestamp>,
    pub(super) left_out: bool,
}

impl Run {
    /// A plan's timetable, frozen, nothing ticked.
    ///
    /// # Errors
    /// As for [`Run::try_from`]; a plan of this program gives none.
    pub fn of(plan: &Plan) -> Result<Self, PlanFileError> {
        Self::try_from(RunRecord::of(plan))
    }

    /// The run as its file gives it.
    #[must_use]
    pub const fn raw(&self) -> &RunRecord {
        &self.raw
    }

    /// What the clock that the run goes by shows at an instant: the clock of its zone, or `here`'s where it names none.
    #[must_use]
    pub fn shown(&self, instant: Timestamp, here: &WallClock) -> DateTime {
        if self.raw.zone.is_some() { self.clock.shows(instant) } else { here.shows(instant) }
    }

    /// The order's name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.raw.name
    }

    /// Every step, by the time it was planned for.
    pub fn steps(&self) -> impl Iterator<Item = RunStep<'_>> {
        (0..self.raw.steps.len()).map(|index| self.step_at(index))
    }

    /// A step by its number.
    #[must_use]
    pub fn step(&self, number: u32) -> Option<RunStep<'_>> {
        self.index(number).ok().map(|index| self.step_at(index))
    }

    /// Notes that hands begin. What is amiss with it (a wait cut short, one too long) is said and stays on record.
    ///
    /// # Errors
    /// [`RunError`] where the step was begun already, one before it was not done, or the time lies before what it follows.
    pub fn begin(&mut self, step: u32, at: DateTime) -> Result<Vec<RunWarning>, RunError> {
        self.tick(Tick { step, mark: Mark::Begun, at })
    }

    /// Notes that hands are done and the step's wait begins; the step need not have been noted as begun.
    ///
    /// # Errors
    /// As for [`Run::begin`].
    pub fn finish(&mut self, step: u32, at: DateTime) -> Result<Vec<RunWarning>, RunError> {
        self.tick(Tick { step, mark: Mark::Finished, at })
    }

    /// Notes that a step is left out. The wait before it goes on until the next step.
    ///
    /// # Errors
    /// As for [`Run::begin`].
    pub fn leave_out(&mut self, step: u32, at: DateTime) -> Result<(), RunError> {
        self.tick(Tick { step, mark: Mark::LeftOut, at }).map(drop)
    }

    /// What a tick is of, in words: its step, or the part of it.
    #[must_use]
    pub fn tick_title(&self, tick: &Tick) -> String {
        match (self.index(tick.step), tick.mark) {
            (Ok(index), Mark::Part { garment, part }) => self.part_title(index, garment, part),
            (Ok(index), _) => self.title(index),
            (Err(_), _) => String::new(),
        }
    }

    /// Takes back the last tick; none if there was none.
    pub fn undo(&mut self) -> Option<Tick> {
        let tick = self.raw.ticks.pop()?;
        self.replay();
        Some(tick)
    }

    /// Takes back the last tick of one step.
    ///
    /// # Errors
    /// [`RunError::Followed`] while a later step of its load is ticked, [`RunError::NoStep`].
    pub fn undo_step(&mut self, step: u32) -> Result<Option<Tick>, RunError> {
        let index = self.index(step)?;
        let Some(at) = self.raw.ticks.iter().rposition(|tick| tick.step == step) else { return Ok(None) };
        let is_ticked = |&next: &usize| self.states[next] != State::default();
        if let Some(next) = self.behind[index].filter(is_ticked) {
            return Err(RunError::Followed { step: self.title(index), after: self.title(next) });
        }
        let tick = self.raw.ticks.remove(at);
        self.replay();
        Ok(Some(tick))
    }

    /// Sets the note of a step; an empty one takes it away.
    ///
    /// # Errors
    /// [`RunError::NoStep`] or [`RunError::LongNote`].
    pub fn note(&mut self, step: u32, text: &str) -> Result<(), RunError> {
        self.index(step)?;
        check_note(text)?;
        if text.is_empty() {
            self.raw.notes.remove(&step);
        } else {
            self.raw.notes.insert(step, text.to_owned());
        }
        Ok(())
    }

    pub(super) fn tick(&mut self, tick: Tick) -> Result<Vec<RunWarning>, RunError> {
        // To the second: what a clock on the wall shows.
        let tick = Tick { at: tick.at.round(Unit::Second).unwrap_or(tick.at), ..tick };
        if let Mark::Part { garment, part } = tick.mark {
            return self.tick_part(tick, (garment, part)).map(|()| Vec::new());
        }
        let at = self.instant(tick.at);
        let index = self.index(tick.step)?;
        self.check(index, tick.mark, at)?;
        let begins = self.states[index].begun.is_none() && tick.mark != Mark::LeftOut;
        let mut warnings = if begins { self.warnings(index, at) } else { Vec::new() };
        warnings.extend(if tick.mark == Mark::Finished { self.parts_left(index) } else { None });
        self.raw.ticks.push(tick);
        self.apply(index, tick.mark, at);
        warnings.extend(if begins { self.place_full(index, at).or_else(|| self.vessel_taken(index, at)) } else { None });
        Ok(warnings)
    }

    /// The instant of the last tick of a whole step.
    fn last(&self) -> Option<Timestamp> {
        let tick = self.raw.ticks.iter().rev().find(|tick| !matches!(tick.mark, Mark::Part { .. }))?;
        let state = self.states[self.index(tick.step).ok()?];
        if tick.mark == Mark::Begun { state.begun } else { state.finished }
    }

    /// When the clock shows a time, told by the last tick where it shows it twice.
    pub(super) fn instant(&self, shown: DateTime) -> Timestamp {
        self.clock.instant_from(shown, self.last().unwrap_or(Timestamp::MIN))
    }

    fn check(&self, index: usize, mark: Mark, at: Timestamp) -> Result<(), RunError> {
        let state = self.states[index];
        let done = state.finished.or(state.begun.filter(|_| mark == Mark::Begun));
        if let Some(at) = done {
            return Err(RunError::Ticked { step: self.title(index), at: self.clock.shows(at) });
        }
        if let Some(before) = self.before[index].filter(|&before| self.states[before].finished.is_none()) {
            return Err(RunError::NotYet { step: self.title(index), before: self.title(before) });
        }
        let least = self.before[index].and_then(|before| self.states[before].finished).max(state.begun);
        match least.filter(|&least| at < least) {
            Some(least) => {
                let (at, least) = (self.clock.shows(at), self.clock.shows(least));
                Err(RunError::TimeBefore { step: self.title(index), at, least })
            }
            None => Ok(()),
        }
    }

    /// What is amiss with beginning a step now, as far as waits and steps done once go.
    fn warnings(&self, index: usize, at: Timestamp) -> Vec<RunWarning> {
        let mut warnings = Vec::new();
        if let Some(waiting) = self.done_before(index) {
            let title = self.title(waiting);
            let wait = self.kind(waiting).wait.unwrap_or_default();
            if let Some(early) = self.too_early(waiting, at) {
                warnings.push(early);
            } else if let (Some(most_min), Some(latest)) = (wait.most_min, self.latest(waiting).filter(|&latest| at > latest)) {
                warnings.push(RunWarning::TooLate { step: title, most_min, by_min: minutes_up(latest, at) });
            }
        }
        for &needed in &self.needed[index] {
            match self.states[needed].finished {
                None => warnings.push(RunWarning::Unfinished { step: self.title(needed) }),
                Some(_) if self.states[needed].left_out => {}
                Some(_) => warnings.extend(self.too_early(needed, at)),
            }
        }
        warnings
    }

    /// That a step's least wait is not over yet.
    fn too_early(&self, waiting: usize, at: Timestamp) -> Option<RunWarning> {
        let ready = self.ready(waiting).filter(|&ready| at < ready)?;
        Some(RunWarning::TooEarly {
            step: self.title(waiting),
            least_min: self.kind(waiting).wait.unwrap_or_default().least_min,
            reason: self.wait_reason(waiting),
            by_min: minutes_up(at, ready),
            ready: self.clock.shows(ready),
        })
    }

    fn place_full(&self, index: usize, at: Timestamp) -> Option<RunWarning> {
        let place = self.kind(index).place?;
        let room = *self.raw.rooms.get(&place)?;
        let own = if self.kind(index).one_by_one { self.takes(index) } else { 0 };
        let taken = self.taken(place, at) + own;
        (taken > room).then_some(RunWarning::PlaceFull { place, taken, room })
    }

    fn vessel_taken(&self, index: usize, at: Timestamp) -> Option<RunWarning> {
        let full = self.full_vessel(index, at)?;
        Some(RunWarning::VesselTaken { step: self.title(index), full })
    }

    fn apply(&mut self, index: usize, mark: Mark, at: Timestamp) {
        let state = &mut self.states[index];
        match mark {
            Mark::Begun => state.begun = Some(at),
            Mark::Finished => state.finished = Some(at),
            Mark::LeftOut => (state.finished, state.left_out) = (Some(at), true),
            Mark::Part { garment, part } => drop(self.parts.entry((index, garment)).or_default().insert(part)),
        }
    }

    /// The states anew from the ticks, each of which was checked when it was taken.
    pub(super) fn replay(&mut self) {
        self.states.fill(State::default());
        self.parts.clear();
        for tick in std::mem::take(&mut self.raw.ticks) {
            let at = self.instant(tick.at);
            self.raw.ticks.push(tick);
            if let Ok(index) = self.index(tick.step) {
                self.apply(index, tick.mark, at);
            }
        }
        self.forget_acknowledged();
    }

    pub(super) fn index(&self, step: u32) -> Result<usize, RunError> {
        let steps = self.raw.steps.len();
        let index = usize::try_from(step).unwrap_or(usize::MAX).wrapping_sub(1);
        if index < steps { Ok(index) } else { Err(RunError::NoStep { step, steps }) }
    }

    /// When a step was planned to begin, and its hands to be done.
    pub(super) fn planned(&self, index: usize) -> (Timestamp, Timestamp) {
        let step = self.raw_step(index);
        let from = self.clock.instant(step.from);
        (from, self.clock.instant_from(step.to, from))
    }

    pub(super) fn raw_step(&self, index: usize) -> &RunStepRecord {
        &self.raw.steps[index]
    }

    pub(super) fn kind(&self, index: usize) -> &RunKind {
        &self.raw.kinds[self.raw.steps[index].kind as usize - 1]
    }

    /// Why a step waits longer than its process says.
    pub(super) fn wait_reason(&self, index: usize) -> Option<String> {
        self.kind(index).wait_reason.clone()
    }

    pub(super) fn title(&self, index: usize) -> String {
        let kind = self.kind(index);
        title(kind.title.as_ref().unwrap_or(&kind.name), self.raw.steps[index].load)
    }

    /// The step whose wait goes before this one: the last of its load that was not left out.
    pub(super) fn done_before(&self, index: usize) -> Option<usize> {
        let mut before = self.before[index];
        while let Some(step) = before.filter(|&step| self.states[step].left_out) {
            before = self.before[step];
        }
        before.filter(|&step| self.states[step].finished.is_some())
    }

    /// When a step's least wait is over; none while hands are not done or it was left out.
    pub(super) fn ready(&self, index: usize) -> Option<Timestamp> {
        let least_min = self.kind(index).wait.map_or(0, |wait| wait.least_min);
        self.finished(index).map(|finished| later(finished, i64::from(least_min)))
    }

    /// When a step's most wait is over.
    pub(super) fn latest(&self, index: usize) -> Option<Timestamp> {
        let most_min = self.kind(index).wait?.most_min?;
        self.finished(index).map(|finished| later(finished, i64::from(most_min)))
    }

    /// When hands were done; none for a step left out.
    pub(super) fn finished(&self, index: usize) -> Option<Timestamp> {
        let state = self.states[index];
        state.finished.filter(|_| !state.left_out)
    }

    /// When the wait of a finished step was ended by the next step of its load; none while it goes on.
    pub(super) fn ended(&self, index: usize) -> Option<Timestamp> {
        let mut next = self.behind[index];
        while let Some(step) = next.filter(|&step| self.states[step].left_out) {
            next = self.behind[step];
        }
        next.and_then(|step| self.states[step].begun.or(self.states[step].finished))
    }

    /// What a place holds at a time: loads, or rods on the rack.
    pub(super) fn taken(&self, place: Place, at: Timestamp) -> u32 {
        (0..self.raw.steps.len()).filter(|&index| self.holds(index, place, at)).map(|index| self.takes(index)).sum()
    }

    pub(super) fn takes(&self, index: usize) -> u32 {
        let step = self.raw_step(index);
        if self.kind(index).place == Some(Place::Rack) && step.load.is_some() { step.garments } else { 1 }
    }

    /// Whether a step keeps room in a place: from its begin to the end of its wait, or of its hands if it has none. One done garment by
    /// garment leaves it to others between two, as in the plan.
    fn holds(&self, index: usize, place: Place, at: Timestamp) -> bool {
        let (kind, state) = (self.kind(index), self.states[index]);
        if kind.place != Some(place) || state.left_out {
            return false;
        }
        match (state.begun, state.finished) {
            (None, None) => false,
            (Some(_), None) => !kind.one_by_one,
            (_, Some(_)) if kind.wait.is_none() || self.ended(index).is_some() => false,
            // Nobody takes the last step's load away: it goes when it is ready.
            (_, Some(_)) => self.behind[index].is_some() || self.ready(index).is_some_and(|ready| at < ready),
        }
    }

    fn step_at(&self, index: usize) -> RunStep<'_> {
        let (step, kind, state) = (self.raw_step(index), self.kind(index), self.states[index]);
        let number = number(index);
        let caution = |&number: &u32| &self.raw.cautions[number as usize - 1];
        RunStep {
            number,
            load: step.load,
            name: &kind.name,
            shown: kind.title.as_deref().unwrap_or(&kind.name),
            what: &kind.what,
            garments: step.garments,
            place: kind.place,
            temperature: kind.temperature,
            wait: kind.wait,
            wait_reason: kind.wait_reason.as_deref(),
            needs: &step.needs,
            shares: &step.shares,
            cautions: step.cautions.iter().map(caution).collect(),
            from: step.from,
            to: step.to,
            hands_min: step.hands_min,
            begun: state.begun.map(|at| self.clock.shows(at)),
            finished: state.finished.map(|at| self.clock.shows(at)),
            left_out: state.left_out,
            note: self.raw.notes.get(&number).map_or("", String::as_str),
        }
    }
}

/// The number of a step by its index.
pub(super) fn number(index: usize) -> u32 {
    u32::try_from(index + 1).unwrap_or(u32::MAX)
}

/// So many minutes later, or the last time that a calendar knows.
pub(super) fn later(time: Timestamp, minutes: i64) -> Timestamp {
    time.checked_add(SignedDuration::from_mins(minutes)).unwrap_or(Timestamp::MAX)
}

/// Whole minutes between two times, begun ones counted.
pub(super) fn minutes_up(from: Timestamp, to: Timestamp) -> i64 {
    (from.duration_until(to).as_secs() + 59).div_euclid(60)
}
