//! The marks on the rule a maker measures with.

use serde::{Deserialize, Serialize};

use super::LengthUnit;

/// The marks a length is rounded to, so that it can be found on a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum RuleMarks {
    /// No rounding.
    Exact,
    /// Every millimetre.
    #[default]
    Millimetres1,
    /// Every five millimetres.
    Millimetres5,
    /// Every eighth of an inch.
    InchEighth,
    /// Every sixteenth of an inch.
    InchSixteenth,
}

impl RuleMarks {
    /// Every kind of marks, from the freest.
    pub const ALL: [Self; 5] = [Self::Exact, Self::Millimetres1, Self::Millimetres5, Self::InchEighth, Self::InchSixteenth];

    /// The distance between neighbouring marks in mm; none when lengths stay exact.
    #[must_use]
    pub const fn step_mm(self) -> Option<f64> {
        match self {
            Self::Exact => None,
            Self::Millimetres1 => Some(1.0),
            Self::Millimetres5 => Some(5.0),
            Self::InchEighth => Some(LengthUnit::Inch.in_mm() / 8.0),
            Self::InchSixteenth => Some(LengthUnit::Inch.in_mm() / 16.0),
        }
    }
}
