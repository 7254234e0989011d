//! The geometric progression: gap k is `first ratio^(k - 1)`, and n of them add up to `first (1 - ratio^n) / (1 - ratio)`.
//!
//! Worked with `x = ln ratio`, so that ratios near 1 on either side keep their accuracy.

use super::law::{Law, Pair, Terms, Triple, contradictory, same};
use super::limits::RATIO_RANGE;
use super::progression_error::ProgressionError;
use super::quantity::{Clash, Given, Need, Quantity};
use super::root::increasing_root;

/// Accuracy of `ln ratio`, which is the relative accuracy of the ratio.
const LN_ACCURACY: f64 = 1e-14;

/// Gaps that change by the same ratio.
pub(super) struct RatioLaw;

impl Law for RatioLaw {
    fn factor(&self) -> Quantity {
        Quantity::Ratio
    }

    fn even_factor(&self) -> f64 {
        1.0
    }

    fn check_factor(&self, ratio: f64) -> Result<(), ProgressionError> {
        let is_in_range = (RATIO_RANGE.0..=RATIO_RANGE.1).contains(&ratio);
        if is_in_range { Ok(()) } else { Err(ProgressionError::ratio_range(ratio)) }
    }

    fn terms(&self, count: u32, pair: Pair) -> Result<Terms, ProgressionError> {
        let n = f64::from(count);
        let steps = n - 1.0;
        let (first, ratio) = match pair {
            Pair::FirstLast(first, last) => (first, ((last / first).ln() / steps).exp()),
            Pair::FirstSpan(first, span) => (first, ratio_of_sum(n, first, span, Quantity::FirstGap)?),
            Pair::FirstFactor(first, ratio) => (first, ratio),
            Pair::LastSpan(last, span) => {
                let ratio = ratio_of_sum(n, last, span, Quantity::LastGap)?.recip();
                (last * (-steps * ratio.ln()).exp(), ratio)
            }
            Pair::LastFactor(last, ratio) => (last * (-steps * ratio.ln()).exp(), ratio),
            Pair::SpanFactor(span, ratio) => (span / sum(ratio.ln(), n), ratio),
        };
        let last = match pair {
            Pair::FirstLast(_, last) | Pair::LastSpan(last, _) | Pair::LastFactor(last, _) => last,
            _ => first * (steps * ratio.ln()).exp(),
        };
        let span = match pair {
            Pair::FirstSpan(_, span) | Pair::LastSpan(_, span) | Pair::SpanFactor(span, _) => span,
            _ => first * sum(ratio.ln(), n),
        };
        Ok(Terms { count, first, last, span, factor: ratio })
    }

    fn count(&self, triple: Triple) -> Result<f64, ProgressionError> {
        match triple {
            Triple::FirstLastSpan(first, last, span) => count_of_three(first, last, span),
            Triple::FirstLastFactor(first, last, ratio) => count_between(first, last, ratio),
            Triple::FirstSpanFactor(first, span, ratio) => count_to_fill(first, ratio, span, ratio),
            Triple::LastSpanFactor(last, span, ratio) => count_to_fill(last, ratio.recip(), span, ratio),
        }
    }

    fn distance(&self, terms: &Terms, i: u32) -> f64 {
        terms.first * sum(terms.factor.ln(), f64::from(i))
    }
}

/// `1 + q + ... + q^(n-1)` for `q = exp(x)`.
fn sum(x: f64, n: f64) -> f64 {
    if x == 0.0 { n } else { (n * x).exp_m1() / x.exp_m1() }
}

/// `ln(sum(x, n))` without overflow: a growing sum is `q^(n-1)` times the shrinking one.
fn ln_sum(x: f64, n: f64) -> f64 {
    if x > 0.0 { (n - 1.0) * x + sum(-x, n).ln() } else { sum(x, n).ln() }
}

/// The ratio with which `n` gaps from `end` fill `span`.
///
/// All gaps after the first are `span - end = end q sum(q, n - 1)`; the logarithm of that rises with `x` at a slope of at least 1, so
/// its value at `x = 0` bounds the root.
fn ratio_of_sum(n: f64, end: f64, span: f64, what: Quantity) -> Result<f64, ProgressionError> {
    if span <= end {
        let why = Clash::SpanTooShort;
        return Err(contradictory((what, end), (Quantity::Span, span), why));
    }
    let target = ((span - end) / end).ln();
    let miss = |x: f64| x + ln_sum(x, n - 1.0) - target;
    let bound = miss(0.0).abs();
    let x = increasing_root(miss, -bound, bound, LN_ACCURACY).ok_or_else(|| ProgressionError::ratio_range(f64::NAN))?;
    Ok(x.exp())
}

/// Subtracting the series from itself one place on gives `span (1 - q) = first - last q`.
fn count_of_three(first: f64, last: f64, span: f64) -> Result<f64, ProgressionError> {
    if same(first, last) {
        return Ok(span / first);
    }
    if span <= first || span <= last {
        let larger = if first > last { (Quantity::FirstGap, first) } else { (Quantity::LastGap, last) };
        return Err(contradictory(larger, (Quantity::Span, span), Clash::SpanTooShort));
    }
    let x = ((last - first) / (span - last)).ln_1p();
    Ok(1.0 + ((last - first) / first).ln_1p() / x)
}

fn count_between(first: f64, last: f64, ratio: f64) -> Result<f64, ProgressionError> {
    let (change, x) = ((last / first).ln(), ratio.ln());
    if x == 0.0 && same(first, last) {
        let given = Given(vec![Quantity::FirstGap, Quantity::LastGap, Quantity::Ratio]);
        return Err(ProgressionError::TooFewKnowns { given, need: Need::CountOrSpan });
    }
    if change * x < 0.0 || x == 0.0 {
        let why = Clash::RatioLeadsAway;
        return Err(contradictory((Quantity::Ratio, ratio), (Quantity::LastGap, last), why));
    }
    Ok(1.0 + change / x)
}

/// `n = ln(1 + span (q - 1) / first) / ln q`.
fn count_to_fill(first: f64, ratio: f64, span: f64, asked_ratio: f64) -> Result<f64, ProgressionError> {
    let x = ratio.ln();
    if x == 0.0 {
        return Ok(span / first);
    }
    let grown = span / first * x.exp_m1();
    if grown <= -1.0 {
        let most_mm = -first / x.exp_m1();
        let what = Quantity::Ratio;
        return Err(ProgressionError::NeverReaches { what, factor: asked_ratio, first_mm: first, most_mm, span_mm: span });
    }
    Ok(grown.ln_1p() / x)
}
