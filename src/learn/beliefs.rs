//! How far off a layout's calibration values, and how far the components of its mixtures reach, may be, all together.

use super::component::{COMPONENT_FACTS, factor_at, place_of, position, shown_components};
use super::learned::{Learned, number};
use super::value::{LearnedValue, shown_by};
use crate::layout::{Calibration, ComponentReach, Layout, Tuning};
use nalgebra::{DMatrix, DVector, SymmetricEigen};

/// The values that a layout's picture depends on, the components of its mixtures after them, where they are and how far off they may be.
#[derive(Debug, Clone, PartialEq)]
pub struct Beliefs {
    calibration: Calibration,
    values: Vec<LearnedValue>,
    components: Vec<ComponentReach>,
    covariance: DMatrix<f64>,
    is_learned: bool,
}

/// A way in which values may be off together, by one standard deviation: on their scales.
pub(super) type Way = DVector<f64>;

impl Beliefs {
    /// What is believed before any photograph: each value by itself, as far off as is judged probable ([`LearnedValue`]).
    #[must_use]
    pub fn prior(layout: &Layout) -> Self {
        Self::by(layout, &Learned::default(), false)
    }

    /// What a maker's pieces taught, of a layout whose values, or whose mixtures' reaches, are those that they taught; else what is believed before.
    #[must_use]
    pub fn of(layout: &Layout, learned: Option<&Learned>) -> Self {
        let own = Tuning::of(layout.raw());
        let is_by = |learned: &&Learned| {
            let taken = learned.tuning(layout.raw());
            let has_any = shown_by(layout).into_iter().any(|value| learned.is_learned(value))
                || taken.reaches.iter().any(|reach| own.reaches.contains(reach));
            has_any && taken.calibration.has_values_of(&own.calibration)
        };
        match learned.filter(is_by) {
            Some(learned) => Self::by(layout, learned, true),
            None => Self::prior(layout),
        }
    }

    fn by(layout: &Layout, learned: &Learned, is_learned: bool) -> Self {
        let values = shown_by(layout);
        let mut components: Vec<ComponentReach> = Vec::new();
        for of in layout.ties().iter().flat_map(shown_components) {
            if position(&components, &of).is_none() {
                components.push(of);
            }
        }
        let taken = learned.tuning(layout.raw()).reaches;
        // What a layout has otherwise than it was learned is a guess like any other.
        let places: Vec<Option<usize>> = values
            .iter()
            .map(|value| Some(number(*value)))
            .chain(components.iter().map(|of| learned.component_number(of).filter(|_| taken.contains(of))))
            .collect();
        let covariance = DMatrix::from_fn(places.len(), places.len(), |row, column| match (places[row], places[column]) {
            (Some(one), Some(other)) => learned.covariance_at(one, other),
            _ if row == column => COMPONENT_FACTS.prior_sd.powi(2) + COMPONENT_FACTS.floor.powi(2),
            _ => 0.0,
        });
        Self { calibration: layout.process().calibration, values, components, covariance, is_learned }
    }

    /// Whether a maker's own pieces taught what is believed.
    #[must_use]
    pub fn is_learned(&self) -> bool {
        self.is_learned
    }

    /// The values.
    #[must_use]
    pub fn values(&self) -> &[LearnedValue] {
        &self.values
    }

    /// How far off a value may be by itself on its scale: a standard deviation; none where the picture does not depend on it.
    #[must_use]
    pub fn sd(&self, value: LearnedValue) -> Option<f64> {
        self.values.iter().position(|other| *other == value).map(|at| self.sd_at(at))
    }

    /// The components of mixtures that lie on the cloth, with the factors that the layout has.
    #[must_use]
    pub fn components(&self) -> &[ComponentReach] {
        &self.components
    }

    /// How many values and components there are.
    pub(super) fn len(&self) -> usize {
        self.values.len() + self.components.len()
    }

    /// How far off a value or a component may be by itself, by its number.
    pub(super) fn sd_at(&self, at: usize) -> f64 {
        self.covariance[(at, at)].sqrt()
    }

    /// What a value or a component is called, by its number.
    pub(super) fn words(&self, at: usize) -> String {
        let component = || self.components.get(at - self.values.len());
        match self.values.get(at) {
            Some(value) => value.facts().words.to_owned(),
            None => component().map_or_else(String::new, |of| format!("how far {} in {} reaches", of.component, of.mixture)),
        }
    }

    /// Ways in which the values may be off, each independent of the others: the principal axes of their covariance. Where every value is off by
    /// itself, one for each.
    pub(super) fn ways(&self) -> Vec<Way> {
        let count = self.len();
        let is_diagonal = (0..count).all(|row| (0..count).all(|column| row == column || self.covariance[(row, column)] == 0.0));
        if is_diagonal {
            let alone =
                |at: usize| DVector::from_fn(count, |row, _| if row == at { self.covariance[(at, at)].sqrt() } else { 0.0 });
            return (0..count).map(alone).collect();
        }
        let SymmetricEigen { eigenvectors, eigenvalues } = self.covariance.clone().symmetric_eigen();
        (0..count).map(|way| eigenvectors.column(way) * eigenvalues[way].max(0.0).sqrt()).collect()
    }

    /// The layout's values and reaches so far off on their scales.
    pub(super) fn off_by(&self, off: &Way) -> Tuning {
        let mut calibration = self.calibration;
        for (value, by) in self.values.iter().zip(off.iter()).filter(|(_, by)| **by != 0.0) {
            let place = value.facts().scale.from_value(value.of(&self.calibration));
            value.put(place + by, &mut calibration);
        }
        let moved = |(of, by): (&ComponentReach, &f64)| ComponentReach {
            reach_factor: factor_at(place_of(of.reach_factor) + by),
            ..of.clone()
        };
        let of_components = self.components.iter().zip(off.iter().skip(self.values.len()));
        Tuning { calibration, reaches: of_components.filter(|(_, by)| **by != 0.0).map(moved).collect() }
    }

    /// Whether all that a way changes is the bath's, and whether all is the dyes'.
    pub(super) fn changes_alone(&self, way: &Way) -> [bool; 2] {
        let changed = || self.values.iter().zip(way.iter()).filter(|(_, by)| **by != 0.0).map(|(value, _)| *value);
        let parts = way.iter().skip(self.values.len()).any(|by| *by != 0.0);
        [!parts && changed().all(LearnedValue::is_of_bath), changed().all(LearnedValue::is_of_dyes)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learn::TaughtBy;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    fn tee() -> Layout {
        parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap()
    }

    #[test]
    fn before_any_photograph_each_value_is_off_by_itself() {
        let beliefs = Beliefs::of(&tee(), None);
        let ways = beliefs.ways();
        assert!(!beliefs.is_learned() && ways.len() == beliefs.values().len() && ways.len() > 8, "{beliefs:?}");
        for (at, (way, value)) in ways.iter().zip(beliefs.values()).enumerate() {
            assert_eq!(way.iter().filter(|by| **by != 0.0).count(), 1);
            // A floor is off in square.
            assert!((way[at] - value.facts().prior_sd.hypot(value.facts().floor)).abs() < 1e-12, "{value:?}");
            let moved = beliefs.off_by(way).calibration;
            assert!(value.of(&moved) > value.of(&Calibration::default()), "{value:?}");
        }
        let still = beliefs.off_by(&DVector::zeros(ways.len()));
        assert!(still.calibration.has_values_of(&Calibration::default()) && still.reaches.is_empty());
    }

    /// The ways of a covariance make it up again: the sum of their squares.
    #[test]
    fn what_was_learned_is_off_together() {
        let values = vec![LearnedValue::DyeAlong, LearnedValue::DyeThrough];
        let piece = TaughtBy { name: "tee".to_owned(), photographs: Vec::new(), values };
        let parts = [(LearnedValue::DyeAlong, 12.0, vec![0.01]), (LearnedValue::DyeThrough, 6.0, vec![0.006, 0.02])];
        let learned = Learned::from_parts(&parts, &[], vec![piece], Vec::new()).unwrap();
        let own = tee();
        assert!(!Beliefs::of(&own, Some(&learned)).is_learned(), "the layout has other values");
        let layout = own.with_calibration(learned.calibration(own.process().calibration));
        let beliefs = Beliefs::of(&layout, Some(&learned));
        assert!(beliefs.is_learned());
        assert!((beliefs.sd(LearnedValue::DyeAlong).unwrap() - 0.01_f64.sqrt().hypot(0.05)).abs() < 1e-12);
        assert_eq!(beliefs.sd(LearnedValue::BandBeyond), None);
        let count = beliefs.values().len();
        let again = beliefs.ways().iter().fold(DMatrix::zeros(count, count), |sum, way| sum + way * way.transpose());
        assert!((again - &beliefs.covariance).amax() < 1e-12);
        assert!((beliefs.covariance[(0, 1)] - 0.006).abs() < 1e-12);
    }
}
