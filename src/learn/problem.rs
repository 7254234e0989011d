//! The fit of several pieces at once as a problem of least squares: calibration values and reaches of mixtures' components that they share,
//! strengths of each piece's own dyes. The unknowns stand in that order.

use super::component::{COMPONENT_FACTS, factor_at, place_of};
use super::light::Compared;
use super::model::{Changed, Model, Solved, lab};
use super::value::LearnedValue;
use super::{LearnError, LeastSquares, Normal};
use crate::layout::{Calibration, ComponentReach, Tuning};
use crate::reveal::{Cancel, RevealError};
use nalgebra::{DMatrix, DVector};
use rayon::prelude::*;

/// How far a dye's strength is off, as a logarithm (own judgement).
pub(super) const STRENGTH_SD: f64 = 0.15;
/// Step by which a value is changed to see colours change, on its scale, for one whose standard deviation is at most [`STEP_FOR_SD`].
const STEP: f64 = 0.05;
const STEP_FOR_SD: f64 = 0.4;

/// Lab of each bin of each side.
type Colours = Vec<Vec<[f64; 3]>>;

/// A piece in the fit.
#[derive(Debug)]
pub(super) struct Fitted<'a> {
    pub(super) model: Model<'a>,
    /// Which of the fit's values and components it shows, by their number among the unknowns.
    pub(super) shown: Vec<usize>,
    /// Where its dyes' strengths begin among the unknowns.
    pub(super) first_strength: usize,
    /// What its photographs show, side by side, bin by bin.
    pub(super) seen: Vec<Vec<Option<[f64; 3]>>>,
}

impl Fitted<'_> {
    /// The unknowns that the piece's colours depend on.
    fn unknowns(&self) -> Vec<usize> {
        self.shown.iter().copied().chain(self.first_strength..self.first_strength + self.model.dyes()).collect()
    }

    pub(super) fn strengths<'v>(&self, at: &'v DVector<f64>) -> &'v [f64] {
        &at.as_slice()[self.first_strength..self.first_strength + self.model.dyes()]
    }
}

/// A piece at a point of the search.
#[derive(Debug)]
pub(super) struct Evaluated {
    pub(super) solved: Solved,
    pub(super) compared: Vec<Compared>,
}

/// The problem.
#[derive(Debug)]
pub(super) struct Problem<'a> {
    pub(super) values: Vec<LearnedValue>,
    /// Components of mixtures, each with its maker's guess.
    pub(super) components: Vec<ComponentReach>,
    pub(super) pieces: Vec<Fitted<'a>>,
    /// What is believed beforehand: means, and precisions.
    pub(super) prior_mean: DVector<f64>,
    pub(super) prior: DMatrix<f64>,
    /// The best point met, with its sum.
    pub(super) best: Option<(f64, Vec<Evaluated>)>,
    /// Colours' slopes at the best point, piece by piece and side by side; empty before they were asked for.
    pub(super) slopes: Vec<Vec<DMatrix<f64>>>,
    pub(super) cancel: &'a Cancel,
    /// How often equations are solved, all told: to tell how far it is.
    pub(super) expected_solves: f64,
}

/// What an unknown is.
enum Unknown<'p> {
    Value(LearnedValue),
    Component(&'p ComponentReach),
    Strength,
}

impl Problem<'_> {
    fn unknown(&self, number: usize) -> Unknown<'_> {
        let component = || number.checked_sub(self.values.len()).and_then(|index| self.components.get(index));
        match self.values.get(number) {
            Some(value) => Unknown::Value(*value),
            None => component().map_or(Unknown::Strength, Unknown::Component),
        }
    }

    /// How far off an unknown may be before any photograph: a standard deviation.
    pub(super) fn prior_sd(&self, number: usize) -> f64 {
        match self.unknown(number) {
            Unknown::Value(value) => value.facts().prior_sd,
            Unknown::Component(_) => COMPONENT_FACTS.prior_sd,
            Unknown::Strength => STRENGTH_SD,
        }
    }

    /// Calibration values and reaches for these unknowns: what is not learned is as in the piece's layout, what is held by convention as by default.
    pub(super) fn tuning(&self, piece: &Fitted<'_>, at: &DVector<f64>) -> Tuning {
        let mut calibration = held(piece.model.piece.layout.process().calibration);
        self.values.iter().zip(at.iter()).for_each(|(value, place)| value.put(*place, &mut calibration));
        let places = at.iter().skip(self.values.len());
        let reach = |(of, place): (&ComponentReach, &f64)| ComponentReach { reach_factor: factor_at(*place), ..of.clone() };
        Tuning { calibration, reaches: self.components.iter().zip(places).map(reach).collect() }
    }

    /// How often equations were solved.
    pub(super) fn solves(&self) -> usize {
        self.pieces.iter().map(|piece| piece.model.solves()).sum()
    }

    fn evaluate(&self, number: usize, at: &DVector<f64>) -> Result<Option<Evaluated>, RevealError> {
        let piece = &self.pieces[number];
        let earlier = self.best.as_ref().map(|(_, best)| (&best[number].solved, Changed::All));
        let solved = piece.model.solve(self.tuning(piece, at), earlier, self.cancel)?;
        let bins = piece.model.bins(&solved, piece.strengths(at));
        let sides = piece.model.piece.sides.iter().zip(&piece.seen).zip(&bins);
        let compared = sides.map(|((side, seen), light)| Compared::of(seen, light, &side.bins.terms)).collect::<Option<_>>();
        Ok(compared.map(|compared| Evaluated { solved, compared }))
    }

    /// The colours of a piece with one unknown changed.
    fn changed(&self, number: usize, at: &DVector<f64>, unknown: usize, by: f64) -> Result<(f64, Colours), RevealError> {
        let (piece, mut moved) = (&self.pieces[number], at.clone());
        moved[unknown] += by;
        let tuning = self.tuning(piece, &moved);
        let (changed, place) = match self.unknown(unknown) {
            Unknown::Strength => (Changed::ColourAlone, moved[unknown]),
            Unknown::Component(of) => {
                (piece.model.field_of(of).map_or(Changed::Dyes, Changed::Field), place_of(factor_at(moved[unknown])))
            }
            Unknown::Value(value) => {
                let changed = match value {
                    LearnedValue::DischargeSteepness => Changed::ColourAlone,
                    value if value.is_of_bath() => Changed::Bath,
                    value if value.is_of_dyes() => Changed::Dyes,
                    _ => Changed::All,
                };
                (changed, value.facts().scale.from_value(value.of(&tuning.calibration)))
            }
        };
        let earlier = self.best.as_ref().map(|(_, best)| (&best[number].solved, changed));
        let solved = piece.model.solve(tuning, earlier, self.cancel)?;
        let bins = piece.model.bins(&solved, piece.strengths(&moved));
        Ok((place, bins.into_iter().map(|side| side.into_iter().map(lab).collect()).collect()))
    }

    /// How the colours of a piece change with each of its unknowns, side by side, by differences.
    fn piece_slopes(&self, number: usize, at: &DVector<f64>) -> Result<Vec<DMatrix<f64>>, RevealError> {
        let piece = &self.pieces[number];
        let unknowns = piece.unknowns();
        let moved: Vec<_> = unknowns
            .par_iter()
            .map(|&unknown| {
                let sd = self.prior_sd(unknown);
                // Toward the prior, so that it stays within what can be computed with.
                let way = if at[unknown] > self.prior_mean[unknown] { -1.0 } else { 1.0 };
                let changed = self.changed(number, at, unknown, way * STEP * (sd / STEP_FOR_SD).max(1.0));
                self.cancel.note(self.solves() as f64 / self.expected_solves);
                changed
            })
            .collect::<Result<_, _>>()?;
        let Some((_, best)) = &self.best else { return Ok(Vec::new()) };
        let of_side = |(side, here): (usize, &Compared)| {
            DMatrix::from_fn(3 * here.foretold.len(), unknowns.len(), |row, column| {
                let (place, colours) = &moved[column];
                let apart = place - at[unknowns[column]];
                // At the end of its range a value moves nothing.
                if apart == 0.0 { 0.0 } else { (colours[side][row / 3][row % 3] - here.foretold[row / 3][row % 3]) / apart }
            })
        };
        Ok(best[number].compared.iter().enumerate().map(of_side).collect())
    }

    /// The unknowns of a piece, and its sides with their slopes and the blocks of their bins.
    pub(super) fn with_slopes(&self) -> impl Iterator<Item = (Vec<usize>, &Compared, &DMatrix<f64>, &[usize])> {
        let best = self.best.iter().flat_map(|(_, best)| best);
        self.pieces.iter().zip(best).zip(&self.slopes).flat_map(|((piece, evaluated), slopes)| {
            let sides = evaluated.compared.iter().zip(slopes).zip(&piece.model.piece.sides);
            sides.map(move |((compared, slopes), side)| (piece.unknowns(), compared, slopes, side.bins.blocks.as_slice()))
        })
    }
}

/// Calibration values with what is held by convention, and all that can be learned, at their defaults.
fn held(own: Calibration) -> Calibration {
    let usual = Calibration::default();
    Calibration { blocks: own.blocks, dip_minutes: own.dip_minutes, reached_dose: own.reached_dose, ..usual }
}

impl LeastSquares for Problem<'_> {
    type Error = LearnError;

    fn cost(&mut self, at: &DVector<f64>) -> Result<f64, LearnError> {
        let off = at - &self.prior_mean;
        let mut cost = off.dot(&(&self.prior * &off));
        let mut evaluated = Vec::with_capacity(self.pieces.len());
        for number in 0..self.pieces.len() {
            let Some(piece) = self.evaluate(number, at)? else { return Ok(f64::INFINITY) };
            cost += piece.compared.iter().map(|side| side.cost).sum::<f64>();
            evaluated.push(piece);
        }
        self.cancel.note(self.solves() as f64 / self.expected_solves);
        if self.best.as_ref().is_none_or(|(best, _)| cost < *best) {
            self.best = Some((cost, evaluated));
        }
        Ok(cost)
    }

    fn normal(&mut self, at: &DVector<f64>) -> Result<Normal, LearnError> {
        self.slopes = (0..self.pieces.len()).map(|number| self.piece_slopes(number, at)).collect::<Result<_, _>>()?;
        let mut normal = Normal { matrix: self.prior.clone(), descent: -(&self.prior * (at - &self.prior_mean)) };
        for (unknowns, compared, slopes, _) in self.with_slopes() {
            let added = compared.added(slopes);
            for (row, &to_row) in unknowns.iter().enumerate() {
                normal.descent[to_row] += added.descent[row];
                for (column, &to_column) in unknowns.iter().enumerate() {
                    normal.matrix[(to_row, to_column)] += added.matrix[(row, column)];
                }
            }
        }
        Ok(normal)
    }
}
