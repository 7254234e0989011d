//! The calibration values that photographs teach, with what is believed of each before any photograph.

use crate::geometry::ThreadKind;
use crate::layout::{Calibration, Dryness, DyeBy, Layout, Process, Rest};

/// A calibration value that can be learned.
///
/// Not among them, by convention: `discharge_half_dose`, which trades off with steepness and reach in a narrow curved valley along which
/// pictures hardly change, so that it is held at its default and the bath's other values are read as effective ones; the covers of all threads,
/// hidden by their conductances; the dose that counts as reached, which no picture shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "each is the calibration's own field")]
pub enum LearnedValue {
    DyeAlong,
    DyeThrough,
    DischargeAlong,
    DischargeThrough,
    Seeping,
    Underside,
    SideCatch,
    FlatAfter,
    WaxedConductance,
    WaxedBeyond,
    StringConductance,
    StringBeyond,
    BandConductance,
    BandBeyond,
    DischargeSteepness,
    DampShare,
    WetShare,
    FurtherIce,
}

/// On what scale a value is learned: its error is about as large on it wherever it lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LearnedScale {
    /// The natural logarithm, of what is above 0: an error of 0.07 is one of 7 %.
    Log,
    /// The logarithm of the odds, of what lies between 0 and 1.
    Logit,
}

impl LearnedScale {
    /// A value on the scale.
    #[must_use]
    pub fn from_value(self, value: f64) -> f64 {
        match self {
            Self::Log => value.ln(),
            Self::Logit => (value / (1.0 - value)).ln(),
        }
    }

    /// The value at a place of the scale.
    #[must_use]
    pub fn to_value(self, place: f64) -> f64 {
        match self {
            Self::Log => place.exp(),
            Self::Logit => 1.0 / (1.0 + (-place).exp()),
        }
    }
}

/// What is believed of a value and of how it is learned, on its scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ValueFacts {
    /// Its path among calibration values in a layout's file.
    pub key: &'static str,
    /// What it is called.
    pub words: &'static str,
    /// Its scale.
    pub scale: LearnedScale,
    /// How far off its default may be: a standard deviation (own judgement).
    pub prior_sd: f64,
    /// What the fit's own error has to be multiplied by: found on drawn pieces with a wandering hand, uneven powder and light, for the values
    /// that white squares with waxed thread show; the others' are own judgement, after those.
    pub factor: f64,
    /// The same of a value that none but discharged pieces show, found on a few drawn squares: where the bath ends, line and reach of thread, bath
    /// and dye are told apart worse than residuals let on.
    pub bathed_factor: f64,
    /// How far it differs from piece to piece (own judgement).
    pub scatter: f64,
    /// What does not average out over many pieces, found on two drawn makers; the others' are own judgement, after those.
    pub floor: f64,
}

impl LearnedValue {
    /// Every one, in the order of files.
    pub const ALL: [Self; 18] = [
        Self::DyeAlong,
        Self::DyeThrough,
        Self::DischargeAlong,
        Self::DischargeThrough,
        Self::Seeping,
        Self::Underside,
        Self::SideCatch,
        Self::FlatAfter,
        Self::WaxedConductance,
        Self::WaxedBeyond,
        Self::StringConductance,
        Self::StringBeyond,
        Self::BandConductance,
        Self::BandBeyond,
        Self::DischargeSteepness,
        Self::DampShare,
        Self::WetShare,
        Self::FurtherIce,
    ];

    /// The value of a key in files.
    #[must_use]
    pub fn named(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|value| value.facts().key == key)
    }

    /// What is believed of it.
    #[must_use]
    pub const fn facts(self) -> ValueFacts {
        use LearnedScale::{Log, Logit};
        let (key, words, scale, [prior_sd, factor, bathed_factor, scatter, floor]) = match self {
            Self::DyeAlong => ("dye_reach.along_mm", "dye, along cloth", Log, [0.4, 4.2, 9.0, 0.10, 0.05]),
            Self::DyeThrough => ("dye_reach.through_mm", "dye, through", Log, [0.4, 2.6, 4.0, 0.10, 0.05]),
            Self::DischargeAlong => ("discharge_reach.along_mm", "discharge, along cloth", Log, [0.4, 10.0, 10.0, 0.10, 0.05]),
            Self::DischargeThrough => ("discharge_reach.through_mm", "discharge, through", Log, [0.4, 4.0, 4.0, 0.10, 0.05]),
            Self::Seeping => ("seeping_per_mm", "seeping", Log, [0.7, 5.0, 5.0, 0.15, 0.25]),
            Self::Underside => ("underside", "run-off feeds", Logit, [0.8, 3.5, 3.5, 0.15, 0.05]),
            Self::SideCatch => ("side_catch", "sides catch", Logit, [0.8, 6.5, 6.5, 0.15, 0.25]),
            Self::FlatAfter => ("flat_after_diameters", "flat after, rods", Log, [0.5, 3.5, 15.0, 0.10, 0.05]),
            Self::WaxedConductance => ("waxed.conductance", "waxed lets through", Log, [1.5, 6.5, 25.0, 0.20, 0.40]),
            Self::WaxedBeyond => ("waxed.beyond_mm", "waxed presses", Log, [0.5, 14.0, 20.0, 0.10, 0.15]),
            Self::StringConductance => ("plain_string.conductance", "string lets through", Logit, [0.8, 6.5, 18.0, 0.20, 0.25]),
            Self::StringBeyond => ("plain_string.beyond_mm", "string presses", Log, [0.8, 14.0, 20.0, 0.10, 0.15]),
            Self::BandConductance => ("rubber_band.conductance", "band lets through", Log, [1.0, 6.5, 18.0, 0.20, 0.25]),
            Self::BandBeyond => ("rubber_band.beyond_mm", "band presses", Log, [0.6, 14.0, 20.0, 0.10, 0.15]),
            Self::DischargeSteepness => ("discharge_steepness", "discharge steepness", Log, [0.4, 14.0, 14.0, 0.10, 0.05]),
            Self::DampShare => ("damp_share", "damp inside, share", Log, [0.25, 4.2, 9.0, 0.10, 0.05]),
            Self::WetShare => ("wet_share", "wet inside, share", Log, [0.30, 4.2, 9.0, 0.10, 0.05]),
            Self::FurtherIce => ("further_ice_share", "extra ice adds", Log, [0.7, 5.0, 5.0, 0.15, 0.25]),
        };
        ValueFacts { key, words, scale, prior_sd, factor, bathed_factor, scatter, floor }
    }

    /// Its place among calibration values.
    fn place(self, calibration: &mut Calibration) -> &mut f64 {
        match self {
            Self::DyeAlong => &mut calibration.dye_reach.along_mm,
            Self::DyeThrough => &mut calibration.dye_reach.through_mm,
            Self::DischargeAlong => &mut calibration.discharge_reach.along_mm,
            Self::DischargeThrough => &mut calibration.discharge_reach.through_mm,
            Self::Seeping => &mut calibration.seeping_per_mm,
            Self::Underside => &mut calibration.underside,
            Self::SideCatch => &mut calibration.side_catch,
            Self::FlatAfter => &mut calibration.flat_after_diameters,
            Self::WaxedConductance => &mut calibration.waxed.conductance,
            Self::WaxedBeyond => &mut calibration.waxed.beyond_mm,
            Self::StringConductance => &mut calibration.plain_string.conductance,
            Self::StringBeyond => &mut calibration.plain_string.beyond_mm,
            Self::BandConductance => &mut calibration.rubber_band.conductance,
            Self::BandBeyond => &mut calibration.rubber_band.beyond_mm,
            Self::DischargeSteepness => &mut calibration.discharge_steepness,
            Self::DampShare => &mut calibration.damp_share,
            Self::WetShare => &mut calibration.wet_share,
            Self::FurtherIce => &mut calibration.further_ice_share,
        }
    }

    /// What calibration values have for it.
    #[must_use]
    pub fn of(self, calibration: &Calibration) -> f64 {
        let mut calibration = *calibration;
        *self.place(&mut calibration)
    }

    /// The default, on its scale.
    #[must_use]
    pub fn prior_mean(self) -> f64 {
        self.facts().scale.from_value(self.of(&Calibration::default()))
    }

    /// Puts a place of its scale among calibration values, held within what can be computed with.
    pub fn put(self, place: f64, calibration: &mut Calibration) {
        let [least, most] = self.range();
        *self.place(calibration) = self.facts().scale.to_value(place).clamp(least, most);
    }

    /// Least and greatest value that can be computed with.
    #[must_use]
    pub fn range(self) -> [f64; 2] {
        let path = format!("process.calibration.{}", self.facts().key);
        let numbers = Process::default().numbers();
        let (least, most) =
            numbers.into_iter().find(|(key, ..)| *key == path).map_or((0.0, 1.0), |(_, _, least, most)| (least, most));
        match self.facts().scale {
            LearnedScale::Log => [least.max(SMALLEST), most],
            LearnedScale::Logit => [least.max(SMALLEST), most.min(1.0 - SMALLEST)],
        }
    }

    /// Whether the value is the bath's alone, so that the dyes' doses stand when it changes.
    #[must_use]
    pub const fn is_of_bath(self) -> bool {
        matches!(self, Self::DischargeAlong | Self::DischargeThrough | Self::DischargeSteepness)
    }

    /// Whether the value is the dyes' alone.
    #[must_use]
    pub const fn is_of_dyes(self) -> bool {
        matches!(
            self,
            Self::DyeAlong
                | Self::DyeThrough
                | Self::Seeping
                | Self::Underside
                | Self::SideCatch
                | Self::DampShare
                | Self::WetShare
                | Self::FurtherIce
        )
    }
}

/// Nearest to 0 that a value goes, or to 1 a share: small beside every default.
const SMALLEST: f64 = 1e-5;

/// The values that a piece made from this layout shows: those its picture depends on.
#[must_use]
pub fn shown_by(layout: &Layout) -> Vec<LearnedValue> {
    use LearnedValue as V;
    let process = layout.process();
    let (is_dyed, is_powder) = (layout.section_colours().iter().any(Option::is_some), process.dye == DyeBy::PowderUnderIce);
    let (is_bathed, is_bound) = (process.discharge.is_some(), !layout.binds().binds.is_empty());
    let kind = layout.thread().kind;
    let is_thread = |of: ThreadKind| is_bound && kind == of;
    let is_shown = |value: V| match value {
        V::DyeAlong | V::DyeThrough => is_dyed,
        V::DischargeAlong | V::DischargeThrough | V::DischargeSteepness => is_bathed,
        V::Seeping => is_dyed && is_powder && process.rest != Rest::TurnedHalfWay,
        V::Underside | V::SideCatch => is_dyed && is_powder,
        V::FlatAfter => is_bound,
        V::WaxedConductance | V::WaxedBeyond => is_thread(ThreadKind::Waxed),
        V::StringConductance | V::StringBeyond => is_thread(ThreadKind::PlainString),
        V::BandConductance | V::BandBeyond => is_thread(ThreadKind::RubberBand),
        V::DampShare => is_dyed && process.inside == Dryness::Damp,
        V::WetShare => is_dyed && process.inside == Dryness::Wet,
        V::FurtherIce => is_dyed && is_powder && process.ice_layers.0 > 1,
    };
    let is_seen = is_dyed || is_bathed;
    LearnedValue::ALL.into_iter().filter(|value| is_seen && is_shown(*value)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// Each is a number of the process with a range around its default, and its own.
    #[test]
    fn every_value_is_a_number_of_the_process() {
        let numbers = Process::default().numbers();
        for value in LearnedValue::ALL {
            let facts = value.facts();
            let path = format!("process.calibration.{}", facts.key);
            let (_, default, ..) = numbers.iter().find(|(key, ..)| *key == path).unwrap_or_else(|| panic!("{path}"));
            let [least, most] = value.range();
            assert!(value.of(&Calibration::default()) == *default && least < *default && *default < most, "{path}");
            assert_eq!(LearnedValue::named(facts.key), Some(value));
            let mut moved = Calibration::default();
            value.put(value.prior_mean() + 0.1, &mut moved);
            let differing = LearnedValue::ALL.into_iter().filter(|other| other.of(&moved) != other.of(&Calibration::default()));
            assert_eq!(differing.collect::<Vec<_>>(), [value]);
            assert!((facts.scale.from_value(value.of(&moved)) - value.prior_mean() - 0.1).abs() < 1e-9, "{path}");
            value.put(1e3, &mut moved);
            assert!(value.of(&moved) <= most, "{path}");
        }
    }

    #[test]
    fn a_discharged_tee_shows_dyes_bath_and_its_thread() {
        let tee = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let shown = shown_by(&tee);
        assert!(shown.contains(&LearnedValue::DischargeAlong) && shown.contains(&LearnedValue::WaxedBeyond), "{shown:?}");
        assert!(!shown.contains(&LearnedValue::BandBeyond) && !shown.contains(&LearnedValue::WetShare), "{shown:?}");
    }
}
