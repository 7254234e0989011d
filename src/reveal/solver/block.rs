//! Consecutive slabs as the unit of work: what one processor does while their values stay in its caches.
//!
//! The blocks of a grid depend on the grid alone, and what is added up over them is added in their order: the same bytes whatever
//! the number of processors.

use super::Fields;
use super::kernels::{MOST_FIELDS, Sums};
use std::cell::RefCell;
use std::ops::Range;

/// Slabs of a grid, and those that they become on the next coarser one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Block {
    pub(super) fine: Range<usize>,
    pub(super) coarse: Range<usize>,
}

/// Which of a block's slabs values belong to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Grid {
    Fine,
    Coarse,
}

/// Consecutive slabs of a field, to be changed.
#[derive(Debug)]
pub(super) struct SlabsMut<'a> {
    grid: Grid,
    first: usize,
    slab_len: usize,
    values: &'a mut [f32],
}

impl<'a> SlabsMut<'a> {
    /// All slabs of a field.
    pub(super) fn all(grid: Grid, fields: &'a mut Fields) -> Self {
        Self { grid, first: 0, slab_len: fields.slab_len(), values: &mut fields.values }
    }

    /// Slabs of the fine grid in a room of their own.
    fn strip(slabs: &Range<usize>, slab_len: usize, room: &'a mut [f32]) -> Self {
        Self { grid: Grid::Fine, first: slabs.start, slab_len, values: &mut room[..slabs.len() * slab_len] }
    }

    /// The slabs.
    pub(super) fn range(&self) -> Range<usize> {
        self.first..self.first + self.values.len() / self.slab_len
    }

    /// The values of a slab, if it is among them.
    pub(super) fn get(&self, slab: usize) -> Option<&[f32]> {
        self.range().contains(&slab).then(|| &self.values[(slab - self.first) * self.slab_len..][..self.slab_len])
    }

    /// The values of a slab among them, to be changed.
    pub(super) fn slab_mut(&mut self, slab: usize) -> &mut [f32] {
        &mut self.values[(slab - self.first) * self.slab_len..][..self.slab_len]
    }

    /// A slab among them, to be changed, between those below and above where these are among them.
    pub(super) fn between(&mut self, slab: usize) -> (Option<&[f32]>, &mut [f32], Option<&[f32]>) {
        let (before, from) = self.values.split_at_mut((slab - self.first) * self.slab_len);
        let (own, after) = from.split_at_mut(self.slab_len);
        let below = before.len().checked_sub(self.slab_len).map(|start| &before[start..]);
        (below, own, after.get(..self.slab_len))
    }
}

/// What can be handed to several processors block by block.
pub(super) trait Split: Sized + Send {
    /// What comes before a block, and what comes from it on.
    fn split(self, at: &Block) -> (Self, Self);
}

impl Split for SlabsMut<'_> {
    fn split(self, at: &Block) -> (Self, Self) {
        let slab = match self.grid {
            Grid::Fine => at.fine.start,
            Grid::Coarse => at.coarse.start,
        };
        let (before, after) = self.values.split_at_mut((slab - self.first) * self.slab_len);
        (Self { values: before, ..self }, Self { first: slab, values: after, ..self })
    }
}

impl<A: Split, B: Split> Split for (A, B) {
    fn split(self, at: &Block) -> (Self, Self) {
        let ((before, after), (other_before, other_after)) = (self.0.split(at), self.1.split(at));
        ((before, other_before), (after, other_after))
    }
}

/// No sums.
pub(super) const NOTHING: Sums = [0.0; MOST_FIELDS];

/// Works on all blocks, on all processors, and adds up what the work on each gives.
pub(super) fn on_blocks<P: Split>(blocks: &[Block], parts: P, work: &(impl Fn(&Block, P) -> Sums + Sync)) -> Sums {
    match blocks {
        [] => NOTHING,
        [block] => work(block, parts),
        _ => {
            let (first, last) = blocks.split_at(blocks.len() / 2);
            let (before, after) = parts.split(&last[0]);
            let (mut sums, more) = rayon::join(|| on_blocks(first, before, work), || on_blocks(last, after, work));
            add(&mut sums, &more);
            sums
        }
    }
}

/// Adds sums, field by field.
pub(super) fn add(sums: &mut Sums, more: &Sums) {
    sums.iter_mut().zip(more).for_each(|(sum, more)| *sum += more);
}

/// Lends slabs of the fine grid that hold what was left there, and one slab more.
pub(super) fn with_strip<T>(slabs: &Range<usize>, slab_len: usize, work: impl FnOnce(SlabsMut<'_>, &mut [f32]) -> T) -> T {
    thread_local! {
        /// Each processor's own room, kept so that it stays in its caches.
        static ROOM: RefCell<Vec<f32>> = const { RefCell::new(Vec::new()) };
    }
    ROOM.with_borrow_mut(|room| {
        let wanted = (slabs.len() + 1) * slab_len;
        if room.len() < wanted {
            room.resize(wanted, 0.0);
        }
        let (spare, room) = room.split_at_mut(slab_len);
        work(SlabsMut::strip(slabs, slab_len, room), spare)
    })
}

/// A range with some slabs more on either side, of `slabs` that there are.
pub(super) fn grown(range: &Range<usize>, by: usize, slabs: usize) -> Range<usize> {
    range.start.saturating_sub(by)..(range.end + by).min(slabs)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that fails should stop")]

    use super::super::GridShape;
    use super::*;

    #[test]
    fn every_block_gets_its_own_slabs_of_both_grids() {
        let blocks = [(0..3, 0..2), (3..4, 2..3), (4..9, 3..5)].map(|(fine, coarse)| Block { fine, coarse });
        let shape = |slabs| GridShape::new(slabs, 3, 2).unwrap();
        let (mut fine, mut coarse) = (Fields::zero(shape(9), 2).unwrap(), Fields::zero(shape(5), 2).unwrap());
        let parts = (SlabsMut::all(Grid::Fine, &mut fine), SlabsMut::all(Grid::Coarse, &mut coarse));
        let sums = on_blocks(&blocks, parts, &|block, (mut fine, mut coarse)| {
            assert_eq!((fine.range(), coarse.range()), (block.fine.clone(), block.coarse.clone()));
            block.fine.clone().for_each(|slab| fine.slab_mut(slab).fill(slab as f32));
            block.coarse.clone().for_each(|slab| coarse.slab_mut(slab).fill(slab as f32));
            [block.fine.len() as f64; MOST_FIELDS]
        });
        assert_eq!(sums, [9.0; MOST_FIELDS]);
        assert!((0..9).all(|slab| fine.slab(slab).iter().all(|&value| value == slab as f32)));
        assert!((0..5).all(|slab| coarse.slab(slab).iter().all(|&value| value == slab as f32)));
    }

    #[test]
    fn a_slab_lies_between_its_neighbours() {
        let mut fields = Fields::zero(GridShape::new(3, 1, 1).unwrap(), 1).unwrap();
        fields.values.copy_from_slice(&[1.0, 2.0, 3.0]);
        let mut slabs = SlabsMut::all(Grid::Fine, &mut fields);
        assert_eq!(slabs.between(0), (None, &mut [1.0][..], Some(&[2.0][..])));
        assert_eq!(slabs.between(1), (Some(&[1.0][..]), &mut [2.0][..], Some(&[3.0][..])));
        assert_eq!(slabs.between(2), (Some(&[2.0][..]), &mut [3.0][..], None));
        assert_eq!((slabs.get(2), slabs.get(3)), (Some(&[3.0][..]), None));
    }
}
