//! Everything that can be wrong with a spacing, said with its numbers, the reason, and what would be right.

use std::fmt;

use thiserror::Error;

use super::{BindId, EXPONENT_RANGE, MOST_GAPS, RATIO_RANGE};
use crate::geometry::LARGEST_RADIUS_MM;
use crate::measure::neat;

/// The side of the guide arc that binds lie on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// From the guide arc to the burst centre.
    Inward,
    /// From the guide arc to the edge of the cloth.
    Outward,
}

impl Side {
    /// +1 outward, -1 inward: the change of radius along the side.
    pub(super) const fn sign(self) -> f64 {
        match self {
            Self::Inward => -1.0,
            Self::Outward => 1.0,
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Inward => "inward",
            Self::Outward => "outward",
        })
    }
}

/// A quantity of a progression.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Quantity {
    /// The number of gaps, which is the number of binds beside the guide arc's.
    Count,
    /// The one gap of an even progression, in mm.
    Gap,
    /// The gap next to the guide arc, in mm.
    FirstGap,
    /// The farthest gap, in mm.
    LastGap,
    /// All gaps together, in mm.
    Span,
    /// The change from one gap to the next, in mm.
    Step,
    /// Each gap over the one before it.
    Ratio,
    /// The exponent of a power progression.
    Exponent,
}

impl Quantity {
    /// Which way a ratio or exponent leads, for messages.
    const fn direction(self) -> &'static str {
        match self {
            Self::Ratio => "below 1 the gaps shrink away from the guide arc, above 1 they grow",
            Self::Exponent => "1 makes even gaps, above 1 they tighten toward the centre",
            _ => "give another value",
        }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Count => "count",
            Self::Gap => "gap_mm",
            Self::FirstGap => "first_gap_mm",
            Self::LastGap => "last_gap_mm",
            Self::Span => "span",
            Self::Step => "step_mm",
            Self::Ratio => "ratio",
            Self::Exponent => "exponent",
        })
    }
}

/// Why one side's progression has no answer. Lengths in mm.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[expect(missing_docs, reason = "each variant's message says what its fields are")]
pub enum ProgressionError {
    /// A value is NaN or infinite.
    #[error("{what} is {}, which is no number; give a number, for example 30.0", neat(*value))]
    NotFinite { what: Quantity, value: f64 },
    /// A value that must be positive is not.
    #[error("{what} is {} but must be more than 0; for no binds on a side give List(gaps_mm: [])", neat(*value))]
    NotPositive { what: Quantity, value: f64 },
    /// The knowns leave several answers.
    #[error("{given}, which does not decide the gaps; {need}")]
    TooFewKnowns { given: Given, need: &'static str },
    /// More knowns than needed, and they disagree.
    #[error(
        "{what} is {} but {} already follows from the other values; leave {what} out or change one of the others",
        neat(*asked),
        neat(*follows)
    )]
    TooManyKnowns { what: Quantity, asked: f64, follows: f64 },
    /// The knowns exclude each other.
    #[error("{what} {} and {other} {} exclude each other: {why}", neat(*value), neat(*other_value))]
    Contradictory { what: Quantity, value: f64, other: Quantity, other_value: f64, why: &'static str },
    /// Shrinking gaps add up to less than the span however many there are.
    #[error(
        "gaps from {} mm on with a {what} of {} add up to at most {} mm and never reach \
             the span of {} mm; give a shorter span, a larger gap or a {what} that shrinks them less",
        neat(*first_mm),
        neat(*factor),
        neat(*most_mm),
        neat(*span_mm)
    )]
    NeverReaches { what: Quantity, factor: f64, first_mm: f64, most_mm: f64, span_mm: f64 },
    /// A gap would be zero or negative.
    #[error("gap {number} would be {} mm; give fewer gaps, a longer span or a smaller change from gap to gap", neat(*gap_mm))]
    NegativeGap { number: u32, gap_mm: f64 },
    /// The given ratio or exponent is zero or negative.
    #[error("{what} is {} but must be more than 0; {}", neat(*value), what.direction())]
    FactorNotPositive { what: Quantity, value: f64 },
    /// The given ratio or exponent is absurd.
    #[error("{what} is {}; give one from {} to {}; {}", neat(*value), neat(*low), neat(*high), what.direction())]
    FactorAbsurd { what: Quantity, value: f64, low: f64, high: f64 },
    /// The ratio or exponent would have to be out of range.
    #[error(
        "the {what} would have to be {}, outside {} to {}; change the count or the gaps so that they differ less",
        neat(*value),
        neat(*low),
        neat(*high)
    )]
    FactorOutOfRange { what: Quantity, value: f64, low: f64, high: f64 },
    /// No gap, or more than can be meant.
    #[error("{} gaps; the count must be from 1 to {MOST_GAPS}: change the count, the gaps or the span", neat(*count))]
    CountOutOfRange { count: f64 },
    /// Binds would lie at or beyond the burst centre.
    #[error(
        "the gaps reach {} mm inward but the burst centre is {} mm away; \
             give a shorter span, fewer gaps or smaller ones", neat(*span_mm), neat(*guide_mm))]
    PastCentre { span_mm: f64, guide_mm: f64 },
    /// Nothing is left of the side after leaving some of it free.
    #[error(
        "leave_mm {} leaves no room in the {} mm of this side; leave from 0 to less than that",
        neat(*leave_mm),
        neat(*room_mm)
    )]
    NoRoom { leave_mm: f64, room_mm: f64 },
    /// An equal share of cloth can't be found.
    #[error(
        "the side has {} mm² of cloth within reach, not the {} mm² needed; \
             give a shorter span, fewer gaps or a smaller first gap", neat(*cloth_mm2), neat(*wanted_mm2))]
    NoCloth { cloth_mm2: f64, wanted_mm2: f64 },
    /// The knowns have more than one answer.
    #[error("{what} can be {} as well as {} with these values; give {what} itself", neat(*one), neat(*other))]
    SeveralSolutions { what: Quantity, one: f64, other: f64 },
}

/// The quantities that were given, for messages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Given(pub Vec<Quantity>);

impl Given {
    /// The quantities that are marked as known.
    pub(super) fn of(all: &[(Quantity, bool)]) -> Self {
        Self(all.iter().filter(|(_, known)| *known).map(|(what, _)| *what).collect())
    }
}

impl fmt::Display for Given {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_empty() {
            return f.write_str("nothing is given");
        }
        f.write_str("only ")?;
        for (i, quantity) in self.0.iter().enumerate() {
            let joint = match i {
                0 => "",
                _ if i + 1 == self.0.len() => " and ",
                _ => ", ",
            };
            write!(f, "{joint}{quantity}")?;
        }
        f.write_str(if self.0.len() == 1 { " is given" } else { " are given" })
    }
}

impl SpacingError {
    /// The field of [`SpacingSpec`](super::SpacingSpec) that is wrong.
    #[must_use]
    pub const fn field(&self) -> &'static str {
        match self {
            Self::Progression { side: Side::Inward, .. } => "inward",
            Self::Progression { side: Side::Outward, .. } | Self::TooFar { by_hand: false, .. } => "outward",
            Self::GuideRadius { .. } | Self::Farthest { .. } | Self::TooSmallForMarks { .. } | Self::NoRounding { .. } => "marks",
            Self::SmallestGap { .. } => "smallest_gap_mm",
            Self::NoSuchBind { .. }
            | Self::GuideEdited
            | Self::EditedTwice { .. }
            | Self::TooFar { by_hand: true, .. }
            | Self::EditValue { .. }
            | Self::PassesNeighbour { .. }
            | Self::NotOutsideCentre { .. } => "edits",
        }
    }
}

impl ProgressionError {
    pub(super) const fn ratio_range(value: f64) -> Self {
        Self::FactorOutOfRange { what: Quantity::Ratio, value, low: RATIO_RANGE.0, high: RATIO_RANGE.1 }
    }

    pub(super) const fn exponent_range(value: f64) -> Self {
        Self::FactorOutOfRange { what: Quantity::Exponent, value, low: EXPONENT_RANGE.0, high: EXPONENT_RANGE.1 }
    }
}

/// Why the binds can't be placed. Lengths in mm.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[expect(missing_docs, reason = "each variant's message says what its fields are")]
pub enum SpacingError {
    /// One side's progression has no answer; [`Self::field`] names the side.
    #[error("{reason}")]
    Progression {
        side: Side,
        #[source]
        reason: ProgressionError,
    },
    /// The guide arc's radius is unusable.
    #[error(
        "the guide arc's radius is {} mm; it must be a number above 0 and at most {LARGEST_RADIUS_MM} mm, for example 300 mm",
        neat(*radius_mm)
    )]
    GuideRadius { radius_mm: f64 },
    /// The cloth's reach is unusable.
    #[error("the cloth reaches {} mm from the burst centre; it must be a number above 0", neat(*farthest_mm))]
    Farthest { farthest_mm: f64 },
    /// The smallest gap that can be tied is unusable.
    #[error("smallest_gap_mm is {}; it must be a number from 0 to {LARGEST_RADIUS_MM} mm, for example 2 mm", neat(*value_mm))]
    SmallestGap { value_mm: f64 },
    /// A gap is too small for the marks of the rule.
    #[error(
        "the gap between {inner} and {outer} is {} mm, too small for marks every {} mm; \
             choose finer marks or Exact, or larger gaps", neat(*gap_mm), neat(*step_mm))]
    TooSmallForMarks { inner: BindId, outer: BindId, gap_mm: f64, step_mm: f64 },
    /// The radii can't be rounded with the order of the gaps kept.
    #[error(
        "near {bind} the radii can't be put on marks every {} mm with their gaps still in order; \
             choose finer marks or Exact", neat(*step_mm))]
    NoRounding { bind: BindId, step_mm: f64 },
    /// An edit names a bind that isn't there.
    #[error("an edit names {bind}, but the binds go from {first} to {last}; name one of these")]
    NoSuchBind { bind: BindId, first: i32, last: i32 },
    /// The guide arc's bind is not edited.
    #[error("an edit names bind 0, which lies on the guide arc; change the guide arc's radius instead")]
    GuideEdited,
    /// Two edits of one bind.
    #[error("{bind} has two edits; keep one of them")]
    EditedTwice { bind: BindId },
    /// An edit's length is unusable.
    #[error("the edit of {bind} has {} mm; give a length, for a radius above 0", neat(*value_mm))]
    EditValue { bind: BindId, value_mm: f64 },
    /// A bind is farther than any garment reaches.
    #[error(
        "{bind} would lie {} mm from the burst centre; no garment reaches beyond {LARGEST_RADIUS_MM} mm: \
         give fewer or smaller gaps, or a smaller radius",
        far(*radius_mm)
    )]
    TooFar { bind: BindId, radius_mm: f64, by_hand: bool },
    /// After the edits a bind does not lie beyond the one inside it.
    #[error(
        "{outer} would lie at {} mm, not outside {inner} at {} mm; \
             move it less, or let the neighbours follow", neat(*outer_mm), neat(*inner_mm))]
    PassesNeighbour { inner: BindId, inner_mm: f64, outer: BindId, outer_mm: f64 },
    /// After the edits a bind lies at or beyond the burst centre.
    #[error("{bind} would lie at {} mm; a bind's radius must be above 0, so move it less", neat(*radius_mm))]
    NotOutsideCentre { bind: BindId, radius_mm: f64 },
}

/// A length beyond reason: in figures as long as they can be read, else as a power of ten.
fn far(mm: f64) -> String {
    if mm.abs() < 1e9 { neat(mm) } else { format!("{mm:.1e}") }
}
