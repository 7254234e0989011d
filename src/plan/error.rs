//! What can be wrong with a recipe, an order or a process whose form is right, and what makes a plan refused.

use crate::layout::{Fibre, LayoutError, other_form};
use crate::plan::air::{Gas, SO2_ASTHMA_PPM, SO2_DANGER_PPM, air_limits};
use crate::plan::{GradeError, Region, RunError, WorkPlace, ZoneError};

/// A value in a recipe, order or process file that can't be used, with the path of its field.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{field}: {problem}")]
pub struct PlanFileError {
    /// Dotted path of the field, such as `dye.percent.full`.
    pub field: String,
    /// What is wrong with it.
    pub problem: PlanProblem,
}

impl PlanFileError {
    pub(super) fn new(field: impl Into<String>, problem: impl Into<PlanProblem>) -> Self {
        Self { field: field.into(), problem: problem.into() }
    }

    /// Refuses a number outside its range, NaN among them.
    pub(super) fn check(field: &str, value: f64, least: f64, most: f64) -> Result<(), Self> {
        if (least..=most).contains(&value) { Ok(()) } else { Err(Self::new(field, PlanProblem::Number { value, least, most })) }
    }

    /// Refuses a list longer than can be meant; it may be empty.
    pub(super) fn check_most(field: &str, count: usize, most: usize) -> Result<(), Self> {
        if count <= most { Ok(()) } else { Err(Self::new(field, PlanProblem::TooMany { count, most })) }
    }

    /// Refuses a list that is empty or longer than can be meant.
    pub(super) fn check_count(field: &str, count: usize, most: usize) -> Result<(), Self> {
        if (1..=most).contains(&count) { Ok(()) } else { Err(Self::new(field, PlanProblem::Count { count, most })) }
    }
}

/// What is wrong with a value.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PlanProblem {
    /// The form is newer than this program, or none that ever was.
    #[error("this file has form {found}, and {}", other_form(*found, *known))]
    Format {
        /// The number in the file.
        found: u32,
        /// The newest form known.
        known: u32,
    },
    /// A number out of range.
    #[error("{value} is out of range; give a number from {least} to {most}")]
    Number {
        /// The given value.
        value: f64,
        /// Least allowed.
        least: f64,
        /// Greatest allowed.
        most: f64,
    },
    /// A list without entries, or with more than can be meant.
    #[error("there are {count} entries; give 1 to {most}")]
    Count {
        /// How many there are.
        count: usize,
        /// Most allowed.
        most: usize,
    },
    /// A list with more entries than can be meant.
    #[error("there are {count} entries, and at most {most} fit")]
    TooMany {
        /// How many there are.
        count: usize,
        /// Most that fit.
        most: usize,
    },
    /// A name that is empty, too long, or of more than one line.
    #[error("a name has 1 to {most} characters on one line, none of them a control character; this one has {length}")]
    Name {
        /// Its number of characters.
        length: usize,
        /// Most allowed.
        most: usize,
    },
    /// A text longer than one can be meant.
    #[error("it has {length} characters, and at most {most} fit")]
    LongText {
        /// Its number of characters.
        length: usize,
        /// Most that fit.
        most: usize,
    },
    /// Two things of one name.
    #[error("\"{name}\" stands there twice; give each a name of its own")]
    Twice {
        /// The name.
        name: String,
    },
    /// A name that nothing bears.
    #[error("there is no {what} \"{name}\"; there are {known}")]
    Unknown {
        /// What kind of thing was meant.
        what: &'static str,
        /// The name.
        name: String,
        /// The names there are.
        known: String,
    },
    /// A least wait above the most.
    #[error("the least wait, {least_min} min, is above the most, {most_min} min")]
    Wait {
        /// The least wait.
        least_min: u32,
        /// The most.
        most_min: u32,
    },
    /// A step that needs what the recipe does not have.
    #[error("the step needs a discharge, and recipe \"{recipe}\" has none")]
    NoDischarge {
        /// The recipe.
        recipe: String,
    },
    /// Ice that a step waits for longer than can be planned.
    #[error("{melting}, longer than a plan can wait; lay less of it, or keep the room warmer")]
    NeverMelts {
        /// Which ice, how long and where.
        melting: String,
    },
    /// Working hours that end before they begin, or overlap.
    #[error("working hours from {from} to {to} are none, or begin before the earlier ones end")]
    Hours {
        /// Their beginning.
        from: String,
        /// Their end.
        to: String,
    },
    /// One garment that no tub takes.
    #[error(
        "one garment of {garment_g:.0} g takes {needed_l:.1} L at {litres_per_kg} L/kg, itself among them, and the tub has {tub_l}; use a larger tub"
    )]
    TubTooSmall {
        /// Dry mass of the garment.
        garment_g: f64,
        /// Water it takes.
        needed_l: f64,
        /// Litres of water for a kilogram of cloth.
        litres_per_kg: f64,
        /// The tub.
        tub_l: f64,
    },
    /// Rods that, with the bath that covers them, need a larger vessel.
    #[error(
        "{cloth_g:.0} g of cloth and the discharge bath that it takes need a vessel of {needed_l:.1} L, filled to four fifths, and this one holds \
         {vessel_l} L; use a larger vessel, or one whose floor is smaller"
    )]
    VesselTooSmall {
        /// Dry cloth, g.
        cloth_g: f64,
        /// What it takes, L.
        needed_l: f64,
        /// The vessel, L.
        vessel_l: f64,
    },
    /// A plastic tub on a hob.
    #[error("a plastic tub can't stand on a hob; say Kettle, or material: Steel")]
    PlasticOnHob,
    /// A ready mixture whose label nobody read.
    #[error("a ready discharge mixture is used as its label says; give {missing} from it")]
    MixtureUnsaid {
        /// The fields that the label fills.
        missing: &'static str,
    },
    /// Cloth that the dye harms, or hardly dyes.
    #[error(
        "{percent:.0} % of the cloth is {}{fibre}; {}",
        if *percent > 99.5 { "" } else if *is_harmed { "animal fibre, most of it " } else { "a fibre that it does not dye, most of it " },
        if *is_harmed {
            "hot soda ash and this discharge harm it: use a process made for wool or silk"
        } else {
            "a reactive dye binds to cotton, linen, hemp and viscose and washes out of the rest: use a dye made for that fibre"
        }
    )]
    WrongFibre {
        /// The largest such fibre.
        fibre: Fibre,
        /// Its kind's share, percent.
        percent: f64,
        /// Whether it would be harmed; else it would hardly be dyed.
        is_harmed: bool,
    },
    /// A layout that can't be graded as asked.
    #[error(transparent)]
    Grade(#[from] GradeError),
    /// A graded layout that can't be.
    #[error(transparent)]
    Layout(#[from] LayoutError),
    /// A tick or note of a run that can't be.
    #[error(transparent)]
    Run(#[from] RunError),
    /// A time zone that is not known.
    #[error(transparent)]
    Zone(#[from] ZoneError),
    /// The plan would hurt someone or spoil the work.
    #[error(transparent)]
    Refused(#[from] Refusal),
}

/// A plan that is refused because it would hurt someone.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Refusal {
    /// A reductive discharge in a room without extraction.
    #[error(
        "step \"{step}\" gives off sulfur dioxide, {place}; {}. Do it outdoors or under extraction",
        indoors(*grams, agent, *ppm, *region)
    )]
    NoExtraction {
        /// The step.
        step: String,
        /// The discharge agent.
        agent: &'static str,
        /// How much of it in one bath.
        grams: f64,
        /// The most sulfur dioxide it can give in that room.
        ppm: f64,
        /// Where it was to be done.
        place: WorkPlace,
        /// Whose limits are told.
        region: Region,
    },
    /// Bleach or acid and a reductive agent in one bath or one tub.
    #[error(
        "steps \"{first}\" and \"{second}\" share {shared}: {mixed} must never meet, for together they give off dangerous gas and heat \
         (ICSC 1717: keep dithionite from acids and oxidants); give each its own"
    )]
    OneBath {
        /// The earlier step.
        first: String,
        /// The later one.
        second: String,
        /// What they share.
        shared: String,
        /// The two kinds of chemical.
        mixed: String,
    },
    /// No full rinse between bleach or acid and a reductive agent.
    #[error(
        "between steps \"{first}\" and \"{second}\" the cloth is not rinsed: {mixed} must never meet, for together they give off \
         dangerous gas and heat (ICSC 1717: keep dithionite from acids and oxidants); put a full rinse between them"
    )]
    NoRinse {
        /// The earlier step.
        first: String,
        /// The later one.
        second: String,
        /// The two kinds of chemical.
        mixed: String,
    },
}

/// Why a closed room is refused whatever its size: by the bound where that is above the limit, else because the gas does not spread evenly.
fn indoors(grams: f64, agent: &str, ppm: f64, region: Region) -> String {
    let limits = air_limits(Gas::SulfurDioxide, region);
    if ppm > limits.short_ppm {
        return format!(
            "{grams:.1} g of {agent} can give up to {ppm:.0} ppm there, and {} ppm is the limit for 15 minutes ({}), {SO2_DANGER_PPM} ppm is \
             dangerous at once",
            limits.short_ppm, limits.source
        );
    }
    format!(
        "a closed room is refused whatever its size: the gas is heavier than air and lies about the bath, and some people with asthma feel \
         {SO2_ASTHMA_PPM} ppm"
    )
}

/// Longest name, characters: what fits on a sheet.
const LONGEST_NAME: usize = 80;

pub(super) fn check_name(field: &str, name: &str) -> Result<(), PlanFileError> {
    let length = name.chars().count();
    if (1..=LONGEST_NAME).contains(&length) && !name.trim().is_empty() && !name.contains(char::is_control) {
        Ok(())
    } else {
        Err(PlanFileError::new(field, PlanProblem::Name { length, most: LONGEST_NAME }))
    }
}

/// Longest note of a file, characters. Own choice.
const LONGEST_NOTE: usize = 50_000;

pub(super) fn check_note(note: &str) -> Result<(), PlanFileError> {
    check_text("note", note, LONGEST_NOTE)
}

pub(super) fn check_text(field: &str, text: &str, most: usize) -> Result<(), PlanFileError> {
    let length = text.chars().count();
    if length > most { Err(PlanFileError::new(field, PlanProblem::LongText { length, most })) } else { Ok(()) }
}
