//! How a bind shows on either side of it, seen on a rod that is tied every few centimetres.

use super::error::FulfilError;
use super::rows::Rows;
use super::tied::tied;
use crate::geometry::Thread;
use crate::layout::{DyeFields, Layout, Swatch};
use crate::measure::RuleMarks;
use crate::reveal::colour::DyeSet;
use crate::reveal::{Cancel, RevealOptions, rod_binds, rod_doses_bound};

/// Rows on either side of a bind's middle that it changes, of a millimetre each: as far as waxed thread of four wraps dims dye (measured).
pub(super) const LINE_ROWS: usize = 8;
/// From bind to bind, mm, at least and at most: odd, so that binds fall on cells of two millimetres in every way, and at least so far that
/// the middle between two is as good as free of them.
const APART_MM: [f64; 2] = [27.0, 51.0];
/// How many there are to be on a rod, about (own choice).
const TEETH: f64 = 9.0;
/// Where what a bind leaves is compared with, mm from its middle.
const BESIDE_MM: [usize; 2] = [9, 13];
/// Places looked at in each row.
const SAMPLES: u32 = 96;
/// Square of the least difference in light between a line and a section that tells how far it has come (own choice).
const LEAST: f64 = 1e-4;

/// How a bind shows beside a dye, by whole millimetres from its middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Shown {
    /// The light of its line, linear sRGB.
    light: [f64; 3],
    /// How far the light has come from the line's to the section's own.
    share: [f64; LINE_ROWS],
}

impl Shown {
    /// What lies between two.
    fn between(&self, other: &Self, part: f64) -> Self {
        let mix = |first: f64, second: f64| first + part * (second - first);
        Self {
            light: std::array::from_fn(|channel| mix(self.light[channel], other.light[channel])),
            share: std::array::from_fn(|away| mix(self.share[away], other.share[away])),
        }
    }

    /// How far the light has come so far from the middle of a bind.
    pub(super) fn share(&self, away: usize) -> f64 {
        self.share[away]
    }

    /// The light there beside a section of this light.
    pub(super) fn beside(&self, own: [f64; 3], away: usize) -> [f64; 3] {
        std::array::from_fn(|channel| self.light[channel] + self.share[away] * (own[channel] - self.light[channel]))
    }
}

/// How binds show beside a dye, along the rod: a thick rod lets more come round than a thin one.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    /// By the distance from the tip of the binds that were looked at, mm, rising.
    seen: Vec<(f64, Shown)>,
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

/// A bind to look at.
#[derive(Debug, Clone, Copy)]
struct Tied {
    at_mm: f64,
    /// The first row beyond its middle.
    middle: usize,
    extra_mm: f64,
}

/// A rod that is tied every few centimetres.
#[derive(Debug)]
pub(super) struct Comb {
    rows: Rows,
    binds: Vec<Tied>,
    /// Of each place the doses of its own section's dye, one of each reach, and the share of the garment's colour that is gone.
    own: Vec<f32>,
    gone: Vec<f32>,
}

impl Comb {
    /// Ties a layout of two dyes every few centimetres, and solves it.
    ///
    /// # Errors
    /// [`FulfilError`].
    pub(super) fn solve(
        plain: &Layout,
        swatches: &[Swatch; 2],
        options: &RevealOptions,
        cancel: &Cancel,
    ) -> Result<Self, FulfilError> {
        let (guide_mm, length_mm) = (plain.guide_mm(), plain.fold().length_mm());
        let apart_mm = (2.0 * (0.5 * length_mm / TEETH).floor() + 1.0).clamp(APART_MM[0], APART_MM[1]);
        let first_mm = guide_mm - ((guide_mm - 0.5 * apart_mm) / apart_mm).floor().max(0.0) * apart_mm;
        let at_mm: Vec<f64> = std::iter::successors(Some(first_mm), |at_mm| Some(at_mm + apart_mm))
            .take_while(|at_mm| *at_mm <= guide_mm || *at_mm < length_mm - 0.5 * apart_mm)
            .collect();
        // The first of what is tied with stands for no dye.
        let [one, other] = swatches;
        let tied_with = [one.clone(), one.clone(), other.clone()];
        let dyes: Vec<usize> = (0..=at_mm.len()).map(|section| 1 + section % 2).collect();
        let comb = tied(plain, &at_mm, &dyes, &tied_with, RuleMarks::Exact)?;
        let rod = rod_doses_bound(&comb, &rod_binds(&comb), options, None, &cancel.beneath())?;
        let binds = comb.binds().binds.iter().zip(comb.bound_rods());
        let binds: Vec<Tied> = binds
            .map(|(bind, (_, wraps))| {
                let (at_mm, extra_mm) = (bind.radius_mm, extra_mm(plain.thread(), wraps));
                Tied { at_mm, middle: row_of(at_mm), extra_mm }
            })
            .collect();
        let mut wanted = vec![false; row_of(length_mm) + 1];
        for bind in &binds {
            let (from, to) = (bind.middle.saturating_sub(BESIDE_MM[1]), bind.middle + BESIDE_MM[1]);
            wanted.iter_mut().take(to).skip(from).for_each(|row| *row = true);
        }
        let rows = Rows::of(&comb, &wanted, SAMPLES);
        let doses = rows.doses(&comb, &rod);
        let fields = DyeFields::of(&comb.raw().colours.rotation);
        let of_dye = [0, 1].map(|dye| fields.of_dye(dye).map(|(number, _)| number).collect::<Vec<_>>());
        let (count, mut own) = (fields.len(), Vec::with_capacity(doses.gone.len() * of_dye[0].len()));
        for row in 0..rows.len() {
            let dye = binds.partition_point(|bind| bind.middle <= row) % 2;
            // Places follow each other row by row.
            own.extend(rows.places(row).flat_map(|place| of_dye[dye].iter().map(move |field| count * place + field)));
        }
        let own = own.into_iter().map(|at: usize| doses.read.dyes[at]).collect();
        Ok(Self { rows, binds, own, gone: doses.gone })
    }

    /// How its binds show beside a dye.
    pub(super) fn beside(&self, dye: &DyeSet) -> Line {
        let lights = self.rows.lights(dye, &self.own, &self.gone);
        let shown: Vec<(f64, Shown)> = self.binds.iter().filter_map(|bind| Some((bind.at_mm, shown(&lights, bind)?))).collect();
        Line { seen: smoothed(&shown) }
    }
}

impl Line {
    /// How a bind shows there; none where none could be looked at.
    pub(super) fn at(&self, at_mm: f64) -> Option<Shown> {
        let after = self.seen.partition_point(|(seen_mm, _)| *seen_mm <= at_mm);
        let before = after.checked_sub(1).and_then(|before| self.seen.get(before));
        match (before, self.seen.get(after)) {
            (Some((from_mm, from)), Some((to_mm, to))) => Some(from.between(to, (at_mm - from_mm) / (to_mm - from_mm))),
            (Some((_, only)), None) | (None, Some((_, only))) => Some(*only),
            (None, None) => None,
        }
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "casts saturate")]
fn row_of(mm: f64) -> usize {
    mm.max(0.0) as usize
}

/// How one bind shows, both of its sides together; none where there is no cloth beside it.
fn shown(lights: &[Option<[f64; 3]>], bind: &Tied) -> Option<Shown> {
    let row = |away: usize, outward: bool| {
        let row = if outward { Some(bind.middle + away) } else { bind.middle.checked_sub(away + 1) };
        row.and_then(|row| lights.get(row).copied().flatten())
    };
    let mean = |rows: &mut dyn Iterator<Item = [f64; 3]>| {
        let (count, sum) =
            rows.fold((0.0, [0.0; 3]), |(count, sum), light| (count + 1.0, std::array::from_fn(|at| sum[at] + light[at])));
        (count > 0.0).then(|| sum.map(|sum| sum / count))
    };
    let line = mean(&mut [false, true].into_iter().filter_map(|outward| row(0, outward)))?;
    let (mut sums, mut counts) = ([0.0; LINE_ROWS], [0.0; LINE_ROWS]);
    for outward in [false, true] {
        let Some(own) = mean(&mut (BESIDE_MM[0]..BESIDE_MM[1]).filter_map(|away| row(away, outward))) else { continue };
        let axis: [f64; 3] = std::array::from_fn(|at| own[at] - line[at]);
        let length2: f64 = axis.iter().map(|part| part * part).sum();
        for away in 0..LINE_ROWS {
            let Some(light) = row(away, outward) else { continue };
            let along: f64 = axis.iter().zip(light).zip(line).map(|((axis, light), line)| axis * (light - line)).sum();
            // Where a line is as the section is, nothing is to come.
            let share = if length2 > LEAST { (along / length2).clamp(0.0, 1.2) } else { 1.0 };
            let usual = as_usual(away, bind.extra_mm);
            sums[usual] += share;
            counts[usual] += 1.0;
        }
    }
    let seen: [Option<f64>; LINE_ROWS] = std::array::from_fn(|away| (counts[away] > 0.0).then(|| sums[away] / counts[away]));
    // What a bind of more wraps was not looked at for is as the last that was.
    let mut last = 1.0;
    let mut share = [1.0; LINE_ROWS];
    for away in 0..LINE_ROWS {
        last = seen[away].unwrap_or(last);
        share[away] = last;
    }
    Some(Shown { light: line, share })
}

/// Each a mean of itself and its neighbours: how a bind falls on the cells differs from one to the next.
fn smoothed(shown: &[(f64, Shown)]) -> Vec<(f64, Shown)> {
    let of = |at: usize| {
        let (at_mm, own) = shown[at];
        let beside =
            [at.checked_sub(1), Some(at + 1)].map(|beside| beside.and_then(|beside| shown.get(beside)).map(|(_, shown)| *shown));
        let beside = match beside {
            [Some(before), Some(after)] => before.between(&after, 0.5),
            [Some(only), None] | [None, Some(only)] => only,
            [None, None] => own,
        };
        (at_mm, own.between(&beside, 0.5))
    };
    (0..shown.len()).map(of).collect()
}
