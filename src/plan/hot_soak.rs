//! Soaking loose dye out of the opened cloth: so much hot water for the cloth, in as many rounds as the tub takes.

use super::{Amount, LARGEST_FILLING, Load, Need, Order, Step, Unit, liquor_l, litres_of_rods, short};
use crate::geometry::SourceStatus;
use serde::Serialize;

/// Hot water for the cloth, L/kg (common practice, no source).
pub const HOT_SOAK_L_PER_KG: f64 = 20.0;

/// The hot soak of a load.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HotSoak {
    /// Rounds, as many as it takes for the tub to hold each.
    pub rounds: u32,
    /// Garments of a round at most.
    pub garments: u32,
    /// Water of all rounds together, filled in once; a change of water takes it again.
    pub water: Amount,
}

impl HotSoak {
    /// The hot soak of a load in the workshop's tub, filled to four fifths. Every round is reckoned with the heaviest garments of the load.
    ///
    /// # Limits
    /// A garment alone that is too much for the tub has a round of its own, and less water than [`HOT_SOAK_L_PER_KG`].
    #[must_use]
    pub fn of(order: &Order, load: &Load) -> Self {
        let filled_l = order.raw().workshop.tub_l * LARGEST_FILLING;
        let garments_g = load.items.iter().map(|item| order.lines()[item.line].masses.dry_g);
        let heaviest_g = garments_g.fold(0.0, f64::max);
        let each_l = liquor_l(heaviest_g, HOT_SOAK_L_PER_KG) + litres_of_rods(heaviest_g);
        let together = (1..=load.garments).rev().find(|&count| f64::from(count) * each_l <= filled_l * (1.0 + 1e-9)).unwrap_or(1);
        let rounds = load.garments.div_ceil(together).max(1);
        let litres = liquor_l(load.dry_g, HOT_SOAK_L_PER_KG).min(f64::from(rounds) * filled_l);
        let (grams, ratio) = (short(load.dry_g), short(HOT_SOAK_L_PER_KG));
        let formula = format!("{grams} g of cloth / 1000 x {ratio} L/kg = {} L", short(litres));
        Self {
            rounds,
            garments: load.garments.div_ceil(rounds),
            water: Amount::new(litres, Unit::Litre, SourceStatus::Practice, formula),
        }
    }

    /// `in 2 rounds of at most 6 garments`; none where one is enough.
    #[must_use]
    pub fn in_rounds(&self) -> Option<String> {
        let Self { rounds, garments, .. } = self;
        let garments = if *garments == 1 { "1 garment".to_owned() } else { format!("at most {garments} garments") };
        (*rounds > 1).then(|| format!("in {rounds} rounds of {garments}"))
    }
}

/// Rounds that a step takes for these loads: one, unless it soaks them hot in a tub that does not take them at once.
pub(super) fn hot_soak_rounds(order: &Order, step: &Step, loads: &[&Load]) -> u32 {
    let of_loads = loads.iter().filter(|_| step.needs.contains(&Need::HotSoak)).map(|load| HotSoak::of(order, load).rounds);
    of_loads.max().unwrap_or(1)
}
