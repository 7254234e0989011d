//! Even gaps: count times gap is the span.

use super::law::{Adjustment, SAME, agrees, check_count, check_length, contradictory, same, whole_count};
use super::progression_error::ProgressionError;
use super::quantity::{Clash, Given, Need, Quantity};

/// Count, gap and what had to be adjusted, from two of count, gap and span (or all three if they agree).
///
/// A gap and a span without a count take as many gaps as fit.
pub(super) fn solve_even(
    count: Option<u32>,
    gap: Option<f64>,
    span: Option<f64>,
) -> Result<(u32, f64, Vec<Adjustment>), ProgressionError> {
    check_count(count.map_or(1.0, f64::from))?;
    check_length(Quantity::Gap, gap)?;
    check_length(Quantity::Span, span)?;
    match (count, gap, span) {
        (Some(n), Some(gap), Some(span)) if !agrees(f64::from(n) * gap, span) => {
            Err(ProgressionError::TooManyKnowns { what: Quantity::Span, asked: span, follows: f64::from(n) * gap })
        }
        (Some(n), Some(gap), _) => Ok((n, gap, Vec::new())),
        (Some(n), None, Some(span)) => Ok((n, span / f64::from(n), Vec::new())),
        (None, Some(gap), Some(span)) if gap > span * (1.0 + SAME) => {
            let why = Clash::GapTooLong;
            Err(contradictory((Quantity::Gap, gap), (Quantity::Span, span), why))
        }
        (None, Some(gap), Some(asked)) => {
            let n = whole_count((asked / gap * (1.0 + SAME)).floor())?;
            let got = f64::from(n) * gap;
            let adjusted = (!same(asked, got)).then_some(Adjustment { what: Quantity::Span, asked, got });
            Ok((n, gap, adjusted.into_iter().collect()))
        }
        (count, gap, span) => {
            let all = [(Quantity::Count, count.is_some()), (Quantity::Gap, gap.is_some()), (Quantity::Span, span.is_some())];
            let given = Given::of(&all);
            Err(ProgressionError::TooFewKnowns { given, need: Need::TwoForEven })
        }
    }
}
