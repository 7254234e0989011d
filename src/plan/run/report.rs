//! What a run tells of its garments for the journal: what was noted, how the waits came out, and when everything was really done.

use super::checked::number;
use super::{Mark, Run, RunStep};
use crate::plan::GarmentWork;
use jiff::civil::{Date, DateTime};
use std::collections::BTreeSet;

/// What a run tells of one garment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RunReport {
    /// The layout's name.
    pub of: String,
    /// Which of several garments of the layout it is: `2 of 3`; nothing for an only one.
    pub garment: String,
    /// The text of the layout's file, as it was planned.
    pub layout: String,
    /// The day of the last tick; none where nothing was ticked.
    pub made: Option<Date>,
    /// What was noted, a line for each step with a note.
    pub notes: Vec<String>,
    /// How the waits came out, a sentence each.
    pub waits: Vec<String>,
    /// When each step was done, and for when it was planned, a sentence each.
    pub times: Vec<String>,
}

/// A garment of a run: where it is folded and tied, if the run says so.
struct Garment {
    /// Which of its layout's it is, from 1.
    turn: u32,
    /// The step in which it is tied, by index, and its number there.
    tied: Option<(usize, u32)>,
}

impl Run {
    /// What it tells of each garment, layout by layout; nothing where nothing was ticked or noted, and of a run that does not know its
    /// layouts.
    #[must_use]
    pub fn reports(&self) -> Vec<RunReport> {
        if self.raw.ticks.is_empty() && self.raw.notes.is_empty() {
            return Vec::new();
        }
        let all = (1..).zip(&self.raw.layouts);
        let of_layout = |(number, work): (u32, &GarmentWork)| {
            let garments = self.garments_of(number);
            let count = garments.len();
            garments.into_iter().map(|garment| self.report(work, &garment, count)).collect::<Vec<_>>()
        };
        all.flat_map(of_layout).collect()
    }

    fn report(&self, work: &GarmentWork, garment: &Garment, count: usize) -> RunReport {
        let steps = self.steps_of(garment);
        let numbers: BTreeSet<u32> = steps.iter().map(|step| step.number).collect();
        let waits = self.verdicts().into_iter().filter(|judged| numbers.contains(&judged.step));
        let times = steps.iter().filter_map(|step| {
            let own = garment.tied.filter(|(index, _)| number(*index) == step.number);
            own.and_then(|own| self.tied_words(own, step)).or_else(|| timed(step))
        });
        RunReport {
            of: work.of.clone(),
            garment: if count > 1 { format!("{} of {count}", garment.turn) } else { String::new() },
            layout: work.layout.clone(),
            made: self.raw.ticks.iter().map(|tick| tick.at).max().map(DateTime::date),
            notes: steps.iter().filter(|step| !step.note.is_empty()).map(noted).collect(),
            waits: waits.map(|judged| judged.sentence()).collect(),
            times: times.collect(),
        }
    }

    /// The garments of a layout, in the order in which they are tied. A garment that several steps tie is one: its first counts. Where
    /// none says that it is tied, there is one of which all is told.
    fn garments_of(&self, layout: u32) -> Vec<Garment> {
        let mut loads = BTreeSet::new();
        let mut garments: Vec<Garment> = Vec::new();
        for index in 0..self.states.len() {
            let step = self.raw_step(index);
            if step.tied.is_empty() || !loads.insert((self.kind(index).process, step.load)) {
                continue;
            }
            let mut before = 0;
            for tied in &step.tied {
                if tied.layout == layout {
                    for number in before + 1..=before + tied.count {
                        let turn = u32::try_from(garments.len() + 1).unwrap_or(u32::MAX);
                        garments.push(Garment { turn, tied: Some((index, number)) });
                    }
                }
                before += tied.count;
            }
        }
        if garments.is_empty() { vec![Garment { turn: 1, tied: None }] } else { garments }
    }

    /// The steps of a garment's load, and those done once for its process; all, where it is not known in which load it is.
    fn steps_of(&self, garment: &Garment) -> Vec<RunStep<'_>> {
        let load = |index: usize| (self.kind(index).process, self.raw_step(index).load);
        let own = garment.tied.map(|(index, _)| load(index));
        let is_own = |index: usize| {
            let (process, of) = load(index);
            own.is_none_or(|own| own == (process, of) || (of.is_none() && own.0 == process))
        };
        self.steps().zip(0..).filter(|(_, index)| is_own(*index)).map(|(step, _)| step).collect()
    }

    /// When the parts of folding and tying a garment were ticked, from the first to the last: `fold and tie, load 1: Mon 3 May 10:02 to
    /// 10:48, 9 of 9 parts`; none where none was.
    fn tied_words(&self, (index, garment): (usize, u32), step: &RunStep<'_>) -> Option<String> {
        let is_own = |mark: Mark| matches!(mark, Mark::Part { garment: of, .. } if of == garment);
        let own = self.raw.ticks.iter().filter(|tick| tick.step == number(index) && is_own(tick.mark));
        let times: Vec<DateTime> = own.map(|tick| tick.at).collect();
        let (from, to) = (times.iter().min()?, times.iter().max()?);
        let parts = self.tied_garments(step.number).into_iter().find(|tied| tied.number == garment)?.parts();
        let begun = from.strftime("%a %-d %b %H:%M");
        Some(format!("{}: {begun} to {}, {} of {parts} parts", step.title(), clock(*to, *from), times.len()))
    }
}

/// A time beside another: its day is named where that is another.
fn clock(time: DateTime, beside: DateTime) -> String {
    let form = if time.date() == beside.date() { "%H:%M" } else { "%a %-d %b %H:%M" };
    time.strftime(form).to_string()
}

fn noted(step: &RunStep<'_>) -> String {
    format!("{}: {}", step.title(), step.note)
}

/// `discharge, load 1: Mon 3 May 10:02 to 10:14, planned for 10:00`; none for a step that was not ticked.
fn timed(step: &RunStep<'_>) -> Option<String> {
    let from = step.begun.or(step.finished)?;
    let title = step.title();
    if step.left_out {
        return Some(format!("{title}: left out"));
    }
    let begun = from.strftime("%a %-d %b %H:%M");
    let planned = clock(step.from, from);
    Some(match step.finished.filter(|finished| *finished != from) {
        Some(finished) => format!("{title}: {begun} to {}, planned for {planned}", clock(finished, from)),
        None if step.finished.is_none() => format!("{title}: begun {begun}, not finished, planned for {planned}"),
        None => format!("{title}: done {begun}, planned for {planned}"),
    })
}
