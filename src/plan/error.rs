//! What can be wrong with a recipe, an order or a process whose form is right, and what makes a plan refused.

use super::refusal::Refusal;
use super::short;
use crate::layout::{Fibre, LayoutError, usual};
use crate::plan::{GradeError, RunError, ZoneError};
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files, listed};

/// A value in a recipe, order or process file that can't be used, with its field.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub struct PlanFileError {
    /// Where it is, such as `dye.percent.full`.
    pub field: Field,
    /// What is wrong with it.
    pub problem: PlanProblem,
}

impl PlanFileError {
    pub(super) fn new(field: impl Into<Field>, problem: impl Into<PlanProblem>) -> Self {
        Self { field: field.into(), problem: problem.into() }
    }

    /// The same within an outer field.
    pub(super) fn within(self, outer: &'static str) -> Self {
        Self { field: Field::from(outer).then(self.field), ..self }
    }

    /// Refuses a number outside its range, NaN among them.
    pub(super) fn check(field: impl Into<Field>, value: f64, least: f64, most: f64) -> Result<(), Self> {
        if (least..=most).contains(&value) { Ok(()) } else { Err(Self::new(field, PlanProblem::Number { value, least, most })) }
    }

    /// Refuses a list longer than can be meant; it may be empty.
    pub(super) fn check_most(field: impl Into<Field>, count: usize, most: usize) -> Result<(), Self> {
        if count <= most { Ok(()) } else { Err(Self::new(field, PlanProblem::TooMany { count, most })) }
    }

    /// Refuses a list that is empty or longer than can be meant.
    pub(super) fn check_count(field: impl Into<Field>, count: usize, most: usize) -> Result<(), Self> {
        if (1..=most).contains(&count) { Ok(()) } else { Err(Self::new(field, PlanProblem::Count { count, most })) }
    }
}

/// What is wrong with a value.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PlanProblem {
    /// The format is newer than this program, or none that ever was.
    Format {
        /// The number in the file.
        found: u32,
        /// The newest format known.
        known: u32,
    },
    /// A number out of range.
    Number {
        /// The given value.
        value: f64,
        /// Least allowed.
        least: f64,
        /// Greatest allowed.
        most: f64,
    },
    /// A list without entries, or with more than can be meant.
    Count {
        /// How many there are.
        count: usize,
        /// Most allowed.
        most: usize,
    },
    /// A list with more entries than can be meant.
    TooMany {
        /// How many there are.
        count: usize,
        /// Most that fit.
        most: usize,
    },
    /// A name that is empty, too long, or of more than one line.
    Name {
        /// Its number of characters.
        length: usize,
        /// Most allowed.
        most: usize,
    },
    /// A text longer than one can be meant.
    LongText {
        /// Its number of characters.
        length: usize,
        /// Most that fit.
        most: usize,
    },
    /// Two things of one name.
    Twice {
        /// The name.
        name: String,
    },
    /// A name that nothing bears.
    Unknown {
        /// What kind of thing was meant.
        what: Named,
        /// The name.
        name: String,
        /// The names there are.
        known: Vec<String>,
    },
    /// A least wait above the most.
    Wait {
        /// The least wait.
        least_min: u32,
        /// The most.
        most_min: u32,
    },
    /// A step that needs what the recipe does not have.
    NoDischarge {
        /// The recipe.
        recipe: String,
    },
    /// Ice that a step waits for longer than can be planned.
    NeverMelts {
        /// The layer, from 1.
        layer: u32,
        /// How long it takes to melt, h.
        hours: f64,
        /// The room, C, where it is known.
        room_c: Option<f64>,
    },
    /// Working hours that end before they begin, or overlap.
    Hours {
        /// Their beginning.
        from: String,
        /// Their end.
        to: String,
    },
    /// Something that ends before it begins.
    Backward {
        /// Its beginning.
        from: String,
        /// Its end.
        to: String,
    },
    /// One garment that no tub takes.
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
    VesselTooSmall {
        /// Dry cloth, g.
        cloth_g: f64,
        /// What it takes, L.
        needed_l: f64,
        /// The vessel, L.
        vessel_l: f64,
    },
    /// A plastic tub on a hob.
    PlasticOnHob,
    /// A ready mixture whose label nobody read.
    MixtureUnsaid,
    /// Cloth that the dye harms, or hardly dyes.
    WrongFibre {
        /// The largest such fibre.
        fibre: Fibre,
        /// Its kind's share, percent.
        percent: f64,
        /// Whether it would be harmed; else it would hardly be dyed.
        is_harmed: bool,
    },
    /// A layout that can't be graded as asked.
    Grade(#[from] GradeError),
    /// A graded layout that can't be.
    Layout(#[from] LayoutError),
    /// A tick or note of a run that can't be.
    Run(#[from] RunError),
    /// A time zone that is not known.
    Zone(#[from] ZoneError),
    /// The plan would hurt someone or spoil the work.
    Refused(Box<Refusal>),
}

/// A kind of thing that is called by a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Named {
    /// A process of the order.
    Process,
    /// A colour of its layouts.
    Colour,
    /// An earlier step that is done once.
    EarlierStep,
}

impl Named {
    const fn words(self) -> &'static str {
        match self {
            Self::Process => "a process",
            Self::Colour => "a colour of the layouts",
            Self::EarlierStep => "an earlier step that is done once",
        }
    }
}

impl From<Refusal> for PlanProblem {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(Box::new(refusal))
    }
}

displayed_as_in_files!(PlanFileError, PlanProblem);

impl Refused for PlanFileError {
    fn told(&self, voice: Voice) -> Told {
        self.problem.of(&self.field, voice).at(self.field.said(voice))
    }
}

impl Refused for PlanProblem {
    fn told(&self, voice: Voice) -> Told {
        self.of(&Field::default(), voice)
    }
}

impl PlanProblem {
    /// What is wrong with a field: its key says what its number counts.
    #[expect(clippy::too_many_lines, reason = "what each refusal says, in one place")]
    fn of(&self, field: &Field, voice: Voice) -> Told {
        match self {
            Self::Format { found, known } => usual::unknown_format(*found, *known),
            Self::Number { value, least, most } => Told::new(
                format!("{} is out of range", field.value(voice, *value)),
                format!("give {}", field.values(voice, *least, *most)),
            ),
            Self::Count { count, most } => Told::new(format!("{count} entries"), format!("give 1 to {most}")),
            Self::TooMany { count, most } => usual::too_many(*count, *most),
            Self::Name { length, most } => usual::name(*length, *most),
            Self::LongText { length, most } => usual::long_text(*length, *most),
            Self::Twice { name } => usual::twice(name),
            Self::Unknown { what, name, known } => {
                let cure = if known.is_empty() { "there are none".to_owned() } else { format!("choose {}", listed(known, "or")) };
                Told::new(format!("\"{name}\" is not {}", what.words()), cure)
            }
            Self::Wait { least_min, most_min } => Told::new(
                format!("the least wait, {least_min} min, is longer than the longest, {most_min} min"),
                "swap them, or change one",
            ),
            Self::NoDischarge { recipe } => Told::new(
                format!("the process has a discharge, and recipe \"{recipe}\" has none"),
                "choose a recipe with a discharge, or a process without one",
            ),
            Self::NeverMelts { layer, hours, room_c } => {
                let melting = melting_words(*layer, *hours, *room_c);
                Told::new(format!("{melting}, longer than a plan can wait"), "use less of it, or keep the room warmer")
            }
            Self::Hours { from, to } => {
                Told::new(format!("working hours {from} to {to} are empty or overlap earlier ones"), "change one")
            }
            Self::Backward { from, to } => Told::new(format!("it ends at {to}, before it starts at {from}"), "give a later end"),
            Self::TubTooSmall { garment_g, needed_l, litres_per_kg, tub_l } => Told::new(
                format!(
                    "one garment of {garment_g:.0} g takes {needed_l:.1} L at {litres_per_kg} L/kg, cloth included, and the tub \
                    has {tub_l} L"
                ),
                "use a larger tub",
            ),
            Self::VesselTooSmall { cloth_g, needed_l, vessel_l } => Told::new(
                format!(
                    "{cloth_g:.0} g of cloth and their discharge bath need a vessel of {needed_l:.1} L, filled to four fifths, \
                    and this \
                     one holds {vessel_l} L"
                ),
                "use a larger vessel, or one with a smaller base",
            ),
            Self::PlasticOnHob => Told::new(
                "a plastic tub can't stand on a hob",
                voice.either("say Kettle, or material: Steel", "heat with a kettle, or choose a steel pot"),
            ),
            Self::MixtureUnsaid => {
                let cure = voice.either(
                    "give discharge.works and discharge.minutes from the label",
                    "give \"Own working range\" and \"Own time in the bath\" from the label",
                );
                Told::new("a ready mixture is used as its label says", cure)
            }
            Self::WrongFibre { fibre, percent, is_harmed } => wrong_fibre(*fibre, *percent, *is_harmed),
            Self::Grade(error) => error.told(voice),
            Self::Layout(error) => error.told(voice),
            Self::Run(error) => error.told(voice),
            Self::Zone(error) => error.told(voice),
            Self::Refused(refusal) => refusal.told(voice),
        }
    }
}

/// Which ice takes how long to melt, and where.
pub(super) fn melting_words(layer: u32, hours: f64, room_c: Option<f64>) -> String {
    let room = room_c.map_or_else(String::new, |room_c| format!(" at {} °C", short(room_c)));
    format!("ice, layer {layer}, takes about {hours:.1} h to melt{room}")
}

fn wrong_fibre(fibre: Fibre, percent: f64, is_harmed: bool) -> Told {
    let kind = match (percent > 99.5, is_harmed) {
        (true, _) => "",
        (false, true) => "animal fibre, most of it ",
        (false, false) => "a fibre that it does not dye, most of it ",
    };
    let why = if is_harmed {
        "hot soda ash and this discharge harm it"
    } else {
        "a reactive dye binds to cotton, linen, hemp and viscose and washes out of the rest"
    };
    let cure = if is_harmed { "use a process made for wool or silk" } else { "use a dye made for that fibre" };
    Told::new(format!("{percent:.0} % of the cloth is {kind}{fibre}: {why}"), cure)
}

/// Longest name, characters: what fits on a sheet.
const LONGEST_NAME: usize = 80;

pub(super) fn check_name(field: impl Into<Field>, name: &str) -> Result<(), PlanFileError> {
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

pub(super) fn check_text(field: impl Into<Field>, text: &str, most: usize) -> Result<(), PlanFileError> {
    let length = text.chars().count();
    if length > most { Err(PlanFileError::new(field, PlanProblem::LongText { length, most })) } else { Ok(()) }
}
