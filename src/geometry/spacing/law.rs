//! What the step, ratio and power progressions share: which knowns decide the answer, and what to do with a count that is not whole.
//!
//! A law relates five quantities: count n, first gap, last gap, span and its factor (step, ratio, exponent). With the count known any
//! two others decide ([`Pair`]); without it three others give a count ([`Triple`]), in general not a whole one.

use super::limits::MOST_GAPS;
use super::progression_error::ProgressionError;
use super::quantity::{Clash, Given, Need, Quantity};

/// Relative difference below which two values are one and the same (above rounding errors, far below a thread's width).
pub(super) const SAME: f64 = 1e-9;
/// Relative difference up to which values given beyond need agree with the others.
const AGREES: f64 = 1e-6;

/// A value that could not be kept as asked, because a count has to be whole or gaps end where they end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Adjustment {
    /// Which value.
    pub what: Quantity,
    /// What was asked for.
    pub asked: f64,
    /// What came out.
    pub got: f64,
}

/// The values that are given; lengths in mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Knowns {
    pub count: Option<u32>,
    pub first: Option<f64>,
    pub last: Option<f64>,
    pub span: Option<f64>,
    pub factor: Option<f64>,
}

/// Two values that decide, with the count.
#[derive(Debug, Clone, Copy)]
pub(super) enum Pair {
    FirstLast(f64, f64),
    FirstSpan(f64, f64),
    FirstFactor(f64, f64),
    LastSpan(f64, f64),
    LastFactor(f64, f64),
    SpanFactor(f64, f64),
}

/// Three values that decide the count.
#[derive(Debug, Clone, Copy)]
pub(super) enum Triple {
    FirstLastSpan(f64, f64, f64),
    FirstLastFactor(f64, f64, f64),
    FirstSpanFactor(f64, f64, f64),
    LastSpanFactor(f64, f64, f64),
}

/// All five values, solved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Terms {
    pub count: u32,
    pub first: f64,
    pub last: f64,
    pub span: f64,
    pub factor: f64,
}

/// A rule from gap to gap.
pub(super) trait Law {
    /// The factor's name.
    fn factor(&self) -> Quantity;
    /// The factor of even gaps.
    fn even_factor(&self) -> f64;
    /// Refuses a factor that is out of range.
    fn check_factor(&self, factor: f64) -> Result<(), ProgressionError>;
    /// All five values from the count (two or more) and a pair.
    fn terms(&self, count: u32, pair: Pair) -> Result<Terms, ProgressionError>;
    /// The count, perhaps not whole, from three values.
    fn count(&self, triple: Triple) -> Result<f64, ProgressionError>;
    /// The distance from the guide arc to bind `i`, which is below the count.
    fn distance(&self, terms: &Terms, i: u32) -> f64;
}

/// Solves a law from what is known.
pub(super) fn solve_law(law: &impl Law, knowns: &Knowns) -> Result<(Terms, Vec<Adjustment>), ProgressionError> {
    check_values(law, knowns)?;
    match knowns.count {
        Some(count) => {
            let terms = solve_counted(law, count, knowns)?;
            check_agreement(law, knowns, &terms)?;
            Ok((terms, Vec::new()))
        }
        None => solve_uncounted(law, knowns),
    }
}

fn check_values(law: &impl Law, knowns: &Knowns) -> Result<(), ProgressionError> {
    check_count(knowns.count.map_or(1.0, f64::from))?;
    check_length(Quantity::FirstGap, knowns.first)?;
    check_length(Quantity::LastGap, knowns.last)?;
    check_length(Quantity::Span, knowns.span)?;
    match knowns.factor {
        Some(value) if !value.is_finite() => Err(ProgressionError::NotFinite { what: law.factor(), value }),
        Some(value) if law.factor() != Quantity::Step && value <= 0.0 => {
            Err(ProgressionError::FactorNotPositive { what: law.factor(), value })
        }
        Some(given) => law.check_factor(given).map_err(|error| match error {
            ProgressionError::FactorOutOfRange { what, value, low, high } => {
                ProgressionError::FactorAbsurd { what, value, low, high }
            }
            other => other,
        }),
        None => Ok(()),
    }
}

/// Refuses a length that is not a positive number.
pub(super) fn check_length(what: Quantity, length: Option<f64>) -> Result<(), ProgressionError> {
    match length {
        Some(value) if !value.is_finite() => Err(ProgressionError::NotFinite { what, value }),
        Some(value) if value <= 0.0 => Err(ProgressionError::NotPositive { what, value }),
        _ => Ok(()),
    }
}

/// Refuses a count outside 1 to [`MOST_GAPS`].
pub(super) fn check_count(count: f64) -> Result<(), ProgressionError> {
    if (1.0..=f64::from(MOST_GAPS)).contains(&count) { Ok(()) } else { Err(ProgressionError::CountOutOfRange { count }) }
}

/// A whole number as a count; out of range it is refused.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked to be from 1 to MOST_GAPS just before")]
pub(super) fn whole_count(count: f64) -> Result<u32, ProgressionError> {
    check_count(count)?;
    Ok(count as u32)
}

/// Whether two values are the same but for rounding errors.
pub(super) fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * a.abs().max(b.abs())
}

/// Whether a value given beyond need agrees with what follows from the others.
pub(super) fn agrees(a: f64, b: f64) -> bool {
    (a - b).abs() <= AGREES * a.abs().max(b.abs())
}

fn solve_counted(law: &impl Law, count: u32, knowns: &Knowns) -> Result<Terms, ProgressionError> {
    if count == 1 {
        return solve_single(law, knowns);
    }
    let pair = match (knowns.first, knowns.last, knowns.span, knowns.factor) {
        (Some(first), _, Some(span), _) => Pair::FirstSpan(first, span),
        (Some(first), Some(last), _, _) => Pair::FirstLast(first, last),
        (Some(first), _, _, Some(factor)) => Pair::FirstFactor(first, factor),
        (_, Some(last), Some(span), _) => Pair::LastSpan(last, span),
        (_, Some(last), _, Some(factor)) => Pair::LastFactor(last, factor),
        (_, _, Some(span), Some(factor)) => Pair::SpanFactor(span, factor),
        _ => {
            return Err(too_few(law, knowns, Need::TwoBesideCount));
        }
    };
    checked_terms(law, count, pair)
}

/// One gap: first, last and span are one length, and any factor will do.
fn solve_single(law: &impl Law, knowns: &Knowns) -> Result<Terms, ProgressionError> {
    let Some(gap) = knowns.first.or(knowns.last).or(knowns.span) else {
        return Err(too_few(law, knowns, Need::LengthOfOne));
    };
    let factor = knowns.factor.unwrap_or_else(|| law.even_factor());
    Ok(Terms { count: 1, first: gap, last: gap, span: gap, factor })
}

/// The terms, with every gap and the factor checked.
fn checked_terms(law: &impl Law, count: u32, pair: Pair) -> Result<Terms, ProgressionError> {
    let terms = law.terms(count, pair)?;
    law.check_factor(terms.factor)?;
    for (number, gap_mm) in [(1, terms.first), (count, terms.last), (count, terms.span)] {
        if !(gap_mm > 0.0 && gap_mm.is_finite()) {
            return Err(ProgressionError::NegativeGap { number, gap_mm });
        }
    }
    Ok(terms)
}

/// Three values without a count: as many gaps as fit where first gap and factor are known, else the nearest whole count.
fn solve_uncounted(law: &impl Law, knowns: &Knowns) -> Result<(Terms, Vec<Adjustment>), ProgressionError> {
    let (triple, kept) = match (knowns.first, knowns.last, knowns.span, knowns.factor) {
        (Some(first), Some(last), _, Some(factor)) => {
            (Triple::FirstLastFactor(first, last, factor), Pair::FirstLast(first, last))
        }
        (Some(first), Some(last), Some(span), None) => (Triple::FirstLastSpan(first, last, span), Pair::FirstSpan(first, span)),
        (Some(first), None, Some(span), Some(factor)) => {
            (Triple::FirstSpanFactor(first, span, factor), Pair::FirstFactor(first, factor))
        }
        (None, Some(last), Some(span), Some(factor)) => (Triple::LastSpanFactor(last, span, factor), Pair::LastSpan(last, span)),
        _ => {
            return Err(too_few(law, knowns, Need::ThreeWithoutCount));
        }
    };
    let exact = law.count(triple)?;
    if let Triple::FirstSpanFactor(_, span, _) = triple {
        return fill(law, exact, kept, knowns, span);
    }
    let count = whole_count(exact.round().max(1.0))?;
    let counted = if count == 1 { solve_single(law, knowns)? } else { checked_terms(law, count, kept)? };
    if [knowns.first, knowns.last, knowns.span, knowns.factor].iter().all(Option::is_some) || count == 1 {
        // Given beyond need: nothing may be adjusted.
        check_agreement(law, knowns, &counted)?;
    }
    Ok((counted, adjustments(law, knowns, &counted)))
}

/// As many gaps as fit into the span.
fn fill(
    law: &impl Law,
    exact: f64,
    kept: Pair,
    knowns: &Knowns,
    span: f64,
) -> Result<(Terms, Vec<Adjustment>), ProgressionError> {
    let fits = |count: f64| -> Result<Terms, ProgressionError> {
        let count = whole_count(count)?;
        if count == 1 { solve_single(law, knowns) } else { checked_terms(law, count, kept) }
    };
    if exact < 1.0 - SAME {
        let value = knowns.first.unwrap_or(span);
        let why = Clash::FirstGapTooLong;
        return Err(contradictory((Quantity::FirstGap, value), (Quantity::Span, span), why));
    }
    // The count comes from logarithms and roots: one gap more fits if only rounding errors speak against it.
    let floor = exact.floor().max(1.0);
    let terms = match fits(floor + 1.0) {
        Ok(one_more) if one_more.span <= span * (1.0 + SAME) => one_more,
        _ => fits(floor)?,
    };
    Ok((terms, adjustments(law, knowns, &terms)))
}

pub(super) const fn contradictory(a: (Quantity, f64), b: (Quantity, f64), why: Clash) -> ProgressionError {
    ProgressionError::Contradictory { what: a.0, value: a.1, other: b.0, other_value: b.1, why }
}

/// The asked and the solved value of every known that is no count.
fn compared(law: &impl Law, knowns: &Knowns, terms: &Terms) -> [(Quantity, Option<f64>, f64); 4] {
    [
        (Quantity::FirstGap, knowns.first, terms.first),
        (law.factor(), knowns.factor, terms.factor),
        (Quantity::LastGap, knowns.last, terms.last),
        (Quantity::Span, knowns.span, terms.span),
    ]
}

fn adjustments(law: &impl Law, knowns: &Knowns, terms: &Terms) -> Vec<Adjustment> {
    let changed = compared(law, knowns, terms).into_iter().filter_map(|(what, asked, got)| {
        let asked = asked?;
        (!close(law, what, asked, got, terms, SAME)).then_some(Adjustment { what, asked, got })
    });
    changed.collect()
}

fn check_agreement(law: &impl Law, knowns: &Knowns, terms: &Terms) -> Result<(), ProgressionError> {
    for (what, asked, got) in compared(law, knowns, terms) {
        if let Some(asked) = asked
            && !close(law, what, asked, got, terms, AGREES)
        {
            return Err(ProgressionError::TooManyKnowns { what, asked, follows: got });
        }
    }
    Ok(())
}

/// Whether a value came out as asked; a step is compared on the scale of the gaps, since it may be zero.
fn close(law: &impl Law, what: Quantity, asked: f64, got: f64, terms: &Terms, within: f64) -> bool {
    let gap_scale = if what == Quantity::Step && what == law.factor() { terms.first.max(terms.last) } else { 0.0 };
    (asked - got).abs() <= within * asked.abs().max(got.abs()).max(gap_scale)
}

fn too_few(law: &impl Law, knowns: &Knowns, need: Need) -> ProgressionError {
    let all = [
        (Quantity::Count, knowns.count.is_some()),
        (Quantity::FirstGap, knowns.first.is_some()),
        (Quantity::LastGap, knowns.last.is_some()),
        (law.factor(), knowns.factor.is_some()),
        (Quantity::Span, knowns.span.is_some()),
    ];
    ProgressionError::TooFewKnowns { given: Given::of(&all), need }
}
