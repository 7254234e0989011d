//! The doses in the rod, tabled so that every pixel of the opened cloth can be read at once: crease by crease mixed with the pleat
//! that the cloth goes on into, and carried on to just beyond the cloth's edges.
//!
//! Dye goes along the cloth round a crease. Two strips of cloth joined at their ends and held at different doses by what lies on them
//! meet half-way between the two, each falling to its own exponentially over the reach along the cloth.

use super::RodDoses;
use super::dose::DoseField;
use crate::geometry::{Fold, RodPoint};
use rayon::prelude::*;

/// Numbers of values that are read together.
pub(super) const LANES: [usize; 3] = [4, 8, 24];

/// Runs generic code for the number of lanes that a table has.
macro_rules! for_lanes {
    ($lanes:expr, $L:ident => $body:expr) => {
        match $lanes {
            4 => {
                const $L: usize = 4;
                $body
            }
            8 => {
                const $L: usize = 8;
                $body
            }
            _ => {
                const $L: usize = 24;
                $body
            }
        }
    };
}
pub(super) use for_lanes;

/// Doses at nodes: slab by slab in the middle of the grid's cells, and across the pleat in the cells' middles and at both creases.
/// Between nodes doses go straight.
///
/// Of each node the doses of all dyes, then that of the bath, then zeros up to [`DoseTable::lanes`].
#[derive(Debug, Clone)]
pub(super) struct DoseTable {
    slabs: usize,
    across: usize,
    cell_mm: f64,
    lanes: usize,
    dyes: usize,
    values: Vec<f32>,
}

impl DoseTable {
    /// Tables the doses of a rod; `reach_mm` is the dyes' reach along the cloth.
    pub(super) fn new(fold: &(dyn Fold + Sync), rod: &RodDoses, dyes: usize, reach_mm: f64) -> Self {
        let (grid, shape) = (&rod.grid, rod.grid.shape());
        let lanes = LANES.into_iter().find(|&lanes| lanes > dyes).unwrap_or(LANES[2]);
        let (slabs, nodes) = (grid.used_slabs(), shape.across + 2);
        let mut values = vec![0.0; shape.places * slabs * nodes * lanes];
        let shares: Vec<f32> = (0..slabs)
            .flat_map(|slab| {
                let reaches = fold.pleat_width_mm(grid.along_mm(slab)) / reach_mm;
                (0..nodes).map(move |node| crease_share(reaches, place_of(node, shape.across)))
            })
            .collect();
        values.par_chunks_mut(slabs * nodes * lanes).enumerate().for_each(|(place, values)| {
            let mut layer = Layer { rod, place, dyes, lanes, nodes, has_cloth: vec![false; slabs * nodes] };
            layer.mix(&shares, values);
            layer.carry_on(values);
        });
        Self { slabs, across: shape.across, cell_mm: grid.cell_mm(), lanes, dyes, values }
    }

    /// Values read together.
    pub(super) fn lanes(&self) -> usize {
        self.lanes
    }

    /// Index of the bath's dose among them.
    pub(super) fn bath(&self) -> usize {
        self.dyes
    }

    /// The doses at a place in the rod; `L` is [`DoseTable::lanes`].
    #[inline]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the table; shares are of f32 values")]
    pub(super) fn at<const L: usize>(&self, rod: &RodPoint) -> [f32; L] {
        let along = (rod.along_mm / self.cell_mm - 0.5).clamp(0.0, (self.slabs - 1) as f64);
        let slab = (along as usize).min(self.slabs.saturating_sub(2));
        let along = (along - slab as f64) as f32;
        let across = (rod.across * self.across as f64 + 0.5) as f32;
        let node = (across as usize).min(self.across);
        // From a crease to the middle of its cell it is half as far as from middle to middle.
        let across = match node {
            0 => 2.0 * across - 1.0,
            last if last == self.across => 2.0 * (across - last as f32),
            between => across - between as f32,
        };
        let row = (self.across + 2) * L;
        let below = (rod.place as usize * self.slabs + slab) * row + node * L;
        let above = below + if self.slabs > 1 { row } else { 0 };
        let read = |from: usize| -> [f32; L] {
            let (first, next) = (&self.values[from..from + L], &self.values[from + L..from + 2 * L]);
            std::array::from_fn(|lane| first[lane] + across * (next[lane] - first[lane]))
        };
        let (below, above) = (read(below), read(above));
        std::array::from_fn(|lane| below[lane] + along * (above[lane] - below[lane]))
    }
}

/// Where a node lies across the pleat, 0 to 1.
fn place_of(node: usize, across: usize) -> f64 {
    ((node as f64 - 0.5) / across as f64).clamp(0.0, 1.0)
}

/// What the pleat beyond a crease has in the dose at a distance from it (as a share of the pleat, which is `reaches` broad): half at
/// the crease itself, falling to nothing at the other crease.
#[expect(clippy::cast_possible_truncation, reason = "a share")]
fn crease_share(reaches: f64, away: f64) -> f32 {
    let at_far_crease = (-reaches).exp();
    let left = 1.0 - at_far_crease;
    if left > 0.0 { (0.5 * ((-away * reaches).exp() - at_far_crease) / left) as f32 } else { 0.5 * (1.0 - away) as f32 }
}

/// One place of the stack, all along the rod.
struct Layer<'a> {
    rod: &'a RodDoses,
    place: usize,
    dyes: usize,
    lanes: usize,
    nodes: usize,
    has_cloth: Vec<bool>,
}

impl Layer<'_> {
    /// Writes the mixed doses where there is cloth.
    fn mix(&mut self, shares: &[f32], values: &mut [f32]) {
        let (grid, nodes) = (&self.rod.grid, self.nodes);
        let mates = (grid.mates().at_start(self.place), grid.mates().at_end(self.place));
        for (at, values) in values.chunks_exact_mut(self.lanes).enumerate() {
            let (slab, node) = (at / nodes, at % nodes);
            let across = node.clamp(1, nodes - 2) - 1;
            if !grid.is_cloth(slab, self.place, across) {
                continue;
            }
            self.has_cloth[at] = true;
            let (start, end) = (shares[at], shares[slab * nodes + nodes - 1 - node]);
            let of_mate = |mate: Option<usize>| mate.filter(|&mate| grid.is_cloth(slab, mate, across));
            let parts = [(Some(self.place), 1.0 - start - end), (of_mate(mates.0), start), (of_mate(mates.1), end)];
            let parts = || parts.into_iter().filter_map(|(place, share)| Some((place?, share)));
            let found: f32 = parts().map(|(_, share)| share).sum();
            for (place, share) in parts() {
                self.add((slab, place, across), share / found, values);
            }
        }
    }

    fn add(&self, (slab, place, across): (usize, usize, usize), share: f32, values: &mut [f32]) {
        let add = |field: &DoseField, values: &mut [f32]| {
            let (doses, slab) = (field.fields(), field.fields().slab(slab));
            for (index, value) in values.iter_mut().enumerate() {
                *value += share * slab[doses.row(place, index) + across];
            }
        };
        if let Some(dyes) = &self.rod.dyes {
            add(dyes, &mut values[..self.dyes]);
        }
        if let Some(bath) = &self.rod.bath {
            add(bath, &mut values[self.dyes..=self.dyes]);
        }
    }

    /// Carries doses on beyond the cloth, for pixels at its edge and where the hand strays over it: from the nearest cloth at the same
    /// distance along the rod, or where there is none from the nearest slab that has some.
    fn carry_on(&self, values: &mut [f32]) {
        let (nodes, row) = (self.nodes, self.nodes * self.lanes);
        let mut last: Option<usize> = None;
        for (slab, has_cloth) in self.has_cloth.chunks_exact(nodes).enumerate() {
            if !has_cloth.contains(&true) {
                continue;
            }
            for node in (0..nodes).filter(|&node| !has_cloth[node]) {
                let nearest = (0..nodes).filter(|&other| has_cloth[other]).min_by_key(|&other| other.abs_diff(node));
                let from = slab * row + nearest.unwrap_or(node) * self.lanes;
                values.copy_within(from..from + self.lanes, slab * row + node * self.lanes);
            }
            // The gap since the last slab with cloth is shared between the two; before the first and behind the last it is theirs.
            let gap = last.map_or(0, |last| last + 1)..slab;
            let middle = if last.is_some() { gap.start + gap.len() / 2 } else { gap.start };
            for bare in gap {
                let from = if bare < middle { last.unwrap_or(slab) } else { slab };
                values.copy_within(from * row..(from + 1) * row, bare * row);
            }
            last = Some(slab);
        }
        let Some(last) = last else { return };
        for bare in last + 1..self.has_cloth.len() / nodes {
            values.copy_within(last * row..(last + 1) * row, bare * row);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// At a crease both pleats count alike, so that no line shows there; at the far crease nothing is left of the other pleat.
    #[test]
    fn pleats_meet_half_way_at_their_crease() {
        for reaches in [0.0, 0.1, 4.0, 60.0] {
            assert!((crease_share(reaches, 0.0) - 0.5).abs() < 1e-6);
            assert!(crease_share(reaches, 1.0).abs() < 1e-6);
            assert!(crease_share(reaches, 0.2) > crease_share(reaches, 0.3));
        }
        assert_eq!([0, 1, 8, 9].map(|node| place_of(node, 8)), [0.0, 0.0625, 0.9375, 1.0]);
    }
}
