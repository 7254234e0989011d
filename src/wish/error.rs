//! What can't be wished, and why nothing is found.

use crate::layout::{LayoutError, LayoutProblem, MixtureProblem};
use crate::reveal::RevealError;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files, listed};

/// Something in a wish that can't be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub struct WishError {
    /// Where it is, such as `wished.3.from_mm`; parts are counted from 1.
    pub field: Field,
    /// What is wrong with it.
    pub problem: WishProblem,
}

/// What is wrong with it.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum WishProblem {
    /// A name that no sheet can show.
    Name(LayoutProblem),
    /// It names no layout to begin with.
    NoLayout,
    /// A number of binds that can't be.
    Binds {
        /// The number.
        count: u32,
        /// The limit.
        most: u32,
    },
    /// No dye on the shelf, or more than are computed at once.
    Dyes {
        /// How many.
        count: usize,
        /// The limit.
        most: usize,
    },
    /// Two dyes of one name.
    DyeTwice {
        /// The name.
        name: String,
    },
    /// Components of a dye that make no mixture.
    Mixture(MixtureProblem),
    /// A dye that is not on the shelf.
    UnknownDye {
        /// The name.
        name: String,
        /// Those that are.
        known: Vec<String>,
    },
    /// No part, or too many.
    Parts {
        /// How many.
        count: usize,
        /// The limit.
        most: usize,
    },
    /// A length that can't be.
    Length {
        /// It, mm.
        value_mm: f64,
        /// Least, mm.
        least_mm: f64,
        /// Greatest, mm.
        most_mm: f64,
    },
    /// A part that ends before it has any breadth.
    NoBreadth {
        /// Where it begins, mm.
        from_mm: f64,
        /// Where it ends, mm.
        to_mm: f64,
        /// The least breadth, mm.
        least_mm: f64,
    },
    /// A part that begins within another.
    Overlap {
        /// Where it begins, mm.
        from_mm: f64,
        /// The other's number.
        other: usize,
        /// Where that ends, mm.
        to_mm: f64,
    },
    /// A weight out of range.
    Weight {
        /// It.
        value: f64,
        /// Least.
        least: f64,
        /// Greatest.
        most: f64,
    },
    /// A number of CIE L\*a\*b\* out of range.
    Lab {
        /// It.
        value: f64,
        /// Least.
        least: f64,
        /// Greatest.
        most: f64,
    },
    /// A part where the folded cloth has ended.
    OffCloth {
        /// Where the part begins, mm.
        from_mm: f64,
        /// Where it ends, mm.
        to_mm: f64,
        /// Where cloth begins, mm.
        least_mm: f64,
        /// Where it ends, mm.
        most_mm: f64,
    },
    /// A layout whose fold has no rings.
    Fold {
        /// Its fold.
        fold: &'static str,
    },
    /// A layout of several ties.
    SeveralTies {
        /// How many.
        ties: usize,
    },
    /// A layout whose dye comes by dipping, which goes on no section.
    Dipped,
}

impl From<LayoutProblem> for WishProblem {
    fn from(problem: LayoutProblem) -> Self {
        Self::Name(problem)
    }
}

/// Why no layout was found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FulfilError {
    /// The wish can't be meant of this layout.
    Wish(WishError),
    /// No bind can be tied on the rod as the wish asks for.
    NoWay {
        /// How many marks of the rule lie on the rod.
        marks: usize,
    },
    /// The layout that it leads to is refused.
    Layout(Box<LayoutError>),
    /// The reveal can't be computed, or was stopped.
    Reveal(RevealError),
}

displayed_as_in_files!(WishError, FulfilError);

impl From<WishError> for FulfilError {
    fn from(error: WishError) -> Self {
        Self::Wish(error)
    }
}

impl From<LayoutError> for FulfilError {
    fn from(error: LayoutError) -> Self {
        Self::Layout(Box::new(error))
    }
}

impl From<RevealError> for FulfilError {
    fn from(error: RevealError) -> Self {
        Self::Reveal(error)
    }
}

impl FulfilError {
    /// Whether it was stopped from outside.
    #[must_use]
    pub fn is_cancelled(&self) -> bool {
        matches!(self, Self::Reveal(RevealError::Cancelled))
    }
}

impl Refused for WishError {
    fn told(&self, voice: Voice) -> Told {
        let told = match &self.problem {
            WishProblem::Mixture(problem) => problem.of(&self.field, voice),
            problem => problem.told(voice),
        };
        told.at(self.field.said(voice))
    }
}

impl Refused for WishProblem {
    fn told(&self, voice: Voice) -> Told {
        let number = |value: f64| voice.number(value);
        match self {
            Self::Name(problem) => problem.told(voice),
            Self::NoLayout => Told::new("\"\" names nothing", "name the layout's file, beside the wish's own"),
            Self::Binds { count, most } => Told::new(format!("{count} can't be meant"), format!("give 1 to {most}")),
            Self::Dyes { count: 0, .. } => {
                Told::new("0 dyes to choose among", "list dyes, or begin with a layout that has colours")
            }
            Self::Dyes { count, most } => {
                Told::new(format!("{count} dyes are too many"), format!("keep the {most} that are nearest to the wish"))
            }
            Self::DyeTwice { name } => Told::new(format!("\"{name}\" appears twice"), "keep one or rename it"),
            Self::Mixture(problem) => problem.told(voice),
            Self::UnknownDye { name, known } => Told::new(
                format!("\"{name}\" is not a dye on the shelf"),
                format!("write one of {}", listed(known.iter().map(|name| format!("\"{name}\"")), "or")),
            ),
            Self::Parts { count, most } => Told::new(format!("{count} parts"), format!("give 1 to {most}")),
            Self::Length { value_mm, least_mm, most_mm } => Told::length(voice, *value_mm, [*least_mm, *most_mm]),
            Self::NoBreadth { from_mm, to_mm, least_mm } => Told::new(
                format!("{} is not beyond {}", voice.length(*to_mm), voice.length(*from_mm)),
                format!("give at least {}", voice.length(from_mm + least_mm)),
            ),
            Self::Overlap { from_mm, other, to_mm } => Told::new(
                format!("{} lies within part {other}", voice.length(*from_mm)),
                format!("begin at {}, where that one ends, or beyond", voice.length(*to_mm)),
            ),
            Self::Weight { value, least, most } | Self::Lab { value, least, most } => {
                Told::new(format!("{} is out of range", number(*value)), format!("give {} to {}", number(*least), number(*most)))
            }
            Self::OffCloth { from_mm, to_mm, least_mm, most_mm } => Told::new(
                format!("there is no cloth from {} to {}", voice.length(*from_mm), voice.length(*to_mm)),
                format!("wish for something between {} and {}", voice.about(*least_mm), voice.about(*most_mm)),
            ),
            Self::Fold { fold } => {
                Told::new(format!("\"{fold}\" opens to no rings or bands"), "begin with a burst or a fold along a line")
            }
            Self::SeveralTies { ties } => Told::new(
                format!("this layout has {ties} ties, and rings are wished for on one"),
                "begin with a layout of one tie",
            ),
            Self::Dipped => {
                Told::new("its dye comes by dipping, which goes on no section", "dye with powder under ice or by hand")
            }
        }
    }
}

impl Refused for FulfilError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Wish(error) => error.told(voice),
            Self::NoWay { marks } => Told::new(
                format!("no bind can be tied on the {marks} marks of the rule that lie on the rod"),
                "take a rule with finer marks, or a thinner thread",
            ),
            Self::Layout(error) => error.told(voice),
            Self::Reveal(error) => error.told(voice),
        }
    }
}
