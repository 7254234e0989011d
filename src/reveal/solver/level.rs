//! One grid of the multigrid: its operator, the factored lines, and the part of a cycle that is done on it.
//!
//! A cycle goes twice over the values of a grid: down, with relaxation, residual and restriction, and up again, with prolongation
//! and relaxation. Both work block by block on a strip of slabs that stays in a processor's caches, with as many slabs more on
//! either side as relaxation reaches over; the few that belong to a neighbouring block are worked on twice.

use super::across::{for_across, for_pair};
use super::block::{Block, Grid, NOTHING, SlabsMut, add, grown, on_blocks, with_strip};
use super::kernels::{
    AddToRows, Beside, Dot, Multiply, Product, Prolong, Relax, Residual, Restrict, RowSums, Shares, Slab, Start, Sums, rows,
    rows_mut,
};
use super::lines::{factored, slab_of};
use super::stiff_rows::{StiffRows, StiffSlab};
use super::transfer::Transfer;
use super::{Fields, Operator};
use crate::vector::Vectors;
use std::ops::Range;

/// Relaxations of even and of odd slabs in turn, before the correction by the coarser grid and after it; an even number. Four save at
/// most one step in six and cost as much (found by trial on the example tee).
const RELAXATIONS: usize = 2;
/// The same on the coarsest grid, in place of a correction.
const COARSEST_RELAXATIONS: usize = 4;

/// Values of a block: what fits a processor's own caches with the coefficients. Found by trial.
const BLOCK_VALUES: usize = 200_000;
/// Values below which a block is not worth sending to another processor.
const LEAST_VALUES: usize = 20_000;

/// A grid with its operator.
#[derive(Debug)]
pub(super) struct Level {
    pub(super) operator: Operator,
    pub(super) vectors: Vectors,
    pub(super) blocks: Vec<Block>,
    pivots: Vec<f32>,
    stiff_rows: Option<StiffRows>,
    pub(super) transfer: Option<Transfer>,
}

impl Level {
    /// A level, ready for a number of fields.
    pub(super) fn new(operator: Operator, fields: usize) -> Self {
        let mut level = Self {
            pivots: factored(&operator),
            stiff_rows: StiffRows::of(&operator),
            blocks: vec![Block { fine: 0..operator.shape.slabs(), coarse: 0..0 }],
            transfer: Transfer::of(&operator),
            operator,
            vectors: Vectors::new(),
        };
        if let Some(transfer) = &level.transfer {
            level.blocks = blocks(transfer, level.operator.shape.plane() * fields);
        }
        level
    }

    fn slab<const U: usize>(&self, slab: usize) -> Slab<'_, U> {
        slab_of(&self.operator, &self.pivots, slab)
    }

    fn slabs(&self) -> usize {
        self.operator.shape.slabs()
    }

    fn grown(&self, range: &Range<usize>, by: usize) -> Range<usize> {
        grown(range, by, self.slabs())
    }

    /// Solves the lines of one slab, those beside it held still.
    pub(super) fn relax(&self, slab: usize, start: Start, b: &Fields, x: &mut SlabsMut<'_>) {
        let (below, own, above) = x.between(slab);
        for_across!(self.operator.shape.across(), U => self.vectors.run(Relax::<U> {
            slab: self.slab(slab),
            fields: b.count(),
            start,
            b: rows(b.slab(slab)),
            beside: Beside { below: below.map(rows), above: above.map(rows) },
            x: rows_mut(own),
        }));
    }

    /// Solves what is even over the stiff cells of each row of one slab, all else held still.
    fn relax_rows(&self, slab: usize, start: Start, b: &Fields, x: &mut SlabsMut<'_>) {
        let Some(StiffSlab { is_stiff, line }) = self.stiff_rows.as_ref().and_then(|rows| rows.slab(slab)) else { return };
        let (fields, rows_in_slab) = (b.count(), self.operator.shape.places() * b.count());
        let (mut sums, mut even) = (vec![0.0; rows_in_slab], vec![0.0; rows_in_slab]);
        let (mut below, own, mut above) = x.between(slab);
        let zeros: &[f32] = if start == Start::Zero { &vec![0.0; own.len()] } else { &[] };
        if start == Start::Zero {
            // The strip may hold anything there; couplings count all the same.
            (below, above) = (Some(zeros), Some(zeros));
        }
        for_across!(self.operator.shape.across(), U => {
            let (is_stiff, beside) = (rows(is_stiff), Beside { below: below.map(rows), above: above.map(rows) });
            let product = Product { slab: self.slab(slab), fields, beside, x: rows(own) };
            self.vectors.run(RowSums::<U> { product, is_stiff, b: rows(b.slab(slab)), sums: &mut sums });
            let (b, beside) = (rows(&sums), Beside { below: None, above: None });
            self.vectors.run(Relax::<1> { slab: line, fields, start: Start::Zero, b, beside, x: rows_mut(&mut even) });
            self.vectors.run(AddToRows::<U> { is_stiff, fields, even: &even, x: rows_mut(own) });
        });
    }

    /// Relaxations one after the other, beginning with the even slabs, in one go along the strip: each follows the one before it a
    /// slab behind. The last reaches over `last`, each before it over one slab more on either side.
    fn relax_down(&self, last: &Range<usize>, b: &Fields, x: &mut SlabsMut<'_>) {
        let strip = x.range();
        for front in (strip.start.next_multiple_of(2)..strip.end + RELAXATIONS).step_by(2) {
            for done in 0..RELAXATIONS {
                let start = [Start::Zero, Start::OwnZero].get(done).copied().unwrap_or(Start::Values);
                let range = self.grown(last, RELAXATIONS - 1 - done);
                if let Some(slab) = front.checked_sub(done).filter(|slab| range.contains(slab)) {
                    self.relax(slab, start, b, x);
                    self.relax_rows(slab, start, b, x);
                }
            }
        }
    }

    /// The same backwards: beginning with the odd slabs, their rows before their lines, from values.
    fn relax_up(&self, last: &Range<usize>, b: &Fields, x: &mut SlabsMut<'_>) {
        let strip = x.range();
        for front in (strip.start.next_multiple_of(2) + 1..strip.end + RELAXATIONS).step_by(2) {
            for done in 0..RELAXATIONS {
                let range = self.grown(last, RELAXATIONS - 1 - done);
                if let Some(slab) = front.checked_sub(done).filter(|slab| range.contains(slab)) {
                    self.relax_rows(slab, Start::Values, b, x);
                    self.relax(slab, Start::Values, b, x);
                }
            }
        }
    }

    /// Relaxes from zero, and brings the residual to the coarser grid.
    pub(super) fn down(&self, b: &Fields, x: &mut Fields, coarse: &mut Fields) {
        let Some(transfer) = &self.transfer else { return };
        let slab_len = b.slab_len();
        let parts = (SlabsMut::all(Grid::Fine, x), SlabsMut::all(Grid::Coarse, coarse));
        on_blocks(&self.blocks, parts, &|block, (mut x, mut coarse)| {
            let givers = self.grown(&block.fine, 1);
            let relaxed = self.grown(&givers, 1);
            with_strip(&self.grown(&relaxed, RELAXATIONS - 1), slab_len, |mut strip, residual| {
                self.relax_down(&relaxed, b, &mut strip);
                for slab in block.fine.clone() {
                    x.slab_mut(slab).copy_from_slice(strip.get(slab).unwrap_or_default());
                }
                for slab in block.coarse.clone() {
                    coarse.slab_mut(slab).fill(0.0);
                }
                for slab in givers {
                    let takes = [transfer.own[slab], transfer.beyond[slab]];
                    if takes.iter().any(|takes| block.coarse.contains(takes)) {
                        self.residual(slab, b, &strip, residual);
                        self.restrict(transfer, slab, residual, b.count(), &mut coarse);
                    }
                }
            });
            NOTHING
        });
    }

    /// `b - A x` of one slab.
    fn residual(&self, slab: usize, b: &Fields, x: &SlabsMut<'_>, residual: &mut [f32]) {
        let beside = |slab: Option<usize>| slab.and_then(|slab| x.get(slab));
        let (below, above) = (beside(slab.checked_sub(1)), beside(Some(slab + 1)));
        for_across!(self.operator.shape.across(), U => self.vectors.run(Residual::<U> {
            product: Product {
                slab: self.slab(slab),
                fields: b.count(),
                beside: Beside { below: below.map(rows), above: above.map(rows) },
                x: rows(x.get(slab).unwrap_or_default()),
            },
            b: rows(b.slab(slab)),
            residual: rows_mut(residual),
        }));
    }

    fn shares<'a, const U: usize>(&self, transfer: &'a Transfer, slab: usize) -> Shares<'a, U> {
        let plane = self.operator.shape.plane();
        let cells = slab * plane..(slab + 1) * plane;
        Shares { along: rows(&transfer.along[cells.clone()]), across: transfer.across.get(cells).map_or(&[], rows) }
    }

    /// Gives a slab's values to those coarse slabs of which it takes, as far as they are among `coarse`.
    fn restrict(&self, transfer: &Transfer, slab: usize, fine: &[f32], fields: usize, coarse: &mut SlabsMut<'_>) {
        let (own, beyond) = (transfer.own[slab], transfer.beyond[slab]);
        for takes in [Some(own), Some(beyond).filter(|&beyond| beyond != own)].into_iter().flatten() {
            if coarse.range().contains(&takes) {
                for_pair!(self.operator.shape.across(), transfer.coarse.across(), U, C => self.vectors.run(Restrict::<U, C> {
                    fields,
                    shares: self.shares(transfer, slab),
                    beyond: takes != own,
                    fine: rows(fine),
                    coarse: rows_mut(coarse.slab_mut(takes)),
                }));
            }
        }
    }

    /// Adds the correction found on the coarser grid to what [`Level::down`] left, and relaxes again. Gives `b . x`.
    pub(super) fn up(&self, b: &Fields, before: &Fields, coarse: &Fields, x: &mut Fields) -> Sums {
        let Some(transfer) = &self.transfer else { return NOTHING };
        on_blocks(&self.blocks, SlabsMut::all(Grid::Fine, x), &|block, mut x| {
            with_strip(&self.grown(&block.fine, RELAXATIONS), b.slab_len(), |mut strip, _| {
                for slab in strip.range() {
                    strip.slab_mut(slab).copy_from_slice(before.slab(slab));
                    self.prolong(transfer, slab, coarse, strip.slab_mut(slab));
                }
                self.relax_up(&block.fine, b, &mut strip);
                let mut sums = NOTHING;
                for slab in block.fine.clone() {
                    x.slab_mut(slab).copy_from_slice(strip.get(slab).unwrap_or_default());
                    add(&mut sums, &self.dot(x.slab_mut(slab), b.slab(slab), b.count()));
                }
                sums
            })
        })
    }

    fn prolong(&self, transfer: &Transfer, slab: usize, coarse: &Fields, fine: &mut [f32]) {
        for_pair!(self.operator.shape.across(), transfer.coarse.across(), U, C => self.vectors.run(Prolong::<U, C> {
            fields: coarse.count(),
            shares: self.shares(transfer, slab),
            own: rows(coarse.slab(transfer.own[slab])),
            beyond: rows(coarse.slab(transfer.beyond[slab])),
            fine: rows_mut(fine),
        }));
    }

    /// What stands for a cycle on the coarsest grid: relaxation to and fro, from zero.
    pub(super) fn relax_only(&self, b: &Fields, x: &mut Fields) {
        let mut x = SlabsMut::all(Grid::Fine, x);
        for done in 0..COARSEST_RELAXATIONS {
            let start = [Start::Zero, Start::OwnZero].get(done).copied().unwrap_or(Start::Values);
            for slab in (done % 2..self.slabs()).step_by(2) {
                self.relax(slab, start, b, &mut x);
                self.relax_rows(slab, start, b, &mut x);
            }
        }
        for done in 0..COARSEST_RELAXATIONS {
            for slab in ((done + 1) % 2..self.slabs()).step_by(2) {
                self.relax_rows(slab, Start::Values, b, &mut x);
                self.relax(slab, Start::Values, b, &mut x);
            }
        }
    }

    /// `A x`, and `x . A x`.
    pub(super) fn multiply(&self, x: &Fields, ax: &mut Fields) -> Sums {
        let (last, is_ring) = (self.slabs() - 1, self.operator.is_ring());
        let below_of = |slab: usize| slab.checked_sub(1).or(is_ring.then_some(last));
        let above_of = |slab: usize| if slab < last { Some(slab + 1) } else { is_ring.then_some(0) };
        on_blocks(&self.blocks, SlabsMut::all(Grid::Fine, ax), &|block, mut ax| {
            let mut sums = NOTHING;
            for slab in block.fine.clone() {
                let [below, above] = [below_of(slab), above_of(slab)].map(|slab| slab.map(|slab| x.slab(slab)));
                let more = for_across!(self.operator.shape.across(), U => self.vectors.run(Multiply::<U> {
                    product: Product {
                        slab: self.slab(slab),
                        fields: x.count(),
                        beside: Beside { below: below.map(rows), above: above.map(rows) },
                        x: rows(x.slab(slab)),
                    },
                    ax: rows_mut(ax.slab_mut(slab)),
                }));
                add(&mut sums, &more);
            }
            sums
        })
    }

    /// `a . b` of one slab.
    pub(super) fn dot(&self, a: &[f32], b: &[f32], fields: usize) -> Sums {
        for_across!(self.operator.shape.across(), U => self.vectors.run(Dot::<U> { fields, a: rows(a), b: rows(b) }))
    }
}

/// Cuts a grid into blocks of about [`BLOCK_VALUES`], or so many that there is one for each of two processors at least; merged slabs
/// stay together.
fn blocks(transfer: &Transfer, slab_len: usize) -> Vec<Block> {
    let slabs = transfer.own.len();
    let values = (slabs * slab_len / 4).clamp(LEAST_VALUES, BLOCK_VALUES);
    let most = (values / slab_len).max(1);
    let mut blocks: Vec<Block> = Vec::new();
    for coarse in 0..transfer.coarse.slabs() {
        let children = transfer.children(coarse);
        match blocks.last_mut() {
            Some(block) if children.end - block.fine.start <= most => {
                (block.fine.end, block.coarse.end) = (children.end, coarse + 1);
            }
            _ => blocks.push(Block { fine: children, coarse: coarse..coarse + 1 }),
        }
    }
    blocks
}
