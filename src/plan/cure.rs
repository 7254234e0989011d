//! How long a dye takes to fix on the cloth, by its class and the temperature it is kept at.

use super::{Sourced, Temperature};
use crate::geometry::SourceStatus;
use serde::Serialize;
use std::fmt;

/// A class of reactive dyes, by the temperatures at which it fixes (second-hand, after textbooks of dyeing: dichlorotriazine 25 to 40 C;
/// vinyl sulfone and monofluorotriazine 40 to 60 C; monochlorotriazine 80 C and over).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub enum DyeClass {
    /// Fixes at the temperature of a room.
    #[default]
    Cold,
    /// Fixes warm.
    Warm,
    /// Fixes hot.
    Hot,
}

impl DyeClass {
    /// Every class.
    pub const ALL: [Self; 3] = [Self::Cold, Self::Warm, Self::Hot];

    /// Plain word for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cold => "cold",
            Self::Warm => "warm",
            Self::Hot => "hot",
        }
    }

    /// Temperatures at which it fixes within days, C: its class' range, for the cold one from 18 C on (common practice, no source: below that
    /// two or three days may not serve).
    #[must_use]
    pub const fn fixes_at(self) -> Temperature {
        let (from_c, to_c) = match self {
            Self::Cold => (18.0, 40.0),
            Self::Warm => (40.0, 60.0),
            Self::Hot => (80.0, 100.0),
        };
        Temperature { from_c, to_c }
    }

    /// What to do where the room is too cool for it (common practice, no source).
    #[must_use]
    pub const fn how_to_warm(self) -> &'static str {
        match self {
            Self::Cold => {
                "keep the wrapped rods in a warm room, or in a closed box on a heat mat made for damp places, with a thermostat and on a circuit with a residual current device"
            }
            Self::Warm => {
                "keep the wrapped rods in a closed box on a heat mat made for damp places, with a thermostat and on a circuit with a residual current device; or use a dye of the cold class"
            }
            Self::Hot => {
                "this process can't fix it; use a dye of the cold class, or follow your dye maker's own steaming instructions"
            }
        }
    }
}

impl fmt::Display for DyeClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// How long the dye lies until it has fixed.
#[derive(Debug, Clone, PartialEq)]
pub struct CureRule {
    /// Hours that it takes at [`CureRule::known_c`].
    pub known_h: Sourced,
    /// Temperature of those hours, C.
    pub known_c: Sourced,
    /// How many times faster it fixes 10 K warmer.
    pub factor_per_10_k: Sourced,
}

impl CureRule {
    /// What is usual for a class: a day at 20 C for the cold one (common practice, no source), four hours at 40 C for the warm and one at
    /// 80 C for the hot (from memory, unverified); threefold in 10 K (published second-hand, for the hydrolysis of a cold-dyeing class).
    #[must_use]
    pub const fn usual(class: DyeClass) -> Self {
        let (hours, at_c, status) = match class {
            DyeClass::Cold => (24.0, 20.0, SourceStatus::Practice),
            DyeClass::Warm => (4.0, 40.0, SourceStatus::Memory),
            DyeClass::Hot => (1.0, 80.0, SourceStatus::Memory),
        };
        Self {
            known_h: Sourced::new(hours, status),
            known_c: Sourced::new(at_c, status),
            factor_per_10_k: Sourced::new(3.0, SourceStatus::Published),
        }
    }

    /// Hours until it has fixed at a temperature.
    #[must_use]
    pub fn hours(&self, at_c: f64) -> f64 {
        fixing_time(self.known_h.value, self.known_c.value, self.factor_per_10_k.value, at_c)
    }
}

/// The time that a dye takes to fix at a temperature, where it takes `known` at `known_c`: `known x factor^((known_c - at_c) / 10)`,
/// `factor` being how many times faster the reaction runs 10 K warmer. In the unit of `known`.
///
/// # Limits
/// A rule, not a measurement: one factor for all temperatures (the rule of van 't Hoff). Arrhenius's law with the same factor at 20 C is longer in
/// the cold: 113 against 100 hours at 7 C. Cloth that dries stops fixing, however warm it is.
#[must_use]
pub fn fixing_time(known: f64, known_c: f64, factor_per_10_k: f64, at_c: f64) -> f64 {
    known * factor_per_10_k.powf((known_c - at_c) / 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Powers of three: 24 h at 20 C are 100.1 h at 7 C, 41.6 at 15, 8.0 at 30, 4.6 at 35 (computed apart, with another language).
    #[test]
    fn ten_kelvin_are_one_factor() {
        let cure = CureRule::usual(DyeClass::Cold);
        for (at_c, hours) in [(7.0, 100.1), (10.0, 72.0), (15.0, 41.6), (20.0, 24.0), (25.0, 13.9), (30.0, 8.0), (35.0, 4.6)] {
            assert!((cure.hours(at_c) - hours).abs() < 0.06, "{at_c} C: {}", cure.hours(at_c));
        }
    }

    /// Arrhenius's law with the activation energy that makes it threefold from 20 to 30 C, 81.2 kJ/mol, agrees within 4 % from 15 to 35 C and
    /// is longer in the cold: the limit that the docs state.
    #[test]
    fn arrhenius_agrees_near_a_rooms_temperature() {
        let arrhenius_h = |at_c: f64| {
            let (ea, r) = (81_200.0, 8.314_463);
            24.0 * (ea / r * (1.0 / (at_c + 273.15) - 1.0 / 293.15)).exp()
        };
        let cure = CureRule::usual(DyeClass::Cold);
        for at_c in [15.0, 20.0, 25.0, 30.0, 35.0] {
            assert!((cure.hours(at_c) / arrhenius_h(at_c) - 1.0).abs() < 0.04, "{at_c} C");
        }
        assert!((arrhenius_h(7.0) - 112.6).abs() < 0.5);
    }

    #[test]
    fn each_class_fixes_in_hours_in_its_own_range() {
        for class in DyeClass::ALL {
            let (cure, range) = (CureRule::usual(class), class.fixes_at());
            assert!(cure.hours(range.to_c) < cure.hours(range.from_c) && cure.hours(range.from_c) < 48.0, "{class}");
        }
        // A warm class lies for weeks in a cool room.
        assert!(CureRule::usual(DyeClass::Warm).hours(15.0) > 48.0);
    }
}
