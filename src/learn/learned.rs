//! What a maker's pieces taught all told.
//!
//! A lesson adds the information `(f S f + T2)^-1`, with `S` the fit's own covariance, `f` each value's factor, and `T` its scatter from piece
//! to piece; of that counts what goes beyond the prior, so that a value which a piece does not show stays as it was, however many there are.
//! What does not average out, each value's floor, is added in square to what is told.

use super::learned_error::{LearnedError, LearnedProblem};
use super::lesson::Lesson;
use super::taught::{DyeStrength, TaughtBy, ToldValue};
use super::value::LearnedValue;
use super::{LearnError, Piece};
use crate::layout::{Calibration, LearnedFrom};
use crate::telling::Field;
use jiff::civil::Date;
use nalgebra::{DMatrix, DVector};

/// From which share of its prior standard deviation a value counts as not learned.
const NOT_LEARNED: f64 = 0.8;
/// What a dye's own standard deviation is multiplied by, and how far its strength differs from piece to piece (own judgement, after the
/// reaches').
const STRENGTH_FACTOR: f64 = 4.2;
const STRENGTH_SCATTER: f64 = 0.10;
/// Values at once.
const COUNT: usize = LearnedValue::ALL.len();

/// What is believed after all pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// Of each value, in the order of [`LearnedValue::ALL`], its place on its scale.
    mean: DVector<f64>,
    covariance: DMatrix<f64>,
    pieces: Vec<TaughtBy>,
    dyes: Vec<DyeStrength>,
}

impl Default for Learned {
    /// What is believed before any piece.
    fn default() -> Self {
        Self {
            mean: prior_mean(),
            covariance: DMatrix::from_diagonal(&prior_sd().map(|sd| sd * sd)),
            pieces: Vec::new(),
            dyes: Vec::new(),
        }
    }
}

fn prior_mean() -> DVector<f64> {
    DVector::from_iterator(COUNT, LearnedValue::ALL.into_iter().map(LearnedValue::prior_mean))
}

fn prior_sd() -> DVector<f64> {
    DVector::from_iterator(COUNT, LearnedValue::ALL.into_iter().map(|value| value.facts().prior_sd))
}

/// To ten significant digits, so that what is read and written again has the same bytes.
fn rounded(value: f64) -> f64 {
    format!("{value:.9e}").parse().unwrap_or(value)
}

fn number(value: LearnedValue) -> usize {
    LearnedValue::ALL.iter().position(|other| *other == value).unwrap_or_default()
}

impl Learned {
    /// What a file says: of some values the value itself and its covariances with those before it and itself; the others are as before any piece.
    ///
    /// # Errors
    /// [`LearnedError`] for what can't be: a value out of range or twice, covariances that are none.
    pub fn from_parts(
        values: &[(LearnedValue, f64, Vec<f64>)],
        pieces: Vec<TaughtBy>,
        dyes: Vec<DyeStrength>,
    ) -> Result<Self, LearnedError> {
        let mut learned = Self { pieces, dyes, ..Self::default() };
        for (at, (value, is, covariances)) in values.iter().enumerate() {
            let field = Field::from("learned").item(at + 1);
            let [least, most] = value.range();
            if !(least..=most).contains(is) {
                let problem = LearnedProblem::Range { value: *is, least, most };
                return Err(LearnedError { field: field.then("is"), problem });
            }
            if values[..at].iter().any(|(earlier, ..)| earlier == value) {
                let problem = LearnedProblem::Twice { value: *value };
                return Err(LearnedError { field: field.then("value"), problem });
            }
            if covariances.len() != at + 1 {
                let problem = LearnedProblem::Covariances { count: covariances.len(), expected: at + 1 };
                return Err(LearnedError { field: field.then("covariance"), problem });
            }
            learned.mean[number(*value)] = value.facts().scale.from_value(*is);
            for ((other, ..), covariance) in values.iter().zip(covariances) {
                let (row, column) = (number(*value), number(*other));
                learned.covariance[(row, column)] = *covariance;
                learned.covariance[(column, row)] = *covariance;
            }
        }
        let is_one = learned.covariance.iter().all(|entry| entry.is_finite()) && learned.covariance.clone().cholesky().is_some();
        if !is_one {
            return Err(LearnedError { field: "learned".into(), problem: LearnedProblem::NotPositive { count: values.len() } });
        }
        let bad = learned.dyes.iter().position(|dye| !(dye.strength > 0.0 && dye.strength < 1e3 && dye.sd > 0.0 && dye.sd < 1e3));
        bad.map_or(Ok(()), |at| {
            let problem = LearnedProblem::Range { value: learned.dyes[at].strength, least: 0.001, most: 1000.0 };
            Err(LearnedError { field: Field::from("dyes").item(at + 1).then("strength"), problem })
        })?;
        Ok(learned)
    }

    /// Of each value what [`Learned::from_parts`] takes, the value itself to ten digits.
    #[must_use]
    pub fn parts(&self) -> Vec<(LearnedValue, f64, Vec<f64>)> {
        let of = |(at, value): (usize, LearnedValue)| {
            let is = rounded(value.facts().scale.to_value(self.mean[at]));
            (value, is, (0..=at).map(|other| self.covariance[(at, other)]).collect())
        };
        LearnedValue::ALL.into_iter().enumerate().map(of).collect()
    }

    /// The pieces that taught.
    #[must_use]
    pub fn pieces(&self) -> &[TaughtBy] {
        &self.pieces
    }

    /// How strong dyes come out.
    #[must_use]
    pub fn dyes(&self) -> &[DyeStrength] {
        &self.dyes
    }

    /// Where a value lies on its scale.
    #[must_use]
    pub fn place(&self, value: LearnedValue) -> f64 {
        self.mean[number(value)]
    }

    /// How far off a value may be on its scale: a standard deviation, floor included.
    #[must_use]
    pub fn sd(&self, value: LearnedValue) -> f64 {
        let at = number(value);
        self.covariance[(at, at)].sqrt().hypot(value.facts().floor)
    }

    /// How two values may be off together on their scales: their covariance, of one with itself its variance; floor included.
    #[must_use]
    pub fn covariance_of(&self, value: LearnedValue, other: LearnedValue) -> f64 {
        let floor2 = if value == other { value.facts().floor.powi(2) } else { 0.0 };
        self.covariance[(number(value), number(other))] + floor2
    }

    /// Whether a value was learned: a piece shows it, and it may be off by at most 0.8 of what it might have been before.
    #[must_use]
    pub fn is_learned(&self, value: LearnedValue) -> bool {
        self.shown(value) > 0 && self.sd(value) <= NOT_LEARNED * value.facts().prior_sd
    }

    fn shown(&self, value: LearnedValue) -> usize {
        self.pieces.iter().filter(|piece| piece.values.contains(&value)).count()
    }

    /// Refuses photographs that taught already, or that are given twice.
    ///
    /// # Errors
    /// [`LearnError::Twice`].
    pub fn check_new<'p>(&self, pieces: impl IntoIterator<Item = &'p Piece>) -> Result<(), LearnError> {
        let mut known: Vec<(&str, &str)> = self
            .pieces
            .iter()
            .flat_map(|piece| piece.photographs.iter().map(|mark| (mark.as_str(), piece.name.as_str())))
            .collect();
        for piece in pieces {
            for photo in &piece.photographs {
                if let Some((_, other)) = known.iter().find(|(mark, _)| *mark == photo.mark) {
                    return Err(LearnError::Twice { photograph: photo.name.clone(), piece: (*other).to_owned() });
                }
                known.push((&photo.mark, &piece.name));
            }
        }
        Ok(())
    }

    /// What is believed after a further lesson; none where its covariance is none.
    #[must_use]
    pub fn after(&self, lesson: &Lesson) -> Option<Self> {
        let information = information(lesson)?;
        let mut precision = self.covariance.clone().cholesky()?.inverse();
        let mut weighted = &precision * &self.mean;
        let numbers: Vec<usize> = lesson.values.iter().map(|value| number(*value)).collect();
        let added = &information * &lesson.mean;
        for (row, &to_row) in numbers.iter().enumerate() {
            weighted[to_row] += added[row];
            for (column, &to_column) in numbers.iter().enumerate() {
                precision[(to_row, to_column)] += information[(row, column)];
            }
        }
        let factor = precision.cholesky()?;
        let mut after = Self { mean: factor.solve(&weighted), covariance: factor.inverse(), ..self.clone() };
        after.pieces.extend(lesson.pieces.iter().cloned());
        for strength in &lesson.strengths {
            after.add_strength(&strength.dye, strength.log, (STRENGTH_FACTOR * strength.sd).hypot(STRENGTH_SCATTER));
        }
        Some(after)
    }

    fn add_strength(&mut self, name: &str, log: f64, sd: f64) {
        let Some(known) = self.dyes.iter_mut().find(|dye| dye.name == name) else {
            self.dyes.push(DyeStrength { name: name.to_owned(), strength: log.exp(), sd, pieces: 1 });
            return;
        };
        let [before, new] = [known.sd, sd].map(|sd| sd.powi(-2));
        known.strength = ((before * known.strength.ln() + new * log) / (before + new)).exp();
        known.sd = (before + new).sqrt().recip();
        known.pieces += 1;
    }

    /// Calibration values with what was learned. What was not stays as it is, and what was is taken as it is where that is held; with the
    /// bath's values goes the half dose that they were learned by.
    #[must_use]
    pub fn calibration(&self, own: Calibration) -> Calibration {
        let (learned, others): (Vec<usize>, Vec<usize>) = (0..COUNT).partition(|at| self.is_learned(LearnedValue::ALL[*at]));
        let mut calibration = own;
        if !learned.is_empty() {
            let pieces = u32::try_from(self.pieces.len()).unwrap_or(u32::MAX);
            calibration.learned = Some(LearnedFrom { pieces, on: None });
        }
        let place = |at: usize| LearnedValue::ALL[at].facts().scale.from_value(LearnedValue::ALL[at].of(&own));
        let off = DVector::from_iterator(others.len(), others.iter().map(|&at| place(at) - self.mean[at]));
        let among = DMatrix::from_fn(others.len(), others.len(), |row, column| self.covariance[(others[row], others[column])]);
        let pulled = among.cholesky().map_or_else(|| DVector::zeros(others.len()), |factor| factor.solve(&off));
        if learned.iter().any(|at| LearnedValue::ALL[*at].is_of_bath()) {
            calibration.discharge_half_dose = Calibration::default().discharge_half_dose;
        }
        for at in learned {
            let with_others = DVector::from_iterator(others.len(), others.iter().map(|&other| self.covariance[(at, other)]));
            LearnedValue::ALL[at].put(self.mean[at] + with_others.dot(&pulled), &mut calibration);
        }
        calibration
    }

    /// The same, with the day on which a layout takes them.
    #[must_use]
    pub fn calibration_on(&self, own: Calibration, day: Date) -> Calibration {
        let calibration = self.calibration(own);
        Calibration { learned: calibration.learned.map(|from| LearnedFrom { on: Some(day), ..from }), ..calibration }
    }

    /// Every value as it is told.
    #[must_use]
    pub fn told(&self) -> Vec<ToldValue> {
        let calibration = self.calibration(Calibration::default());
        let of = |value: LearnedValue| {
            let (scale, is, sd) = (value.facts().scale, value.of(&calibration), self.sd(value));
            let between = self.is_learned(value).then(|| [-sd, sd].map(|by| scale.to_value(scale.from_value(is) + by)));
            ToldValue { value, was: value.of(&Calibration::default()), is, between, pieces: self.shown(value) }
        };
        LearnedValue::ALL.into_iter().map(of).collect()
    }
}

/// What a lesson adds: the information of its widened covariance beyond the prior's, direction by direction.
fn information(lesson: &Lesson) -> Option<DMatrix<f64>> {
    let facts: Vec<_> = lesson.values.iter().map(|value| value.facts()).collect();
    let factor = |at: usize| if lesson.is_bathed[at] { facts[at].bathed_factor } else { facts[at].factor };
    let widened = DMatrix::from_fn(facts.len(), facts.len(), |row, column| {
        let scatter = if row == column { facts[row].scatter.powi(2) / lesson.shown_by[row].max(1) as f64 } else { 0.0 };
        factor(row) * lesson.covariance[(row, column)] * factor(column) + scatter
    });
    let information = widened.cholesky()?.inverse();
    let prior_sd = DVector::from_iterator(facts.len(), facts.iter().map(|facts| facts.prior_sd));
    // In units of the prior's standard deviations the prior's information is 1 in every direction.
    let white = DMatrix::from_fn(facts.len(), facts.len(), |row, column| {
        information[(row, column)] * prior_sd[row] * prior_sd[column] - if row == column { 1.0 } else { 0.0 }
    });
    let mut parts = white.symmetric_eigen();
    parts.eigenvalues.iter_mut().for_each(|value| *value = value.max(0.0));
    let beyond = parts.recompose();
    Some(DMatrix::from_fn(facts.len(), facts.len(), |row, column| beyond[(row, column)] / (prior_sd[row] * prior_sd[column])))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lesson(values: &[(LearnedValue, f64, f64)]) -> Lesson {
        let sd = DVector::from_iterator(values.len(), values.iter().map(|(.., sd)| *sd));
        let values_of = || values.iter().map(|(value, ..)| *value);
        Lesson {
            shown_by: vec![1; values.len()],
            is_bathed: vec![false; values.len()],
            mean: DVector::from_iterator(values.len(), values.iter().map(|(value, off, _)| value.prior_mean() + off)),
            covariance: DMatrix::from_diagonal(&sd.map(|sd| sd * sd)),
            strengths: Vec::new(),
            pieces: vec![TaughtBy { name: "square".to_owned(), photographs: Vec::new(), values: values_of().collect() }],
            values: values_of().collect(),
            off: 1.0,
            bins: 1000,
            solves: 50,
        }
    }

    /// What a piece does not show stays exactly, and what it shows without telling anything of it is not learned, however many pieces there are.
    #[test]
    fn what_is_not_shown_stays_as_it_was() {
        let underside = LearnedValue::Underside;
        let lesson = lesson(&[(LearnedValue::DyeAlong, 0.3, 0.02), (underside, 0.5, underside.facts().prior_sd)]);
        let mut learned = Learned::default();
        for _ in 0..20 {
            learned = learned.after(&lesson).unwrap();
        }
        for value in LearnedValue::ALL.into_iter().filter(|value| *value != LearnedValue::DyeAlong) {
            assert!((learned.place(value) - value.prior_mean()).abs() < 1e-9, "{value:?}");
            assert!((learned.sd(value) - value.facts().prior_sd.hypot(value.facts().floor)).abs() < 1e-9, "{value:?}");
            assert!(!learned.is_learned(value));
        }
        let told = learned.told();
        assert!(told.iter().all(|told| told.between.is_some() == (told.value == LearnedValue::DyeAlong)));
        assert!((told[0].is / told[0].was).ln() > 0.29 && told[0].pieces == 20, "{:?}", told[0]);
    }

    /// Each piece makes error bars shorter, by its widened information, down to the floor and not below.
    #[test]
    fn pieces_add_information_down_to_the_floor() {
        let value = LearnedValue::DyeThrough;
        let facts = value.facts();
        let one = Learned::default().after(&lesson(&[(value, 0.2, 0.04)])).unwrap();
        // The prior's information counts once: in the prior, and what the piece has beyond it.
        let widened = (facts.factor * 0.04).hypot(facts.scatter);
        assert!((one.sd(value) - widened.hypot(facts.floor)).abs() < 1e-9, "{} is not {widened} and the floor", one.sd(value));
        let (mut learned, mut before) = (one.clone(), one.sd(value));
        for _ in 0..50 {
            learned = learned.after(&lesson(&[(value, 0.2, 0.04)])).unwrap();
            assert!(learned.sd(value) < before && learned.sd(value) > facts.floor);
            before = learned.sd(value);
        }
        assert!(before < 1.2 * facts.floor, "{before}");
    }

    /// Of two values of which a piece shows only the product, the one that is learned is taken as it is while the other stays.
    #[test]
    fn what_is_learned_is_taken_as_it_is_while_the_rest_stays() {
        let (reach, share) = (LearnedValue::DyeAlong, LearnedValue::DampShare);
        let mut lesson = lesson(&[(reach, 0.0, 1.0), (share, 0.0, 1.0)]);
        // As a fit has it: the sum of the logarithms is known to be 0.3 beyond, what tells them apart is the prior's.
        let [wide, narrow] = [reach, share].map(|value| value.facts().prior_sd.powi(2));
        let known = 1e-4;
        let precision =
            DMatrix::from_row_slice(2, 2, &[1.0 / wide + 1.0 / known, 1.0 / known, 1.0 / known, 1.0 / narrow + 1.0 / known]);
        lesson.covariance = precision.try_inverse().unwrap();
        let parts = [wide, narrow].map(|part| 0.3 * part / (wide + narrow));
        lesson.mean = DVector::from(vec![reach.prior_mean() + parts[0], share.prior_mean() + parts[1]]);
        let learned = Learned::default().after(&lesson).unwrap();
        let calibration = learned.calibration(Calibration::default());
        assert!(!learned.is_learned(share) && calibration.damp_share == Calibration::default().damp_share);
        if learned.is_learned(reach) {
            let moved = (calibration.dye_reach.along_mm / 11.0).ln();
            assert!((moved - 0.3).abs() < 0.1, "the whole of it shows in the reach: {moved}");
        }
    }

    #[test]
    fn parts_make_the_same_whole() {
        let learned = Learned::default()
            .after(&lesson(&[(LearnedValue::DyeAlong, 0.3, 0.02), (LearnedValue::Seeping, -0.2, 0.1)]))
            .unwrap();
        let again = Learned::from_parts(&learned.parts(), learned.pieces().to_vec(), learned.dyes().to_vec()).unwrap();
        assert!((&again.mean - &learned.mean).amax() < 1e-9 && again.covariance == learned.covariance);
        assert_eq!((again.pieces(), again.dyes()), (learned.pieces(), learned.dyes()));
    }

    #[test]
    fn parts_that_can_not_be_are_refused() {
        let refused = |values: &[(LearnedValue, f64, Vec<f64>)]| {
            Learned::from_parts(values, Vec::new(), Vec::new()).unwrap_err().to_string()
        };
        let reach = LearnedValue::DyeAlong;
        assert_eq!(refused(&[(reach, 900.0, vec![0.1])]), "learned.1.is: 900 is out of range; give 0.5 to 500");
        assert!(refused(&[(reach, f64::NAN, vec![0.1])]).starts_with("learned.1.is: "));
        assert!(refused(&[(reach, 11.0, vec![0.1]), (reach, 11.0, vec![0.0, 0.1])]).contains("appears twice; keep one"));
        assert!(refused(&[(reach, 11.0, vec![])]).starts_with("learned.1.covariance: 0 covariances; give 1"));
        for variance in [-0.1, 0.0, f64::NAN, f64::INFINITY] {
            assert!(refused(&[(reach, 11.0, vec![variance])]).starts_with("learned: the covariances"), "{variance}");
        }
    }
}
