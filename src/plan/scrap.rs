//! The test of a scrap before the piece: a bath as strong as the piece's, small enough for a pan, and a soak in soda ash.

use super::{Amount, DischargeAgent, DischargeRule, Recipe, Unit, short};
use serde::Serialize;

/// Water that a scrap is discharged in, L: half a litre, in which half a gram of agent can still be weighed (our own judgement).
const BATH_L: f64 = 0.5;
/// Water that a scrap is soaked in, L (our own judgement).
const SOAK_L: f64 = 0.25;

/// What the discharge of a scrap takes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ScrapBath {
    /// The agent.
    pub agent: DischargeAgent,
    /// Water.
    pub water: Amount,
    /// Soda ash; none if the recipe gives none.
    pub soda_ash: Option<Amount>,
    /// How much of the product.
    pub mass: Amount,
}

impl ScrapBath {
    /// As strong as the recipe's own bath.
    #[must_use]
    pub fn of(rule: &DischargeRule) -> Self {
        let per_litre = |what: f64, status| {
            let formula = format!("{} L x {} g/L = {} g", short(BATH_L), short(what), short(BATH_L * what));
            Amount::new(BATH_L * what, Unit::Gram, status, formula)
        };
        Self {
            agent: rule.agent,
            water: water(BATH_L),
            soda_ash: rule.soda_ash_g_per_l.as_ref().map(|soda| per_litre(soda.value, soda.status)),
            mass: per_litre(rule.product_g_per_l(), rule.percent.status.max(rule.litres_per_kg.status)),
        }
    }
}

fn water(litres: f64) -> Amount {
    Amount::new(litres, Unit::Litre, crate::geometry::SourceStatus::Practice, format!("{} L for a scrap", short(litres)))
}

/// Water and soda ash that a scrap is soaked in before it is dyed, as strong as the recipe's soak.
#[must_use]
pub fn scrap_soak(recipe: &Recipe) -> (Amount, Amount) {
    let strength = &recipe.soda_ash.grams_per_litre;
    let grams = SOAK_L * strength.value;
    let formula = format!("{} L x {} g/L = {} g", short(SOAK_L), short(strength.value), short(grams));
    (water(SOAK_L), Amount::new(grams, Unit::Gram, strength.status, formula))
}
