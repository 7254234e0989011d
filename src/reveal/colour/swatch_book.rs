//! The maker's swatches: named colours of dyes, each at a stated depth on a stated cloth.

use super::{Dye, Ground};
use crate::layout::{MixtureProblem, Srgb, Swatch, check_components, usual};
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};

/// Longest name, characters: what fits on a sheet.
const LONGEST_NAME: usize = 80;
/// Longest note of a book or a swatch, characters. Own choice.
const LONGEST_NOTE: usize = 50_000;
/// Most swatches of a book. Own choice.
const MOST_SWATCHES: usize = 2000;
/// Depths that can be meant, % on weight of fibre: pale shades begin at about 0.1, the deepest blacks end at about 10 (common
/// practice, no source); the bounds lie well outside.
const DEPTHS_PERCENT: [f64; 2] = [0.01, 50.0];

/// One dye as it looks on cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct DyeSwatch {
    /// Its name and how it looks.
    pub colour: Swatch,
    /// Depth at which it was dyed, % on weight of fibre: grams of dye on 100 g of dry cloth.
    pub depth_percent: f64,
    /// The undyed cloth it was dyed on; white where nothing is said.
    pub over: Option<Srgb>,
    /// How its colour is known.
    pub origin: Origin,
    /// Anything the maker wants to remember: batch, date, light.
    pub note: String,
}

/// How a swatch's colour is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Origin {
    /// Chosen by eye on a screen.
    #[default]
    ByEye,
    /// Taken from dyed, washed and dried cloth: with an instrument, or a photograph in daylight beside a white card.
    Measured,
}

impl DyeSwatch {
    /// The dye, for mixing: a dose of 1 is this swatch's depth.
    #[must_use]
    pub fn dye(&self) -> Dye {
        Dye { swatch: self.colour.srgb, over: self.over.unwrap_or(Ground::WHITE) }
    }

    /// The dose that a depth amounts to, 1 at the swatch's own.
    #[must_use]
    pub fn dose(&self, depth_percent: f64) -> f64 {
        depth_percent / self.depth_percent
    }
}

/// A value in a book of swatches that can't be used, with its field.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub struct SwatchBookError {
    /// Where it is, such as `swatches.3.depth_percent`; swatches are counted from 1.
    pub field: Field,
    /// What is wrong with it.
    pub problem: SwatchBookProblem,
}

/// What is wrong with a value in a book of swatches.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum SwatchBookProblem {
    /// A name that is empty, too long or of more than one line.
    Name {
        /// Its number of characters.
        length: usize,
        /// Most allowed.
        most: usize,
    },
    /// A note longer than one can be meant.
    LongNote {
        /// Its number of characters.
        length: usize,
        /// Most that fit.
        most: usize,
    },
    /// More swatches than a book can hold.
    TooMany {
        /// How many there are.
        count: usize,
        /// Most that fit.
        most: usize,
    },
    /// Two swatches of one name.
    NameTwice {
        /// The name.
        name: String,
        /// The earlier swatch, counted from 1.
        first: usize,
    },
    /// Components that make no mixture.
    Mixture(MixtureProblem),
    /// A depth out of range.
    Depth {
        /// The swatch's name.
        name: String,
        /// The given value.
        value: f64,
        /// Least allowed.
        least: f64,
        /// Greatest allowed.
        most: f64,
    },
}

displayed_as_in_files!(SwatchBookError);

impl Refused for SwatchBookError {
    fn told(&self, voice: Voice) -> Told {
        let told = match &self.problem {
            SwatchBookProblem::Name { length, most } => usual::name(*length, *most),
            SwatchBookProblem::LongNote { length, most } => usual::long_text(*length, *most),
            SwatchBookProblem::TooMany { count, most } => {
                Told::new(format!("{count} swatches are too many"), format!("give at most {most}, and the rest in a second book"))
            }
            SwatchBookProblem::NameTwice { name, first } => {
                Told::new(format!("swatch {first} is named \"{name}\" too"), "keep one or rename it")
            }
            SwatchBookProblem::Mixture(problem) => problem.of(&self.field, voice),
            SwatchBookProblem::Depth { name, value, least, most } => Told::new(
                format!("\"{name}\" at {} of the dry cloth is out of range", self.field.value(voice, *value)),
                format!("give {}", self.field.values(voice, *least, *most)),
            ),
        };
        told.at(self.field.said(voice))
    }
}

/// A book of swatches in which every name is used once and every depth can be meant.
#[derive(Debug, Clone, PartialEq)]
pub struct SwatchBook {
    name: String,
    note: String,
    swatches: Vec<DyeSwatch>,
}

/// A swatch that was given another name while books were merged, because another colour had its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Renamed {
    /// Its name in the book it came from.
    pub from: String,
    /// Its name now.
    pub to: String,
}

impl SwatchBook {
    /// A book.
    ///
    /// # Errors
    /// [`SwatchBookError`] naming the field, its value and what would be right.
    pub fn new(name: String, note: String, swatches: Vec<DyeSwatch>) -> Result<Self, SwatchBookError> {
        let refusal = |field: Field, problem| Err(SwatchBookError { field, problem });
        check_name("name".into(), &name)?;
        if swatches.len() > MOST_SWATCHES {
            let problem = SwatchBookProblem::TooMany { count: swatches.len(), most: MOST_SWATCHES };
            return refusal("swatches".into(), problem);
        }
        check_note("note".into(), &note)?;
        let [least, most] = DEPTHS_PERCENT;
        for (index, swatch) in swatches.iter().enumerate() {
            let name = &swatch.colour.name;
            let field = |key: &'static str| Field::from("swatches").item(index + 1).then(key);
            check_name(field("colour.name"), name)?;
            check_note(field("note"), &swatch.note)?;
            check_components(&swatch.colour.components).map_err(|(within, problem)| SwatchBookError {
                field: field("colour").then(within),
                problem: SwatchBookProblem::Mixture(problem),
            })?;
            // Written so that a NaN is refused too.
            if !(least..=most).contains(&swatch.depth_percent) {
                let problem = SwatchBookProblem::Depth { name: name.clone(), value: swatch.depth_percent, least, most };
                return refusal(field("depth_percent"), problem);
            }
            if let Some(first) = swatches[..index].iter().position(|earlier| earlier.colour.name == *name) {
                let problem = SwatchBookProblem::NameTwice { name: name.clone(), first: first + 1 };
                return refusal(field("colour.name"), problem);
            }
        }
        Ok(Self { name, note, swatches })
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Anything the maker wants to remember.
    #[must_use]
    pub fn note(&self) -> &str {
        &self.note
    }

    /// The swatches, in the maker's order.
    #[must_use]
    pub fn swatches(&self) -> &[DyeSwatch] {
        &self.swatches
    }

    /// The swatch of this name.
    #[must_use]
    pub fn swatch(&self, name: &str) -> Option<&DyeSwatch> {
        self.swatches.iter().find(|swatch| swatch.colour.name == name)
    }

    /// Takes in another book's swatches after its own; name and note stay.
    ///
    /// A swatch that is here already, equal in everything, is not taken twice. One whose name is taken by another colour gets a
    /// number behind its name, and is told of: dyes of one name from different makers do differ.
    pub fn take_in(&mut self, other: &Self) -> Vec<Renamed> {
        let mut renamed = Vec::new();
        for swatch in other.swatches() {
            match self.swatch(&swatch.colour.name) {
                Some(known) if known == swatch => {}
                Some(_) => {
                    let from = swatch.colour.name.clone();
                    let to = self.free_name(&from);
                    let colour = Swatch { name: to.clone(), ..swatch.colour.clone() };
                    self.swatches.push(DyeSwatch { colour, ..swatch.clone() });
                    renamed.push(Renamed { from, to });
                }
                None => self.swatches.push(swatch.clone()),
            }
        }
        renamed
    }

    /// A name not in the book: the given one with the least number that is free, cut where it would be too long.
    fn free_name(&self, name: &str) -> String {
        let numbered = |number: usize| {
            let number = format!(" {number}");
            name.chars().take(LONGEST_NAME - number.len()).collect::<String>() + &number
        };
        // With one more number than there are swatches, one is free.
        (2..self.swatches.len() + 3).map(numbered).find(|name| self.swatch(name).is_none()).unwrap_or_default()
    }
}

fn check_note(field: Field, note: &str) -> Result<(), SwatchBookError> {
    let (length, most) = (note.chars().count(), LONGEST_NOTE);
    if length > most { Err(SwatchBookError { field, problem: SwatchBookProblem::LongNote { length, most } }) } else { Ok(()) }
}

fn check_name(field: Field, name: &str) -> Result<(), SwatchBookError> {
    let length = name.chars().count();
    if (1..=LONGEST_NAME).contains(&length) && !name.trim().is_empty() && !name.contains(char::is_control) {
        Ok(())
    } else {
        Err(SwatchBookError { field, problem: SwatchBookProblem::Name { length, most: LONGEST_NAME } })
    }
}
