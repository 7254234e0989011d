//! Totals of an order: by colour and by material.

use super::{Material, Order, OrderLine};
use crate::measure::total;
use crate::plan::gathered::gathered;
use crate::plan::{Amount, DyeMass, Need, ScrapBath, Unit, scrap_soak};
use serde::Serialize;
use std::iter::repeat_n;

/// A colour over the whole order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ColourTotal {
    /// The colour.
    pub colour: String,
    /// Dry cloth of its sections, g.
    pub cloth_g: f64,
    /// Dye.
    pub dye: Amount,
}

/// A material over the whole order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MaterialTotal {
    /// The material.
    pub material: Material,
    /// How much of it.
    pub amount: Amount,
}

/// Totals of an order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Totals {
    /// Dry cloth, g.
    pub dry_g: f64,
    /// Of it in sections without a colour, g.
    pub undyed_g: f64,
    /// By colour, in the order of their first appearance.
    pub colours: Vec<ColourTotal>,
    /// By material.
    pub materials: Vec<MaterialTotal>,
}

/// The totals.
#[must_use]
pub fn totals(order: &Order) -> Totals {
    let lines = order.lines();
    let count = |value: f64, count: u32| value * f64::from(count);
    let colours = colour_totals(order);
    let each = |pick: &dyn Fn(usize) -> Vec<Amount>| -> Vec<Amount> {
        lines.iter().enumerate().flat_map(|(at, line)| (0..line.count).flat_map(move |_| pick(at))).collect()
    };
    let soaks = order.loads().iter().filter_map(|load| load.soak.as_ref()).map(|soak| soak.soda_ash.clone());
    let baths = order.loads().iter().filter_map(|load| load.discharge.as_ref()).filter_map(|bath| bath.soda_ash.clone());
    let tested = |need: Need| order.processes().iter().zip(order.recipes()).filter(move |(process, _)| process.uses(need));
    let scraps: Vec<ScrapBath> =
        tested(Need::ScrapBath).filter_map(|(_, recipe)| recipe.discharge.as_ref()).map(ScrapBath::of).collect();
    let scrap_soda = scraps.iter().filter_map(|bath| bath.soda_ash.clone());
    let scrap_soda = scrap_soda.chain(tested(Need::ScrapDye).map(|(_, recipe)| scrap_soak(recipe).1));
    let soda: Vec<Amount> =
        baths.chain(soaks).chain(scrap_soda).chain(each(&|at| vec![lines[at].masses.soda_strewn.clone()])).collect();
    let agent = order.loads().iter().filter_map(|load| load.discharge.as_ref()).map(|bath| bath.mass.clone());
    let agent: Vec<Amount> = agent.chain(scraps.iter().map(|bath| bath.mass.clone())).collect();
    let ice = each(&|at| lines[at].masses.ice.iter().map(|layer| layer.ice.clone()).collect());
    let thread = each(&|at| vec![lines[at].masses.thread.clone()]);
    let urea = each(&|at| lines[at].masses.solutions.iter().map(|of| of.urea.clone()).filter(|urea| urea.value > 0.0).collect());
    let rest = [
        (Material::SodaAsh, Unit::Gram, soda),
        (Material::DischargeAgent, Unit::Gram, agent),
        (Material::Urea, Unit::Gram, urea),
        (Material::Ice, Unit::Gram, ice),
        (Material::Thread, thread_unit(order), thread),
    ];
    let dyes =
        colours.iter().map(|colour| MaterialTotal { material: Material::Dye(colour.colour.clone()), amount: colour.dye.clone() });
    let rest = rest
        .into_iter()
        .filter(|(_, _, amounts)| !amounts.is_empty())
        .map(|(material, unit, amounts)| MaterialTotal { material, amount: Amount::sum(unit, &amounts) });
    Totals {
        dry_g: total(lines.iter().map(|line| count(line.masses.dry_g, line.count))),
        undyed_g: total(lines.iter().map(|line| count(line.masses.undyed_g, line.count))),
        materials: dyes.chain(rest).collect(),
        colours,
    }
}

/// Yards where every layout is laid out by an inch rule, unless the order gives a supply of thread, which is in metres.
pub(in crate::plan) fn thread_unit(order: &Order) -> Unit {
    let has_supply = order.raw().supplies.iter().any(|supply| supply.material == Material::Thread);
    let is_in_yards = |line: &OrderLine| line.masses.thread.unit == Unit::Yard;
    if !has_supply && order.lines().iter().all(is_in_yards) { Unit::Yard } else { Unit::Metre }
}

fn colour_totals(order: &Order) -> Vec<ColourTotal> {
    let all = order.lines().iter().flat_map(|line| line.masses.dyes.iter().map(move |dye| (&dye.colour, (dye, line.count))));
    let total = |(colour, dyes): (&String, Vec<(&DyeMass, u32)>)| ColourTotal {
        colour: colour.clone(),
        cloth_g: dyes.iter().map(|(dye, count)| dye.cloth_g * f64::from(*count)).sum(),
        dye: Amount::sum(Unit::Gram, dyes.iter().flat_map(|&(dye, count)| repeat_n(&dye.dye, count as usize))),
    };
    gathered(all).into_iter().map(total).collect()
}
