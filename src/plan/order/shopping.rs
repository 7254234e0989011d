//! What to buy: what is needed less what is on the shelf, in the packs that it is sold in.

use super::{Material, MaterialTotal, MaterialUse, Order, Pack, Totals};
use crate::measure::total;
use crate::plan::{Amount, Unit, pack_words};
use serde::Serialize;

/// So many packs of one size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PackBuy {
    /// How many.
    pub count: u32,
    /// The pack.
    pub pack: Pack,
}

/// One line of the shopping list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ShoppingLine {
    /// The material.
    pub material: Material,
    /// Needed for the order.
    pub needed: Amount,
    /// What for, where it is needed for several things; they add up to what is needed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub uses: Vec<MaterialUse>,
    /// On the shelf, in the same unit.
    pub on_hand: f64,
    /// Missing, in the same unit.
    pub missing: f64,
    /// Packs to buy; none when nothing is missing or the packs are not known.
    pub packs: Vec<PackBuy>,
    /// What the packs cost; none when packs are not known.
    pub price: Option<f64>,
}

impl ShoppingLine {
    /// What it is needed for, in words: `25 g for the discharge + 10 g for a scrap`; none where it is for one thing alone.
    #[must_use]
    pub fn uses_words(&self) -> Option<String> {
        let uses: Vec<String> = self.uses.iter().map(|of| format!("{} {}", of.amount, of.what)).collect();
        (!uses.is_empty()).then(|| uses.join(" + "))
    }

    /// What to buy, in words: `2 x 50 g + 1 x 1 oz`, or how much where the packs are not known; none where nothing is missing.
    #[must_use]
    pub fn to_buy_words(&self) -> Option<String> {
        let unit = self.needed.unit;
        let pack = |buy: &PackBuy| format!("{} x {}", buy.count, pack_words(buy.pack.holds, unit));
        let packs = || self.packs.iter().map(pack).collect::<Vec<_>>().join(" + ");
        (self.missing > 0.0).then(|| if self.packs.is_empty() { unit.say(self.missing) } else { packs() })
    }
}

/// What is to be said once, below a shopping list: what has no pack sizes; none where all that is missing has.
#[must_use]
pub fn packs_unknown(list: &[ShoppingLine]) -> Option<String> {
    let missing = || list.iter().filter(|line| line.missing > 0.0);
    let unknown: Vec<String> = missing().filter(|line| line.packs.is_empty()).map(|line| line.material.to_string()).collect();
    match unknown.len() {
        0 => None,
        count if count == missing().count() => Some("No pack sizes given: buy at least these amounts.".to_owned()),
        _ => Some(format!("No pack sizes given for: {}.", unknown.join("; "))),
    }
}

/// The shopping list: every material of the order, in the order of the totals.
#[must_use]
pub fn shopping_list(order: &Order, totals: &Totals) -> Vec<ShoppingLine> {
    totals.materials.iter().map(|total| line(order, total)).collect()
}

fn line(order: &Order, MaterialTotal { material, amount: needed, uses }: &MaterialTotal) -> ShoppingLine {
    let supply = order.supply(material).map(|supply| supply.counted_in(needed.unit));
    let on_hand = supply.as_ref().map_or(0.0, |supply| supply.on_hand);
    let missing = missing(needed.unit, needed.value, on_hand);
    let known = supply.as_ref().map_or(&[][..], |supply| &supply.packs);
    let packs = cheapest_packs(missing, known);
    let price =
        (missing == 0.0 || !known.is_empty()).then(|| total(packs.iter().map(|buy| f64::from(buy.count) * buy.pack.price)));
    ShoppingLine { material: material.clone(), needed: needed.clone(), uses: uses.clone(), on_hand, missing, packs, price }
}

/// How much has to be bought; nothing where both amounts are said alike: what is weighed out is no finer.
fn missing(unit: Unit, needed: f64, on_hand: f64) -> f64 {
    if unit.say(needed) == unit.say(on_hand) { 0.0 } else { (needed - on_hand).max(0.0) }
}

/// Most states looked at before the best found so far is taken.
const MOST_STATES: u32 = 100_000;
/// Most packs of one size.
const MOST_PACKS: f64 = 1e6;

/// The packs that cover an amount for the least money, the least left over among equals. Exact unless the search is cut off after
/// 100 000 states, which takes hundreds of packs of many sizes.
#[must_use]
pub fn cheapest_packs(amount: f64, packs: &[Pack]) -> Vec<PackBuy> {
    if amount <= 0.0 || packs.is_empty() {
        return Vec::new();
    }
    let mut sizes = packs.to_vec();
    // The cheapest by content first: it makes the first answer good and the bound sharp.
    sizes.sort_by(|a, b| (a.price / a.holds).total_cmp(&(b.price / b.holds)).then(b.holds.total_cmp(&a.holds)));
    let mut search = Search { sizes: &sizes, best: None, states: 0 };
    search.go(0, amount, 0.0, &mut vec![0; sizes.len()]);
    let counts = search.best.map_or_else(Vec::new, |best| best.counts);
    let bought = sizes.iter().zip(counts).filter(|(_, count)| *count > 0);
    bought.map(|(&pack, count)| PackBuy { count, pack }).collect()
}

struct Best {
    price: f64,
    over: f64,
    counts: Vec<u32>,
}

struct Search<'a> {
    sizes: &'a [Pack],
    best: Option<Best>,
    states: u32,
}

impl Search<'_> {
    fn go(&mut self, depth: usize, left: f64, price: f64, counts: &mut Vec<u32>) {
        self.states += 1;
        if left <= 0.0 {
            let better = |best: &Best| (price, -left) < (best.price, best.over);
            if self.best.as_ref().is_none_or(better) {
                self.best = Some(Best { price, over: -left, counts: counts.clone() });
            }
            return;
        }
        let Some(size) = self.sizes.get(depth) else { return };
        // Sizes are sorted: nothing further on is cheaper by content.
        let least = price + left * size.price / size.holds;
        if self.states >= MOST_STATES || self.best.as_ref().is_some_and(|best| least > best.price) {
            return;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded by MOST_PACKS")]
        let most = (left / size.holds).ceil().min(MOST_PACKS) as u32;
        for count in (0..=most).rev() {
            counts[depth] = count;
            let n = f64::from(count);
            self.go(depth + 1, left - n * size.holds, price + n * size.price, counts);
            if self.states >= MOST_STATES {
                break;
            }
        }
        counts[depth] = 0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 2 mg of 12.55 g are no shopping; where nothing is at hand everything is.
    #[test]
    fn what_no_scale_shows_is_not_bought() {
        let missing = |needed, on_hand| missing(Unit::Gram, needed, on_hand);
        assert_eq!(missing(12.552, 12.55), 0.0);
        assert_eq!(missing(12.55, 12.0), 12.55 - 12.0);
        assert_eq!(missing(0.004, 0.0), 0.004);
        assert_eq!(missing(5.0, 8.0), 0.0);
    }

    #[test]
    fn packs_cover_the_amount_for_the_least_money() {
        let packs = [Pack { holds: 50.0, price: 4.9 }, Pack { holds: 250.0, price: 19.0 }];
        let bought = |amount| cheapest_packs(amount, &packs).iter().map(|buy| (buy.count, buy.pack.holds)).collect::<Vec<_>>();
        assert_eq!(bought(0.0), []);
        assert_eq!(bought(10.0), [(1, 50.0)]);
        // Three small ones are 14.70, four 19.60: then the large one is cheaper.
        assert_eq!(bought(150.0), [(3, 50.0)]);
        assert_eq!(bought(151.0), [(1, 250.0)]);
        assert_eq!(bought(260.0), [(1, 250.0), (1, 50.0)]);
    }
}
