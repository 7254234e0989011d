//! What a garment costs and what to ask for it.

use super::{Load, Material, MaterialTotal, Money, Order, OrderLine, Pack, Totals, cheapest_packs};
use crate::measure::total;
use crate::plan::hot_soak::hot_soak_rounds;
use crate::plan::wait::StepWait;
use crate::plan::{Step, Unit, blank_name, short};
use serde::Serialize;

/// One garment of a line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LineCost {
    /// The layout's name.
    pub name: String,
    /// The garment undyed: as the order says, else as the shelf does; none where neither gives a price, and then not counted.
    pub blank: Option<f64>,
    /// Dye, soda ash, discharge agent, ice and thread, at the price of the best pack.
    pub materials: f64,
    /// Of these, what no price is known for: not counted.
    pub unpriced: Vec<Material>,
    /// Hands-on time, h.
    pub labour_h: f64,
    /// Hands-on time in money.
    pub labour: f64,
    /// All three.
    pub cost: f64,
    /// Cost and margin: the price to ask.
    pub price: f64,
    /// The formula with the numbers put in.
    pub formula: String,
}

/// Costs of an order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CostSheet {
    /// The currency.
    pub currency: String,
    /// One garment of each line.
    pub lines: Vec<LineCost>,
    /// All hands-on time of the order, h.
    pub hours: f64,
    /// All garments at the price to ask.
    pub price: f64,
    /// Materials that no price is known for.
    pub unpriced: Vec<Material>,
    /// Undyed garments that no price is known for, as the shelf names them.
    pub unpriced_garments: Vec<String>,
}

impl LineCost {
    /// Garment, materials, labour, cost and asking price in words: two decimals, and `no price` in place of a nought that stands for an
    /// unknown price.
    #[must_use]
    pub fn words(&self) -> LineCostWords {
        let known = |value: f64| format!("{value:.2}");
        let materials =
            if self.materials == 0.0 && !self.unpriced.is_empty() { NO_PRICE.to_owned() } else { known(self.materials) };
        LineCostWords {
            blank: self.blank.map_or_else(|| NO_PRICE.to_owned(), known),
            materials,
            labour: known(self.labour),
            cost: known(self.cost),
            price: known(self.price),
        }
    }
}

/// What stands where a price is unknown.
const NO_PRICE: &str = "no price";

/// A [`LineCost`] as its row says it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineCostWords {
    /// The garment undyed.
    pub blank: String,
    /// Dye and all else.
    pub materials: String,
    /// Hands-on time.
    pub labour: String,
    /// All three.
    pub cost: String,
    /// The price to ask.
    pub price: String,
}

impl CostSheet {
    /// What the prices leave out, in words; nothing where every price is known.
    #[must_use]
    pub fn not_counted(&self) -> Option<String> {
        let materials = self.unpriced.iter().map(ToString::to_string);
        let names: Vec<String> = self.unpriced_garments.iter().cloned().chain(materials).collect();
        (!names.is_empty()).then(|| format!("Not counted, price unknown: {}", names.join("; ")))
    }

    /// All hours and the price of all garments, in words.
    #[must_use]
    pub fn total_words(&self) -> String {
        let Self { hours, price, currency, .. } = self;
        let missing = if self.not_counted().is_some() { ", without what has no price" } else { "" };
        format!("Total: {} h of work, asking price {price:.2} {currency}{missing}.", short(*hours))
    }
}

/// Costs and prices; none if the order does not say what work is worth.
///
/// `price = (garment + materials + hours x rate) x (1 + margin / 100)`. Materials count by what is used, at the price of the packs that are bought;
/// what is done for a whole load or order is shared evenly by its garments.
#[must_use]
pub fn costs(order: &Order, totals: &Totals) -> Option<CostSheet> {
    let money = order.raw().money.as_ref()?;
    let prices = UnitPrices::of(order, totals);
    let labour: Vec<f64> = (0..order.processes().len()).map(|process| labour_min(order, process)).collect();
    let line_cost = |line: &OrderLine| line_cost(order, line, &prices, labour[line.process] / 60.0, money);
    let lines: Vec<LineCost> = order.lines().iter().map(line_cost).collect();
    let each = |pick: &dyn Fn(&LineCost) -> f64| -> f64 {
        total(lines.iter().zip(order.lines()).map(|(cost, line)| pick(cost) * f64::from(line.count)))
    };
    Some(CostSheet {
        currency: money.currency.clone(),
        hours: each(&|line| line.labour_h),
        price: each(&|line| line.price),
        unpriced: prices.unpriced().collect(),
        unpriced_garments: unpriced_garments(order, &lines),
        lines,
    })
}

fn line_cost(order: &Order, line: &OrderLine, prices: &UnitPrices, labour_h: f64, money: &Money) -> LineCost {
    let blank = blank_price(order, line);
    let materials = materials(order, line, prices);
    let labour = labour_h * money.hourly_rate;
    let cost = blank.unwrap_or(0.0) + materials + labour;
    // Asked in whole hundredths, so that the sum is that of what stands on the list.
    let price = (cost * (1.0 + money.margin_percent / 100.0) * 100.0).round() / 100.0;
    let formula = format!(
        "({} + {materials:.2} materials + {labour_h:.2} h x {:.2}) x (1 + {} / 100) = {price:.2}",
        blank.map_or_else(|| "garment without a price".to_owned(), |blank| format!("{blank:.2} garment")),
        money.hourly_rate,
        money.margin_percent
    );
    let unpriced = prices.unpriced().filter(|material| is_in(line, material)).collect();
    LineCost { name: line.layout.name().to_owned(), blank, materials, unpriced, labour_h, labour, cost, price, formula }
}

/// What one garment of a line costs undyed: as the order says, else as the shelf does.
fn blank_price(order: &Order, line: &OrderLine) -> Option<f64> {
    line.blank_price.or_else(|| order.shelf().blank(&blank_name(&line.layout))?.price)
}

/// The undyed garments without a price, each kind once.
fn unpriced_garments(order: &Order, lines: &[LineCost]) -> Vec<String> {
    let unpriced = order.lines().iter().zip(lines).filter(|(_, cost)| cost.blank.is_none());
    let mut names: Vec<String> = Vec::new();
    for name in unpriced.map(|(line, _)| blank_name(&line.layout)) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

/// Whether a material may go into garments of a line: a dye only into those that have it.
fn is_in(line: &OrderLine, material: &Material) -> bool {
    match material {
        Material::Dye(colour) => line.masses.dyes.iter().any(|dye| dye.colour == *colour),
        _ => true,
    }
}

/// What a gram of each material of an order costs, or a metre of thread; none where no price is known.
struct UnitPrices(Vec<(Material, Option<f64>)>);

impl UnitPrices {
    fn of(order: &Order, totals: &Totals) -> Self {
        let price = |needed: &MaterialTotal| (needed.material.clone(), unit_price(order, needed));
        Self(totals.materials.iter().map(price).collect())
    }

    fn price(&self, material: &Material) -> f64 {
        let of = self.0.iter().find(|(known, _)| known == material);
        of.and_then(|(_, price)| *price).unwrap_or(0.0)
    }

    fn unpriced(&self) -> impl Iterator<Item = Material> {
        self.0.iter().filter(|(_, price)| price.is_none()).map(|(material, _)| material.clone())
    }
}

/// Price of a gram, or of a metre or yard of thread: of the packs that are bought for the order; of what is on hand that of the best pack.
fn unit_price(order: &Order, needed: &MaterialTotal) -> Option<f64> {
    let supply = order.supply(&needed.material)?.counted_in(needed.amount.unit);
    let bought = cheapest_packs(needed.amount.value - supply.on_hand, &supply.packs);
    let all = |of: &dyn Fn(&Pack) -> f64| total(bought.iter().map(|buy| f64::from(buy.count) * of(&buy.pack)));
    let holds = all(&|pack| pack.holds);
    if holds > 0.0 {
        return Some(all(&|pack| pack.price) / holds);
    }
    supply.packs.iter().map(|pack| pack.price / pack.holds).reduce(f64::min)
}

/// Materials of one garment of a line, in money. Baths are shared by dry cloth.
fn materials(order: &Order, line: &OrderLine, prices: &UnitPrices) -> f64 {
    let price = |material: &Material| prices.price(material);
    let masses = &line.masses;
    let dyes = total(masses.dyes.iter().map(|dye| dye.dye.value * price(&Material::Dye(dye.colour.clone()))));
    let ice = total(masses.ice.iter().map(|layer| layer.ice.value));
    let loads = || order.loads().iter().filter(|load| load.process == line.process);
    let cloth_g = total(loads().map(|load| load.dry_g));
    let share = if cloth_g > 0.0 { masses.dry_g / cloth_g } else { 0.0 };
    let soaks = total(loads().filter_map(|load| load.soak.as_ref()).map(|soak| soak.soda_ash.value));
    let baths = total(loads().filter_map(|load| load.discharge.as_ref()?.soda_ash.as_ref()).map(|soda| soda.value));
    let agent = total(loads().filter_map(|load| load.discharge.as_ref()).map(|bath| bath.mass.value));
    let urea = total(masses.solutions.iter().map(|of| of.urea.value));
    dyes + ice * price(&Material::Ice)
        + masses.thread.value_in(Unit::of_thread(order.lengths())) * price(&Material::Thread)
        + ((soaks + baths) * share + masses.soda_strewn.value) * price(&Material::SodaAsh)
        + agent * share * price(&Material::DischargeAgent)
        + urea * price(&Material::Urea)
}

/// Hands-on time for one garment of a process, min.
fn labour_min(order: &Order, process_index: usize) -> f64 {
    let process = &order.processes()[process_index];
    let loads = || order.loads().iter().filter(|load| load.process == process_index);
    let garments: u32 = loads().map(|load| load.garments).sum();
    let garments = f64::from(garments.max(1));
    let step_min = |step: &Step| {
        let rounds = total(loads().map(|load| f64::from(hot_soak_rounds(order, step, &[load]))));
        let times = if step.once { 1.0 } else { rounds };
        let attended = |load: &Load| StepWait::of(order, step, &[load]).map_or(0, |wait| wait.attended_min);
        let attended_min = total(loads().filter(|_| !step.once).map(|load| f64::from(attended(load))));
        (f64::from(step.hands.load_min) * times + attended_min) / garments + f64::from(step.hands.garment_min)
    };
    total(process.steps.iter().map(step_min))
}
