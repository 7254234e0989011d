//! What can be wrong with a layout whose form is right.

use super::{MixtureProblem, TieProblem, usual};
use crate::geometry::{
    BlockError, BurstError, DipError, FlatError, GarmentError, LineError, SpacingError, SpiralError, WashError, WrapError,
};
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files, listed};

/// A value in a layout that can't be used, with its field.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub struct LayoutError {
    /// Where it is, such as `garment.measures.neck_width_mm`.
    pub field: Field,
    /// What is wrong with it.
    pub problem: LayoutProblem,
}

impl LayoutError {
    pub(super) fn new(field: impl Into<Field>, problem: impl Into<LayoutProblem>) -> Self {
        Self { field: field.into(), problem: problem.into() }
    }
}

/// What is wrong with a value in a layout.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LayoutProblem {
    /// The format is newer than this program, or none that ever was.
    Format {
        /// The number in the file.
        found: u32,
        /// The newest known.
        known: u32,
    },
    /// A measurement, or two that do not fit together.
    Garment(#[from] GarmentError),
    /// A change by washing out of range.
    Wash(#[from] WashError),
    /// A centre, radius or pleat that can't be.
    Burst(#[from] BurstError),
    /// A line that can't be folded along.
    Line(#[from] LineError),
    /// Creases that can't be folded on.
    Flat(#[from] FlatError),
    /// A puck that can't be twisted.
    Spiral(#[from] SpiralError),
    /// Blocks that can't be put on.
    Blocks(#[from] BlockError),
    /// A thread that can't be wound round it.
    Wrap(#[from] WrapError),
    /// A part of the bundle that can't be dipped.
    Dips(#[from] DipError),
    /// A progression of binds that can't be solved.
    Spacing(#[from] SpacingError),
    /// A number out of range.
    Number {
        /// The given value.
        value: f64,
        /// Least allowed.
        least: f64,
        /// Greatest allowed.
        most: f64,
    },
    /// Cloth that would be thicker pressed than free.
    FreeBelowPressed {
        /// Thickness lying free, mm.
        free_mm: f64,
        /// Thickness under a bind, mm.
        pressed_mm: f64,
    },
    /// Fibres that are not all of the cloth, or one named twice.
    Fibres {
        /// Their sum, percent.
        percent: f64,
    },
    /// A name that is empty, too long or of more than one line.
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
    /// More of something than can be meant.
    TooMany {
        /// How many there are.
        count: usize,
        /// Most that fit.
        most: usize,
    },
    /// Two colours of one name.
    ColourTwice {
        /// The name.
        name: String,
    },
    /// Components that make no mixture.
    Mixture(#[from] MixtureProblem),
    /// A section set to a colour that is not in the rotation.
    UnknownColour {
        /// The name.
        name: String,
        /// The names there are.
        known: Vec<String>,
    },
    /// A section that is left bare and has a colour of its own.
    BareAndColoured {
        /// The section.
        section: u32,
        /// The colour that it has too.
        colour: String,
    },
    /// One of several ties that can't be tied.
    Tie(#[from] TieProblem),
    /// A colour for a section that is not there, or one that is left bare.
    UnknownSection {
        /// The number given.
        section: u32,
        /// How many sections there are.
        most: usize,
    },
}

impl From<FlatError> for LayoutError {
    /// Most of a flat bundle's values stand in its pattern.
    fn from(error: FlatError) -> Self {
        let (fold, own) = (Field::from("fold"), error.field());
        let is_outside = ["pattern", "along_turn_deg", "first_bind_mm"].iter().any(|key| own == **key);
        Self::new(if is_outside { fold.then(own) } else { fold.then("pattern").then(own) }, error)
    }
}

displayed_as_in_files!(LayoutError, LayoutProblem);

impl Refused for LayoutError {
    fn told(&self, voice: Voice) -> Told {
        self.problem.of(&self.field, voice).at(self.field.said(voice))
    }
}

impl Refused for LayoutProblem {
    fn told(&self, voice: Voice) -> Told {
        self.of(&Field::default(), voice)
    }
}

impl LayoutProblem {
    /// What is wrong with a field: its key says what its number counts.
    fn of(&self, field: &Field, voice: Voice) -> Told {
        match self {
            Self::Format { found, known } => usual::unknown_format(*found, *known),
            Self::Garment(error) => error.told(voice),
            Self::Wash(error) => error.told(voice),
            Self::Burst(error) => error.told(voice),
            Self::Line(error) => error.told(voice),
            Self::Flat(error) => error.told(voice),
            Self::Spiral(error) => error.told(voice),
            Self::Blocks(error) => error.told(voice),
            Self::Wrap(error) => error.told(voice),
            Self::Dips(error) => error.told(voice),
            Self::Spacing(error) => error.told(voice),
            Self::Number { value, least, most } => Told::new(
                format!("{} is out of range", field.value(voice, *value)),
                format!("give {}", field.values(voice, *least, *most)),
            ),
            Self::FreeBelowPressed { free_mm, pressed_mm } => {
                let (free, pressed) = (voice.length(*free_mm), voice.length(*pressed_mm));
                let key = voice.key("pressed_thickness_mm");
                Told::new(
                    format!("{free} is less than {key} {pressed}, and cloth can't be thicker pressed than lying free"),
                    format!("give at least {pressed}, or swap the two"),
                )
            }
            Self::Fibres { percent } => Told::new(
                format!("the fibres make {} % together", voice.number(*percent)),
                "give each once, 100 % in all, or leave them out for cotton",
            ),
            Self::Name { length, most } => usual::name(*length, *most),
            Self::LongText { length, most } => usual::long_text(*length, *most),
            Self::TooMany { count, most } => usual::too_many(*count, *most),
            Self::ColourTwice { name } => usual::twice(name),
            Self::Tie(problem) => problem.told(voice),
            Self::Mixture(problem) => problem.of(field, voice),
            Self::UnknownColour { name, known } => {
                let cure = if known.is_empty() {
                    "add it to the rotation first".to_owned()
                } else {
                    format!("choose {}", listed(known, "or"))
                };
                Told::new(format!("\"{name}\" is not a colour of the rotation"), cure)
            }
            Self::BareAndColoured { section, colour } => Told::new(
                format!("section {section} is left bare and coloured \"{colour}\" too"),
                "take it out of one of the two",
            ),
            Self::UnknownSection { section, most } => Told::new(
                format!("{section} is beyond the last section, {most}"),
                format!("choose 1 to {most}, or keep as many sections"),
            ),
        }
    }
}
