//! What makes a plan refused because somebody would be hurt.

use super::air::{Gas, SO2_ASTHMA_PPM, SO2_DANGER_PPM, air_limits};
use super::{Region, WorkPlace};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};

/// A plan that is refused because it would hurt someone.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Refusal {
    /// A reductive discharge in a room without extraction.
    NoExtraction {
        /// The step.
        step: String,
        /// The discharge agent's name, where a recipe names one.
        agent: Option<&'static str>,
        /// How much of it in one bath.
        grams: f64,
        /// The most sulfur dioxide it can give in that room.
        ppm: f64,
        /// Where it was to be done.
        place: WorkPlace,
        /// Whose limits are told.
        region: Region,
    },
    /// Bleach or acid and a reductive agent in one bath or one tub.
    OneBath {
        /// The earlier step.
        first: String,
        /// The later one.
        second: String,
        /// What they share.
        shared: Shared,
        /// The names of the two kinds of chemical.
        mixed: [&'static str; 2],
    },
    /// No full rinse between bleach or acid and a reductive agent.
    NoRinse {
        /// The earlier step.
        first: String,
        /// The later one.
        second: String,
        /// The names of the two kinds of chemical.
        mixed: [&'static str; 2],
    },
}

/// A vessel that two steps share.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shared {
    /// A bath of one name.
    Bath(String),
    /// A place without a bath of its own, by its name.
    Place(&'static str),
}

impl Shared {
    fn words(&self) -> String {
        match self {
            Self::Bath(name) => format!("the bath \"{name}\""),
            Self::Place(name) => format!("a {name}"),
        }
    }
}

displayed_as_in_files!(Refusal);

/// What happens when they meet, and who says so.
const TOGETHER: &str = "together they release dangerous gas and heat (ICSC 1717: keep dithionite from acids and oxidants)";

impl Refused for Refusal {
    fn told(&self, _voice: Voice) -> Told {
        match self {
            Self::NoExtraction { step, agent, grams, ppm, place, region } => Told::new(
                format!("step \"{step}\" gives off sulfur dioxide, {place}: {}", indoors(*grams, *agent, *ppm, *region)),
                "do it outdoors or under extraction",
            ),
            Self::OneBath { first, second, shared, mixed: [one, other] } => Told::new(
                format!(
                    "steps \"{first}\" and \"{second}\" share {}: never let {one} and {other} meet; {TOGETHER}",
                    shared.words()
                ),
                "keep them separate",
            ),
            Self::NoRinse { first, second, mixed: [one, other] } => Told::new(
                format!("steps \"{first}\" and \"{second}\" have no rinse between: never let {one} and {other} meet; {TOGETHER}"),
                "put a full rinse between them",
            ),
        }
    }
}

/// Why a closed room is refused whatever its size: by the bound where that is above the limit, else because the gas does not spread evenly.
fn indoors(grams: f64, agent: Option<&str>, ppm: f64, region: Region) -> String {
    let limits = air_limits(Gas::SulfurDioxide, region);
    if ppm > limits.short_ppm {
        return format!(
            "{grams:.1} g of {} can give up to {ppm:.0} ppm there, and {} ppm is the limit for 15 minutes ({}), {SO2_DANGER_PPM} ppm is \
             dangerous at once",
            agent.unwrap_or("an unnamed agent"),
            limits.short_ppm,
            limits.source
        );
    }
    format!(
        "a closed room is refused whatever its size, since the gas is heavier than air and lies about the bath, and some people with \
         asthma feel {SO2_ASTHMA_PPM} ppm"
    )
}
