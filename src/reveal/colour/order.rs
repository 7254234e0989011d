//! The order of the rotation that parts neighbouring colours best.

use super::neighbours::section_lab;
use super::{DyeSet, Lab, ciede2000};
use crate::layout::Colours;
use std::cmp::Ordering;
use std::collections::BTreeSet;

/// Most colours of which every order is tried: 40 320 orders.
pub const MOST_PERMUTED: usize = 8;

/// An order of the rotation, and what it parts.
#[derive(Debug, Clone, PartialEq)]
pub struct RotationOrder {
    /// Which colour of the present rotation goes to each place.
    pub order: Vec<usize>,
    /// The smallest CIEDE2000 between neighbouring sections in this order; none where no two sections meet.
    pub least_difference: Option<f64>,
    /// The same in the present order.
    pub present_least: Option<f64>,
}

/// What decides a section's colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Slot {
    /// Its turn: a place in the rotation.
    Turn(usize),
    /// Set by hand: a colour of the present rotation.
    Set(usize),
}

/// The order that makes the smallest difference between neighbouring sections as large as it can be.
///
/// Of orders that tie on the smallest, the one with the larger next smallest wins, and so on; of full ties the one nearest the
/// beginning of the dictionary, so that a rotation that is best already stays. Only neighbours that the rod really has count: a
/// rotation that is cut off at the last section has fewer than its full round, which end it starts from decides which. Sections set by
/// hand keep their colour, and colours that reach no section keep their place. Full doses at the given discharged share.
///
/// Up to [`MOST_PERMUTED`] places every order is tried. Beyond, two places are exchanged as long as that helps, from the present
/// order and from one that begins with each colour in turn and goes on with the colour farthest from the last: good, not proved
/// best.
#[must_use]
pub fn best_order(dyes: &DyeSet, colours: &Colours, sections: usize, discharged: f64) -> RotationOrder {
    let count = colours.rotation.len();
    let slots = slots(colours, sections);
    let search = Search::new(dyes, &slots, count, discharged);
    let turns = slots.iter().flatten().filter_map(|slot| if let Slot::Turn(turn) = slot { Some(turn + 1) } else { None }).max();
    let places = turns.unwrap_or(0);
    let present: Vec<usize> = (0..count).collect();
    let present_least = search.differences(&present).first().copied();
    let order = if places <= MOST_PERMUTED { search.every(present, places) } else { search.exchange_from_many(&present, places) };
    let least_difference = search.differences(&order).first().copied();
    RotationOrder { order, least_difference, present_least }
}

/// What decides each section's colour, from the centre outward; none of one that gets no dye.
fn slots(colours: &Colours, sections: usize) -> Vec<Option<Slot>> {
    let turns = colours.clone().in_turn().by_section(sections);
    let numbers = (1_u32..).zip(turns.into_iter().zip(colours.by_section(sections)));
    numbers
        .map(|(number, (turn, colour))| {
            let is_set = colours.single.contains_key(&number);
            Some(if is_set { Slot::Set(colour?) } else { colour.and(turn).map(Slot::Turn)? })
        })
        .collect()
}

struct Search {
    pairs: Vec<(Slot, Slot)>,
    /// Between colours of the present rotation.
    between: Vec<Vec<f64>>,
}

impl Search {
    fn new(dyes: &DyeSet, slots: &[Option<Slot>], count: usize, discharged: f64) -> Self {
        let mut pairs = BTreeSet::new();
        for pair in slots.windows(2) {
            // Bare cloth is no colour that an order could change.
            let (Some(one), Some(other)) = (pair[0], pair[1]) else { continue };
            let (one, other) = (one.min(other), one.max(other));
            // One colour next to itself, whatever the order, is meant so.
            if one != other {
                pairs.insert((one, other));
            }
        }
        let labs: Vec<Lab> = (0..count).map(|dye| section_lab(dyes, Some(dye), discharged)).collect();
        let between = labs.iter().map(|&one| labs.iter().map(|&other| ciede2000(one, other)).collect()).collect();
        Self { pairs: pairs.into_iter().collect(), between }
    }

    /// Differences between neighbours in an order, smallest first.
    fn differences(&self, order: &[usize]) -> Vec<f64> {
        let colour = |slot| match slot {
            Slot::Turn(turn) => order[turn],
            Slot::Set(colour) => colour,
        };
        let mut differences: Vec<f64> = self.pairs.iter().map(|&(one, other)| self.between[colour(one)][colour(other)]).collect();
        differences.sort_by(f64::total_cmp);
        differences
    }

    /// The best of all orders of the first `places`.
    fn every(&self, present: Vec<usize>, places: usize) -> Vec<usize> {
        let mut best = (self.differences(&present), present.clone());
        let mut order = present;
        while next_permutation(&mut order[..places]) {
            let differences = self.differences(&order);
            if smallest_first(&differences, &best.0) == Ordering::Greater {
                best = (differences, order.clone());
            }
        }
        best.1
    }

    fn exchange_from_many(&self, present: &[usize], places: usize) -> Vec<usize> {
        let mut best = self.exchanged(present.to_vec(), places);
        for first in 0..places {
            let other = self.exchanged(self.farthest_next(present, places, first), places);
            if smallest_first(&other.0, &best.0) == Ordering::Greater {
                best = other;
            }
        }
        best.1
    }

    /// An order that begins with one colour and goes on with the one farthest from the last.
    fn farthest_next(&self, present: &[usize], places: usize, first: usize) -> Vec<usize> {
        let mut order = present.to_vec();
        order[..places].swap(0, first);
        for place in 1..places {
            let last = order[place - 1];
            let farthest = (place..places).max_by(|&i, &j| {
                let farther = self.between[last][order[i]].total_cmp(&self.between[last][order[j]]);
                farther.then(j.cmp(&i))
            });
            order.swap(place, farthest.unwrap_or(place));
        }
        order
    }

    /// Exchanges two places at a time, always the two that help most, until none does.
    fn exchanged(&self, mut order: Vec<usize>, places: usize) -> (Vec<f64>, Vec<usize>) {
        let mut differences = self.differences(&order);
        loop {
            let mut best = None;
            for one in 0..places {
                for other in one + 1..places {
                    order.swap(one, other);
                    let found = self.differences(&order);
                    order.swap(one, other);
                    if smallest_first(&found, &differences) == Ordering::Greater {
                        differences = found;
                        best = Some((one, other));
                    }
                }
            }
            match best {
                Some((one, other)) => order.swap(one, other),
                None => return (differences, order),
            }
        }
    }
}

/// Compares by the smallest difference, then by the next.
fn smallest_first(one: &[f64], other: &[f64]) -> Ordering {
    let unequal = one.iter().zip(other).map(|(one, other)| one.total_cmp(other)).find(|order| order.is_ne());
    unequal.unwrap_or(Ordering::Equal)
}

/// The next order in the dictionary; false after the last.
fn next_permutation(order: &mut [usize]) -> bool {
    let Some(falls) = order.windows(2).rposition(|pair| pair[0] < pair[1]) else {
        return false;
    };
    if let Some(larger) = order.iter().rposition(|&entry| entry > order[falls]) {
        order.swap(falls, larger);
    }
    order[falls + 1..].reverse();
    true
}

#[cfg(test)]
mod tests {
    use super::next_permutation;

    #[test]
    fn every_order_comes_once() {
        let mut order = [0, 1, 2, 3, 4];
        let mut seen = std::collections::BTreeSet::from([order]);
        while next_permutation(&mut order) {
            assert!(seen.insert(order), "{order:?}");
        }
        assert_eq!(seen.len(), 120);
        assert!(!next_permutation(&mut []));
    }
}
