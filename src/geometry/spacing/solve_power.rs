//! The power progression: from its tight end, bind `i` of `n` lies at `span (i / n)^exponent`.
//!
//! Outward the tight end is the guide arc; inward it is the far end, so that an exponent above 1 tightens toward the centre on both
//! sides. Here the gap at the tight end is the *lead* `span n^-p`, the one at the other end the *tail* `span (1 - (1 - 1/n)^p)`.

use super::law::{Law, Pair, Terms, Triple, contradictory, same};
use super::limits::{EXPONENT_RANGE, MOST_GAPS};
use super::progression_error::ProgressionError;
use super::quantity::{Clash, Given, Need, Quantity, Side};
use super::root::increasing_root;

/// Accuracy of exponents and counts, relative to values about 1.
const ACCURACY: f64 = 1e-14;

/// Distances that follow a power.
pub(super) struct PowerLaw {
    /// Which end is the tight one.
    pub side: Side,
}

impl Law for PowerLaw {
    fn factor(&self) -> Quantity {
        Quantity::Exponent
    }

    fn even_factor(&self) -> f64 {
        1.0
    }

    fn check_factor(&self, exponent: f64) -> Result<(), ProgressionError> {
        let is_in_range = (EXPONENT_RANGE.0..=EXPONENT_RANGE.1).contains(&exponent);
        if is_in_range { Ok(()) } else { Err(ProgressionError::exponent_range(exponent)) }
    }

    fn terms(&self, count: u32, pair: Pair) -> Result<Terms, ProgressionError> {
        let n = f64::from(count);
        let (lead, tail, span, factor) = self.ends(n, pair)?;
        let (first, last) = match self.side {
            Side::Outward => (lead, tail),
            Side::Inward => (tail, lead),
        };
        Ok(Terms { count, first, last, span, factor })
    }

    fn count(&self, triple: Triple) -> Result<f64, ProgressionError> {
        let is_outward = self.side == Side::Outward;
        match triple {
            Triple::FirstLastSpan(first, last, span) => {
                let (lead, tail) = if is_outward { (first, last) } else { (last, first) };
                count_of_three(lead, tail, span)
            }
            Triple::FirstLastFactor(first, last, exponent) => {
                let (lead, tail) = if is_outward { (first, last) } else { (last, first) };
                count_of_ends(lead, tail, exponent)
            }
            Triple::FirstSpanFactor(end, span, exponent) if is_outward => count_of_lead(end, span, exponent),
            Triple::FirstSpanFactor(end, span, exponent) => count_of_tail(end, span, exponent),
            Triple::LastSpanFactor(end, span, exponent) if is_outward => count_of_tail(end, span, exponent),
            Triple::LastSpanFactor(end, span, exponent) => count_of_lead(end, span, exponent),
        }
    }

    fn distance(&self, terms: &Terms, i: u32) -> f64 {
        let share = f64::from(i) / f64::from(terms.count);
        match self.side {
            Side::Outward => terms.span * share.powf(terms.factor),
            Side::Inward => terms.span * head_share(share, terms.factor),
        }
    }
}

impl PowerLaw {
    /// Lead, tail, span and exponent.
    fn ends(&self, n: f64, pair: Pair) -> Result<(f64, f64, f64, f64), ProgressionError> {
        let is_outward = self.side == Side::Outward;
        let (span, p) = match pair {
            Pair::FirstLast(first, last) => {
                let (lead, tail) = if is_outward { (first, last) } else { (last, first) };
                let p = exponent_of_ends(n, lead, tail)?;
                return Ok((lead, tail, lead * n.powf(p), p));
            }
            Pair::FirstSpan(gap, span) => (span, exponent_of_gap(n, gap, span, is_outward, Quantity::FirstGap)?),
            Pair::LastSpan(gap, span) => (span, exponent_of_gap(n, gap, span, !is_outward, Quantity::LastGap)?),
            Pair::FirstFactor(gap, p) => (gap / if is_outward { n.powf(-p) } else { head_share(1.0 / n, p) }, p),
            Pair::LastFactor(gap, p) => (gap / if is_outward { head_share(1.0 / n, p) } else { n.powf(-p) }, p),
            Pair::SpanFactor(span, p) => (span, p),
        };
        Ok((span * n.powf(-p), span * head_share(1.0 / n, p), span, p))
    }
}

/// `1 - (1 - share)^p`, accurate for small shares.
fn head_share(share: f64, p: f64) -> f64 {
    -(p * (-share).ln_1p()).exp_m1()
}

fn exponent_of_gap(n: f64, gap: f64, span: f64, is_lead: bool, what: Quantity) -> Result<f64, ProgressionError> {
    if span <= gap {
        let why = Clash::SpanTooShort;
        return Err(contradictory((what, gap), (Quantity::Span, span), why));
    }
    Ok(if is_lead { (span / gap).ln() / n.ln() } else { (-gap / span).ln_1p() / (-1.0 / n).ln_1p() })
}

/// The logarithm of tail over lead, `n^p (1 - (1 - 1/n)^p)`; rises with `p`, from 0 at `p = 1`.
fn ln_ends(n: f64, p: f64) -> f64 {
    p * n.ln() + head_share(1.0 / n, p).ln()
}

fn exponent_of_ends(n: f64, lead: f64, tail: f64) -> Result<f64, ProgressionError> {
    let target = (tail / lead).ln();
    let (low, high) = EXPONENT_RANGE;
    if target < ln_ends(n, low) {
        return Err(ProgressionError::exponent_range(0.0));
    }
    if target > ln_ends(n, high) {
        return Err(ProgressionError::exponent_range(f64::INFINITY));
    }
    // Even gaps are common and exact.
    if same(lead, tail) {
        return Ok(1.0);
    }
    increasing_root(|p| ln_ends(n, p) - target, low, high, ACCURACY).ok_or_else(|| ProgressionError::exponent_range(f64::NAN))
}

fn count_of_lead(lead: f64, span: f64, p: f64) -> Result<f64, ProgressionError> {
    Ok(((span / lead).ln() / p).exp())
}

fn count_of_tail(tail: f64, span: f64, p: f64) -> Result<f64, ProgressionError> {
    if tail >= span {
        return Ok(if same(tail, span) { 1.0 } else { 0.0 });
    }
    let share = -((-tail / span).ln_1p() / p).exp_m1();
    Ok(share.recip())
}

/// Lead and tail both fix the exponent for a given n, so `ln(1 - 1/n) / ln(1/n) = ln(1 - tail/span) / ln(lead/span)`; the left side
/// falls as n grows.
fn count_of_three(lead: f64, tail: f64, span: f64) -> Result<f64, ProgressionError> {
    if span <= lead || span <= tail {
        if same(span, lead) && same(span, tail) {
            return Ok(1.0);
        }
        let why = Clash::SpanTooShort;
        return Err(contradictory((Quantity::FirstGap, lead.max(tail)), (Quantity::Span, span), why));
    }
    let target = (-tail / span).ln_1p() / (lead / span).ln();
    let miss = |n: f64| target - (-n.recip()).ln_1p() / -n.ln();
    count_root(miss)
}

/// Tail over lead is `n^p - (n - 1)^p`, which rises with n for `p > 1` and falls for `p < 1`.
fn count_of_ends(lead: f64, tail: f64, p: f64) -> Result<f64, ProgressionError> {
    let target = (tail / lead).ln();
    if same(p, 1.0) && same(lead, tail) {
        let given = Given(vec![Quantity::FirstGap, Quantity::LastGap, Quantity::Exponent]);
        return Err(ProgressionError::TooFewKnowns { given, need: Need::CountOrSpan });
    }
    let rise = if p > 1.0 { 1.0 } else { -1.0 };
    if same(p, 1.0) || target * rise < 0.0 {
        let why = Clash::ExponentLeadsAway;
        return Err(contradictory((Quantity::Exponent, p), (Quantity::LastGap, tail), why));
    }
    count_root(|n| rise * (ln_ends(n, p) - target))
}

fn count_root(miss: impl Fn(f64) -> f64) -> Result<f64, ProgressionError> {
    let most = f64::from(MOST_GAPS) + 1.0;
    let least = 1.0 + 1e-9;
    increasing_root(miss, least, most, ACCURACY).ok_or(ProgressionError::CountOutOfRange { count: f64::NAN })
}
