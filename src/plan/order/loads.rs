//! Tub loads: which garments share a bath, and what that bath takes.

use super::ground::Ground;
use super::raw::{OrderSpec, Workshop};
use super::{OrderLine, pack};
use crate::measure::LengthStyle;
use crate::plan::gathered::gathered;
use crate::plan::recipe::BathVolume;
use crate::plan::{
    Amount, DischargeBath, LARGEST_FILLING, Need, PlanFileError, PlanProblem, Process, Recipe, RodBulk, SoakBath, Unit,
    discharge_bath, liquor_l, litres_of_rods, soak_bath,
};
use serde::Serialize;

/// So many garments of one line in a load.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LoadItem {
    /// Index of the order's line.
    pub line: usize,
    /// How many.
    pub count: u32,
}

/// Garments that go through the process together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Load {
    /// Its number, from 1: in a plan, by the time it begins.
    pub number: u32,
    /// Index of its process.
    pub process: usize,
    /// What is in it.
    pub items: Vec<LoadItem>,
    /// How many garments.
    pub garments: u32,
    /// Their dry cloth, g.
    pub dry_g: f64,
    /// Its soda soak, if the process has one.
    pub soak: Option<SoakBath>,
    /// Its discharge, if the process has one.
    pub discharge: Option<DischargeBath>,
    /// Dye by colour, all garments together.
    pub dyes: Vec<(String, Amount)>,
    /// Whether fewer loads for its process are shown to be impossible.
    pub fewest: bool,
}

/// Packs the garments of each process into the fewest loads that tub, vessel and rack take. Where the process discharges, garments of
/// different grounds have loads of their own, unless the order mixes them; undyed ones always. Lengths in formulas are written as `lengths`
/// say.
///
/// # Errors
/// [`PlanProblem::TubTooSmall`] if one garment alone is too much for a tub, [`PlanProblem::VesselTooSmall`] for the discharge's vessel.
pub fn loads(
    lines: &[OrderLine],
    processes: &[Process],
    recipes: &[Recipe],
    raw: &OrderSpec,
    lengths: LengthStyle,
) -> Result<Vec<Load>, PlanFileError> {
    let shop = &raw.workshop;
    let mut all = Vec::new();
    for (index, (process, recipe)) in processes.iter().zip(recipes).enumerate() {
        let own: Vec<usize> = (0..lines.len()).filter(|&at| lines[at].process == index).collect();
        let discharges = process.uses(Need::Discharge);
        for together in by_ground(lines, own, discharges, raw.mix_grounds) {
            let owners: Vec<usize> = together.into_iter().flat_map(|at| (0..lines[at].count).map(move |_| at)).collect();
            let masses_g: Vec<f64> = owners.iter().map(|&at| lines[at].masses.dry_g).collect();
            let most_g = most_cloth_g(process, recipe, shop, &masses_g)?;
            let packing = pack(&masses_g, most_g, shop.rack_rods as usize);
            let context = Context { lines, process, process_index: index, recipe, shop, lengths, fewest: packing.fewest };
            for bin in &packing.bins {
                let in_bin: Vec<usize> = bin.iter().map(|&item| owners[item]).collect();
                let number = u32::try_from(all.len() + 1).unwrap_or(u32::MAX);
                all.push(context.load(number, &in_bin)?);
            }
        }
    }
    Ok(all)
}

/// Lines that may share a load, in the order of their first appearance.
fn by_ground(lines: &[OrderLine], own: Vec<usize>, discharges: bool, mix_grounds: bool) -> Vec<Vec<usize>> {
    let ground = |at: usize| {
        let ground = discharges.then(|| Ground::of(&lines[at].layout));
        ground.map(|ground| if mix_grounds { ground.mixed() } else { ground })
    };
    gathered(own.into_iter().map(|at| (ground(at), at))).into_iter().map(|(_, group)| group).collect()
}

/// Dry cloth that tub and vessel take, g: the tub's water over its soak's litres per kg, and the vessel's room over what bath and rods
/// take of it; no bound without a bath.
fn most_cloth_g(process: &Process, recipe: &Recipe, shop: &Workshop, masses_g: &[f64]) -> Result<f64, PlanFileError> {
    let heaviest_g = masses_g.iter().copied().fold(0.0, f64::max);
    let soak_g = match &recipe.soda_ash.bath {
        BathVolume::Liquor { litres_per_kg } if process.uses(Need::SodaSoak) => {
            let litres_per_kg = litres_per_kg.value;
            let most_g = shop.tub_l / (liquor_l(1.0, litres_per_kg) + litres_of_rods(1.0));
            if heaviest_g > most_g {
                let needed_l = liquor_l(heaviest_g, litres_per_kg) + litres_of_rods(heaviest_g);
                let problem = PlanProblem::TubTooSmall { garment_g: heaviest_g, needed_l, litres_per_kg, tub_l: shop.tub_l };
                return Err(PlanFileError::new("workshop.tub_l", problem));
            }
            most_g
        }
        _ => f64::INFINITY,
    };
    let Some(rule) = recipe.discharge.as_ref().filter(|_| process.uses(Need::Discharge)) else { return Ok(soak_g) };
    // Bath and rods grow with the cloth; what covers a single rod is looked at when its bath is known.
    let per_g_l = liquor_l(1.0, rule.litres_per_kg.value) + litres_of_rods(1.0);
    let vessel_g = shop.vessel.litres * LARGEST_FILLING / per_g_l;
    if heaviest_g > vessel_g {
        return Err(vessel_too_small(heaviest_g, heaviest_g * per_g_l, shop));
    }
    Ok(soak_g.min(vessel_g))
}

fn vessel_too_small(cloth_g: f64, needed_l: f64, shop: &Workshop) -> PlanFileError {
    let problem = PlanProblem::VesselTooSmall { cloth_g, needed_l: needed_l / LARGEST_FILLING, vessel_l: shop.vessel.litres };
    PlanFileError::new("workshop.vessel.litres", problem)
}

/// What the loads of one process have in common.
struct Context<'a> {
    lines: &'a [OrderLine],
    process: &'a Process,
    process_index: usize,
    recipe: &'a Recipe,
    shop: &'a Workshop,
    lengths: LengthStyle,
    fewest: bool,
}

impl Context<'_> {
    /// The load of garments given by their lines.
    fn load(&self, number: u32, owners: &[usize]) -> Result<Load, PlanFileError> {
        let rods = owners.iter().map(|&line| self.lines[line].masses.rod).fold(RodBulk::default(), RodBulk::with);
        let items = items(owners);
        Ok(Load {
            number,
            process: self.process_index,
            garments: items.iter().map(|item| item.count).sum(),
            items,
            dry_g: rods.dry_g,
            soak: self.process.uses(Need::SodaSoak).then(|| soak_bath(self.recipe, rods.dry_g)),
            discharge: self.discharge(&rods)?,
            dyes: self.dyes(owners),
            fewest: self.fewest,
        })
    }

    fn discharge(&self, rods: &RodBulk) -> Result<Option<DischargeBath>, PlanFileError> {
        let Some(rule) = self.recipe.discharge.as_ref().filter(|_| self.process.uses(Need::Discharge)) else { return Ok(None) };
        let bath = discharge_bath(rule, rods, &self.shop.vessel, self.shop.room_c, self.lengths);
        let filling_l = bath.water.value + litres_of_rods(rods.dry_g);
        if filling_l > self.shop.vessel.litres * LARGEST_FILLING * (1.0 + 1e-9) {
            return Err(vessel_too_small(rods.dry_g, filling_l, self.shop));
        }
        Ok(Some(bath))
    }

    /// Dye by colour, in the order of first appearance.
    fn dyes(&self, owners: &[usize]) -> Vec<(String, Amount)> {
        let all = owners.iter().flat_map(|&line| &self.lines[line].masses.dyes);
        let dyes = gathered(all.map(|dye| (&dye.colour, &dye.dye)));
        dyes.into_iter().map(|(colour, amounts)| (colour.clone(), Amount::sum(Unit::Gram, amounts))).collect()
    }
}

/// Garments counted by their lines.
fn items(owners: &[usize]) -> Vec<LoadItem> {
    let by_line = gathered(owners.iter().map(|&line| (line, ())));
    // An order has at most some thousands of garments.
    let item = |(line, of): (usize, Vec<()>)| LoadItem { line, count: u32::try_from(of.len()).unwrap_or(u32::MAX) };
    by_line.into_iter().map(item).collect()
}
