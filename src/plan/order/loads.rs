//! Tub loads: which garments share a bath, and what that bath takes.

use super::raw::WorkshopV1;
use super::{OrderLine, pack};
use crate::plan::recipe::BathVolume;
use crate::plan::{
    Amount, DischargeBath, Need, PlanFileError, PlanProblem, Process, Recipe, SoakBath, Unit, discharge_bath, liquor_l, soak_bath,
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

/// Packs the garments of each process into the fewest loads that tub and rack take.
///
/// # Errors
/// [`PlanProblem::TubTooSmall`] if one garment alone is too much for a tub.
pub fn loads(lines: &[OrderLine], processes: &[Process], recipe: &Recipe, shop: &WorkshopV1) -> Result<Vec<Load>, PlanFileError> {
    let mut all = Vec::new();
    for (index, process) in processes.iter().enumerate() {
        let owners: Vec<usize> = lines
            .iter()
            .enumerate()
            .filter(|(_, line)| line.process == index)
            .flat_map(|(at, line)| (0..line.count).map(move |_| at))
            .collect();
        let masses_g: Vec<f64> = owners.iter().map(|&at| lines[at].masses.dry_g).collect();
        let most_g = most_cloth_g(process, recipe, shop, &masses_g)?;
        let packing = pack(&masses_g, most_g, shop.rack_rods as usize);
        let context = Context { lines, process, process_index: index, recipe, fewest: packing.fewest };
        for bin in &packing.bins {
            let in_bin: Vec<usize> = bin.iter().map(|&item| owners[item]).collect();
            let number = u32::try_from(all.len() + 1).unwrap_or(u32::MAX);
            all.push(context.load(number, &in_bin));
        }
    }
    Ok(all)
}

/// Dry cloth that a tub takes, g: its water over the thirstiest bath's litres per kg; no bound without a bath.
fn most_cloth_g(process: &Process, recipe: &Recipe, shop: &WorkshopV1, masses_g: &[f64]) -> Result<f64, PlanFileError> {
    let soak = match &recipe.soda_ash.bath {
        BathVolume::Liquor { litres_per_kg } if process.uses(Need::SodaSoak) => Some(litres_per_kg.value),
        _ => None,
    };
    let discharge = recipe.discharge.as_ref().filter(|_| process.uses(Need::Discharge)).map(|rule| rule.litres_per_kg.value);
    let Some(litres_per_kg) = soak.into_iter().chain(discharge).reduce(f64::max) else { return Ok(f64::INFINITY) };
    let most_g = shop.tub_l / litres_per_kg * 1000.0;
    let heaviest_g = masses_g.iter().copied().fold(0.0, f64::max);
    if heaviest_g > most_g {
        let needed_l = liquor_l(heaviest_g, litres_per_kg);
        let problem = PlanProblem::TubTooSmall { garment_g: heaviest_g, needed_l, litres_per_kg, tub_l: shop.tub_l };
        return Err(PlanFileError::new("workshop.tub_l", problem));
    }
    Ok(most_g)
}

/// What the loads of one process have in common.
struct Context<'a> {
    lines: &'a [OrderLine],
    process: &'a Process,
    process_index: usize,
    recipe: &'a Recipe,
    fewest: bool,
}

impl Context<'_> {
    /// The load of garments given by their lines.
    fn load(&self, number: u32, owners: &[usize]) -> Load {
        let dry_g = owners.iter().map(|&line| self.lines[line].masses.dry_g).sum();
        let items = items(owners);
        Load {
            number,
            process: self.process_index,
            garments: items.iter().map(|item| item.count).sum(),
            items,
            dry_g,
            soak: self.process.uses(Need::SodaSoak).then(|| soak_bath(self.recipe, dry_g)),
            discharge: if self.process.uses(Need::Discharge) { discharge_bath(self.recipe, dry_g) } else { None },
            dyes: self.dyes(owners),
            fewest: self.fewest,
        }
    }

    /// Dye by colour, in the order of first appearance.
    fn dyes(&self, owners: &[usize]) -> Vec<(String, Amount)> {
        let all = || owners.iter().flat_map(|&line| &self.lines[line].masses.dyes);
        let mut colours: Vec<&str> = Vec::new();
        for dye in all() {
            if !colours.contains(&dye.colour.as_str()) {
                colours.push(&dye.colour);
            }
        }
        let total = |colour: &str| Amount::sum(Unit::Gram, all().filter(|dye| dye.colour == colour).map(|dye| &dye.dye));
        colours.into_iter().map(|colour| (colour.to_owned(), total(colour))).collect()
    }
}

/// Garments counted by their lines.
fn items(owners: &[usize]) -> Vec<LoadItem> {
    let mut items: Vec<LoadItem> = Vec::new();
    for &line in owners {
        match items.iter_mut().find(|item| item.line == line) {
            Some(item) => item.count += 1,
            None => items.push(LoadItem { line, count: 1 }),
        }
    }
    items
}
