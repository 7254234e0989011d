//! What can be wrong with a garment's measurements.

use std::fmt;

use kurbo::Point;
use thiserror::Error;

use super::{GarmentKind, Measure, Misfit, SizeName};
use crate::geometry::{OutlineError, Panel};
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files, listed};

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
    UnknownSize {
        /// What was given.
        given: String,
    },
    /// The kind is made in no size of this name.
    NoSizeOfKind {
        /// The kind of garment.
        kind: GarmentKind,
        /// What was given.
        given: String,
    },
    /// The kind is not made in this size.
    NotASizeOfKind {
        /// The kind of garment.
        kind: GarmentKind,
        /// The size asked for.
        size: SizeName,
    },
    /// The kind has no such measurement.
    NotAMeasureOfKind {
        /// The kind of garment.
        kind: GarmentKind,
        /// The measurement given.
        measure: Measure,
    },
    /// A required measurement is neither given nor in the size table.
    Missing {
        /// The kind of garment.
        kind: GarmentKind,
        /// The measurement that is missing.
        measure: Measure,
    },
    /// A value is infinite or no number.
    NotFinite {
        /// The measurement.
        measure: Measure,
        /// What was given.
        value_mm: f64,
    },
    /// A value is far from anything that is worn or carried.
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
        why: Misfit,
    },
    /// A garment of one's own outline has none.
    NoOutline,
    /// An outline for a kind that is drafted.
    OutlineOfKind {
        /// The kind of garment.
        kind: GarmentKind,
    },
    /// The measurements fit one by one, but the outline they give crosses itself.
    OutlineCrosses {
        /// The kind of garment.
        kind: GarmentKind,
        /// The panel that crosses itself.
        panel: Panel,
        /// Where, in the garment's frame.
        at: Point,
    },
    /// The measurements give an outline that encloses nothing or crosses the centre line.
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
            | Self::NoOutline
            | Self::OutlineOfKind { .. }
            | Self::OutlineCrosses { .. }
            | Self::Outline { .. } => None,
        }
    }

    /// The field of a garment that can be put right.
    #[must_use]
    pub fn field(&self) -> Field {
        match (self, self.measure()) {
            (_, Some(measure)) => Field::from("measures").then(measure.key()),
            (
                Self::NoOutline
                | Self::OutlineOfKind { .. }
                | Self::OutlineCrosses { kind: GarmentKind::Own, .. }
                | Self::Outline { kind: GarmentKind::Own, .. },
                None,
            ) => Field::from("outline"),
            (_, None) => Field::from("size"),
        }
    }
}

displayed_as_in_files!(GarmentError);

impl Refused for GarmentError {
    fn told(&self, voice: Voice) -> Told {
        let sizes = |kind: &GarmentKind| listed(kind.sizes().into_iter().map(|size| size.name.as_str()), "or");
        let key = |measure: &Measure| voice.key(measure.key());
        let not_a_size = |kind: &GarmentKind, given: &str| match kind.sizes()[..] {
            [] => Told::new(
                format!("{kind} has no sizes, so no \"{given}\""),
                "leave the size out; for another size give its layout another width and height",
            ),
            _ => Told::new(format!("\"{given}\" is not a size of {kind}"), format!("choose {}", sizes(kind))),
        };
        let told = match self {
            Self::UnknownSize { given } => Told::new(
                format!("\"{given}\" is not a size"),
                format!("sizes are {}", listed(SizeName::ALL.map(SizeName::as_str), "and")),
            ),
            Self::NoSizeOfKind { kind, given } => not_a_size(kind, given),
            Self::NotASizeOfKind { kind, size } => not_a_size(kind, size.as_str()),
            Self::NotAMeasureOfKind { kind, .. } => Told::new(
                format!("not a measurement of {kind}"),
                format!("it has {}", listed(kind.measures().map(|measure| key(&measure)), "and")),
            ),
            Self::Missing { kind, .. } => {
                Told::new(format!("missing, and {kind} needs it"), format!("give it, or choose a size: {}", sizes(kind)))
            }
            Self::NotFinite { measure, value_mm } => {
                let range = measure.range_mm();
                let range = voice.range(*range.start(), *range.end());
                Told::new(format!("{value_mm} is not a length"), format!("give {range}"))
            }
            Self::OutOfRange { value_mm, least_mm, most_mm, .. } => Told::new(
                format!("{} is outside the plausible range", voice.length(*value_mm)),
                format!("give {}", voice.range(*least_mm, *most_mm)),
            ),
            Self::Mismatch { value_mm, against, against_mm, bound, limit_mm, why, .. } => {
                let against_is = voice.length(*against_mm);
                let limit = match bound {
                    Bound::AtMost => voice.most(*limit_mm),
                    Bound::AtLeast => voice.least(*limit_mm),
                };
                Told::new(
                    format!("{} with {} {against_is}: {}", voice.unlike(*value_mm, &limit), key(against), why.words()),
                    format!("give {bound} {limit}, or change {}", key(against)),
                )
            }
            Self::NoOutline => {
                Told::new("missing, and a garment of your own outline needs it", "take it from a drawing, or choose another kind")
            }
            Self::OutlineOfKind { kind } => Told::new(
                format!("{kind} is drafted from its measurements"),
                "leave the outline out, or make the kind your own outline",
            ),
            Self::OutlineCrosses { kind, panel, at } => crossing(*kind, *panel, *at, voice),
            Self::Outline { kind: GarmentKind::Own, panel, reason } => reason.told(voice).within(panel.name()),
            Self::Outline { kind, panel, reason } => {
                Told::new(format!("{panel} of {kind}: {}", reason.told(voice).what), "check the measurements against each other")
            }
        };
        told.at(self.measure().map_or_else(String::new, |measure| key(&measure)))
    }
}

/// An outline that crosses itself: the maker's own is drawn, all others follow from measurements.
fn crossing(kind: GarmentKind, panel: Panel, at: Point, voice: Voice) -> Told {
    let [aside, below] = [at.x, at.y].map(|mm| voice.about(mm));
    if kind == GarmentKind::Own {
        return Told::new(
            format!(
                "the {panel} outline crosses itself or the centre line about {aside} from the centre line and {below} below its upper edge"
            ),
            "draw it so that it runs once round the cloth",
        );
    }
    Told::new(
        format!(
            "the {panel} outline of {kind} crosses itself about {aside} from the centre line and {below} below the high point of the \
             shoulder"
        ),
        "check the measurements that meet there",
    )
}
