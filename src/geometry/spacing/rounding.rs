//! Rounding radii to the marks of a rule with the order of the gaps kept.
//!
//! Rounding each radius by itself makes gaps grow and shrink at random. Here every two neighbouring gaps that differ stay in the same
//! order (or become equal), and among all such roundings near the exact radii the one with the least sum of squared errors is found, by
//! dynamic programming over pairs of neighbouring binds' marks. Gaps that are alike have no order to keep: even gaps of 12 mm on
//! marks every 5 mm alternate between 10 and 15, which keeps every radius on its nearest mark.
//!
//! # Limits
//! The window of marks begins at two to either side and widens only if no rounding in order lies within it, so the result is the best
//! within the window. Gaps that differ by much less than a mark drift: those that round up have to stay together, which costs up to
//! about an eighth of a mark for each gap of such a run (fifty gaps of 16 mm at a ratio of 0.9995: 3 mm on marks every 1 mm).

use super::edit::Wanted;
use super::{BindId, SpacingError};

/// How many marks to either side of the nearest are tried, one after the other until the order can be kept.
const WINDOWS: [i32; 6] = [2, 4, 8, 16, 32, 64];
/// The window from which order beside binds fixed by hand gives way: they may leave none, and must not drag others far.
const RELAXING_WINDOW: i32 = 8;
/// Gaps within this of each other are alike, mm (far below what a hand can place).
const ALIKE_MM: f64 = 1e-6;
/// The smallest share of a mark that a gap may have to be rounded up to one (below it two binds have the same nearest mark).
const SMALLEST_SHARE: f64 = 0.5;

/// How two neighbouring gaps are ordered, from the centre outward.
#[derive(Clone, Copy, PartialEq)]
enum Order {
    Free,
    Growing,
    Shrinking,
}

/// The least cost of the binds up to a pair, and the place of the one before the pair among its marks.
#[derive(Clone, Copy)]
struct Best {
    cost: f64,
    before: usize,
}

const NONE: Best = Best { cost: f64::INFINITY, before: 0 };

/// Rounds the radii of binds in order from the centre. Binds fixed by hand keep theirs, and so does the guide arc, which the cloth is
/// folded along: it is to lie on a mark already. Marks count from `zero_mm`.
///
/// Where fixed binds leave no rounding in order within a few marks, the gaps beside them need not keep theirs.
pub(super) fn round_to_marks(binds: &[Wanted], step_mm: f64, zero_mm: f64) -> Result<Vec<f64>, SpacingError> {
    check_gaps(binds, step_mm)?;
    let strict: Vec<Order> = binds.windows(3).map(order).collect();
    let is_beside_fixed = |three: &[Wanted]| three.iter().any(|bind| bind.origin.is_fixed());
    let relaxed: Vec<Order> = binds.windows(3).map(|w| if is_beside_fixed(w) { Order::Free } else { order(w) }).collect();
    let attempt = |&window: &i32| {
        let may_relax = window >= RELAXING_WINDOW && relaxed != strict;
        let in_order = round_within(binds, [step_mm, zero_mm], window, &strict);
        in_order.or_else(|| if may_relax { round_within(binds, [step_mm, zero_mm], window, &relaxed) } else { None })
    };
    WINDOWS.iter().find_map(attempt).ok_or_else(|| {
        let tightest = binds.windows(2).min_by(|a, b| gap(a).total_cmp(&gap(b)));
        let bind = tightest.map_or(BindId::GUIDE, |pair| pair[0].id);
        SpacingError::NoRounding { bind, step_mm }
    })
}

fn gap(pair: &[Wanted]) -> f64 {
    pair[1].radius_mm - pair[0].radius_mm
}

fn order(three: &[Wanted]) -> Order {
    let change = gap(&three[1..]) - gap(three);
    if change.abs() <= ALIKE_MM {
        Order::Free
    } else if change > 0.0 {
        Order::Growing
    } else {
        Order::Shrinking
    }
}

fn check_gaps(binds: &[Wanted], step_mm: f64) -> Result<(), SpacingError> {
    let too_small = |pair: &&[Wanted]| gap(pair) < step_mm * SMALLEST_SHARE && !pair.iter().all(is_held);
    match binds.windows(2).find(too_small) {
        Some(pair) => Err(SpacingError::TooSmallForMarks { inner: pair[0].id, outer: pair[1].id, gap_mm: gap(pair), step_mm }),
        None => Ok(()),
    }
}

/// Whether rounding leaves a bind where it is.
fn is_held(bind: &Wanted) -> bool {
    bind.origin.is_fixed() || bind.id == BindId::GUIDE
}

/// The radii that a bind may have, rising: on marks a step apart, counted from a zero.
fn choices(bind: &Wanted, [step_mm, zero_mm]: [f64; 2], window: i32) -> Vec<f64> {
    if is_held(bind) {
        return vec![bind.radius_mm];
    }
    let nearest = ((bind.radius_mm - zero_mm) / step_mm).round();
    let marks = (-window..=window).map(|k| nearest + f64::from(k));
    // At the tip there is no cloth to tie.
    marks.filter(|&mark| mark + zero_mm / step_mm >= 1.0).map(|mark| zero_mm + mark * step_mm).collect()
}

fn round_within(binds: &[Wanted], rule: [f64; 2], window: i32, orders: &[Order]) -> Option<Vec<f64>> {
    let marks: Vec<Vec<f64>> = binds.iter().map(|bind| choices(bind, rule, window)).collect();
    let cost = |i: usize, radius: f64| (radius - binds[i].radius_mm) * (radius - binds[i].radius_mm);
    if binds.len() < 2 {
        let nearest = |i: usize| marks[i].iter().copied().min_by(|a, b| cost(i, *a).total_cmp(&cost(i, *b)));
        return (0..binds.len()).map(nearest).collect();
    }
    let mut tables = vec![first_table(&marks, cost)];
    for (i, &order) in orders.iter().enumerate() {
        let table = next_table(&tables[i], &marks[i..i + 3], order, |radius| cost(i + 2, radius));
        if table.iter().all(|best| best.cost.is_infinite()) {
            return None;
        }
        tables.push(table);
    }
    trace_back(&tables, &marks)
}

/// A table holds the best for every pair of neighbouring binds' marks, the outer bind's mark running fastest.
fn first_table(marks: &[Vec<f64>], cost: impl Fn(usize, f64) -> f64) -> Vec<Best> {
    let pair = |a: f64, b: f64| if b > a { Best { cost: cost(0, a) + cost(1, b), before: 0 } } else { NONE };
    marks[0].iter().flat_map(|&a| marks[1].iter().map(move |&b| (a, b))).map(|(a, b)| pair(a, b)).collect()
}

/// Adds a bind. With the middle one and the new one chosen, the marks of the inner one that keep the order are the first few or the last
/// few, so running minima answer each choice at once.
fn next_table(table: &[Best], marks: &[Vec<f64>], order: Order, cost: impl Fn(f64) -> f64) -> Vec<Best> {
    let (inner, middle, outer) = (&marks[0], &marks[1], &marks[2]);
    let mut next = Vec::with_capacity(middle.len() * outer.len());
    let mut minima = Vec::with_capacity(inner.len());
    for (b, &middle_mm) in middle.iter().enumerate() {
        let column = |a: usize| Best { cost: table[a * middle.len() + b].cost, before: a };
        minima.clear();
        match order {
            Order::Growing => running_minima((0..inner.len()).rev().map(column), &mut minima),
            Order::Free | Order::Shrinking => running_minima((0..inner.len()).map(column), &mut minima),
        }
        next.extend(outer.iter().map(|&outer_mm| {
            // The inner radius at which both gaps are alike.
            let limit_mm = 2.0 * middle_mm - outer_mm;
            let allowed = match order {
                _ if outer_mm <= middle_mm => 0,
                Order::Free => inner.len(),
                Order::Shrinking => inner.partition_point(|&a| a <= limit_mm + ALIKE_MM),
                Order::Growing => inner.len() - inner.partition_point(|&a| a < limit_mm - ALIKE_MM),
            };
            let best = allowed.checked_sub(1).map_or(NONE, |i| minima[i]);
            Best { cost: best.cost + cost(outer_mm), before: best.before }
        }));
    }
    next
}

/// Element i is the best of the first i + 1; the earlier one on a tie.
fn running_minima(items: impl Iterator<Item = Best>, minima: &mut Vec<Best>) {
    let mut best = NONE;
    minima.extend(items.map(|item| {
        if item.cost < best.cost {
            best = item;
        }
        best
    }));
}

fn trace_back(tables: &[Vec<Best>], marks: &[Vec<f64>]) -> Option<Vec<f64>> {
    let mut best = NONE;
    for (i, entry) in tables.last()?.iter().enumerate() {
        if entry.cost < best.cost {
            best = Best { cost: entry.cost, before: i };
        }
    }
    if best.cost.is_infinite() {
        return None;
    }
    let outer = tables.len();
    let (mut a, mut b) = (best.before / marks[outer].len(), best.before % marks[outer].len());
    let mut radii = vec![marks[outer][b]];
    for (i, table) in tables.iter().enumerate().rev() {
        radii.push(marks[i][a]);
        (a, b) = (table[a * marks[i + 1].len() + b].before, a);
    }
    radii.reverse();
    Some(radii)
}
