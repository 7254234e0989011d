//! What can't be in a file of what was learned.

use super::value::LearnedValue;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files, listed};

/// Something in a file of what was learned that can't be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub struct LearnedError {
    /// Where it is, such as `learned.3.is`; values are counted from 1.
    pub field: Field,
    /// What is wrong with it.
    pub problem: LearnedProblem,
}

/// What is wrong with it.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum LearnedProblem {
    /// Not a value that can be learned.
    Name {
        /// The name.
        name: String,
        /// The names there are.
        known: Vec<&'static str>,
    },
    /// A value that stands there twice.
    Twice {
        /// Which.
        value: LearnedValue,
    },
    /// A component of a mixture that stands there twice.
    ComponentTwice {
        /// The mixture.
        mixture: String,
        /// The component.
        component: String,
    },
    /// A mixture or a component without a name.
    Nameless,
    /// A value out of range.
    Range {
        /// The value.
        value: f64,
        /// Least.
        least: f64,
        /// Most.
        most: f64,
    },
    /// Another number of covariances than values up to this one.
    Covariances {
        /// How many there are.
        count: usize,
        /// How many there have to be.
        expected: usize,
    },
    /// Covariances that no values can have.
    NotPositive {
        /// How many values there are.
        count: usize,
    },
}

displayed_as_in_files!(LearnedError);

impl Refused for LearnedError {
    fn told(&self, voice: Voice) -> Told {
        self.problem.told(voice).at(self.field.said(voice))
    }
}

impl Refused for LearnedProblem {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Name { name, known } => Told::new(
                format!("\"{name}\" is not a value that can be learned"),
                format!("write one of {}", listed(known.iter().map(|name| format!("\"{name}\"")), "or")),
            ),
            Self::Twice { value } => Told::new(format!("\"{}\" appears twice", value.facts().key), "keep one"),
            Self::ComponentTwice { mixture, component } => {
                Told::new(format!("\"{component}\" of \"{mixture}\" appears twice"), "keep one")
            }
            Self::Nameless => Told::new("there is no name", "give the name that layouts have"),
            Self::Range { value, least, most } => Told::new(
                format!("{} is out of range", voice.number(*value)),
                format!("give {} to {}", voice.number(*least), voice.number(*most)),
            ),
            Self::Covariances { count, expected } => Told::new(
                format!("{count} covariances"),
                format!("give {expected}: one with each value before it, and its own variance"),
            ),
            Self::NotPositive { count } => Told::new(
                format!("the covariances of these {count} values are those of none that vary"),
                "take the file as it was written, or learn anew",
            ),
        }
    }
}
