//! A process and its steps, as a file gives them.
//!
//! A load goes through the steps in their order: a garment is in one place at a time. Steps done once for the whole order (weighing
//! out the dyes) stand beside that chain; the steps that need them say so.

use crate::geometry::SourceStatus;
use crate::plan::error::{check_name, check_note, check_text};
use crate::plan::{Named, PlanFileError, PlanProblem};
use crate::telling::Field;
use serde::Serialize;
use std::fmt;

/// Where a step is done, and what it keeps busy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Place {
    /// A tub: one load each.
    Tub,
    /// A sink: one load each.
    Sink,
    /// A washing machine: one load each.
    Washer,
    /// A table.
    Table,
    /// The rack over the drip tub: so many rods.
    Rack,
    /// A line or airer; never full.
    Line,
}

impl Place {
    /// Every place.
    pub const ALL: [Self; 6] = [Self::Tub, Self::Sink, Self::Washer, Self::Table, Self::Rack, Self::Line];

    /// Plain word for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tub => "tub",
            Self::Sink => "sink",
            Self::Washer => "washer",
            Self::Table => "table",
            Self::Rack => "rack",
            Self::Line => "line",
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Hands-on time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Hands {
    /// For the load, however many garments it has, min.
    pub load_min: u32,
    /// For each garment, min.
    pub garment_min: u32,
}

/// Waiting after the hands are done; the load stays in its place until the next step takes it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Wait {
    /// At least, min.
    pub least_min: u32,
    /// At most, min; none where longer does no harm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_min: Option<u32>,
}

/// A range of temperature, C.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Temperature {
    /// From, C.
    pub from_c: f64,
    /// To, C.
    pub to_c: f64,
}

impl fmt::Display for Temperature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.from_c == self.to_c {
            write!(f, "{} °C", self.from_c)
        } else {
            write!(f, "{} to {} °C", self.from_c, self.to_c)
        }
    }
}

/// What a bath holds, as far as it can hurt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Chemistry {
    /// Water, detergent or nothing.
    #[default]
    Plain,
    /// Soda ash.
    Alkali,
    /// A reductive discharge.
    Reductive,
    /// Chlorine bleach or another oxidant.
    Bleach,
    /// An acid.
    Acid,
}

impl Chemistry {
    /// Plain words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Plain => "water",
            Self::Alkali => "soda ash",
            Self::Reductive => "a reductive discharge",
            Self::Bleach => "bleach",
            Self::Acid => "acid",
        }
    }
}

/// What a step uses of the masses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// Thread for the binds.
    Thread,
    /// Water for the discharge, and the soda ash that is dissolved in it.
    BathWater,
    /// The discharge agent; where no step has the water ready, that and the soda ash too.
    Discharge,
    /// Water, soda ash and agent for the discharge of a scrap.
    ScrapBath,
    /// Water and soda ash that a scrap is soaked in, where that is a step of its own.
    ScrapSoak,
    /// Dye for a scrap; where no step soaks it, water and soda ash too.
    ScrapDye,
    /// The soda ash soak.
    SodaSoak,
    /// The dyes, weighed out.
    Dye,
    /// Soda ash sprinkled over the powder.
    SodaStrewn,
    /// A layer of ice, by its number from 1.
    Ice(u32),
    /// Dissolved dye, to be put on by hand.
    Stock,
    /// Hot water that loose dye is soaked out in; in several rounds where a tub does not take the load.
    HotSoak,
}

/// What a wait goes on for beside its least: how long it takes is reckoned for the load, the vessel and the room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Until {
    /// The discharge's water is hot.
    Heated,
    /// The discharge agent has had its time.
    Discharged,
    /// The thickest rod is dry inside.
    Dry,
    /// The dye has fixed.
    Fixed,
}

impl Until {
    /// Whether somebody stays beside it: a vessel on the heat, a bath that gives off gas.
    #[must_use]
    pub const fn is_attended(self) -> bool {
        matches!(self, Self::Heated | Self::Discharged)
    }
}

/// How the discharge agent meets the water.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AgentGoes {
    /// Into the hot water, in small lots, before the rods.
    IntoWater,
    /// Sprinkled over the wet rods, water poured over it.
    OntoRods,
}

/// One step.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Its name.
    pub name: String,
    /// What to do.
    pub what: String,
    /// Done once for the whole order, not for each load.
    pub once: bool,
    /// Done garment by garment, with time for other work between two of them.
    pub one_by_one: bool,
    /// Hands-on time.
    pub hands: Hands,
    /// Waiting after it.
    pub wait: Option<Wait>,
    /// What the wait goes on for beside its least.
    pub until: Vec<Until>,
    /// How the discharge agent meets the water, for a step that has one; said, for it can hurt.
    pub agent_goes: Option<AgentGoes>,
    /// Whether it tests a scrap: left out where that was done before.
    pub scrap: bool,
    /// Where it is done.
    pub place: Option<Place>,
    /// A name for the bath, where one place serves several baths in tubs of their own.
    pub bath: Option<String>,
    /// Temperature.
    pub temperature: Option<Temperature>,
    /// What it uses.
    pub needs: Vec<Need>,
    /// What the bath holds.
    pub chemistry: Chemistry,
    /// Whether it rinses the cloth fully.
    pub rinses: bool,
    /// Earlier steps done once that this one needs, by name.
    pub after: Vec<String>,
    /// How far its times can be trusted.
    pub status: SourceStatus,
}

impl Step {
    /// A step of that name that takes no time, has nothing to wait for and uses nothing; its times come from nowhere yet.
    #[must_use]
    pub const fn new(name: String) -> Self {
        Self {
            name,
            what: String::new(),
            once: false,
            one_by_one: false,
            hands: Hands { load_min: 0, garment_min: 0 },
            wait: None,
            until: Vec::new(),
            agent_goes: None,
            scrap: false,
            place: None,
            bath: None,
            temperature: None,
            needs: Vec::new(),
            chemistry: Chemistry::Plain,
            rinses: false,
            after: Vec::new(),
            status: SourceStatus::Memory,
        }
    }

    /// Hands-on time for so many garments, min. A step done once counts them for the whole order.
    #[must_use]
    pub fn hands_min(&self, garments: u32) -> u32 {
        self.hands.load_min + self.hands.garment_min * garments
    }

    /// Whether it is done in the discharge's vessel, which it is not free of before the next day: its water is heated there, or the agent
    /// works there. A scrap has a pan of its own.
    #[must_use]
    pub fn in_vessel(&self) -> bool {
        !self.once && (self.needs.contains(&Need::BathWater) || self.holds() == Chemistry::Reductive)
    }

    /// Whether the discharge agent works in it, whatever it is said to hold.
    #[must_use]
    pub fn has_agent_at_work(&self) -> bool {
        self.agent_goes.is_some() || self.until.contains(&Until::Discharged)
    }

    /// What it holds: a reductive discharge where the agent works in it, even if its file does not say so. What may hurt is never less
    /// than what is done.
    #[must_use]
    pub fn holds(&self) -> Chemistry {
        match self.chemistry {
            Chemistry::Plain | Chemistry::Alkali if self.has_agent_at_work() => Chemistry::Reductive,
            chemistry => chemistry,
        }
    }
}

/// A process.
#[derive(Debug, Clone, PartialEq)]
pub struct Process {
    /// Its name.
    pub name: String,
    /// Anything to remember.
    pub note: String,
    /// The steps, in their order.
    pub steps: Vec<Step>,
}

/// Longest wait that is planned, a process' own or another, min: sixty days.
pub(in crate::plan) const LONGEST_MIN: u32 = 86_400;
/// Most steps of a process.
const MOST_STEPS: usize = 60;
/// Longest time of a step, min.
const MOST_MIN: f64 = LONGEST_MIN as f64;
/// Longest instruction, characters.
const LONGEST_TEXT: usize = 1000;

impl Process {
    /// Whether any step uses this.
    #[must_use]
    pub fn uses(&self, need: Need) -> bool {
        self.steps.iter().any(|step| step.needs.contains(&need))
    }

    /// Checks names, times and what steps wait for.
    ///
    /// # Errors
    /// [`PlanFileError`] naming the step and what is wrong with it.
    pub fn check(&self) -> Result<(), PlanFileError> {
        check_name("name", &self.name)?;
        check_note(&self.note)?;
        PlanFileError::check_count("steps", self.steps.len(), MOST_STEPS)?;
        (0..self.steps.len()).try_for_each(|index| self.check_step(index))
    }

    fn check_step(&self, index: usize) -> Result<(), PlanFileError> {
        let step = &self.steps[index];
        let field = |key: &'static str| Field::from("steps").item(index + 1).then(key);
        check_name(field("name"), &step.name)?;
        if self.steps[..index].iter().any(|earlier| earlier.name == step.name) {
            return Err(PlanFileError::new(field("name"), PlanProblem::Twice { name: step.name.clone() }));
        }
        check_text(field("what"), &step.what, LONGEST_TEXT)?;
        step.bath.iter().try_for_each(|bath| check_name(field("bath"), bath))?;
        PlanFileError::check(field("hands.load_min"), f64::from(step.hands.load_min), 0.0, MOST_MIN)?;
        PlanFileError::check(field("hands.garment_min"), f64::from(step.hands.garment_min), 0.0, MOST_MIN)?;
        if let Some(wait) = step.wait {
            PlanFileError::check(field("wait.least_min"), f64::from(wait.least_min), 0.0, MOST_MIN)?;
            let most_min = wait.most_min.unwrap_or(wait.least_min);
            PlanFileError::check(field("wait.most_min"), f64::from(most_min), 0.0, MOST_MIN)?;
            if most_min < wait.least_min {
                return Err(PlanFileError::new(field("wait"), PlanProblem::Wait { least_min: wait.least_min, most_min }));
            }
        }
        if let Some(range) = step.temperature {
            PlanFileError::check(field("temperature.from_c"), range.from_c, -30.0, 110.0)?;
            PlanFileError::check(field("temperature.to_c"), range.to_c, range.from_c, 110.0)?;
        }
        self.check_after(index).map_err(|problem| PlanFileError::new(field("after"), problem))
    }

    fn check_after(&self, index: usize) -> Result<(), PlanProblem> {
        let once = || self.steps[..index].iter().filter(|earlier| earlier.once);
        match self.steps[index].after.iter().find(|name| !once().any(|earlier| earlier.name == **name)) {
            None => Ok(()),
            Some(name) => {
                let known = once().map(|earlier| earlier.name.clone()).collect();
                Err(PlanProblem::Unknown { what: Named::EarlierStep, name: name.clone(), known })
            }
        }
    }
}
