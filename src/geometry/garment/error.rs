//! What can be wrong with a garment's measurements.

use std::fmt;

use kurbo::Point;
use thiserror::Error;

use super::{GarmentKind, Measure, SizeName};
use crate::geometry::{OutlineError, Panel};

/// On which side of a limit a value has to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Bound {
    /// The limit is the greatest value that is right.
    AtMost,
    /// The limit is the least value that is right.
    AtLeast,
}

impl fmt::Display for Bound {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::AtMost => "at most",
            Self::AtLeast => "at least",
        })
    }
}

/// Why a garment can't be made from what was given. Lengths in mm.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum GarmentError {
    /// No size has this name.
    #[error("there is no size named {given:?}; sizes are {}", list(SizeName::ALL.map(SizeName::as_str)))]
    UnknownSize {
        /// What was given.
        given: String,
    },
    /// The kind is made in no size of this name.
    #[error("there is no size {given:?} of {kind}; its sizes are {}", list(kind.sizes().into_iter().map(|s| s.name.as_str())))]
    NoSizeOfKind {
        /// The kind of garment.
        kind: GarmentKind,
        /// What was given.
        given: String,
    },
    /// The kind is not made in this size.
    #[error("{kind} has no size {size}; its sizes are {}", list(kind.sizes().into_iter().map(|s| s.name.as_str())))]
    NotASizeOfKind {
        /// The kind of garment.
        kind: GarmentKind,
        /// The size asked for.
        size: SizeName,
    },
    /// The kind has no such measurement.
    #[error("{kind} has no {measure}; it has {}", list(kind.measures().map(Measure::key)))]
    NotAMeasureOfKind {
        /// The kind of garment.
        kind: GarmentKind,
        /// The measurement given.
        measure: Measure,
    },
    /// A required measurement is neither given nor in the size table.
    #[error("{kind} needs {measure}: give it, or name a size ({})", list(kind.sizes().into_iter().map(|s| s.name.as_str())))]
    Missing {
        /// The kind of garment.
        kind: GarmentKind,
        /// The measurement that is missing.
        measure: Measure,
    },
    /// A value is infinite or no number.
    #[error("{measure} is {value_mm}, which is not a length")]
    NotFinite {
        /// The measurement.
        measure: Measure,
        /// What was given.
        value_mm: f64,
    },
    /// A value is far from anything that is worn or carried.
    #[error("{measure} is {}, outside the plausible range from {} to {} mm", mm(*value_mm), mm(*least_mm), mm(*most_mm))]
    OutOfRange {
        /// The measurement.
        measure: Measure,
        /// What was given, or derived from what was given.
        value_mm: f64,
        /// The least value accepted.
        least_mm: f64,
        /// The greatest value accepted.
        most_mm: f64,
    },
    /// Two measurements do not fit together.
    #[error(
        "{measure} is {} and {against} is {}: {why}; with that {against}, {measure} can be {bound} {} mm",
        mm(*value_mm), mm(*against_mm), mm(*limit_mm)
    )]
    Mismatch {
        /// The measurement that can be put right.
        measure: Measure,
        /// Its value.
        value_mm: f64,
        /// The measurement it does not fit.
        against: Measure,
        /// The value of that one.
        against_mm: f64,
        /// The side of the limit on which `value_mm` has to be.
        bound: Bound,
        /// The limit that `against` sets.
        limit_mm: f64,
        /// What the garment would otherwise be.
        why: &'static str,
    },
    /// The measurements fit one by one, but the outline they give crosses itself.
    #[error(
        "the {panel} outline of {kind} crosses itself about {} mm from the centre line and {} mm below the high point of the \
         shoulder: check the measurements that meet there",
        mm(at.x), mm(at.y)
    )]
    OutlineCrosses {
        /// The kind of garment.
        kind: GarmentKind,
        /// The panel that crosses itself.
        panel: Panel,
        /// Where, in the garment's frame.
        at: Point,
    },
    /// The measurements give an outline that encloses nothing or crosses the centre line.
    #[error("the {panel} outline of {kind}: {reason}")]
    Outline {
        /// The kind of garment.
        kind: GarmentKind,
        /// The panel.
        panel: Panel,
        /// What is wrong with it.
        reason: OutlineError,
    },
}

impl GarmentError {
    /// The measurement that can be put right; `None` where it is the size, or all of them together.
    #[must_use]
    pub const fn measure(&self) -> Option<Measure> {
        match self {
            Self::NotAMeasureOfKind { measure, .. }
            | Self::Missing { measure, .. }
            | Self::NotFinite { measure, .. }
            | Self::OutOfRange { measure, .. }
            | Self::Mismatch { measure, .. } => Some(*measure),
            Self::UnknownSize { .. }
            | Self::NoSizeOfKind { .. }
            | Self::NotASizeOfKind { .. }
            | Self::OutlineCrosses { .. }
            | Self::Outline { .. } => None,
        }
    }
}

/// Writes a length to a tenth of a millimetre, and whole ones without a decimal.
pub(super) fn mm(value_mm: f64) -> String {
    let tenths = (value_mm * 10.0).round() / 10.0;
    // Adding zero turns a negative zero into a plain one.
    format!("{}", tenths + 0.0)
}

fn list<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    names.into_iter().collect::<Vec<_>>().join(", ")
}
