//! Folding and tying, garment by garment: what of it is ticked.

use super::checked::{State, number};
use super::{Mark, Run, RunError, RunWarning, Tick};
use crate::layout::HandPart;
use crate::plan::GarmentWork;
use jiff::civil::DateTime;
use std::collections::BTreeSet;

/// A garment that is folded and tied in a step, and what of it is done.
#[derive(Debug, Clone, PartialEq)]
pub struct TiedGarment<'a> {
    /// Its number in the step, from 1.
    pub number: u32,
    /// Its layout's name, and which of several it is: `Harbour Row tee, M, 2 of 3`.
    pub name: String,
    /// Its layout, and how it is folded and tied.
    pub garment: &'a GarmentWork,
    /// The parts that are ticked.
    pub done: BTreeSet<HandPart>,
}

impl TiedGarment<'_> {
    /// The first part that is not ticked; none when all are.
    #[must_use]
    pub fn next(&self) -> Option<HandPart> {
        self.garment.work.parts().find(|part| !self.done.contains(part))
    }

    /// How many parts it has.
    #[must_use]
    pub fn parts(&self) -> usize {
        self.garment.work.parts().count()
    }
}

impl Run {
    /// The garments that are folded and tied in a step, in order; none where none are.
    #[must_use]
    pub fn tied_garments(&self, step: u32) -> Vec<TiedGarment<'_>> {
        let Ok(index) = self.index(step) else { return Vec::new() };
        let all: u32 = self.raw_step(index).tied.iter().map(|tied| tied.count).sum();
        let garment = |number| {
            let (garment, name) = self.tied_garment(index, number)?;
            let done = self.parts.get(&(index, number)).cloned().unwrap_or_default();
            Some(TiedGarment { number, name, garment, done })
        };
        (1..=all).filter_map(garment).collect()
    }

    /// The layout of a garment of a step, by its number in it, and what it is called.
    fn tied_garment(&self, index: usize, number: u32) -> Option<(&GarmentWork, String)> {
        let mut turn = number;
        for tied in &self.raw_step(index).tied {
            if (1..=tied.count).contains(&turn) {
                let garment = self.raw.layouts.get((tied.layout as usize).checked_sub(1)?)?;
                let of = &garment.of;
                let name = if tied.count > 1 { format!("{of}, {turn} of {}", tied.count) } else { of.clone() };
                return Some((garment, name));
            }
            turn = turn.saturating_sub(tied.count);
        }
        None
    }

    /// Notes that a part of folding and tying a garment is done. A step that was not begun is begun with it.
    ///
    /// # Errors
    /// As for [`Run::begin`], and [`RunError::NoPart`] where the step has no such garment or part.
    pub fn part_done(&mut self, step: u32, garment: u32, part: HandPart, at: DateTime) -> Result<Vec<RunWarning>, RunError> {
        let index = self.index(step)?;
        self.check_part(index, garment, part)?;
        let warnings = if self.states[index] == State::default() { self.begin(step, at)? } else { Vec::new() };
        self.tick(Tick { step, mark: Mark::Part { garment, part }, at })?;
        Ok(warnings)
    }

    /// Takes back the tick of a part; whether there was one. The parts ticked after it stay.
    ///
    /// # Errors
    /// [`RunError::NoStep`], and [`RunError::Ticked`] when the step is done.
    pub fn undo_part(&mut self, step: u32, garment: u32, part: HandPart) -> Result<bool, RunError> {
        let index = self.index(step)?;
        self.check_open(index)?;
        let mark = Mark::Part { garment, part };
        let Some(at) = self.raw.ticks.iter().rposition(|tick| tick.step == step && tick.mark == mark) else { return Ok(false) };
        self.raw.ticks.remove(at);
        self.replay();
        Ok(true)
    }

    /// What a part is called, after its garment: `Harbour Row tee, M: bind 7`.
    pub(super) fn part_title(&self, index: usize, garment: u32, part: HandPart) -> String {
        let own = self.tied_garment(index, garment);
        own.map_or_else(String::new, |(garment, name)| format!("{name}: {}", garment.work.title(part)))
    }

    /// That a step has such a garment, with such a part, which is not ticked yet.
    fn check_part(&self, index: usize, garment: u32, part: HandPart) -> Result<(), RunError> {
        let own = self.tied_garment(index, garment);
        if !own.is_some_and(|(own, _)| own.work.parts().any(|known| known == part)) {
            return Err(RunError::NoPart { step: self.title(index), garment });
        }
        if self.parts.get(&(index, garment)).is_some_and(|done| done.contains(&part)) {
            return Err(RunError::PartTicked { part: self.part_title(index, garment, part) });
        }
        self.check_open(index)
    }

    /// That a step is not settled.
    fn check_open(&self, index: usize) -> Result<(), RunError> {
        match self.states[index].finished {
            Some(at) => Err(RunError::Ticked { step: self.title(index), at: self.clock.shows(at) }),
            None => Ok(()),
        }
    }

    /// The tick of a part.
    pub(super) fn tick_part(&mut self, tick: Tick, (garment, part): (u32, HandPart)) -> Result<(), RunError> {
        let index = self.index(tick.step)?;
        self.check_part(index, garment, part)?;
        let Some(begun) = self.states[index].begun else {
            return Err(RunError::NotBegun { step: self.title(index) });
        };
        if self.instant(tick.at) < begun {
            let least = self.clock.shows(begun);
            return Err(RunError::TimeBefore { step: self.title(index), at: tick.at, least });
        }
        self.raw.ticks.push(tick);
        self.parts.entry((index, garment)).or_default().insert(part);
        Ok(())
    }

    /// That parts of a step were ticked, and not all.
    pub(super) fn parts_left(&self, index: usize) -> Option<RunWarning> {
        let all = self.tied_garments(number(index));
        let (done, parts) = all.iter().fold((0, 0), |(done, parts), own| (done + own.done.len(), parts + own.parts()));
        (done > 0 && done < parts).then(|| RunWarning::PartsLeft { step: self.title(index), left: parts - done })
    }
}
