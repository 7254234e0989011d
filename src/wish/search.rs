//! The cheapest way to tie a rod, exactly: dynamic programming over the marks on which binds may lie.
//!
//! Every way is a rising choice of marks; between neighbouring binds, before the first and beyond the last lies a section, whose cost, with the
//! best choice within it, depends on the two alone. So the best way to any mark is the best way to an earlier one and the section between
//! (Bellman's principle of optimality, R. Bellman, Dynamic Programming, Princeton 1957). With at most so many binds, the number of binds is part of
//! the state.

use rayon::prelude::*;

/// What tying a rod costs, by the numbers of its marks.
pub trait Rod: Sync {
    /// How many marks there are.
    fn marks(&self) -> usize;

    /// A bind's own cost.
    fn bind(&self, mark: usize) -> f64;

    /// The cost of the section between two binds, or to the rod's own end where there is none, and the best choice for it. None where two
    /// binds can't be tied so near to each other, or none may be left out between them.
    fn section(&self, from: Option<usize>, to: Option<usize>) -> Option<(f64, usize)>;
}

/// A way to tie a rod.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// The marks with binds, rising: at least one.
    pub binds: Vec<usize>,
    /// The choice for each section, one more than binds.
    pub choices: Vec<usize>,
    /// What it costs.
    pub cost: f64,
}

/// The best known way to a mark, its bind included.
#[derive(Debug, Clone, Copy)]
struct Best {
    cost: f64,
    /// The bind before, if there is one.
    before: Option<usize>,
    choice: usize,
}

const NO_WAY: Best = Best { cost: f64::INFINITY, before: None, choice: 0 };

/// A section between two marks; infinitely dear where there can be none.
type Section = (f64, usize);
const NO_SECTION: Section = (f64::INFINITY, 0);

/// The cheapest way with at least one bind, and at most so many where that is said; none where there is no way. Of ways that cost the same the
/// one with fewer binds is taken.
///
/// A cost that is not a number counts as infinite.
#[must_use]
pub fn cheapest(rod: &dyn Rod, most_binds: Option<usize>) -> Option<Way> {
    let marks = rod.marks();
    let section = |from, to| rod.section(from, to).filter(|(cost, _)| cost.is_finite()).unwrap_or(NO_SECTION);
    let first: Vec<Section> = (0..marks).map(|to| section(None, Some(to))).collect();
    let last: Vec<Section> = (0..marks).map(|from| section(Some(from), None)).collect();
    let between: Vec<Vec<Section>> =
        (0..marks).into_par_iter().map(|to| (0..to).map(|from| section(Some(from), Some(to))).collect()).collect();
    let binds: Vec<f64> = (0..marks).map(|mark| rod.bind(mark)).collect();
    let begun = (0..marks).map(|to| Best { cost: first[to].0 + binds[to], before: None, choice: first[to].1 });
    let mut layers: Vec<Vec<Best>> = vec![begun.collect()];
    match most_binds {
        None => join_all(&mut layers[0], &between, &binds),
        Some(most) => {
            for _ in 1..most.min(marks) {
                let next = next_layer(&layers[layers.len() - 1], &between, &binds);
                if next.iter().all(|best| best.cost.is_infinite()) {
                    break;
                }
                layers.push(next);
            }
        }
    }
    trace(&layers, &last, most_binds.is_some())
}

/// Lets every mark be reached over any number of others; marks are settled from the tip on.
fn join_all(bests: &mut [Best], between: &[Vec<Section>], binds: &[f64]) {
    for to in 0..bests.len() {
        for from in 0..to {
            let (cost, choice) = between[to][from];
            let cost = bests[from].cost + cost + binds[to];
            if cost < bests[to].cost {
                bests[to] = Best { cost, before: Some(from), choice };
            }
        }
    }
}

/// The best ways with one bind more.
fn next_layer(layer: &[Best], between: &[Vec<Section>], binds: &[f64]) -> Vec<Best> {
    let mut next = vec![NO_WAY; layer.len()];
    for to in 0..layer.len() {
        for from in 0..to {
            let (cost, choice) = between[to][from];
            let cost = layer[from].cost + cost + binds[to];
            if cost < next[to].cost {
                next[to] = Best { cost, before: Some(from), choice };
            }
        }
    }
    next
}

/// Walks back from the cheapest end. With layers every step goes down one; without, all ways stand in the one.
fn trace(layers: &[Vec<Best>], last: &[Section], has_layers: bool) -> Option<Way> {
    let ends = layers.iter().enumerate().flat_map(|(layer, bests)| {
        bests.iter().zip(last).enumerate().map(move |(mark, (best, last))| (best.cost + last.0, layer, mark))
    });
    let mut cheapest: Option<(f64, usize, usize)> = None;
    for end in ends.filter(|end| end.0.is_finite()) {
        if cheapest.is_none_or(|(cost, ..)| end.0 < cost) {
            cheapest = Some(end);
        }
    }
    let (cost, mut layer, mut mark) = cheapest?;
    let (mut binds, mut choices) = (Vec::new(), vec![last[mark].1]);
    loop {
        let best = layers[layer][mark];
        binds.push(mark);
        choices.push(best.choice);
        let Some(before) = best.before else { break };
        mark = before;
        layer = if has_layers { layer.saturating_sub(1) } else { 0 };
    }
    binds.reverse();
    choices.reverse();
    Some(Way { binds, choices, cost })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seeded::seeded;
    use proptest::prelude::*;

    /// A rod whose costs are written down.
    #[derive(Debug, Clone)]
    struct Table {
        marks: usize,
        binds: Vec<f64>,
        /// By the section's ends, the rod's own counted first and last.
        sections: Vec<Option<f64>>,
        least_gap: usize,
    }

    impl Rod for Table {
        fn marks(&self) -> usize {
            self.marks
        }

        fn bind(&self, mark: usize) -> f64 {
            self.binds[mark]
        }

        fn section(&self, from: Option<usize>, to: Option<usize>) -> Option<(f64, usize)> {
            if let (Some(from), Some(to)) = (from, to)
                && to - from < self.least_gap
            {
                return None;
            }
            let (row, column) = (from.map_or(0, |from| from + 1), to.unwrap_or(self.marks));
            self.sections[row * (self.marks + 1) + column].map(|cost| (cost, row * 31 + column))
        }
    }

    fn tables() -> impl Strategy<Value = Table> {
        (1_usize..=11, 1_usize..=3).prop_flat_map(|(marks, least_gap)| {
            // Quarters add up without rounding, and let ways cost the same.
            let cost = (0_i32..400).prop_map(|quarters| f64::from(quarters) * 0.25);
            let section = prop_oneof![6 => cost.clone().prop_map(Some), 1 => Just(None)];
            let sections = proptest::collection::vec(section, (marks + 1) * (marks + 1));
            let binds = proptest::collection::vec((-40_i32..80).prop_map(|quarters| f64::from(quarters) * 0.25), marks);
            (binds, sections).prop_map(move |(binds, sections)| Table { marks, binds, sections, least_gap })
        })
    }

    /// What a choice of marks costs; none where it can't be tied.
    fn cost_of(rod: &Table, binds: &[usize]) -> Option<f64> {
        let (first, last) = (*binds.first()?, *binds.last()?);
        let mut cost = rod.section(None, Some(first))?.0 + rod.section(Some(last), None)?.0;
        for pair in binds.windows(2) {
            cost += rod.section(Some(pair[0]), Some(pair[1]))?.0;
        }
        Some(cost + binds.iter().map(|bind| rod.binds[*bind]).sum::<f64>())
    }

    proptest! {
        #![proptest_config(seeded(71, 300))]

        /// Against every choice of marks there is.
        #[test]
        fn the_way_found_is_the_cheapest_of_all_subsets(rod in tables(), most in proptest::option::of(1_usize..=6)) {
            let subsets = (1_u32..1 << rod.marks).map(|bits| (0..rod.marks).filter(|mark| bits >> mark & 1 == 1).collect::<Vec<_>>());
            let allowed = subsets.filter(|binds| most.is_none_or(|most| binds.len() <= most));
            let least = allowed.filter_map(|binds| cost_of(&rod, &binds)).fold(f64::INFINITY, f64::min);
            match cheapest(&rod, most) {
                None => prop_assert!(least.is_infinite()),
                Some(way) => {
                    prop_assert_eq!(way.cost, least);
                    prop_assert_eq!(cost_of(&rod, &way.binds), Some(least));
                    prop_assert!(way.binds.windows(2).all(|pair| pair[1] >= pair[0] + rod.least_gap));
                    prop_assert!(most.is_none_or(|most| way.binds.len() <= most));
                    let ends: Vec<Option<usize>> = std::iter::once(None).chain(way.binds.iter().copied().map(Some)).chain([None]).collect();
                    let choices: Vec<usize> = ends.windows(2).filter_map(|pair| rod.section(pair[0], pair[1])).map(|found| found.1).collect();
                    prop_assert_eq!(way.choices, choices);
                }
            }
        }
    }

    #[test]
    fn a_rod_without_marks_has_no_way() {
        let rod = Table { marks: 0, binds: Vec::new(), sections: vec![Some(1.0)], least_gap: 1 };
        assert_eq!(cheapest(&rod, None), None);
        assert_eq!(cheapest(&rod, Some(3)), None);
    }

    #[test]
    fn costs_that_are_no_numbers_are_never_taken() {
        let rod = Table { marks: 2, binds: vec![0.0, 0.0], sections: vec![Some(f64::NAN); 9], least_gap: 1 };
        assert_eq!(cheapest(&rod, None), None);
    }
}
