//! How a grid becomes the next coarser one: which slabs are merged, whether cells across are halved, and by how much each cell takes
//! its value from the coarse cells around it.
//!
//! Merging and halving follow the couplings, slab by slab. Where slabs are coupled strongly, relaxation makes the values of two of
//! them differ smoothly, and one coarse slab stands for both. A slab in the flank of a tight bind, parted from what lies beside it,
//! has values of its own; it stays alone until across it the grid is so coarse that relaxation sees all of it.

use super::{GridShape, Operator};
use rayon::prelude::*;
use std::ops::Range;

/// Two slabs are merged when they are coupled at least this many times as strongly as cells across are in the one where these are
/// coupled the less. Found by trial on the example tee, as are the two values below.
const MERGED_FROM: f64 = 1.2;
/// Least ratio of coupling toward the neighbouring coarse slab to across-cell coupling at which a slab interpolates from it.
const SHARED_FROM: f64 = 0.7;
/// Cells across are halved when they are coupled at least this many times as strongly as those along the rod, all in all: what is
/// coupled weakly is left uneven by the relaxation and has to stay visible on the coarser grid.
const HALVED_FROM: f64 = 0.7;
/// Cells across are halved, too, where more than this share of the slabs would be left.
const MOST_LEFT: f64 = 0.75;

/// From a grid to the next coarser one and back.
#[derive(Debug)]
pub(super) struct Transfer {
    /// The coarser grid.
    pub(super) coarse: GridShape,
    /// The coarse slab of each slab.
    pub(super) own: Vec<usize>,
    /// The coarse slab beyond, on the side of its own on which a slab lies; its own where it takes of none.
    pub(super) beyond: Vec<usize>,
    /// How much each cell takes of the coarse slab beyond.
    pub(super) along: Vec<f32>,
    /// How much each cell takes of the coarse cell beyond its own across; empty where cells across stay.
    pub(super) across: Vec<f32>,
    /// The first slab of each coarse slab, and one past the last.
    starts: Vec<usize>,
}

impl Transfer {
    /// The way to a coarser grid; `None` where all slabs have to stay apart and there is only one cell across.
    pub(super) fn of(fine: &Operator) -> Option<Self> {
        let shape = fine.shape;
        let strengths = |couplings: &[f32]| -> Vec<f64> {
            couplings.par_chunks(shape.plane()).map(|slab| slab.iter().map(|&c| f64::from(c)).sum()).collect()
        };
        let (along, across) = (strengths(&fine.along), strengths(&fine.across));
        let starts = merge(&along, &across);
        let slabs = starts.len() - 1;
        let strong = across.iter().sum::<f64>() >= HALVED_FROM * along.iter().sum::<f64>();
        let halved = shape.across() > 1 && (strong || slabs as f64 > MOST_LEFT * shape.slabs() as f64);
        let coarse = shape.coarser(slabs, halved);
        if coarse == shape {
            return None;
        }
        let mut transfer = Self { coarse, own: Vec::new(), beyond: Vec::new(), along: Vec::new(), across: Vec::new(), starts };
        for slab in 0..slabs {
            for child in transfer.children(slab) {
                transfer.own.push(slab);
                transfer.beyond.push(transfer.beyond_of(child, slab, &along, &across));
            }
        }
        transfer.along = transfer.shares_along(fine);
        if halved {
            transfer.across = shares_across(fine);
        }
        Some(transfer)
    }

    /// The slabs that become one.
    pub(super) fn children(&self, coarse: usize) -> Range<usize> {
        self.starts[coarse]..self.starts[coarse + 1]
    }

    /// The slabs that give to a coarse slab: its own, and those beside that take of it.
    pub(super) fn givers(&self, coarse: usize) -> impl Iterator<Item = usize> {
        let own = self.children(coarse);
        (own.start.saturating_sub(1)..(own.end + 1).min(self.own.len()))
            .filter(move |&slab| self.own[slab] == coarse || self.beyond[slab] == coarse)
    }

    /// The face between the two slabs that become one.
    fn inner_face(&self, coarse: usize) -> Option<usize> {
        let children = self.children(coarse);
        (children.len() == 2).then_some(children.start + 1)
    }

    /// The face within a slab's own coarse slab, if values are interpolated from there to what lies beyond.
    pub(super) fn crossed_face(&self, slab: usize) -> Option<usize> {
        let own = self.own[slab];
        self.inner_face(own).filter(|_| self.beyond[slab] != own)
    }

    fn beyond_of(&self, slab: usize, own: usize, along: &[f64], across: &[f64]) -> usize {
        let children = self.children(own);
        let (beyond, face) = if slab == children.start { (own.wrapping_sub(1), slab) } else { (own + 1, slab + 1) };
        let takes = children.len() == 2 && beyond < self.coarse.slabs() && along[face] >= SHARED_FROM * across[slab];
        if takes { beyond } else { own }
    }

    /// The share of two conductances between which a cell lies: towards the middle of its own coarse slab and of the one beyond.
    /// A quarter where all are alike, nothing across a barred face.
    fn shares_along(&self, fine: &Operator) -> Vec<f32> {
        let plane = fine.shape.plane();
        let mut shares = vec![0.0; fine.shape.cells()];
        shares.par_chunks_mut(plane).enumerate().for_each(|(slab, shares)| {
            let Some(inner) = self.crossed_face(slab) else { return };
            let beyond = self.beyond[slab];
            let face = if beyond < self.own[slab] { slab } else { slab + 1 };
            let couplings = |face: usize| &fine.along[face * plane..(face + 1) * plane];
            let far = self.inner_face(beyond).map(couplings);
            for (cell, share) in shares.iter_mut().enumerate() {
                *share = share_beyond(couplings(inner)[cell], couplings(face)[cell], far.map(|far| far[cell]));
            }
        });
        shares
    }
}

/// The first slab of each coarse slab, and one past the last: pairs from the tip on, where the two are coupled strongly.
fn merge(along: &[f64], across: &[f64]) -> Vec<usize> {
    let (mut starts, mut slab) = (vec![0], 0);
    while slab < across.len() {
        let next = slab + 1;
        let pair = next < across.len() && along[next] >= MERGED_FROM * across[slab].min(across[next]);
        slab += if pair { 2 } else { 1 };
        starts.push(slab);
    }
    starts
}

/// By how much a cell takes of the coarse cell beyond its own: the conductance to the middle of that one, over the sum of it and that
/// to the middle of its own. `inner` is the coupling within its own coarse cell, `face` that towards the one beyond, `far` that
/// within the one beyond, if that has two cells.
fn share_beyond(inner: f32, face: f32, far: Option<f32>) -> f32 {
    let own = 2.0 * inner;
    let (to_beyond, to_own) = match far {
        // Half of the cell beyond lies in series with the face.
        Some(far) => (2.0 * far * face, own * (2.0 * far + face)),
        None => (face, own),
    };
    // Without a sibling the cell is all that its coarse cell is.
    if to_beyond > 0.0 && to_own > 0.0 { to_beyond / (to_beyond + to_own) } else { 0.0 }
}

/// The same across the pleat, within one slab, for cells merged two by two.
fn shares_across(fine: &Operator) -> Vec<f32> {
    let across = fine.shape.across();
    let mut shares = vec![0.0; fine.shape.cells()];
    shares.par_chunks_mut(across).zip(fine.across.par_chunks(across)).with_min_len(4096).for_each(|(shares, couplings)| {
        for (cell, share) in shares.iter_mut().enumerate() {
            let first = cell - cell % 2;
            let (face, far) = if cell == first { (first.wrapping_sub(1), first.wrapping_sub(2)) } else { (cell, cell + 1) };
            // The last of a row couples to nothing.
            if face < across - 1 {
                *share = share_beyond(couplings[first], couplings[face], Some(couplings[far]));
            }
        }
    });
    shares
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that fails should stop")]

    use super::*;

    /// A grid with the same couplings everywhere but over one face.
    fn with_face(slabs: usize, across: usize, face: usize, coupling: f32) -> Operator {
        let shape = GridShape::new(slabs, 2, across).unwrap();
        let mut operator = Operator::unit(shape);
        operator.along[shape.plane()..slabs * shape.plane()].fill(8.0);
        operator.along[face * shape.plane()..(face + 1) * shape.plane()].fill(coupling);
        operator.across.chunks_exact_mut(across).for_each(|row| row[..across - 1].fill(1.0));
        operator.loss.fill(1.0);
        operator
    }

    #[test]
    fn slabs_are_merged_in_pairs_and_take_a_quarter_beyond() {
        let transfer = Transfer::of(&with_face(8, 4, 4, 8.0)).unwrap();
        assert_eq!(transfer.coarse, GridShape::new(4, 2, 4).unwrap());
        assert_eq!(transfer.own, [0, 0, 1, 1, 2, 2, 3, 3]);
        assert_eq!(transfer.beyond, [0, 1, 0, 2, 1, 3, 2, 3]);
        let shares: Vec<f32> = transfer.along.chunks_exact(8).map(|slab| slab[0]).collect();
        assert_eq!(shares, [0.0, 0.25, 0.25, 0.25, 0.25, 0.25, 0.25, 0.0]);
        assert!(transfer.givers(1).eq(1..5));
    }

    #[test]
    fn a_slab_behind_a_barred_face_stays_alone() {
        let transfer = Transfer::of(&with_face(5, 4, 1, 0.01)).unwrap();
        assert_eq!(transfer.own, [0, 1, 1, 2, 2]);
        // Nothing is taken over the barred face.
        assert_eq!(transfer.beyond, [0, 1, 2, 1, 2]);
        assert!(transfer.givers(0).eq([0]));
    }

    #[test]
    fn cells_across_are_halved_where_slabs_stay_apart() {
        let mut operator = with_face(4, 4, 2, 0.01);
        operator.along.fill(0.01);
        let transfer = Transfer::of(&operator).unwrap();
        assert_eq!(transfer.coarse, GridShape::new(4, 2, 2).unwrap());
        assert_eq!(transfer.across[..4], [0.0, 0.25, 0.25, 0.0]);
        operator = with_face(4, 1, 2, 0.01);
        assert_eq!(Transfer::of(&operator).unwrap().coarse.slabs(), 2, "with one cell across all are merged");
    }
}
