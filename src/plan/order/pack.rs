//! What fits together: garments into as few tub loads as possible.

use serde::Serialize;

/// Loads as indices of items.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Packing {
    /// The loads, each with its items in their order.
    pub bins: Vec<Vec<usize>>,
    /// Whether fewer loads are shown to be impossible.
    pub fewest: bool,
}

/// Largest number of items that is searched through exactly when the quick way is not shown to be best.
const EXACT_ITEMS: usize = 18;
/// Most states the exact search looks at.
const MOST_STATES: u32 = 200_000;

/// Packs items of these masses, g, into the fewest loads of at most `most_g` and `most_items`.
///
/// First-fit decreasing (at most 11/9 of the fewest, plus one: Johnson 1973, from memory); where its number is above the bound
/// `ceil(total / most_g)` and there are at most 18 items, a branch and bound over all assignments. An item heavier than `most_g` gets
/// a load of its own; the caller refuses it beforehand.
#[must_use]
pub fn pack(masses_g: &[f64], most_g: f64, most_items: usize) -> Packing {
    let mut order: Vec<usize> = (0..masses_g.len()).collect();
    order.sort_by(|&a, &b| masses_g[b].total_cmp(&masses_g[a]).then(a.cmp(&b)));
    let limits = Limits { most_g: most_g * (1.0 + 1e-9), most_items: most_items.max(1) };
    let mut bins = first_fit(&order, masses_g, limits);
    let bound = least_bins(masses_g, limits);
    let mut fewest = bins.len() <= bound;
    if !fewest && masses_g.len() <= EXACT_ITEMS {
        let mut search = Search { order: &order, masses_g, limits, best: bins, states: 0, bound };
        search.place(0, &mut Vec::new());
        fewest = search.states < MOST_STATES || search.best.len() <= bound;
        bins = search.best;
    }
    for bin in &mut bins {
        bin.sort_unstable();
    }
    bins.sort();
    Packing { bins, fewest }
}

#[derive(Clone, Copy)]
struct Limits {
    most_g: f64,
    most_items: usize,
}

impl Limits {
    fn takes(self, bin: &[usize], item: usize, masses_g: &[f64]) -> bool {
        let mass_g: f64 = bin.iter().map(|&i| masses_g[i]).sum();
        bin.len() < self.most_items && (bin.is_empty() || mass_g + masses_g[item] <= self.most_g)
    }
}

fn first_fit(order: &[usize], masses_g: &[f64], limits: Limits) -> Vec<Vec<usize>> {
    let mut bins: Vec<Vec<usize>> = Vec::new();
    for &item in order {
        match bins.iter_mut().find(|bin| limits.takes(bin, item, masses_g)) {
            Some(bin) => bin.push(item),
            None => bins.push(vec![item]),
        }
    }
    bins
}

/// No packing has fewer loads than this.
fn least_bins(masses_g: &[f64], limits: Limits) -> usize {
    let total_g: f64 = masses_g.iter().sum();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of loads, at most the count of items")]
    let by_mass = (total_g / limits.most_g).ceil().clamp(0.0, masses_g.len() as f64) as usize;
    by_mass.max(masses_g.len().div_ceil(limits.most_items))
}

struct Search<'a> {
    order: &'a [usize],
    masses_g: &'a [f64],
    limits: Limits,
    best: Vec<Vec<usize>>,
    states: u32,
    bound: usize,
}

impl Search<'_> {
    /// Tries item `depth` in every load that takes it, and in one more.
    fn place(&mut self, depth: usize, bins: &mut Vec<Vec<usize>>) {
        self.states += 1;
        if bins.len() >= self.best.len() || self.best.len() <= self.bound || self.states >= MOST_STATES {
            return;
        }
        let Some(&item) = self.order.get(depth) else {
            self.best = bins.clone();
            return;
        };
        for at in 0..bins.len() {
            if self.limits.takes(&bins[at], item, self.masses_g) {
                bins[at].push(item);
                self.place(depth + 1, bins);
                bins[at].pop();
            }
        }
        bins.push(vec![item]);
        self.place(depth + 1, bins);
        bins.pop();
    }
}
