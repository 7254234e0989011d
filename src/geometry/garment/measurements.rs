//! A set of measurements.

use super::{Measure, RawMeasures};

/// Measurements in mm, each present or absent, listed in the order of [`Measure::ALL`].
///
/// The set promises nothing about its values; those of a [`super::Garment`] are checked.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Measurements {
    values_mm: [Option<f64>; Measure::ALL.len()],
}

impl Measurements {
    /// The value of a measurement in mm, if the set has it.
    pub const fn value(&self, measure: Measure) -> Option<f64> {
        self.values_mm[measure as usize]
    }

    /// The measurements present, with their values in mm.
    pub fn iter(&self) -> impl Iterator<Item = (Measure, f64)> + '_ {
        Measure::ALL.into_iter().filter_map(|m| Some((m, self.value(m)?)))
    }

    /// Adds or replaces a measurement, in mm.
    pub const fn insert(&mut self, measure: Measure, value_mm: f64) {
        self.values_mm[measure as usize] = Some(value_mm);
    }

    /// The value of a measurement that the garment's kind is known to have.
    ///
    /// The drafting code asks only for measurements its kind lists, and a garment's set holds all of those; an absent one would
    /// be our mistake and shows up as NaN, which no outline check lets through.
    pub(super) fn of(&self, measure: Measure) -> f64 {
        self.value(measure).unwrap_or(f64::NAN)
    }
}

impl FromIterator<(Measure, f64)> for Measurements {
    fn from_iter<I: IntoIterator<Item = (Measure, f64)>>(items: I) -> Self {
        let mut set = Self::default();
        for (measure, value_mm) in items {
            set.insert(measure, value_mm);
        }
        set
    }
}

impl From<&RawMeasures> for Measurements {
    fn from(raw: &RawMeasures) -> Self {
        Measure::ALL.into_iter().filter_map(|m| Some((m, raw.value(m)?))).collect()
    }
}

impl From<&Measurements> for RawMeasures {
    fn from(set: &Measurements) -> Self {
        let mut raw = Self::default();
        for (measure, value_mm) in set.iter() {
            raw.set(measure, Some(value_mm));
        }
        raw
    }
}
