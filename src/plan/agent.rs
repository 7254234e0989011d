//! Reductive discharge agents: what each is, what it can give off, and how it is used unless the recipe says otherwise.

use super::{PlanFileError, PlanProblem, Sourced, Temperature};
use crate::geometry::SourceStatus;
use serde::Serialize;
use std::fmt;

/// A reductive discharge agent, by its chemical name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum DischargeAgent {
    /// Sodium dithionite, `Na2S2O4`, also called sodium hydrosulphite.
    SodiumDithionite,
    /// Thiourea dioxide, `CH4N2O2S`.
    ThioureaDioxide,
    /// A mixture ready for use, by its label: amount, range and time are the label's. Its gas is bounded as if it were all dithionite.
    ReadyMixture,
}

/// How an agent is used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AgentUse {
    /// Temperatures at which it works, C.
    pub works: Temperature,
    /// Shortest time in the bath, min.
    pub least_min: u32,
    /// Longest, min.
    pub most_min: u32,
    /// How far these can be trusted.
    pub status: SourceStatus,
}

/// Volume of a mole of gas at 25 C and 101.325 kPa, mL: `R T / p` with R = 8.314463 J/(mol K), the constants published (CODATA).
const GAS_ML_PER_MOL: f64 = 8.314_463 * 298.15 / 101.325 * 1000.0;

impl DischargeAgent {
    /// Every agent.
    pub const ALL: [Self; 3] = [Self::ThioureaDioxide, Self::SodiumDithionite, Self::ReadyMixture];

    /// Plain words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::SodiumDithionite => "sodium dithionite",
            Self::ThioureaDioxide => "thiourea dioxide",
            Self::ReadyMixture => "ready discharge mixture",
        }
    }

    /// Range and time for which no recipe says otherwise. Thiourea dioxide near the boil for 15 to 20 min (common practice, no source);
    /// dithionite from 60 to 80 C, where it acts at once and is soon spent (from memory, unverified); a mixture: read its label.
    #[must_use]
    pub const fn usual(self) -> AgentUse {
        let (from_c, to_c, least_min, most_min, status) = match self {
            Self::ThioureaDioxide => (85.0, 100.0, 15, 20, SourceStatus::Practice),
            Self::SodiumDithionite => (60.0, 80.0, 15, 20, SourceStatus::Memory),
            Self::ReadyMixture => (60.0, 100.0, 10, 20, SourceStatus::Memory),
        };
        AgentUse { works: Temperature { from_c, to_c }, least_min, most_min, status }
    }

    /// Molar mass, g/mol: from atomic weights, published.
    const fn grams_per_mol(self) -> f64 {
        match self {
            Self::SodiumDithionite | Self::ReadyMixture => 174.107,
            Self::ThioureaDioxide => 108.12,
        }
    }

    /// Sulfur atoms in a molecule, each of which can leave as one of sulfur dioxide.
    const fn sulfur_atoms(self) -> f64 {
        match self {
            Self::SodiumDithionite | Self::ReadyMixture => 2.0,
            Self::ThioureaDioxide => 1.0,
        }
    }

    /// Whether it gives off ammonia when it is spent: what holds nitrogen, and a mixture of which nobody knows.
    #[must_use]
    pub const fn gives_ammonia(self) -> bool {
        matches!(self, Self::ThioureaDioxide | Self::ReadyMixture)
    }

    /// The most sulfur dioxide that a gram can give off, mL at 25 C: all its sulfur as gas. An upper bound: about 281 for
    /// dithionite, 226 for thiourea dioxide (computed).
    #[must_use]
    pub fn so2_ml_per_g(self) -> f64 {
        self.sulfur_atoms() * GAS_ML_PER_MOL / self.grams_per_mol()
    }

    /// The most sulfur dioxide in the air of a closed room, ppm by volume: `grams x mL/g / m3`, for 1 mL in 1 m3 is 1 ppm.
    #[must_use]
    pub fn so2_ppm(self, grams: f64, room_m3: f64) -> f64 {
        grams * self.so2_ml_per_g() / room_m3
    }
}

impl fmt::Display for DischargeAgent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// The discharge of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct DischargeRule {
    /// The agent.
    pub agent: DischargeAgent,
    /// Agent, percent on the weight of the dry cloth.
    pub percent: Sourced,
    /// Water, litres to a kilogram of dry cloth at least; more where it takes more to cover the rods.
    pub litres_per_kg: Sourced,
    /// Soda ash in the bath, grams to a litre; none in recipes from before it could be said.
    pub soda_ash_g_per_l: Option<Sourced>,
    /// What share of the product is agent, percent, as its label says; 100 unless given.
    pub strength_percent: Option<Sourced>,
    /// Temperatures at which it works; the agent's usual ones unless given.
    pub works: Option<Temperature>,
    /// Least and most minutes in the bath; the agent's usual ones unless given.
    pub minutes: Option<(u32, u32)>,
    /// After how many minutes a bath is spent, and fresh agent needed for more: 20 (common practice, no source).
    pub renew_after_min: u32,
}

/// Hottest that a bath with cloth in it is kept, C: clear of the boil, which throws alkali and gas out (our own judgement).
const HOTTEST_BATH_C: f64 = 95.0;

/// A range, its end clear of the boil.
pub(super) const fn clear_of_the_boil(works: Temperature) -> Temperature {
    Temperature { from_c: works.from_c, to_c: works.to_c.min(HOTTEST_BATH_C).max(works.from_c) }
}

impl DischargeRule {
    /// Range and time, as given or as usual for the agent.
    #[must_use]
    pub fn used(&self) -> AgentUse {
        let usual = self.agent.usual();
        let (least_min, most_min) = self.minutes.unwrap_or((usual.least_min, usual.most_min));
        AgentUse { works: self.works.unwrap_or(usual.works), least_min, most_min, status: usual.status }
    }

    /// What a bath is kept between, C: the agent's range, clear of the boil.
    #[must_use]
    pub fn kept_between(&self) -> Temperature {
        clear_of_the_boil(self.used().works)
    }

    /// Grams of the product for so many grams of dry cloth: `cloth x percent / strength`.
    #[must_use]
    pub fn product_g(&self, dry_g: f64) -> f64 {
        dry_g * self.percent.value / self.strength_percent.as_ref().map_or(100.0, |strength| strength.value)
    }

    /// Grams of the product to a litre, in a bath of just the recipe's litres: `10 x percent / (L/kg) / strength`. A bath that takes more
    /// water to cover its rods is not made weaker for it.
    #[must_use]
    pub fn product_g_per_l(&self) -> f64 {
        self.product_g(1000.0) / self.litres_per_kg.value
    }

    /// Checks range and time; the figures are checked with the recipe's others.
    pub(super) fn check(&self) -> Result<(), PlanFileError> {
        if self.agent == DischargeAgent::ReadyMixture && (self.works.is_none() || self.minutes.is_none()) {
            return Err(PlanFileError::new("discharge", PlanProblem::MixtureUnsaid));
        }
        if let Some(range) = self.works {
            PlanFileError::check("discharge.works.from_c", range.from_c, 0.0, 100.0)?;
            PlanFileError::check("discharge.works.to_c", range.to_c, range.from_c, 100.0)?;
        }
        if let Some((least_min, most_min)) = self.minutes {
            PlanFileError::check("discharge.minutes", f64::from(least_min), 1.0, 240.0)?;
            PlanFileError::check("discharge.minutes", f64::from(most_min), 1.0, 240.0)?;
            if most_min < least_min {
                return Err(PlanFileError::new("discharge.minutes", PlanProblem::Wait { least_min, most_min }));
            }
        }
        PlanFileError::check("discharge.renew_after_min", f64::from(self.renew_after_min), 1.0, 240.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A product that is half agent takes twice the grams; "percent on weight of fibre" as everywhere.
    #[test]
    fn a_weaker_product_takes_more() {
        let rule = |strength_percent| DischargeRule {
            agent: DischargeAgent::ThioureaDioxide,
            percent: Sourced::new(2.0, SourceStatus::Practice),
            litres_per_kg: Sourced::new(16.0, SourceStatus::Practice),
            soda_ash_g_per_l: None,
            strength_percent,
            works: None,
            minutes: None,
            renew_after_min: 20,
        };
        assert!((rule(None).product_g(500.0) - 10.0).abs() < 1e-12);
        assert!((rule(Some(Sourced::new(50.0, SourceStatus::Practice))).product_g(500.0) - 20.0).abs() < 1e-12);
        assert_eq!(rule(None).used(), DischargeAgent::ThioureaDioxide.usual());
    }
}
