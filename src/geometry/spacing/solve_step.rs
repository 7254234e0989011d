//! The arithmetic progression: gap k is `first + (k - 1) step`, and n of them add up to `n (first + last) / 2`.

use super::law::{Law, Pair, Terms, Triple, contradictory, same};
use super::progression_error::ProgressionError;
use super::quantity::{Clash, Given, Need, Quantity};

/// Gaps that change by the same length.
pub(super) struct StepLaw;

impl Law for StepLaw {
    fn factor(&self) -> Quantity {
        Quantity::Step
    }

    fn even_factor(&self) -> f64 {
        0.0
    }

    fn check_factor(&self, _: f64) -> Result<(), ProgressionError> {
        Ok(())
    }

    fn terms(&self, count: u32, pair: Pair) -> Result<Terms, ProgressionError> {
        let n = f64::from(count);
        let steps = n - 1.0;
        let (first, last) = match pair {
            Pair::FirstLast(first, last) => (first, last),
            Pair::FirstSpan(first, span) => (first, 2.0 * span / n - first),
            Pair::FirstFactor(first, step) => (first, first + steps * step),
            Pair::LastSpan(last, span) => (2.0 * span / n - last, last),
            Pair::LastFactor(last, step) => (last - steps * step, last),
            Pair::SpanFactor(span, step) => (span / n - steps * step / 2.0, span / n + steps * step / 2.0),
        };
        let factor = match pair {
            Pair::FirstFactor(_, step) | Pair::LastFactor(_, step) | Pair::SpanFactor(_, step) => step,
            _ => (last - first) / steps,
        };
        Ok(Terms { count, first, last, span: n * (first + last) / 2.0, factor })
    }

    fn count(&self, triple: Triple) -> Result<f64, ProgressionError> {
        match triple {
            Triple::FirstLastSpan(first, last, span) => Ok(2.0 * span / (first + last)),
            Triple::FirstLastFactor(first, last, step) => count_between(first, last, step),
            Triple::FirstSpanFactor(first, span, step) => count_to_fill(first, step, span, step),
            Triple::LastSpanFactor(last, span, step) => count_from_last(last, step, span),
        }
    }

    fn distance(&self, terms: &Terms, i: u32) -> f64 {
        let n = f64::from(i);
        n * terms.first + n * (n - 1.0) / 2.0 * terms.factor
    }
}

fn count_between(first: f64, last: f64, step: f64) -> Result<f64, ProgressionError> {
    let change = last - first;
    if step == 0.0 && same(first, last) {
        let given = Given(vec![Quantity::FirstGap, Quantity::LastGap, Quantity::Step]);
        return Err(ProgressionError::TooFewKnowns { given, need: Need::CountOrSpan });
    }
    if change * step < 0.0 || step == 0.0 {
        let why = Clash::StepLeadsAway;
        return Err(contradictory((Quantity::Step, step), (Quantity::LastGap, last), why));
    }
    Ok(change / step + 1.0)
}

/// The smaller root n of `n first + n (n - 1) step / 2 = span`, in the form without cancellation.
fn count_to_fill(first: f64, step: f64, span: f64, asked_step: f64) -> Result<f64, ProgressionError> {
    let b = first - step / 2.0;
    let square = b * b + 2.0 * step * span;
    if square < 0.0 {
        // The gaps that are still above zero.
        let n = (first / step.abs()).ceil();
        let most_mm = n * (2.0 * first - (n - 1.0) * step.abs()) / 2.0;
        let what = Quantity::Step;
        return Err(ProgressionError::NeverReaches { what, factor: asked_step, first_mm: first, most_mm, span_mm: span });
    }
    if b < 0.0 {
        return Ok((square.sqrt() - b) / step);
    }
    Ok(2.0 * span / (b + square.sqrt()))
}

/// Seen from the far end the last gap is the first and the step is turned round.
///
/// The two roots lie symmetric about `last / step + 1/2`, and the first gap is above zero below `last / step + 1`. Where both leave it
/// above zero they lie in an interval of length 1 with a single whole number in it: the root nearer to that is meant.
fn count_from_last(last: f64, step: f64, span: f64) -> Result<f64, ProgressionError> {
    let smaller = count_to_fill(last, -step, span, step)?;
    let larger = 2.0 * last / step + 1.0 - smaller;
    let from_whole = |n: f64| (n - n.round()).abs();
    let larger_is_meant = step > 0.0 && larger < last / step + 1.0 && from_whole(larger) < from_whole(smaller);
    Ok(if larger_is_meant { larger } else { smaller })
}
