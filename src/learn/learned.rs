//! What a maker's pieces taught all told.
//!
//! A lesson adds the information `(f S f + T2)^-1`, with `S` the fit's own covariance, `f` each value's factor, and `T` its scatter from piece
//! to piece; of that counts what goes beyond the prior, so that a value which a piece does not show stays as it was, however many there are.
//! What does not average out, each value's floor, is added in square to what is told.
//!
//! How far the components of mixtures reach stands beside the values, with covariances of its own: of a piece with mixtures alone the reach of dyes
//! and its components' factors are known by their products, and a later piece that shows the one makes the others known.

use super::component::{COMPONENT_FACTS, ComponentFacts, factor_at, place_of};
use super::learned_error::{LearnedError, LearnedProblem};
use super::lesson::Lesson;
use super::taught::{DyeStrength, TaughtBy, ToldReach, ToldValue};
use super::value::{LearnedValue, ValueFacts};
use super::{LearnError, Piece};
use crate::layout::{Calibration, ComponentReach, LayoutSpec, LearnedFrom, REACH_FACTORS, Tuning};
use crate::telling::Field;
use jiff::civil::Date;
use nalgebra::{DMatrix, DVector};
use std::collections::BTreeMap;

/// From which share of its prior standard deviation a value counts as not learned.
const NOT_LEARNED: f64 = 0.8;
/// What a dye's own standard deviation is multiplied by, and how far its strength differs from piece to piece (own judgement, after the
/// reaches').
const STRENGTH_FACTOR: f64 = 4.2;
const STRENGTH_SCATTER: f64 = 0.10;
/// Least and most that a dye's strength and its standard deviation may be.
const DYE_RANGE: [f64; 2] = [1e-3, 1e3];
/// Values at once.
const COUNT: usize = LearnedValue::ALL.len();

/// What is believed after all pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// Of each value, in the order of [`LearnedValue::ALL`], then of each component, its place on its scale.
    mean: DVector<f64>,
    covariance: DMatrix<f64>,
    components: Vec<Known>,
    pieces: Vec<TaughtBy>,
    dyes: Vec<DyeStrength>,
}

/// A component that pieces showed.
#[derive(Debug, Clone, PartialEq)]
struct Known {
    /// Its names, and its maker's guess.
    of: ComponentReach,
    /// How many pieces showed it.
    pieces: usize,
}

/// What a file says of a component.
#[derive(Debug, Clone, PartialEq)]
pub struct ComponentPart {
    /// Its names, and how far it reaches, as a factor on how far dyes do.
    pub reach: ComponentReach,
    /// Its maker's guess of that.
    pub guess: f64,
    /// Covariances of its logarithm with the values before, the components before it and itself.
    pub covariance: Vec<f64>,
    /// How many pieces showed it.
    pub pieces: usize,
}

impl Default for Learned {
    /// What is believed before any piece.
    fn default() -> Self {
        Self {
            mean: prior_mean(),
            covariance: DMatrix::from_diagonal(&prior_sd().map(|sd| sd * sd)),
            components: Vec::new(),
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

/// The place of a value among values and components.
pub(super) fn number(value: LearnedValue) -> usize {
    LearnedValue::ALL.iter().position(|other| *other == value).unwrap_or_default()
}

impl Learned {
    /// What a file says: of some values the value itself and its covariances with those before it and itself; the others are as before any piece. So
    /// of components, each with its covariances with those values first.
    ///
    /// # Errors
    /// [`LearnedError`] for what can't be: a value or a factor out of range or twice, covariances that are none.
    pub fn from_parts(
        values: &[(LearnedValue, f64, Vec<f64>)],
        components: &[ComponentPart],
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
        let stated: Vec<usize> = values.iter().map(|(value, ..)| number(*value)).collect();
        for at in 0..components.len() {
            learned.state(components, at, &stated)?;
        }
        let is_one = learned.covariance.iter().all(|entry| entry.is_finite()) && learned.covariance.clone().cholesky().is_some();
        if !is_one {
            return Err(LearnedError {
                field: "learned".into(),
                problem: LearnedProblem::NotPositive { count: values.len() + components.len() },
            });
        }
        let [least, most] = DYE_RANGE;
        for (at, dye) in learned.dyes.iter().enumerate() {
            for (name, value) in [("strength", dye.strength), ("sd", dye.sd)] {
                if !(least..=most).contains(&value) {
                    let problem = LearnedProblem::Range { value, least, most };
                    return Err(LearnedError { field: Field::from("dyes").item(at + 1).then(name), problem });
                }
            }
        }
        Ok(learned)
    }

    /// Takes over what a file says of one of its components; `stated` are the values that it says something of.
    fn state(&mut self, components: &[ComponentPart], at: usize, stated: &[usize]) -> Result<(), LearnedError> {
        let ComponentPart { reach, guess, covariance, pieces } = &components[at];
        let field = |key: &'static str| Field::from("components").item(at + 1).then(key);
        for (key, name) in [("mixture", &reach.mixture), ("component", &reach.component)] {
            if name.trim().is_empty() {
                return Err(LearnedError { field: field(key), problem: LearnedProblem::Nameless });
            }
        }
        if components[..at].iter().any(|earlier| earlier.reach.is_of(&reach.mixture, &reach.component)) {
            let problem = LearnedProblem::ComponentTwice { mixture: reach.mixture.clone(), component: reach.component.clone() };
            return Err(LearnedError { field: field("component"), problem });
        }
        let [least, most] = REACH_FACTORS;
        for (key, value) in [("guess", *guess), ("reach_factor", reach.reach_factor)] {
            // Written so that a NaN is refused too.
            if !(least..=most).contains(&value) {
                return Err(LearnedError { field: field(key), problem: LearnedProblem::Range { value, least, most } });
            }
        }
        let expected = stated.len() + at + 1;
        if covariance.len() != expected {
            let problem = LearnedProblem::Covariances { count: covariance.len(), expected };
            return Err(LearnedError { field: field("covariance"), problem });
        }
        let row = self.add_component(&ComponentReach { reach_factor: *guess, ..reach.clone() });
        self.mean[row] = place_of(reach.reach_factor);
        self.components[at].pieces = *pieces;
        for (column, covariance) in stated.iter().copied().chain(COUNT..).zip(covariance) {
            self.covariance[(row, column)] = *covariance;
            self.covariance[(column, row)] = *covariance;
        }
        Ok(())
    }

    /// The place of a component among values and components; one that was not known is believed to be as its maker guessed.
    fn add_component(&mut self, guessed: &ComponentReach) -> usize {
        if let Some(at) = self.component_number(guessed) {
            return at;
        }
        let at = self.mean.len();
        self.mean = std::mem::take(&mut self.mean).push(place_of(guessed.reach_factor));
        self.covariance = std::mem::take(&mut self.covariance).resize(at + 1, at + 1, 0.0);
        self.covariance[(at, at)] = COMPONENT_FACTS.prior_sd.powi(2);
        self.components.push(Known { of: guessed.clone(), pieces: 0 });
        at
    }

    /// The place of a component among values and components; none of one that no piece showed.
    pub(super) fn component_number(&self, of: &ComponentReach) -> Option<usize> {
        self.components.iter().position(|known| known.of.is_of(&of.mixture, &of.component)).map(|at| COUNT + at)
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

    /// Of each component what [`Learned::from_parts`] takes beside all values, its factor to ten digits.
    #[must_use]
    pub fn component_parts(&self) -> Vec<ComponentPart> {
        let of = |(at, known): (usize, &Known)| ComponentPart {
            reach: ComponentReach { reach_factor: rounded(factor_at(self.mean[at])), ..known.of.clone() },
            guess: known.of.reach_factor,
            covariance: (0..=at).map(|other| self.covariance[(at, other)]).collect(),
            pieces: known.pieces,
        };
        (COUNT..).zip(&self.components).map(of).collect()
    }

    /// What a maker guessed of a component when a piece first showed it; none of one that none did.
    #[must_use]
    pub fn guess(&self, of: &ComponentReach) -> Option<f64> {
        self.component_number(of).map(|at| self.components[at - COUNT].of.reach_factor)
    }

    /// The logarithm of a component's factor; none of one that no piece showed.
    #[must_use]
    pub fn component_place(&self, of: &ComponentReach) -> Option<f64> {
        self.component_number(of).map(|at| self.mean[at])
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
        self.sd_at(number(value))
    }

    /// The same of a value or a component by its place.
    fn sd_at(&self, at: usize) -> f64 {
        self.covariance[(at, at)].sqrt().hypot(floor_of(at))
    }

    /// How two values may be off together on their scales: their covariance, of one with itself its variance; floor included.
    #[must_use]
    pub fn covariance_of(&self, value: LearnedValue, other: LearnedValue) -> f64 {
        self.covariance_at(number(value), number(other))
    }

    /// The same of values or components by their places.
    pub(super) fn covariance_at(&self, one: usize, other: usize) -> f64 {
        let floor2 = if one == other { floor_of(one).powi(2) } else { 0.0 };
        self.covariance[(one, other)] + floor2
    }

    /// Whether a value was learned: a piece shows it, and it may be off by at most 0.8 of what it might have been before.
    #[must_use]
    pub fn is_learned(&self, value: LearnedValue) -> bool {
        self.is_learned_at(number(value))
    }

    /// The same of a value or a component by its place.
    fn is_learned_at(&self, at: usize) -> bool {
        let (shown, prior_sd) = match LearnedValue::ALL.get(at) {
            Some(value) => (self.shown(*value), value.facts().prior_sd),
            None => (self.components[at - COUNT].pieces, COMPONENT_FACTS.prior_sd),
        };
        shown > 0 && self.sd_at(at) <= NOT_LEARNED * prior_sd
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
        let mut before = self.clone();
        let of_values = lesson.values.iter().map(|value| number(*value));
        let mut numbers: Vec<usize> = of_values.collect();
        for (of, shown_by) in lesson.components.iter().zip(&lesson.shown_by[lesson.values.len()..]) {
            let at = before.add_component(of);
            before.components[at - COUNT].pieces += shown_by;
            numbers.push(at);
        }
        let mut precision = before.covariance.clone().cholesky()?.inverse();
        let mut weighted = &precision * &before.mean;
        let added = &information * &lesson.mean;
        for (row, &to_row) in numbers.iter().enumerate() {
            weighted[to_row] += added[row];
            for (column, &to_column) in numbers.iter().enumerate() {
                precision[(to_row, to_column)] += information[(row, column)];
            }
        }
        let factor = precision.cholesky()?;
        let mut after = Self { mean: factor.solve(&weighted), covariance: factor.inverse(), ..before };
        after.mean.iter_mut().skip(COUNT).for_each(|place| *place = place_of(factor_at(*place)));
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
        self.taken(own, &[]).calibration
    }

    /// The same for a layout, with how far the components of its mixtures reach: those that were learned, to thousandths.
    #[must_use]
    pub fn tuning(&self, spec: &LayoutSpec) -> Tuning {
        self.taken(spec.process.calibration, &ComponentReach::of(spec.swatches()))
    }

    /// The same, with the day on which a layout takes it.
    #[must_use]
    pub fn tuning_on(&self, spec: &LayoutSpec, day: Date) -> Tuning {
        let Tuning { calibration, reaches } = self.tuning(spec);
        let learned = calibration.learned.map(|from| LearnedFrom { on: Some(day), ..from });
        Tuning { calibration: Calibration { learned, ..calibration }, reaches }
    }

    /// What was learned beside these values and components; of other components nothing is held.
    fn taken(&self, own: Calibration, reaches: &[ComponentReach]) -> Tuning {
        let of_reaches = reaches.iter().filter_map(|of| Some((self.component_number(of)?, of)));
        let factors: BTreeMap<usize, &ComponentReach> = of_reaches.collect();
        let (learned, others): (Vec<usize>, Vec<usize>) =
            (0..COUNT).chain(factors.keys().copied()).partition(|at| self.is_learned_at(*at));
        let mut tuning = Tuning::plain(own);
        let calibration = &mut tuning.calibration;
        if learned.iter().any(|at| *at < COUNT) {
            let pieces = u32::try_from(self.pieces.len()).unwrap_or(u32::MAX);
            calibration.learned = Some(LearnedFrom { pieces, on: None });
        }
        let place = |at: usize| match (LearnedValue::ALL.get(at), factors.get(&at)) {
            (Some(value), _) => value.facts().scale.from_value(value.of(&own)),
            (None, factor) => factor.map_or(self.mean[at], |of| place_of(of.reach_factor)),
        };
        let off = DVector::from_iterator(others.len(), others.iter().map(|&at| place(at) - self.mean[at]));
        let among = DMatrix::from_fn(others.len(), others.len(), |row, column| self.covariance[(others[row], others[column])]);
        let pulled = among.cholesky().map_or_else(|| DVector::zeros(others.len()), |factor| factor.solve(&off));
        if learned.iter().filter_map(|at| LearnedValue::ALL.get(*at)).any(|value| value.is_of_bath()) {
            calibration.discharge_half_dose = Calibration::default().discharge_half_dose;
        }
        for at in learned {
            let with_others = DVector::from_iterator(others.len(), others.iter().map(|&other| self.covariance[(at, other)]));
            let place = self.mean[at] + with_others.dot(&pulled);
            match (LearnedValue::ALL.get(at), factors.get(&at)) {
                (Some(value), _) => value.put(place, calibration),
                (None, Some(of)) => {
                    let reach_factor = (1e3 * factor_at(place)).round() / 1e3;
                    tuning.reaches.push(ComponentReach { reach_factor, ..(*of).clone() });
                }
                (None, None) => {}
            }
        }
        tuning
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

    /// Every component that a piece showed, as it is told.
    #[must_use]
    pub fn told_components(&self) -> Vec<ToldReach> {
        let guesses: Vec<ComponentReach> = self.components.iter().map(|known| known.of.clone()).collect();
        let taken = self.taken(Calibration::default(), &guesses).reaches;
        let of = |(at, Known { of, pieces }): (usize, &Known)| {
            let is = taken.iter().find(|reach| reach.is_of(&of.mixture, &of.component));
            let is = is.filter(|_| self.is_learned_at(at)).map(|reach| reach.reach_factor);
            ToldReach {
                of: ComponentReach { reach_factor: is.unwrap_or(of.reach_factor), ..of.clone() },
                guess: of.reach_factor,
                sd: is.map(|_| self.sd_at(at)),
                pieces: *pieces,
            }
        };
        (COUNT..).zip(&self.components).map(of).collect()
    }
}

/// What does not average out of a value or a component, by its place.
fn floor_of(at: usize) -> f64 {
    LearnedValue::ALL.get(at).map_or(COMPONENT_FACTS.floor, |value| value.facts().floor)
}

/// What a lesson adds: the information of its widened covariance beyond the prior's, direction by direction.
fn information(lesson: &Lesson) -> Option<DMatrix<f64>> {
    let of_values = lesson.values.iter().map(|value| {
        let facts = value.facts();
        let ValueFacts { prior_sd, factor, bathed_factor, scatter, .. } = facts;
        ComponentFacts { prior_sd, factor, bathed_factor, scatter, floor: facts.floor }
    });
    let facts: Vec<ComponentFacts> = of_values.chain(lesson.components.iter().map(|_| COMPONENT_FACTS)).collect();
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
            components: Vec::new(),
            off: 1.0,
            bins: 1000,
            solves: 50,
        }
    }

    /// A fit that is far off says so, and one as good as they are says nothing.
    #[test]
    fn a_fit_that_is_far_off_is_told() {
        let mut lesson = lesson(&[(LearnedValue::DyeAlong, 0.3, 0.02)]);
        assert_eq!(lesson.misfit(), None);
        lesson.off = 5.94;
        assert!(lesson.misfit().unwrap().starts_with("Even the best fit is 5.9 from the photographs"));
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

    fn reach(component: &str, reach_factor: f64) -> ComponentReach {
        ComponentReach { mixture: "grey".to_owned(), component: component.to_owned(), reach_factor }
    }

    /// A lesson of a piece with nothing but a mixture of two components, each guessed and found so: known are the products of their factors with the
    /// reach of dyes, within 2 %; what tells them apart is what was believed before.
    fn of_mixture_alone(guesses: [f64; 2], products: [f64; 2]) -> Lesson {
        let value = LearnedValue::DyeAlong;
        let mut lesson = lesson(&[(value, 0.0, 1.0)]);
        lesson.components = vec![reach("blue", guesses[0]), reach("rust", guesses[1])];
        (lesson.shown_by, lesson.is_bathed) = (vec![1; 3], vec![false; 3]);
        let prior = [value.facts().prior_sd, COMPONENT_FACTS.prior_sd, COMPONENT_FACTS.prior_sd].map(|sd: f64| sd.powi(-2));
        let prior_mean = DVector::from(vec![value.prior_mean(), guesses[0].ln(), guesses[1].ln()]);
        let rows = DMatrix::from_row_slice(2, 3, &[1.0, 1.0, 0.0, 1.0, 0.0, 1.0]);
        let known = 0.02_f64.powi(-2);
        let precision = DMatrix::from_diagonal(&DVector::from(prior.to_vec())) + rows.transpose() * &rows * known;
        lesson.covariance = precision.try_inverse().unwrap();
        let found = DVector::from(products.map(|product| value.prior_mean() + product.ln()).to_vec());
        let toward = rows.transpose() * known * (found - &rows * &prior_mean);
        lesson.mean = prior_mean + &lesson.covariance * toward;
        lesson
    }

    /// Of a piece with a mixture alone the components' factors trade off with the reach of dyes; a piece with another dye, which shows that reach, makes
    /// the factors known as well, without a mixture on it. So it is after the file was written and read.
    #[test]
    fn a_later_piece_tells_reach_and_factors_apart() {
        let truth = [0.3_f64.exp() * 1.5, 0.3_f64.exp() * 0.7];
        let first = Learned::default().after(&of_mixture_alone([1.0, 1.0], truth)).unwrap();
        let stored =
            Learned::from_parts(&first.parts(), &first.component_parts(), first.pieces().to_vec(), first.dyes().to_vec())
                .unwrap();
        for first in [first, stored] {
            let at = first.component_number(&reach("blue", 1.0)).unwrap();
            assert!(first.covariance[(at, number(LearnedValue::DyeAlong))] < -0.02, "{}", first.covariance);
            let off = |learned: &Learned| {
                let told = learned.told_components();
                [0, 1].map(|number: usize| (told[number].of.reach_factor / [1.5, 0.7][number]).ln().abs())
            };
            let second = first.after(&lesson(&[(LearnedValue::DyeAlong, 0.3, 0.01)])).unwrap();
            let [before, after] = [off(&first), off(&second)];
            let worst = |[one, other]: [f64; 2]| one.max(other);
            assert!(worst(after) < 0.8 * worst(before), "{before:?}, then {after:?}");
            assert!(worst(after) < second.sd_at(at), "{after:?} within {}", second.sd_at(at));
            assert!(second.sd_at(at) < 0.9 * first.sd_at(at), "{} then {}", first.sd_at(at), second.sd_at(at));
            // The piece without a mixture does not count as one that shows it.
            assert!(second.told_components().iter().all(|told| told.pieces == 1 && told.guess == 1.0));
        }
    }

    /// What was guessed first stays what was guessed, whatever layouts say that took what was learned.
    #[test]
    fn the_first_guess_is_kept() {
        let guess =
            |learned: &Learned| learned.told_components().iter().map(|told| (told.guess, told.pieces)).collect::<Vec<_>>();
        let first = Learned::default().after(&of_mixture_alone([1.25, 0.8], [1.4, 0.7])).unwrap();
        assert_eq!(guess(&first), [(1.25, 1), (0.8, 1)]);
        let second = first.after(&of_mixture_alone([1.4, 0.7], [1.4, 0.7])).unwrap();
        assert_eq!(guess(&second), [(1.25, 2), (0.8, 2)]);
    }

    /// A factor that is learned is given to a layout with that mixture, to thousandths; one that is not stays as the layout has it.
    #[test]
    fn a_layout_takes_what_was_learned_of_its_mixtures() {
        let part = |component: &str, factor: f64, variance: f64, before: usize| {
            let covariance = [vec![0.0; before], vec![variance]].concat();
            ComponentPart { reach: reach(component, factor), guess: 1.25, covariance, pieces: 2 }
        };
        let parts = [part("blue", 1.312_345, 0.001, 0), part("rust", 0.7, 0.15, 1)];
        let learned = Learned::from_parts(&[], &parts, Vec::new(), Vec::new()).unwrap();
        let mut spec = crate::learn::TEST_CLOTH[1].layout();
        let own = spec.process.calibration;
        assert!(learned.tuning(&spec).reaches.is_empty(), "it has no such mixture");
        spec.colours.rotation[0].name = "grey".to_owned();
        let mut components = crate::layout::first_components(spec.colours.rotation[0].srgb);
        (components[0].name, components[1].name, components[1].reach_factor) = ("blue".to_owned(), "rust".to_owned(), 0.9);
        spec.colours.rotation[0].components = components;
        let tuning = learned.tuning(&spec);
        assert_eq!(tuning.reaches, [reach("blue", 1.312)]);
        // Nothing of its calibration was learned.
        assert_eq!(tuning.calibration, own);
        let told = learned.told_components();
        assert_eq!((told[1].of.reach_factor, told[1].sd, told[1].guess), (1.25, None, 1.25));
    }

    #[test]
    fn parts_make_the_same_whole() {
        let values = lesson(&[(LearnedValue::DyeAlong, 0.3, 0.02), (LearnedValue::Seeping, -0.2, 0.1)]);
        let one = Learned::default().after(&values).unwrap();
        for learned in [one.after(&of_mixture_alone([1.25, 1.0], [1.5, 0.7])).unwrap(), one] {
            let components = learned.component_parts();
            let again = Learned::from_parts(&learned.parts(), &components, learned.pieces().to_vec(), learned.dyes().to_vec());
            let again = again.unwrap();
            assert!((&again.mean - &learned.mean).amax() < 1e-9 && (&again.covariance - &learned.covariance).amax() < 1e-15);
            assert_eq!(
                (again.pieces(), again.dyes(), &again.components),
                (learned.pieces(), learned.dyes(), &learned.components)
            );
            assert_eq!(again.component_parts(), components);
        }
    }

    #[test]
    fn components_that_can_not_be_are_refused() {
        let value = [(LearnedValue::DyeAlong, 11.0, vec![0.1])];
        let part = |before: usize| ComponentPart {
            reach: reach(&format!("part {before}"), 1.2),
            guess: 1.0,
            covariance: [vec![0.0; before + 1], vec![0.1]].concat(),
            pieces: 1,
        };
        let refused = |change: fn(&mut ComponentPart)| {
            let mut parts = [part(0), part(1)];
            change(&mut parts[1]);
            Learned::from_parts(&value, &parts, Vec::new(), Vec::new()).map_err(|error| error.to_string())
        };
        let is = |found: Result<Learned, String>, wanted: &str| assert_eq!(found.unwrap_err(), wanted);
        assert!(refused(|_| {}).is_ok());
        is(refused(|of| of.reach.reach_factor = 9.0), "components.2.reach_factor: 9 is out of range; give 0.4 to 2.5");
        is(refused(|of| of.guess = 0.1), "components.2.guess: 0.1 is out of range; give 0.4 to 2.5");
        assert!(refused(|of| of.guess = f64::NAN).unwrap_err().starts_with("components.2.guess: "));
        is(refused(|of| of.reach.mixture.clear()), "components.2.mixture: there is no name; give the name that layouts have");
        is(
            refused(|of| of.reach.component = "part 0".to_owned()),
            "components.2.component: \"part 0\" of \"grey\" appears twice; keep one",
        );
        assert!(
            refused(|of| of.covariance.truncate(2)).unwrap_err().starts_with("components.2.covariance: 2 covariances; give 3")
        );
        assert!(refused(|of| of.covariance[2] = -0.1).unwrap_err().starts_with("learned: the covariances of these 3 values"));
    }

    #[test]
    fn parts_that_can_not_be_are_refused() {
        let refused = |values: &[(LearnedValue, f64, Vec<f64>)]| {
            Learned::from_parts(values, &[], Vec::new(), Vec::new()).unwrap_err().to_string()
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
