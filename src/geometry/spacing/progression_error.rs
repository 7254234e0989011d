//! Everything that can be wrong with a progression: its numbers, the reason, and what would be right.

use super::limits::{EXPONENT_RANGE, MOST_GAPS, RATIO_RANGE};
use super::quantity::{Clash, Given, Need, Quantity};
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};
use thiserror::Error;

/// Why one side's progression has no answer. Lengths in mm.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[expect(missing_docs, reason = "each variant's sentence says what its fields are")]
pub enum ProgressionError {
    /// A value is NaN or infinite.
    NotFinite { what: Quantity, value: f64 },
    /// A value that must be positive is not.
    NotPositive { what: Quantity, value: f64 },
    /// The knowns leave several answers.
    TooFewKnowns { given: Given, need: Need },
    /// More knowns than needed, and they disagree.
    TooManyKnowns { what: Quantity, asked: f64, follows: f64 },
    /// The knowns exclude each other.
    Contradictory { what: Quantity, value: f64, other: Quantity, other_value: f64, why: Clash },
    /// Shrinking gaps add up to less than the span however many there are.
    NeverReaches { what: Quantity, factor: f64, first_mm: f64, most_mm: f64, span_mm: f64 },
    /// A gap would be zero or negative.
    NegativeGap { number: u32, gap_mm: f64 },
    /// The given ratio or exponent is zero or negative.
    FactorNotPositive { what: Quantity, value: f64 },
    /// The given ratio or exponent is absurd.
    FactorAbsurd { what: Quantity, value: f64, low: f64, high: f64 },
    /// The ratio or exponent would have to be out of range.
    FactorOutOfRange { what: Quantity, value: f64, low: f64, high: f64 },
    /// No gap, or more than can be meant.
    CountOutOfRange { count: f64 },
    /// Binds would lie at or beyond the burst centre.
    PastCentre { span_mm: f64, guide_mm: f64 },
    /// Nothing is left of the side after leaving some of it free.
    NoRoom { leave_mm: f64, room_mm: f64 },
    /// An equal share of cloth can't be found.
    NoCloth { cloth_mm2: f64, wanted_mm2: f64 },
    /// The knowns have more than one answer.
    SeveralSolutions { what: Quantity, one: f64, other: f64 },
}

displayed_as_in_files!(ProgressionError);

impl ProgressionError {
    pub(super) const fn ratio_range(value: f64) -> Self {
        Self::FactorOutOfRange { what: Quantity::Ratio, value, low: RATIO_RANGE.0, high: RATIO_RANGE.1 }
    }

    pub(super) const fn exponent_range(value: f64) -> Self {
        Self::FactorOutOfRange { what: Quantity::Exponent, value, low: EXPONENT_RANGE.0, high: EXPONENT_RANGE.1 }
    }

    /// The field of the progression that is wrong; none where several are.
    #[must_use]
    pub fn field(&self) -> Option<Field> {
        match self {
            Self::NotFinite { what, .. }
            | Self::NotPositive { what, .. }
            | Self::TooManyKnowns { what, .. }
            | Self::FactorNotPositive { what, .. }
            | Self::FactorAbsurd { what, .. } => Some(Field::from(what.key())),
            Self::NoRoom { .. } => Some(Field::from("span.leave_mm")),
            Self::TooFewKnowns { .. }
            | Self::Contradictory { .. }
            | Self::NeverReaches { .. }
            | Self::NegativeGap { .. }
            | Self::FactorOutOfRange { .. }
            | Self::CountOutOfRange { .. }
            | Self::PastCentre { .. }
            | Self::NoCloth { .. }
            | Self::SeveralSolutions { .. } => None,
        }
    }
}

impl Refused for ProgressionError {
    #[expect(clippy::too_many_lines, reason = "what each refusal says, in one place")]
    fn told(&self, voice: Voice) -> Told {
        let (length, number) = (|mm: &f64| voice.length(*mm), |value: &f64| voice.number(*value));
        let [count_name, span_name] = [Quantity::Count, Quantity::Span].map(|what| what.name(voice));
        let told = match self {
            Self::NotFinite { what, value } => {
                let example = if what.is_length() { voice.length(EXAMPLE_GAP_MM) } else { "1.2".to_owned() };
                Told::new(format!("{value} is not a number"), format!("give one, such as {example}"))
            }
            Self::NotPositive { what, value } => {
                let none = voice.either("give List(gaps_mm: [])", "choose gaps \"by hand\" and give none");
                Told::new(
                    format!("{} is not more than 0", what.value(voice, *value)),
                    format!("give more; for no binds on this side {none}"),
                )
            }
            Self::TooFewKnowns { given, need } => {
                Told::new(format!("{}: not enough to set the gaps", given.say(voice)), need.say(voice))
            }
            Self::TooManyKnowns { what, asked, follows } => {
                let [asked, follows] =
                    if what.is_length() { voice.apart(*asked, *follows) } else { [asked, follows].map(number) };
                Told::new(format!("{asked}, but from the other values {follows}"), "remove it, or change another")
            }
            Self::Contradictory { what, value, other, other_value, why } => {
                let [one, other] = [(what, value), (other, other_value)]
                    .map(|(what, value)| format!("{} {}", what.name(voice), what.value(voice, *value)));
                Told::new(format!("{one} and {other} can't both hold: {}", why.why()), why.cure(voice))
            }
            Self::NeverReaches { what, factor, first_mm, most_mm, span_mm } => {
                let (first, most, span) = (length(first_mm), length(most_mm), length(span_mm));
                let (name, factor) = (what.name(voice), what.value(voice, *factor));
                Told::new(
                    format!(
                        "gaps from {first} on with a {name} of {factor} add up to at most {most} and never reach the {span_name} of \
                        {span}"
                    ),
                    format!("give a shorter {span_name}, a larger gap, or a {name} that shrinks them less"),
                )
            }
            Self::NegativeGap { number, gap_mm } => Told::new(
                format!("gap {number} would be {}", length(gap_mm)),
                format!("give fewer gaps, a longer {span_name} or a smaller change from gap to gap"),
            ),
            Self::FactorNotPositive { what, value } => {
                Told::new(format!("{} is not more than 0", what.value(voice, *value)), format!("give more: {}", what.direction()))
            }
            Self::FactorAbsurd { what, value, low, high } => Told::new(
                format!("{} is out of range", number(value)),
                format!("give {} to {}: {}", number(low), number(high), what.direction()),
            ),
            Self::FactorOutOfRange { what, value, low, high } => {
                let (name, low, high) = (what.name(voice), number(low), number(high));
                let wrong = if *value > 0.0 && value.is_finite() {
                    format!("the {name} would have to be {}, outside {low} to {high}", number(value))
                } else {
                    format!("no {name} from {low} to {high} gives these gaps")
                };
                Told::new(wrong, format!("change the {count_name}, or the gaps so that they differ less"))
            }
            Self::CountOutOfRange { count } => {
                let wrong = if count.is_finite() {
                    format!("the number of gaps would be {}", number(count))
                } else {
                    "no number of gaps gives these lengths".to_owned()
                };
                Told::new(wrong, format!("it must be 1 to {MOST_GAPS}: change the {count_name}, the gaps or the {span_name}"))
            }
            Self::PastCentre { span_mm, guide_mm } => {
                let [span, guide] = voice.apart(*span_mm, *guide_mm);
                Told::new(
                    format!("the gaps reach {span} inward, but the burst centre is {guide} away"),
                    format!("give a shorter {span_name}, fewer gaps or smaller ones"),
                )
            }
            Self::NoRoom { leave_mm, room_mm } => Told::new(
                format!("{} leaves no room in the {} of this side", length(leave_mm), length(room_mm)),
                "leave 0 or more, and less than that",
            ),
            Self::NoCloth { cloth_mm2, wanted_mm2 } => Told::new(
                format!(
                    "the side has {} of cloth within reach, not the {} needed",
                    voice.area(*cloth_mm2),
                    voice.area(*wanted_mm2)
                ),
                format!("give a shorter {span_name}, fewer gaps or a smaller first gap"),
            ),
            Self::SeveralSolutions { what, one, other } => {
                let both = if what.is_length() { voice.apart(*one, *other) } else { [one, other].map(number) };
                let name = what.name(voice);
                Told::new(
                    format!("with these values the {name} can be {} as well as {}", both[0], both[1]),
                    format!("give the {name} itself"),
                )
            }
        };
        told.at(self.field().map_or_else(String::new, |field| field.said(voice)))
    }
}

/// A gap to show what is meant, mm.
const EXAMPLE_GAP_MM: f64 = 30.0;
