//! What the solver can't do.

use super::{ACROSS, MOST_FIELDS};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};

/// Why equations could not be set up or solved.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SolverError {
    /// It was asked to stop.
    Cancelled,
    /// A grid that the kernels are not made for.
    Shape {
        /// Slabs asked for.
        slabs: usize,
        /// Places asked for.
        places: usize,
        /// Cells across asked for.
        across: usize,
    },
    /// More right-hand sides than are solved at once, or none.
    Fields {
        /// Fields asked for.
        fields: usize,
    },
    /// Fields of another grid or number than the equations were made ready for.
    Unlike {
        /// Which values.
        what: Values,
    },
    /// A list of coefficients is as long as no grid of this shape has it.
    Length {
        /// Which values.
        what: Values,
        /// How many there are.
        found: usize,
        /// How many there should be.
        wanted: usize,
    },
    /// A value that can't be computed with.
    Value {
        /// Which values.
        what: Values,
        /// Where in their list.
        index: usize,
        /// The value.
        value: f32,
    },
    /// The coupling of the first slab to the one below it is not that of the last to the one above: neither a rod nor a ring.
    Unclosed {
        /// Where in the slab.
        index: usize,
    },
    /// Values so large that what is made of them is beyond what can be stored, or equations that have no one solution.
    Overflow {
        /// Steps taken.
        steps: usize,
    },
    /// The equations resist.
    NotConverged {
        /// Steps taken.
        steps: usize,
        /// The largest relative residual of any field.
        residual: f64,
        /// What was wanted.
        wanted: f64,
    },
}

/// A list of values that the solver is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Values {
    /// Couplings along the rod.
    Along,
    /// Couplings through the stack.
    Stack,
    /// Couplings across the pleat.
    Across,
    /// What cells lose by themselves.
    Loss,
    /// Right-hand sides.
    RightHandSide,
    /// What a solve starts from.
    Start,
}

displayed_as_in_files!(SolverError);

impl Refused for SolverError {
    fn told(&self, _voice: Voice) -> Told {
        match self {
            Self::Cancelled => Told::new("the solver was stopped before it was done", "start it again for a solution"),
            Self::Shape { slabs, places, across } => Told::new(
                format!("a grid of {slabs} slabs, {places} places and {across} cells across can't be solved"),
                format!("give at least 1 slab and place, few enough to be counted, and one of {ACROSS:?} cells across"),
            ),
            Self::Fields { fields } => {
                Told::new(format!("{fields} fields can't be solved at once"), format!("give 1 to {MOST_FIELDS}"))
            }
            Self::Unlike { what } => {
                Told::new(format!("{} has another grid or number of fields than the equations", what.words()), "give both alike")
            }
            Self::Length { what, found, wanted } => {
                Told::new(format!("{} has {found} values", what.words()), format!("give {wanted}, as many as the grid has"))
            }
            Self::Value { what, index, value } => {
                Told::new(format!("{} has the value {value} at number {index}", what.words()), format!("give {}", what.wanted()))
            }
            Self::Unclosed { index } => Told::new(
                format!("the coupling along the rod at number {index} is another below the first slab than above the last"),
                "give both alike, or 0 where the two are not joined",
            ),
            Self::Overflow { steps } => Told::new(
                format!("after {steps} steps the numbers are beyond what can be stored"),
                "give smaller values, and let every part of the grid lose something",
            ),
            Self::NotConverged { steps, residual, wanted } => Told::new(
                format!("after {steps} steps a relative residual of {residual:.1e} is left where {wanted:.1e} is wanted"),
                "allow more steps, or ask for less",
            ),
        }
    }
}

impl Values {
    const fn words(self) -> &'static str {
        match self {
            Self::Along => "the coupling along the rod",
            Self::Stack => "the coupling through the stack",
            Self::Across => "the coupling across the pleat",
            Self::Loss => "the loss",
            Self::RightHandSide => "the right-hand side",
            Self::Start => "the start of the solution",
        }
    }

    /// Whether they may be below 0.
    fn has_signs(self) -> bool {
        matches!(self, Self::RightHandSide | Self::Start)
    }

    /// What can be computed with, in words.
    fn wanted(self) -> &'static str {
        if self.has_signs() { "a number" } else { "a number of at least 0" }
    }

    /// Whether a value of them can be computed with.
    fn takes(self, value: f32) -> bool {
        value.is_finite() && (self.has_signs() || value >= 0.0)
    }

    /// Refuses the first value that can't be computed with.
    pub(super) fn check(self, values: &[f32]) -> Result<(), SolverError> {
        // In runs, each looked through whole: a way out at every value would cost more than the sum of all of them.
        const RUN: usize = 4096;
        let bad_run = values.chunks(RUN).position(|run| !run.iter().fold(true, |good, &value| good & self.takes(value)));
        let Some(run) = bad_run else { return Ok(()) };
        let bad = values.iter().enumerate().skip(run * RUN).find(|&(_, &value)| !self.takes(value));
        bad.map_or(Ok(()), |(index, &value)| Err(SolverError::Value { what: self, index, value }))
    }

    /// Refuses a list of another length.
    pub(super) fn check_length(self, values: &[f32], wanted: usize) -> Result<(), SolverError> {
        let found = values.len();
        if found == wanted { Ok(()) } else { Err(SolverError::Length { what: self, found, wanted }) }
    }
}
