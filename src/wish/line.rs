//! What a bind leaves of dye and bath on either side of it, seen on a rod that is tied every few centimetres.

use super::error::FulfilError;
use super::rows::{Doses, Rows};
use super::tied::tied;
use crate::geometry::Thread;
use crate::layout::{Layout, Swatch};
use crate::measure::RuleMarks;
use crate::reveal::{Cancel, RevealOptions, rod_binds, rod_doses_bound};

/// Rows on either side of a bind's middle that it changes, of a millimetre each: as far as waxed thread of four wraps dims dye (measured).
pub(super) const LINE_ROWS: usize = 8;
/// From bind to bind, mm: odd, so that binds fall on cells of two millimetres in every way.
const APART_MM: f64 = 51.0;
/// Where what a bind leaves is compared with, mm from its middle.
const BESIDE_MM: [usize; 2] = [9, 13];
/// Places looked at in each row.
const SAMPLES: u32 = 48;
/// Below this a dose or a share tells nothing of what a bind leaves of it.
const LEAST: f64 = 0.02;

/// What a bind leaves, by whole millimetres from its middle: shares of what is there without it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    /// Of the section's own dye.
    pub(super) own: [f64; LINE_ROWS],
    /// Of what the bath takes.
    pub(super) gone: [f64; LINE_ROWS],
}

/// By how much a bind of so many wraps reaches farther to either side than a usual one, mm.
pub(super) fn extra_mm(thread: &Thread, wraps: u32) -> f64 {
    0.5 * (f64::from(wraps) - f64::from(thread.wraps)) * thread.diameter_mm
}

/// The row of a usual bind that is as near to its thread as one so far from the middle of a bind that reaches farther.
pub(super) fn as_usual(away: usize, extra_mm: f64) -> usize {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to the rows")]
    let usual = (away as f64 - extra_mm).round().max(0.0) as usize;
    usual.min(LINE_ROWS - 1)
}

/// Sums of shares in a row.
#[derive(Debug, Clone, Copy, Default)]
struct Mean {
    sum: f64,
    count: f64,
}

impl Mean {
    fn add(&mut self, value: Option<f64>, beside: f64) {
        if let Some(value) = value.filter(|_| beside > LEAST) {
            self.sum += (value / beside).clamp(0.0, 1.5);
            self.count += 1.0;
        }
    }

    fn or(self, usual: f64) -> f64 {
        if self.count > 0.0 { self.sum / self.count } else { usual }
    }
}

impl Line {
    /// Ties a layout of two dyes every few centimetres, and looks.
    ///
    /// # Errors
    /// [`FulfilError`].
    pub(super) fn seen(
        plain: &Layout,
        swatches: &[Swatch; 2],
        options: &RevealOptions,
        cancel: &Cancel,
    ) -> Result<Self, FulfilError> {
        let (guide_mm, length_mm) = (plain.guide_mm(), plain.fold().length_mm());
        let first_mm = guide_mm - ((guide_mm - 0.5 * APART_MM) / APART_MM).floor().max(0.0) * APART_MM;
        let at_mm: Vec<f64> = std::iter::successors(Some(first_mm), |at_mm| Some(at_mm + APART_MM))
            .take_while(|at_mm| *at_mm <= guide_mm || *at_mm < length_mm - 0.5 * APART_MM)
            .collect();
        let dyes: Vec<usize> = (0..=at_mm.len()).map(|section| section % 2).collect();
        let comb = tied(plain, &at_mm, &dyes, swatches, RuleMarks::Exact)?;
        let rod = rod_doses_bound(&comb, &rod_binds(&comb), options, None, &cancel.beneath())?;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "casts saturate")]
        let rows_of_mm = |mm: f64| mm.max(0.0) as usize;
        let mut wanted = vec![false; rows_of_mm(length_mm) + 1];
        for &at_mm in &at_mm {
            let middle = rows_of_mm(at_mm);
            wanted.iter_mut().take(middle + BESIDE_MM[1]).skip(middle.saturating_sub(BESIDE_MM[1])).for_each(|row| *row = true);
        }
        let rows = Rows::of(&comb, &wanted, SAMPLES);
        let doses = rows.doses(&comb, &rod);
        // Within the first and beyond the last bind a section may have too little cloth to tell.
        let tied = comb.binds().binds.iter().zip(comb.bound_rods());
        let binds: Vec<(usize, f64)> =
            tied.map(|(bind, (_, wraps))| (rows_of_mm(bind.radius_mm), extra_mm(plain.thread(), wraps))).collect();
        Ok(Self::over(&rows, &doses, &binds, plain.process().discharge.is_some()))
    }

    fn over(rows: &Rows, doses: &Doses, binds: &[(usize, f64)], is_bathed: bool) -> Self {
        let (mut own, mut gone) = ([Mean::default(); LINE_ROWS], [Mean::default(); LINE_ROWS]);
        for (bind, &(middle, extra_mm)) in binds.iter().enumerate() {
            for outward in [false, true] {
                let row = |away: usize| if outward { Some(middle + away) } else { (middle).checked_sub(away + 1) };
                let row = |away: usize| row(away).filter(|row| *row < rows.len());
                let dye = (bind + usize::from(outward)) % 2;
                let dose = |away| rows.mean(row(away)?, |place| f64::from(doses.read.dyes[2 * place + dye]));
                let bathed = |away| rows.mean(row(away)?, |place| f64::from(doses.gone[place]));
                let beside = |of: &dyn Fn(usize) -> Option<f64>| {
                    let seen: Vec<f64> = (BESIDE_MM[0]..BESIDE_MM[1]).filter_map(of).collect();
                    if seen.is_empty() { 0.0 } else { seen.iter().sum::<f64>() / seen.len() as f64 }
                };
                let (dose_beside, gone_beside) = (beside(&dose), beside(&bathed));
                for away in 0..LINE_ROWS {
                    let usual = as_usual(away, extra_mm);
                    own[usual].add(dose(away), dose_beside);
                    gone[usual].add(bathed(away), gone_beside);
                }
            }
        }
        let bathed = |mean: Mean| if is_bathed { mean.or(1.0) } else { 1.0 };
        Self { own: own.map(|mean| mean.or(1.0)), gone: gone.map(bathed) }
    }

    /// Doses of a rod without binds, as they are so far from the middle of one.
    pub(super) fn dimmed(&self, doses: &Doses, away: usize) -> Doses {
        #[expect(clippy::cast_possible_truncation, reason = "shares")]
        let [own, gone] = [self.own[away], self.gone[away]].map(|share| share as f32);
        let mut dimmed = doses.clone();
        dimmed.read.dyes.iter_mut().for_each(|dose| *dose *= own);
        dimmed.gone.iter_mut().for_each(|share| *share = (*share * gone).min(1.0));
        dimmed
    }
}
