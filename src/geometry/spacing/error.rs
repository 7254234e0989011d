//! Everything that can be wrong with a spacing: its numbers, the reason, and what would be right.

use super::BindId;
use super::progression_error::ProgressionError;
use super::quantity::Side;
use crate::geometry::LARGEST_RADIUS_MM;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};
use thiserror::Error;

/// Why the binds can't be placed. Lengths in mm.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[expect(missing_docs, reason = "each variant's sentence says what its fields are")]
pub enum SpacingError {
    /// One side's progression has no answer; [`Self::field`] names the side.
    Progression {
        side: Side,
        #[source]
        reason: ProgressionError,
    },
    /// The guide arc's radius is unusable.
    GuideRadius { radius_mm: f64 },
    /// The cloth's reach is unusable.
    Farthest { farthest_mm: f64 },
    /// The smallest gap that can be tied is unusable.
    SmallestGap { value_mm: f64 },
    /// A gap is too small for the marks of the rule.
    TooSmallForMarks { inner: BindId, outer: BindId, gap_mm: f64, step_mm: f64 },
    /// The radii can't be rounded with the order of the gaps kept.
    NoRounding { bind: BindId, step_mm: f64 },
    /// An edit names a bind that isn't there.
    NoSuchBind { bind: BindId, first: i32, last: i32 },
    /// The guide arc's bind is not edited.
    GuideEdited,
    /// Two edits of one bind.
    EditedTwice { bind: BindId },
    /// An edit's length is unusable.
    EditValue { bind: BindId, value_mm: f64 },
    /// A bind is farther than any garment reaches.
    TooFar { bind: BindId, radius_mm: f64, by_hand: bool },
    /// A puck's bands are even, and no spacing is laid on it.
    EvenBands { field: &'static str },
    /// After the edits a bind does not lie beyond the one inside it.
    PassesNeighbour { inner: BindId, inner_mm: f64, outer: BindId, outer_mm: f64 },
    /// After the edits a bind lies at or beyond the burst centre.
    NotOutsideCentre { bind: BindId, radius_mm: f64 },
}

displayed_as_in_files!(SpacingError);

impl SpacingError {
    /// The field of [`SpacingSpec`](super::SpacingSpec) that is wrong.
    #[must_use]
    pub fn field(&self) -> Field {
        match self {
            Self::Progression { side, reason } => reason.field().into_iter().fold(Field::from(side.key()), Field::then),
            Self::TooFar { by_hand: false, .. } => Field::from("outward"),
            Self::GuideRadius { .. } | Self::Farthest { .. } | Self::TooSmallForMarks { .. } | Self::NoRounding { .. } => {
                Field::from("marks")
            }
            Self::SmallestGap { .. } => Field::from("smallest_gap_mm"),
            Self::EvenBands { field } => Field::from(*field),
            Self::NoSuchBind { .. }
            | Self::GuideEdited
            | Self::EditedTwice { .. }
            | Self::TooFar { by_hand: true, .. }
            | Self::EditValue { .. }
            | Self::PassesNeighbour { .. }
            | Self::NotOutsideCentre { .. } => Field::from("edits"),
        }
    }
}

impl Refused for SpacingError {
    fn told(&self, voice: Voice) -> Told {
        let (bind, length) = (|bind: &BindId| bind.said(voice), |mm: &f64| voice.length(*mm));
        let farthest = voice.most(LARGEST_RADIUS_MM);
        let told = match self {
            Self::Progression { reason, .. } => reason.told(voice),
            Self::EvenBands { .. } => Told::new("bands lie evenly round a puck", "set their number in the fold instead"),
            Self::GuideRadius { radius_mm } => Told::new(
                format!("the guide arc's radius is {}", length(radius_mm)),
                format!("give more than 0 and at most {farthest}, such as {}", voice.about(EXAMPLE_RADIUS_MM)),
            ),
            Self::Farthest { farthest_mm } => Told::new(
                format!("the cloth reaches {} from the burst centre", length(farthest_mm)),
                "put the centre where cloth lies around it",
            ),
            Self::SmallestGap { value_mm } => Told::new(
                format!("{} is out of range", length(value_mm)),
                format!("give {}, such as {}", voice.range(0.0, LARGEST_RADIUS_MM), length(&EXAMPLE_SMALLEST_MM)),
            ),
            Self::TooSmallForMarks { inner, outer, gap_mm, step_mm } => {
                let (inner, outer, gap, step) = (bind(inner), bind(outer), length(gap_mm), length(step_mm));
                Told::new(
                    format!("the gap between {inner} and {outer} is {gap}, too small for marks every {step}"),
                    format!("choose finer marks or {}, or larger gaps", unmarked(voice)),
                )
            }
            Self::NoRounding { bind: at, step_mm } => Told::new(
                format!(
                    "near {} the radii can't be put on marks every {} with their gaps still in order",
                    bind(at),
                    length(step_mm)
                ),
                format!("choose finer marks or {}", unmarked(voice)),
            ),
            Self::NoSuchBind { bind: at, first, last } => {
                let [first, last] = [first, last].map(|number| numbered(*number, voice));
                Told::new(format!("an edit names {}, but the binds go from {first} to {last}", bind(at)), "name one of these")
            }
            Self::GuideEdited => {
                Told::new(format!("an edit names {}", bind(&BindId::GUIDE)), "change the guide arc's radius instead")
            }
            Self::EditedTwice { bind: at } => Told::new(format!("{} has two edits", bind(at)), "keep one of them"),
            Self::EditValue { bind: at, value_mm } => {
                Told::new(format!("the edit of {} has {}", bind(at), length(value_mm)), "give a length, for a radius above 0")
            }
            Self::TooFar { bind: at, radius_mm, .. } => Told::new(
                format!("{} would lie {} from the burst centre", bind(at), length(radius_mm)),
                format!("no garment reaches beyond {farthest}: give fewer or smaller gaps, or a smaller radius"),
            ),
            Self::PassesNeighbour { inner, inner_mm, outer, outer_mm } => {
                let [outer_at, inner_at] = voice.apart(*outer_mm, *inner_mm);
                Told::new(
                    format!("{} would lie at {outer_at}, not outside {} at {inner_at}", bind(outer), bind(inner)),
                    "move it less, or let the neighbours follow",
                )
            }
            Self::NotOutsideCentre { bind: at, radius_mm } => Told::new(
                format!("{} would lie at {}", bind(at), length(radius_mm)),
                "its radius must be above 0, so move it less",
            ),
        };
        told.at(self.field().said(voice))
    }
}

/// A radius to show what is meant, mm.
const EXAMPLE_RADIUS_MM: f64 = 300.0;
/// A smallest gap to show what is meant, mm: an eighth of an inch less a hair, so that no unit writes it as nothing.
const EXAMPLE_SMALLEST_MM: f64 = 3.0;

/// What leaves radii as they are.
fn unmarked(voice: Voice) -> &'static str {
    voice.either("Exact", "no marks")
}

/// A bind's number as edits count it: in the window by how far from the guide arc it is.
fn numbered(number: i32, voice: Voice) -> String {
    if voice.has_keys() { number.to_string() } else { BindId::Numbered(number).said(voice) }
}
