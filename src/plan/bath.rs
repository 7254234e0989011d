//! The discharge bath of a load: water that covers the rods, soda ash, agent, and how hot it is from first to last.

use super::agent::clear_of_the_boil;
use super::amount::to_three_figures;
use super::heat::{Body, COTTON_KJ_PER_KG_K, HeatedBath, mixing_temperature_c};
use super::heat_loss::COVERED_W_PER_M2_K;
use super::masses::liquor_l;
use super::vessel::{Heating, Vessel};
use super::{Amount, DischargeAgent, DischargeRule, RodBulk, Temperature, Unit, short};
use crate::geometry::SourceStatus;
use crate::measure::LengthStyle;
use serde::Serialize;

/// Density of cotton fibre, g/cm3 (published handbook value): what cloth displaces.
const COTTON_G_PER_CM3: f64 = 1.54;
/// Water in goods that come damp from washing, grams to a gram of dry cloth: 1, as wrung by hand (from memory, unverified).
pub const DAMP_PICK_UP: f64 = 1.0;
/// Share of a vessel's room that coiled rods fill where they lie on each other (our own judgement).
const RODS_SHARE: f64 = 0.6;
/// Water above the rods, mm (our own judgement): they swell and float.
const WATER_ABOVE_MM: f64 = 20.0;
/// Hottest water that a vessel is filled with or heated to, C: just off the boil.
const HOTTEST_C: f64 = 98.0;
const GRAMS_PER_LITRE_OF_WATER: f64 = 1000.0;

/// Minutes that a bath stands open with its heat off while the agent goes in and the rods follow (practice).
const STIRRING_MIN: f64 = 5.0;

/// A discharge bath.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DischargeBath {
    /// The agent.
    pub agent: DischargeAgent,
    /// How much of the product.
    pub mass: Amount,
    /// Water.
    pub water: Amount,
    /// Soda ash; none if the recipe gives none.
    pub soda_ash: Option<Amount>,
    /// Depth of the bath with the rods in it, mm.
    pub depth: Amount,
    /// Where its heat comes from and goes.
    pub heat: BathHeat,
}

/// How hot a bath is.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BathHeat {
    /// Temperatures at which the agent works, C.
    pub works: Temperature,
    /// What the water has before the rods go in, C.
    pub water: Amount,
    /// Time until then, min.
    pub heating: Amount,
    /// Power that heats it, W.
    pub power_w: f64,
    /// Fillings of the kettle; none on a hob.
    pub fillings: Option<u32>,
    /// Once the damp rods are in, C.
    pub with_goods: Amount,
    /// On a hob, minutes until it is back in the agent's range; 0 where it never left it, none where it never comes back or nothing heats.
    pub back_in_range_min: Option<f64>,
    /// On a hob, minutes until it is as hot as [`BathHeat::at_end`] says, from when the agent's time counts; 0 where nothing heats it.
    pub counts_after_min: f64,
    /// At the end of the agent's longest time, C; on a hob what it is held at on low heat.
    pub at_end: Amount,
}

impl DischargeBath {
    /// What goes into it, first to last: `4.2 L of water, 63 mm deep with the rods, 10.6 g of soda ash, then 2.9 g of thiourea dioxide`.
    #[must_use]
    pub fn contents(&self, lengths: LengthStyle) -> String {
        let depth = lengths.format(self.depth.value.round());
        let soda = self.soda_ash.as_ref().map_or_else(String::new, |soda| format!("{soda} of soda ash, "));
        format!("{} of water, {depth} deep with the rods, {soda}then {} of {}", self.water, self.mass, self.agent)
    }

    /// How hot it is, in words: `98 °C after 14 min of heating, 83 °C with the rods in it, then brought to 90 °C and held on low heat`.
    #[must_use]
    pub fn heat_words(&self) -> String {
        let heat = &self.heat;
        let (fillings, end) = match heat.fillings {
            Some(1) => (" in the kettle".to_owned(), format!("{} at the end", heat.at_end)),
            Some(count) => (format!(" in {count} fillings of the kettle"), format!("{} at the end", heat.at_end)),
            None if heat.counts_after_min > 0.0 => {
                (String::new(), format!("then brought to {} and held on low heat", heat.at_end))
            }
            None => (String::new(), format!("then held at {} on low heat", heat.at_end)),
        };
        format!("{} after {} of heating{fillings}, {} with the rods in it, {end}", heat.water, heat.heating, heat.with_goods)
    }

    /// Every amount of it, for its formula.
    pub fn amounts(&self) -> impl Iterator<Item = &Amount> {
        let heat = &self.heat;
        [&self.water, &self.depth].into_iter().chain(&self.soda_ash).chain([
            &self.mass,
            &heat.heating,
            &heat.with_goods,
            &heat.at_end,
        ])
    }
}

impl BathHeat {
    /// The coolest that the agent works in, C. On a hob the bath is brought back before its time counts.
    #[must_use]
    pub fn coolest_c(&self) -> f64 {
        match self.back_in_range_min {
            Some(_) => self.at_end.value.min(self.works.from_c),
            None => self.with_goods.value.min(self.at_end.value),
        }
    }

    /// Whether the agent works throughout.
    #[must_use]
    pub fn is_hot_enough(&self) -> bool {
        self.back_in_range_min.is_some() || self.coolest_c() >= self.works.from_c
    }
}

/// The discharge bath for rods in a vessel, in a room of this temperature, and how lengths are written in what leads to it.
#[must_use]
pub fn discharge_bath(rule: &DischargeRule, rods: &RodBulk, vessel: &Vessel, room_c: f64, lengths: LengthStyle) -> DischargeBath {
    let (water, depth) = water(rule, rods, vessel, lengths);
    let mass = product(rule, rods.dry_g, water.value);
    let heat = heat(rule, rods, vessel, room_c, water.value, depth.value);
    DischargeBath {
        agent: rule.agent,
        mass,
        soda_ash: rule.soda_ash_g_per_l.as_ref().map(|strength| {
            let grams = water.value * strength.value;
            let formula = format!("{} L x {} g/L = {} g", short(water.value), short(strength.value), short(grams));
            Amount::new(grams, Unit::Gram, strength.status.max(water.status), formula)
        }),
        water,
        depth,
        heat,
    }
}

/// The agent, as the product weighs: by the cloth, or by the water where that is more than the recipe reckons with.
fn product(rule: &DischargeRule, dry_g: f64, water_l: f64) -> Amount {
    let strength = rule.strength_percent.as_ref();
    let status = strength.map_or(rule.percent.status, |share| share.status.max(rule.percent.status));
    let (by_cloth_g, by_water_g) = (rule.product_g(dry_g), rule.product_g_per_l() * water_l);
    if by_water_g > by_cloth_g * (1.0 + 1e-9) {
        let formula = format!(
            "{} L x {} g/L, as strong as {} % of the cloth at {} L/kg = {} g",
            short(water_l),
            short(rule.product_g_per_l()),
            short(rule.percent.value),
            short(rule.litres_per_kg.value),
            short(by_water_g)
        );
        return Amount::new(by_water_g, Unit::Gram, status.max(rule.litres_per_kg.status), formula);
    }
    let by_strength = strength.map_or_else(String::new, |share| format!(" / {} % of agent in it x 100", short(share.value)));
    let formula =
        format!("{} g of cloth x {} % / 100{by_strength} = {} g", short(dry_g), short(rule.percent.value), short(by_cloth_g));
    Amount::new(by_cloth_g, Unit::Gram, status, formula)
}

/// Height to which rods lie in a vessel, mm: the thickest one's diameter, or their volume over the floor where they lie on each other.
fn lying_mm(rods: &RodBulk, vessel: &Vessel) -> f64 {
    rods.thickest_mm.max(rods.volume_mm3 / RODS_SHARE / vessel.floor_mm2())
}

/// What damp rods take up in a bath, L: their fibre and the water in them.
#[must_use]
pub fn litres_of_rods(dry_g: f64) -> f64 {
    (dry_g / COTTON_G_PER_CM3 + dry_g * DAMP_PICK_UP) / 1000.0
}

/// Water to fill in, and how deep the bath then stands with the rods in it.
fn water(rule: &DischargeRule, rods: &RodBulk, vessel: &Vessel, lengths: LengthStyle) -> (Amount, Amount) {
    let by_liquor_l = liquor_l(rods.dry_g, rule.litres_per_kg.value);
    let covering_mm = lying_mm(rods, vessel) + WATER_ABOVE_MM;
    let displaced_l = litres_of_rods(rods.dry_g);
    let covering_l = vessel.floor_mm2() * covering_mm * 1e-6 - displaced_l;
    let (value, status, formula) = if covering_l > by_liquor_l {
        let formula = format!(
            "{} of base x {} to cover the rods - {} L that they take up = {} L",
            lengths.format_area(vessel.floor_mm2()),
            lengths.format_small(to_three_figures(covering_mm)),
            short(displaced_l),
            short(covering_l)
        );
        (covering_l, SourceStatus::Practice, formula)
    } else {
        let (grams, ratio) = (short(rods.dry_g), short(rule.litres_per_kg.value));
        let formula = format!("{grams} g of cloth / 1000 x {ratio} L/kg (1:{ratio}) = {} L", short(by_liquor_l));
        (by_liquor_l, rule.litres_per_kg.status, formula)
    };
    let depth_mm = (value + displaced_l) * 1e6 / vessel.floor_mm2();
    let depth = format!(
        "({} L + {} L of rods) / {} = {}",
        short(value),
        short(displaced_l),
        lengths.format_area(vessel.floor_mm2()),
        lengths.format_small(to_three_figures(depth_mm))
    );
    (Amount::new(value, Unit::Litre, status, formula), Amount::new(depth_mm, Unit::Millimetre, status, depth))
}

struct Balance<'a> {
    vessel: &'a Vessel,
    room_c: f64,
    depth_mm: f64,
}

impl Balance<'_> {
    /// A bath of this heat capacity that stands to its depth.
    fn bath(&self, capacity_kj_per_k: f64, power_w: f64, covered: bool) -> HeatedBath {
        let floor_mm2 = self.vessel.floor_mm2();
        let closed_mm2 = floor_mm2 + self.vessel.wall_mm2(self.depth_mm) + if covered { floor_mm2 } else { 0.0 };
        HeatedBath {
            capacity_kj_per_k,
            loss_w_per_k: closed_mm2 * 1e-6 * COVERED_W_PER_M2_K,
            open_mm2: if covered { 0.0 } else { floor_mm2 },
            room_c: self.room_c,
            power_w,
        }
    }

    /// Temperature of the water when it is ready, minutes until then, and fillings of the kettle.
    fn heated(&self, water_l: f64, to_c: f64) -> (f64, Option<f64>, Option<u32>) {
        let vessel = self.vessel;
        let water = |litres: f64, at_c| Body::water(litres * GRAMS_PER_LITRE_OF_WATER, at_c);
        match vessel.heating {
            Heating::Hob { .. } => {
                let capacity = water(water_l, vessel.tap_c).capacity_kj_per_k + vessel.capacity_kj_per_k();
                (to_c, self.bath(capacity, vessel.heating.reaching_w(), true).minutes(vessel.tap_c, to_c), None)
            }
            Heating::Kettle { litres, power_w } => {
                let fillings = fillings(water_l, litres);
                let each_l = water_l / f64::from(fillings);
                let boil_min = water(each_l, 0.0).capacity_kj_per_k * (100.0 - vessel.tap_c) * 1000.0 / power_w / 60.0;
                // The vessel is as warm as the room; every filling is boiled while those before it cool in it.
                let shell = Body { capacity_kj_per_k: vessel.capacity_kj_per_k(), temperature_c: self.room_c };
                let mut inside = shell;
                for _ in 0..fillings {
                    let cooled_c = self.bath(inside.capacity_kj_per_k, 0.0, true).after_c(inside.temperature_c, boil_min);
                    let poured = water(each_l, 100.0);
                    let together = [Body { temperature_c: cooled_c, ..inside }, poured];
                    inside = Body {
                        capacity_kj_per_k: inside.capacity_kj_per_k + poured.capacity_kj_per_k,
                        temperature_c: mixing_temperature_c(&together).unwrap_or(cooled_c),
                    };
                }
                (inside.temperature_c, Some(boil_min * f64::from(fillings)), Some(fillings))
            }
        }
    }
}

/// Whole fillings of a kettle for so much water.
fn fillings(water_l: f64, kettle_l: f64) -> u32 {
    let count = (water_l / kettle_l - 1e-9).ceil().clamp(1.0, f64::from(u32::MAX));
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the range of u32")]
    let count = count as u32;
    count
}

/// What a bath on a hob is held at, C: the middle of the agent's range, clear of the boil.
const fn held_c(works: Temperature) -> f64 {
    let Temperature { from_c, to_c } = clear_of_the_boil(works);
    f64::midpoint(from_c, to_c)
}

/// How the water gets to its heat, for its formula.
fn heating_words(vessel: &Vessel, water_l: f64, to_c: f64, fillings: Option<u32>) -> String {
    match vessel.heating {
        Heating::Hob { power_w, ring } => format!(
            "{} L and the pot from {} to {} °C, {} W of the {}'s {} W reaching them, less what the walls lose",
            short(water_l),
            short(vessel.tap_c),
            short(to_c),
            short(vessel.heating.reaching_w()),
            ring.name(),
            short(power_w)
        ),
        Heating::Kettle { litres, power_w } => format!(
            "{} fillings of {} L from {} °C to the boil at {} W; the vessel warms and cools meanwhile",
            fillings.unwrap_or(1),
            short(litres),
            short(vessel.tap_c),
            short(power_w)
        ),
    }
}

fn heat(rule: &DischargeRule, rods: &RodBulk, vessel: &Vessel, room_c: f64, water_l: f64, depth_mm: f64) -> BathHeat {
    let used = rule.used();
    let balance = Balance { vessel, room_c, depth_mm };
    // A range that begins at the boil is met as nearly as water can.
    let to_c = used.works.to_c.min(HOTTEST_C);
    let (ready_c, heating_min, fillings) = balance.heated(water_l, to_c);
    let filled_kj_per_k = Body::water(water_l * GRAMS_PER_LITRE_OF_WATER, 0.0).capacity_kj_per_k + vessel.capacity_kj_per_k();
    let stirred_c = balance.bath(filled_kj_per_k, 0.0, false).after_c(ready_c, STIRRING_MIN);
    let water = Body::water(water_l * GRAMS_PER_LITRE_OF_WATER, stirred_c);
    let shell = Body { capacity_kj_per_k: vessel.capacity_kj_per_k(), temperature_c: stirred_c };
    let cloth = Body::new(rods.dry_g, COTTON_KJ_PER_KG_K, room_c);
    let held = Body::water(rods.dry_g * DAMP_PICK_UP, room_c);
    let all = [water, shell, cloth, held];
    let with_goods_c = mixing_temperature_c(&all).unwrap_or(ready_c);
    let capacity: f64 = all.iter().map(|body| body.capacity_kj_per_k).sum();
    let minutes = f64::from(used.most_min);
    let (back_in_range_min, counts_after_min, at_end_c) = match vessel.heating {
        Heating::Hob { .. } => {
            let heated = balance.bath(capacity, vessel.heating.reaching_w(), vessel.covered);
            let until = |to_c: f64| if with_goods_c >= to_c { Some(0.0) } else { heated.minutes(with_goods_c, to_c) };
            let (back, held_c) = (until(used.works.from_c), held_c(used.works));
            let most_c = heated.after_c(with_goods_c, back.unwrap_or(0.0) + minutes);
            // A hob that does not bring it so far in the agent's time only has to bring it into the range.
            let counts_after = if most_c < held_c { back } else { until(held_c) };
            (back, counts_after.unwrap_or(0.0), most_c.min(held_c))
        }
        Heating::Kettle { .. } => (None, 0.0, balance.bath(capacity, 0.0, vessel.covered).after_c(with_goods_c, minutes)),
    };
    let celsius = |value: f64, formula: String| Amount::new(value, Unit::Celsius, SourceStatus::Computed, formula);
    let heats = heating_words(vessel, water_l, to_c, fillings);
    let parts = format!(
        "{} L at {} °C after {STIRRING_MIN} min open, {} g of cloth and {} g of water in it at {} °C, {} g of {}",
        short(water_l),
        short(stirred_c),
        short(rods.dry_g),
        short(rods.dry_g * DAMP_PICK_UP),
        short(room_c),
        short(vessel.mass_g),
        vessel.material.name()
    );
    let cover = if vessel.covered { "covered, 12 W/(m² K) all round" } else { "open, by the handbook's table of losses" };
    BathHeat {
        works: used.works,
        water: celsius(ready_c, heats.clone()),
        heating: Amount::new(heating_min.unwrap_or(f64::INFINITY), Unit::Minute, SourceStatus::Computed, heats),
        power_w: vessel.heating.power_w(),
        fillings,
        with_goods: celsius(with_goods_c, format!("mixed: {parts} = {} °C", short(with_goods_c))),
        back_in_range_min,
        counts_after_min,
        at_end: celsius(at_end_c, format!("{} min {cover}, room {} °C: {} °C", used.most_min, short(room_c), short(at_end_c))),
    }
}
