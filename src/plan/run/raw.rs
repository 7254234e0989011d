//! A run as its file gives it, nothing checked.

use crate::layout::HandPart;
use crate::plan::{
    Entry, GarmentWork, Hazard, Hours, LoadItem, MaterialTotal, Needed, Place, Plan, Share, Stretch, Temperature, Used, Wait,
    Weekday,
};
use jiff::civil::DateTime;
use std::collections::BTreeMap;

/// A run as its file gives it. Steps, kinds and cautions are named by their numbers, from 1.
#[derive(Debug, Clone, PartialEq)]
pub struct RunRecord {
    /// The order's name.
    pub name: String,
    /// What has been ticked, in the order of the ticking.
    pub ticks: Vec<Tick>,
    /// What the maker noted, by step.
    pub notes: BTreeMap<u32, String>,
    /// The steps, by the time they were planned for.
    pub steps: Vec<RunStepRecord>,
    /// What the steps are; one kind serves every load.
    pub kinds: Vec<RunKind>,
    /// The cautions that the steps name.
    pub cautions: Vec<RunCaution>,
    /// Room in the places that can be full.
    pub rooms: BTreeMap<Place, u32>,
    /// Vessels that a discharge's bath stays in to the next day.
    pub vessels: u32,
    /// Working hours; none for all hours.
    pub hours: Vec<Hours>,
    /// Days without work.
    pub days_off: Vec<Weekday>,
    /// The time zone whose clock shows the times, by its name in the IANA tz database; none for a clock that is never changed.
    pub zone: Option<String>,
    /// By when everything is to be over, if the plan had a deadline.
    pub deadline: Option<DateTime>,
    /// The layouts that the garments are made from, and how each is folded and tied.
    pub layouts: Vec<GarmentWork>,
    /// The alarms that were acknowledged.
    pub acknowledged: Vec<Acknowledged>,
    /// What the plan uses up.
    pub used: Vec<Used>,
}

/// What a tick says of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Hands have begun.
    Begun,
    /// Hands are done; its wait begins.
    Finished,
    /// It is left out: nothing waits for it.
    LeftOut,
    /// A part of folding and tying one of its garments is done; the step goes on.
    Part {
        /// The garment's number in the step, from 1.
        garment: u32,
        /// The part.
        part: HandPart,
    },
}

/// A tick.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tick {
    /// The step's number.
    pub step: u32,
    /// What is said of it.
    pub mark: Mark,
    /// When, by the clock on the wall.
    pub at: DateTime,
}

/// What an alarm calls for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AlarmKind {
    /// The wait is over: the next step can begin.
    Ready,
    /// The wait may not last much longer.
    Closing,
    /// The wait has lasted too long.
    Overdue,
}

/// An alarm that was acknowledged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Acknowledged {
    /// The step whose wait it is about.
    pub step: u32,
    /// What it called for.
    pub alarm: AlarmKind,
}

/// One step of one load, or a step done once.
#[derive(Debug, Clone, PartialEq)]
pub struct RunStepRecord {
    /// The number of its kind.
    pub kind: u32,
    /// The load's number; none for a step done once.
    pub load: Option<u32>,
    /// Garments that it is done to.
    pub garments: u32,
    /// Planned: hands begin.
    pub from: DateTime,
    /// Planned: hands are done.
    pub to: DateTime,
    /// Planned: the stretches of work, where there are several.
    pub stretches: Vec<Stretch>,
    /// Hands-on time, min.
    pub hands_min: u32,
    /// What to have weighed out, for all its garments.
    pub needs: Vec<RunNeed>,
    /// What of it each garment gets.
    pub shares: Vec<RunShare>,
    /// The garments that are folded and tied in it, in this order.
    pub tied: Vec<RunTied>,
    /// The numbers of its cautions.
    pub cautions: Vec<u32>,
}

/// What a step is, for every load.
#[derive(Debug, Clone, PartialEq)]
pub struct RunKind {
    /// Number of the process, from 0: steps of one load belong to one process.
    pub process: usize,
    /// Its place in the process, from 1.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// The same to be shown, where its name alone is another step's too.
    pub title: Option<String>,
    /// What to do.
    pub what: String,
    /// Where.
    pub place: Option<Place>,
    /// Temperature.
    pub temperature: Option<Temperature>,
    /// Whether work may pause between two garments.
    pub one_by_one: bool,
    /// Whether it is done in such a vessel.
    pub vessel: bool,
    /// How long it has to and may wait when hands are done.
    pub wait: Option<Wait>,
    /// Why its least wait is longer than the process says, as the plan wrote it.
    pub wait_reason: Option<String>,
    /// Steps done once that have to be over before it, by name.
    pub after: Vec<String>,
}

/// Something to have weighed out, as the plan wrote it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RunNeed {
    /// What.
    pub what: String,
    /// How much, with its unit.
    pub amount: String,
}

/// What each of so many equal garments gets, as the plan wrote it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RunShare {
    /// The garments' layout, by its name.
    pub of: String,
    /// How many they are.
    pub count: u32,
    /// For one of them.
    pub needs: Vec<RunNeed>,
}

/// So many garments of one layout, to be folded and tied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RunTied {
    /// The layout's number, from 1.
    pub layout: u32,
    /// How many.
    pub count: u32,
}

/// A caution, as the plan wrote it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RunCaution {
    /// What may hurt.
    pub hazard: Hazard,
    /// What to know and do.
    pub text: String,
    /// Who says so.
    pub source: String,
}

impl RunRecord {
    /// A plan's timetable, frozen, nothing ticked.
    #[must_use]
    pub fn of(plan: &Plan) -> Self {
        let mut run = Self {
            name: plan.name.clone(),
            ticks: Vec::new(),
            notes: BTreeMap::new(),
            steps: Vec::new(),
            kinds: Vec::new(),
            cautions: Vec::new(),
            rooms: plan.rooms.clone(),
            vessels: plan.vessels,
            hours: plan.hours.clone(),
            days_off: plan.days_off.clone(),
            zone: plan.zone.clone(),
            deadline: plan.deadline,
            layouts: plan.lines.iter().map(|line| line.work.clone()).collect(),
            acknowledged: Vec::new(),
            used: plan.totals.materials.iter().map(used).collect(),
        };
        for entry in &plan.timeline.entries {
            let step = run.step(entry);
            run.steps.push(step);
        }
        run
    }

    fn step(&mut self, entry: &Entry) -> RunStepRecord {
        let cautions = entry.cautions.iter().map(|caution| RunCaution {
            hazard: caution.hazard,
            text: caution.text.clone(),
            source: caution.source.to_owned(),
        });
        let share = |share: &Share| RunShare { of: share.name.clone(), count: share.count, needs: needs(&share.needs) };
        let last = entry.stretches.last().map_or_else(|| entry.begins(), |stretch| stretch.to);
        RunStepRecord {
            kind: number_in(&mut self.kinds, kind(entry)),
            load: entry.load,
            garments: entry.garments,
            from: entry.begins(),
            to: last,
            stretches: if entry.stretches.len() > 1 { entry.stretches.clone() } else { Vec::new() },
            hands_min: u32::try_from(entry.hands_min).unwrap_or(u32::MAX),
            needs: needs(&entry.needs),
            shares: entry.shares.iter().map(share).collect(),
            tied: entry.tied.iter().map(tied).collect(),
            cautions: cautions.map(|caution| number_in(&mut self.cautions, caution)).collect(),
        }
    }
}

fn needs(needs: &[Needed]) -> Vec<RunNeed> {
    needs.iter().map(|(what, amount)| RunNeed { what: what.clone(), amount: amount.to_string() }).collect()
}

fn used(total: &MaterialTotal) -> Used {
    Used { material: total.material.clone(), amount: total.amount.value_in(total.material.unit()) }
}

fn tied(item: &LoadItem) -> RunTied {
    RunTied { layout: u32::try_from(item.line + 1).unwrap_or(u32::MAX), count: item.count }
}

fn kind(entry: &Entry) -> RunKind {
    RunKind {
        process: entry.process,
        number: entry.number,
        name: entry.step.clone(),
        title: Some(entry.title.clone()).filter(|title| *title != entry.step),
        what: entry.attended_words().map_or_else(|| entry.what.clone(), |stay| format!("{} {stay}", entry.what)),
        place: entry.place,
        temperature: entry.temperature,
        one_by_one: entry.one_by_one,
        vessel: entry.vessel,
        wait: entry.wait,
        // What is attended is no wait: its reason stands in the words.
        wait_reason: entry.wait_reason.clone().filter(|_| entry.attended_min == 0),
        after: entry.after.clone(),
    }
}

/// The number of a thing in a list, from 1; it is put there if it is not.
fn number_in<T: PartialEq>(list: &mut Vec<T>, thing: T) -> u32 {
    let at = list.iter().position(|known| *known == thing).unwrap_or_else(|| {
        list.push(thing);
        list.len() - 1
    });
    u32::try_from(at + 1).unwrap_or(u32::MAX)
}
