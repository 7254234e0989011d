//! What a garment costs and what to ask for it.

use super::{Load, Material, MaterialTotal, Money, Order, OrderLine, Pack, Totals, cheapest_packs};
use crate::measure::total;
use crate::plan::hot_soak::hot_soak_rounds;
use crate::plan::wait::StepWait;
use crate::plan::{Step, Unit};
use serde::Serialize;

/// One garment of a line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LineCost {
    /// The layout's name.
    pub name: String,
    /// The garment undyed; 0 if no price is given.
    pub blank: f64,
    /// Dye, soda ash, discharge agent, ice and thread, at the price of the best pack.
    pub materials: f64,
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
        lines,
    })
}

fn line_cost(order: &Order, line: &OrderLine, prices: &UnitPrices, labour_h: f64, money: &Money) -> LineCost {
    let blank = line.blank_price.unwrap_or(0.0);
    let materials = materials(order, line, prices);
    let labour = labour_h * money.hourly_rate;
    let cost = blank + materials + labour;
    // Asked in whole hundredths, so that the sum is that of what stands on the list.
    let price = (cost * (1.0 + money.margin_percent / 100.0) * 100.0).round() / 100.0;
    let formula = format!(
        "({blank:.2} garment + {materials:.2} materials + {labour_h:.2} h x {:.2}) x (1 + {} / 100) = {price:.2}",
        money.hourly_rate, money.margin_percent
    );
    LineCost { name: line.layout.name().to_owned(), blank, materials, labour_h, labour, cost, price, formula }
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

/// Price of a gram, or of a metre of thread: of the packs that are bought for the order; of what is on hand that of the best pack.
fn unit_price(order: &Order, needed: &MaterialTotal) -> Option<f64> {
    let supply = order.raw().supplies.iter().find(|supply| supply.material == needed.material)?;
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
        + masses.thread.value_in(Unit::Metre) * price(&Material::Thread)
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
