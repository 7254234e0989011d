//! What a step has to have ready: for all its garments, and for each where it is portioned; and that in words.

use super::gathered::gathered;
use super::{
    Amount, DischargeBath, GarmentMasses, HotSoak, IceMass, Load, Need, Order, Process, Recipe, ScrapBath, SoakBath, Step, Unit,
    scrap_soak,
};
use serde::Serialize;

/// Something to have ready, by its name.
pub type Needed = (String, Amount);

/// What each of so many equal garments gets of what a step has ready.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Share {
    /// Index of the order's line.
    pub line: usize,
    /// The line's name.
    pub name: String,
    /// How many garments of it the step has.
    pub count: u32,
    /// For one of them.
    pub needs: Vec<Needed>,
}

impl GarmentMasses {
    /// The layer of ice that a need names; none for another need, and where there is no such layer.
    pub(super) fn ice_layer(&self, need: Need) -> Option<&IceMass> {
        match need {
            Need::Ice(layer) => self.ice.get((layer as usize).saturating_sub(1)),
            _ => None,
        }
    }

    /// What one garment takes of a need; nothing of what is for a bath.
    fn of_need(&self, need: Need) -> Vec<Needed> {
        match need {
            Need::Thread => vec![("thread".to_owned(), self.thread.clone())],
            Need::SodaStrewn if self.soda_strewn.value > 0.0 => vec![(SODA_STREWN.to_owned(), self.soda_strewn.clone())],
            Need::Ice(layer) => self.ice_layer(need).map(|ice| (ice_name(layer), ice.ice.clone())).into_iter().collect(),
            Need::Dye => self.dyes.iter().map(|dye| (dye_name(&dye.colour), dye.dye.clone())).collect(),
            Need::Stock => self.solutions.iter().map(|of| (solution_name(&of.colour), of.volume.clone())).collect(),
            Need::SodaStrewn
            | Need::BathWater
            | Need::Discharge
            | Need::SodaSoak
            | Need::HotSoak
            | Need::ScrapBath
            | Need::ScrapSoak
            | Need::ScrapDye => Vec::new(),
        }
    }
}

const SODA_STREWN: &str = "soda ash to sprinkle";

fn ice_name(layer: u32) -> String {
    format!("ice, layer {layer}")
}

fn dye_name(colour: &str) -> String {
    format!("dye, {colour}")
}

/// What a step uses of these loads, all garments together.
pub(super) fn needs(order: &Order, step: &Step, loads: &[&Load]) -> Vec<Needed> {
    step.needs.iter().flat_map(|&need| all_of(order, step, need, loads)).collect()
}

fn all_of(order: &Order, step: &Step, need: Need, loads: &[&Load]) -> Vec<Needed> {
    let masses = || {
        let items = loads.iter().flat_map(|load| &load.items);
        items.flat_map(|item| std::iter::repeat_n(&order.lines()[item.line].masses, item.count as usize))
    };
    let recipe = loads.first().map(|load| &order.recipes()[load.process]);
    match need {
        Need::Thread => {
            vec![("thread".to_owned(), Amount::sum(Unit::of_thread(order.lengths()), masses().map(|masses| &masses.thread)))]
        }
        Need::SodaStrewn => {
            let amount = Amount::sum(Unit::Gram, masses().map(|masses| &masses.soda_strewn));
            if amount.value > 0.0 { vec![(SODA_STREWN.to_owned(), amount)] } else { Vec::new() }
        }
        Need::Ice(layer) => {
            let ice = masses().filter_map(|masses| masses.ice_layer(need)).map(|ice| &ice.ice);
            vec![(ice_name(layer), Amount::sum(Unit::Gram, ice))]
        }
        Need::Dye => dyes(loads),
        // Mixed at the first step that uses it; at a later one it is there.
        Need::Stock => {
            let mixes = order.processes().iter().any(|process| is_first(process, step, need));
            stock(masses()).into_iter().filter(|(name, _)| mixes || name.starts_with(SOLUTION)).collect()
        }
        Need::BathWater => baths(loads).flat_map(|bath| water_needs(bath, "water")).collect(),
        Need::ScrapBath => {
            recipe.and_then(|recipe| recipe.discharge.as_ref()).map(|rule| scrap_needs(ScrapBath::of(rule))).unwrap_or_default()
        }
        Need::ScrapSoak => recipe.map(scrap_soak_needs).unwrap_or_default(),
        // A process without a step for the soak has it ready here.
        Need::ScrapDye => {
            let is_soaked = order.processes().iter().any(|process| process.steps.contains(step) && process.uses(Need::ScrapSoak));
            recipe.filter(|_| !is_soaked).map(scrap_soak_needs).unwrap_or_default()
        }
        // A process without a step for the water has it ready here.
        Need::Discharge => {
            let heated = order.processes().iter().any(|process| process.steps.contains(step) && process.uses(Need::BathWater));
            baths(loads).flat_map(|bath| discharge_needs(bath, !heated)).collect()
        }
        Need::SodaSoak => loads.iter().filter_map(|load| load.soak.as_ref()).flat_map(soak_needs).collect(),
        Need::HotSoak => loads.iter().map(|load| hot_soak_needs(&HotSoak::of(order, load))).collect(),
    }
}

fn dyes(loads: &[&Load]) -> Vec<Needed> {
    let all = loads.iter().flat_map(|load| &load.dyes).map(|(colour, amount)| (colour, amount));
    gathered(all).into_iter().map(|(colour, amounts)| (dye_name(colour), Amount::sum(Unit::Gram, amounts))).collect()
}

fn baths<'a>(loads: &'a [&Load]) -> impl Iterator<Item = &'a DischargeBath> {
    loads.iter().filter_map(|load| load.discharge.as_ref())
}

/// Whether a step is the first of its process that uses something.
fn is_first(process: &Process, step: &Step, need: Need) -> bool {
    process.steps.iter().find(|own| own.needs.contains(&need)) == Some(step)
}

/// Water, and the soda ash that is dissolved in it.
fn water_needs(bath: &DischargeBath, water: &str) -> Vec<Needed> {
    let soda = bath.soda_ash.clone().map(|soda| ("soda ash".to_owned(), soda));
    std::iter::once((water.to_owned(), bath.water.clone())).chain(soda).collect()
}

/// What goes into the water comes first into it: soda ash, then the agent.
fn discharge_needs(bath: &DischargeBath, with_water: bool) -> Vec<Needed> {
    let before = if with_water { water_needs(bath, "hot water") } else { Vec::new() };
    before.into_iter().chain([(bath.agent.name().to_owned(), bath.mass.clone())]).collect()
}

fn scrap_needs(bath: ScrapBath) -> Vec<Needed> {
    let soda = bath.soda_ash.map(|soda| ("soda ash".to_owned(), soda));
    std::iter::once(("water".to_owned(), bath.water)).chain(soda).chain([(bath.agent.name().to_owned(), bath.mass)]).collect()
}

fn scrap_soak_needs(recipe: &Recipe) -> Vec<Needed> {
    let (water, soda) = scrap_soak(recipe);
    vec![("water".to_owned(), water), ("soda ash".to_owned(), soda)]
}

/// `hot water, in 2 rounds of at most 7`: all of it together.
fn hot_soak_needs(soak: &HotSoak) -> Needed {
    let rounds = soak.in_rounds().map_or_else(String::new, |rounds| format!(", {rounds}"));
    (format!("hot water{rounds}"), soak.water.clone())
}

/// Of one colour's solution: its volume, and the dye and urea in it.
type Parts<'a> = (&'a Amount, &'a Amount, &'a Amount);

/// What is mixed of each colour: solution, and the dye and urea in it.
fn stock<'a>(masses: impl Iterator<Item = &'a GarmentMasses>) -> Vec<Needed> {
    let mut colours: Vec<(&str, Vec<Parts<'_>>)> = Vec::new();
    for masses in masses {
        for (of, dye) in masses.solutions.iter().zip(&masses.dyes) {
            let parts = (&of.volume, &dye.dye, &of.urea);
            match colours.iter_mut().find(|(name, _)| *name == of.colour) {
                Some((_, all)) => all.push(parts),
                None => colours.push((&of.colour, vec![parts])),
            }
        }
    }
    let needed = |(colour, parts): (&str, Vec<Parts<'_>>)| {
        let urea = Amount::sum(Unit::Gram, parts.iter().map(|part| part.2));
        let own = [
            (solution_name(colour), Amount::sum(Unit::Millilitre, parts.iter().map(|part| part.0))),
            (dye_name(colour), Amount::sum(Unit::Gram, parts.iter().map(|part| part.1))),
        ];
        own.into_iter().chain((urea.value > 0.0).then(|| (format!("urea, {colour}"), urea))).collect::<Vec<_>>()
    };
    colours.into_iter().flat_map(needed).collect()
}

const SOLUTION: &str = "solution, ";

fn solution_name(colour: &str) -> String {
    format!("{SOLUTION}{colour}")
}

fn soak_needs(soak: &SoakBath) -> [Needed; 2] {
    [("soda ash".to_owned(), soak.soda_ash.clone()), ("water".to_owned(), soak.water.clone())]
}

/// What each garment gets, by the order's lines; nothing for a step of one garment, or one that has only baths.
pub(super) fn shares(order: &Order, step: &Step, loads: &[&Load]) -> Vec<Share> {
    let mut counts: Vec<u32> = vec![0; order.lines().len()];
    for item in loads.iter().flat_map(|load| &load.items) {
        counts[item.line] += item.count;
    }
    if order.garments() < 2 {
        return Vec::new();
    }
    let share = |(line, count): (usize, u32)| {
        let of = &order.lines()[line];
        let needs: Vec<Needed> = step.needs.iter().flat_map(|&need| of.masses.of_need(need)).collect();
        (!needs.is_empty()).then(|| Share { line, name: of.layout.name().to_owned(), count, needs })
    };
    counts.into_iter().enumerate().filter(|(_, count)| *count > 0).filter_map(share).collect()
}

/// Whose amounts stand beside a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct For {
    /// How many garments the step has.
    pub(super) garments: u32,
    /// Whether it is done once, or for a load.
    pub(super) once: bool,
}

impl For {
    /// `the load of 5`, `all 33 garments`; none for one garment, where nothing has to be told apart.
    pub(super) fn words(self) -> Option<String> {
        match self {
            Self { garments: ..=1, .. } => None,
            Self { garments, once: true } => Some(format!("all {garments} garments")),
            Self { garments, once: false } => Some(format!("the load of {garments}")),
        }
    }

    /// `Have ready: ...`, `Have ready for the load of 5: ...`, or as a sum of what was told before.
    pub(super) fn sentence(self, listed: &str, is_sum: bool) -> String {
        match self.words() {
            None => format!("Have ready: {listed}."),
            Some(words) if is_sum => format!("Together for {words}: {listed}."),
            Some(words) => format!("Have ready for {words}: {listed}."),
        }
    }
}

/// `dye, teal: 1.09 g; soda ash to sprinkle: 2 g`.
pub(super) fn listed(needs: &[Needed]) -> String {
    needs.iter().map(|(name, amount)| format!("{name}: {amount}")).collect::<Vec<_>>().join("; ")
}

/// `For each of 5 x tee, M: ...`; for the only one its name alone.
pub(super) fn each(count: u32, name: &str, listed: &str) -> String {
    match count {
        1 => format!("For {name}: {listed}."),
        count => format!("For each of {count} x {name}: {listed}."),
    }
}
