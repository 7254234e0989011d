//! The sides and quantities of a progression, and what can be missing or clash among them.

use crate::telling::{Voice, listed};
use serde::{Serialize, Serializer};
use std::fmt;

/// The side of the guide arc that binds lie on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// From the guide arc to the burst centre.
    Inward,
    /// From the guide arc to the edge of the cloth.
    Outward,
}

impl Side {
    /// Its key in files.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Inward => "inward",
            Self::Outward => "outward",
        }
    }

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
        f.write_str(self.key())
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
    /// Its key in files.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Count => "count",
            Self::Gap => "gap_mm",
            Self::FirstGap => "first_gap_mm",
            Self::LastGap => "last_gap_mm",
            Self::Span => "span",
            Self::Step => "step_mm",
            Self::Ratio => "ratio",
            Self::Exponent => "exponent",
        }
    }

    /// Whether it is a length.
    #[must_use]
    pub const fn is_length(self) -> bool {
        match self {
            Self::Gap | Self::FirstGap | Self::LastGap | Self::Span | Self::Step => true,
            Self::Count | Self::Ratio | Self::Exponent => false,
        }
    }

    /// Its name within a sentence.
    pub(super) fn name(self, voice: Voice) -> String {
        if self == Self::Count { voice.either("count", "number of gaps").to_owned() } else { voice.key(self.key()) }
    }

    /// A value of it as it was typed.
    pub(super) fn value(self, voice: Voice, value: f64) -> String {
        if self.is_length() { voice.length(value) } else { voice.number(value) }
    }

    /// Which way a ratio or exponent leads.
    pub(super) const fn direction(self) -> &'static str {
        match self {
            Self::Ratio => "below 1 the gaps shrink away from the guide arc, above 1 they grow",
            Self::Exponent => "1 makes even gaps, above 1 they tighten toward the centre",
            _ => "give another value",
        }
    }
}

/// As its key in files.
impl Serialize for Quantity {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.key())
    }
}

/// The quantities that were given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Given(pub Vec<Quantity>);

impl Given {
    /// The quantities that are marked as known.
    pub(super) fn of(all: &[(Quantity, bool)]) -> Self {
        Self(all.iter().filter(|(_, known)| *known).map(|(what, _)| *what).collect())
    }

    /// What is given, and that it is all.
    pub(super) fn say(&self, voice: Voice) -> String {
        match self.0.len() {
            0 => "nothing is given".to_owned(),
            count => {
                let names = listed(self.0.iter().map(|what| what.name(voice)), "and");
                format!("only {names} {} given", if count == 1 { "is" } else { "are" })
            }
        }
    }
}

/// What would set a progression's gaps that too little is known of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Need {
    /// Even gaps are known: how many of them.
    CountOrSpan,
    /// Two quantities of an even progression.
    TwoForEven,
    /// Two quantities of one with equal cloth.
    TwoForCloth,
    /// Two quantities beside the count.
    TwoBesideCount,
    /// Three where there is no count.
    ThreeWithoutCount,
    /// The length of a single gap.
    LengthOfOne,
}

impl Need {
    pub(super) fn say(self, voice: Voice) -> String {
        use Quantity::{Count, FirstGap, Gap, LastGap, Span};
        let names = |of: &[Quantity], joint| listed(of.iter().map(|what| what.name(voice)), joint);
        match self {
            Self::CountOrSpan => format!("with even gaps give {}", names(&[Count, Span], "or")),
            Self::TwoForEven => format!("give two of {}", names(&[Count, Gap, Span], "and")),
            Self::TwoForCloth => format!("give two of {}", names(&[Count, FirstGap, LastGap, Span], "and")),
            Self::TwoBesideCount => {
                format!(
                    "beside the {} give two of {}, {} and the change between gaps",
                    Count.name(voice),
                    [FirstGap, LastGap].map(|what| what.name(voice)).join(", "),
                    Span.name(voice)
                )
            }
            Self::ThreeWithoutCount => format!(
                "without a {} give three of {}, {} and the change between gaps",
                Count.name(voice),
                [FirstGap, LastGap].map(|what| what.name(voice)).join(", "),
                Span.name(voice)
            ),
            Self::LengthOfOne => format!("for a single gap give its length as {}", names(&[FirstGap, Span], "or")),
        }
    }
}

/// Why two quantities can't both hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Clash {
    /// The first gap is longer than the span.
    FirstGapTooLong,
    /// The one gap of an even progression is longer than the span.
    GapTooLong,
    /// The span is no longer than one of several gaps.
    SpanTooShort,
    /// A length goes beyond the cloth.
    ClothEnds,
    /// The last gap ends no span.
    NoSpanEnds,
    /// First and last gap belong to no span.
    NoSpanBetween,
    /// Exponent and last gap disagree about where the gaps tighten.
    ExponentLeadsAway,
    /// The ratio changes gaps the other way.
    RatioLeadsAway,
    /// The step changes gaps the other way.
    StepLeadsAway,
}

impl Clash {
    /// Every one.
    #[cfg(test)]
    pub(crate) const ALL: [Self; 9] = [
        Self::FirstGapTooLong,
        Self::GapTooLong,
        Self::SpanTooShort,
        Self::ClothEnds,
        Self::NoSpanEnds,
        Self::NoSpanBetween,
        Self::ExponentLeadsAway,
        Self::RatioLeadsAway,
        Self::StepLeadsAway,
    ];

    pub(super) const fn why(self) -> &'static str {
        match self {
            Self::FirstGapTooLong => "not even the first gap fits",
            Self::GapTooLong => "not even one gap fits",
            Self::SpanTooShort => "several gaps together must be longer than each of them",
            Self::ClothEnds => "the cloth of this side ends there",
            Self::NoSpanEnds => "no gaps within the cloth end with that one",
            Self::NoSpanBetween => "no gaps within the cloth start and end with these",
            Self::ExponentLeadsAway => "above 1 the gaps must tighten toward the centre, below 1 away from it",
            Self::RatioLeadsAway => "this ratio leads away from that last gap",
            Self::StepLeadsAway => "this change leads away from that last gap",
        }
    }

    pub(super) fn cure(self, voice: Voice) -> String {
        let [count, span] = [Quantity::Count, Quantity::Span].map(|what| what.name(voice));
        match self {
            Self::FirstGapTooLong => format!("give a longer {span} or a smaller first gap"),
            Self::GapTooLong | Self::SpanTooShort => format!("give a longer {span} or a smaller gap"),
            Self::ClothEnds => "give a shorter length".to_owned(),
            Self::NoSpanEnds => format!("give {} or {span}", Quantity::FirstGap.name(voice)),
            Self::NoSpanBetween => format!("give the {count} or the {span} instead of one"),
            Self::ExponentLeadsAway => "change one of them, or leave it out".to_owned(),
            Self::RatioLeadsAway => "give 1 divided by it, or leave it out".to_owned(),
            Self::StepLeadsAway => "change its sign, or leave it out".to_owned(),
        }
    }
}
