//! Totals of an order: by colour and by material.

use super::{Material, Order};
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
    /// What for, where it is used for several things; they add up to the amount.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub uses: Vec<MaterialUse>,
}

/// A part of a material.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MaterialUse {
    /// What for, in words that follow its amount.
    pub what: &'static str,
    /// How much.
    pub amount: Amount,
}

impl MaterialTotal {
    /// Amounts by what they are for; what nothing goes into is left out. None where all are empty.
    fn of(material: Material, unit: Unit, uses: Vec<(&'static str, Vec<Amount>)>) -> Option<Self> {
        let all: Vec<&Amount> = uses.iter().flat_map(|(_, amounts)| amounts).collect();
        if all.is_empty() {
            return None;
        }
        let amount = Amount::sum(unit, all);
        let of_use = |(what, amounts): &(&'static str, Vec<Amount>)| MaterialUse { what, amount: Amount::sum(unit, amounts) };
        let uses: Vec<MaterialUse> = uses.iter().map(of_use).filter(|of| of.amount.value > 0.0).collect();
        Some(Self { material, amount, uses: if uses.len() > 1 { uses } else { Vec::new() } })
    }
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

const DISCHARGE: &str = "for the discharge";
const SCRAP: &str = "for a scrap";

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
    let soda = vec![
        (DISCHARGE, baths.collect()),
        ("for the soda ash soak", soaks.collect()),
        (SCRAP, scrap_soda.collect()),
        ("to sprinkle", each(&|at| vec![lines[at].masses.soda_strewn.clone()])),
    ];
    let agent = order.loads().iter().filter_map(|load| load.discharge.as_ref()).map(|bath| bath.mass.clone());
    let agent = vec![(DISCHARGE, agent.collect()), (SCRAP, scraps.iter().map(|bath| bath.mass.clone()).collect())];
    let ice = each(&|at| lines[at].masses.ice.iter().map(|layer| layer.ice.clone()).collect());
    let thread = each(&|at| vec![lines[at].masses.thread.clone()]);
    let urea = each(&|at| lines[at].masses.solutions.iter().map(|of| of.urea.clone()).filter(|urea| urea.value > 0.0).collect());
    let rest = [
        (Material::SodaAsh, Unit::Gram, soda),
        (Material::DischargeAgent, Unit::Gram, agent),
        (Material::Urea, Unit::Gram, vec![("", urea)]),
        (Material::Ice, Unit::Gram, vec![("", ice)]),
        (Material::Thread, Unit::of_thread(order.lengths()), vec![("", thread)]),
    ];
    let dye = |colour: &ColourTotal| MaterialTotal {
        material: Material::Dye(colour.colour.clone()),
        amount: colour.dye.clone(),
        uses: Vec::new(),
    };
    let dyes = colours.iter().map(dye);
    let rest = rest.into_iter().filter_map(|(material, unit, uses)| MaterialTotal::of(material, unit, uses));
    Totals {
        dry_g: total(lines.iter().map(|line| count(line.masses.dry_g, line.count))),
        undyed_g: total(lines.iter().map(|line| count(line.masses.undyed_g, line.count))),
        materials: dyes.chain(rest).collect(),
        colours,
    }
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
