//! One grid of the multigrid: its operator, the factored lines, and what is done to whole fields, slab by slab on all cores.
//!
//! Sums are kept for each slab and added in the order of the slabs: the same bytes whatever the number of threads.

use super::coarsen::weights;
use super::kernels::{
    Beside, Dot, MOST_FIELDS, Multiply, Product, Prolong, ReduceResidual, Relax, Residual, Restrict, Slab, StepAndTurn, Sums,
    factor_lines,
};
use super::{Fields, Operator};
use pulp::Arch;
use rayon::prelude::*;

/// Runs generic code for the number of cells across that a grid has.
macro_rules! for_across {
    ($across:expr, $U:ident => $body:expr) => {
        match $across {
            1 => {
                const $U: usize = 1;
                $body
            }
            2 => {
                const $U: usize = 2;
                $body
            }
            4 => {
                const $U: usize = 4;
                $body
            }
            8 => {
                const $U: usize = 8;
                $body
            }
            _ => {
                const $U: usize = 16;
                $body
            }
        }
    };
}

/// Runs generic code for the numbers of cells across of a grid and the coarser one.
macro_rules! for_pair {
    ($fine:expr, $coarse:expr, $U:ident, $C:ident => $body:expr) => {
        for_across!($fine, $U => if $fine == $coarse {
            const $C: usize = $U;
            $body
        } else {
            const $C: usize = if $U > 1 { $U / 2 } else { 1 };
            $body
        })
    };
}

/// The even slabs, or the odd ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Colour {
    Even,
    Odd,
}

impl Colour {
    pub(super) const BOTH: [Self; 2] = [Self::Even, Self::Odd];

    fn of(self, slab_in_colour: usize) -> usize {
        2 * slab_in_colour + self as usize
    }
}

/// A grid with its operator.
#[derive(Debug)]
pub(super) struct Level {
    pub(super) operator: Operator,
    pivots: Vec<f32>,
    excess: Vec<f32>,
    weights: Vec<f32>,
    arch: Arch,
}

/// Values that a processor works through before it is worth sending the next slab to another core.
const VALUES_PER_TASK: usize = 16_384;

fn rows<const U: usize>(values: &[f32]) -> &[[f32; U]] {
    values.as_chunks::<U>().0
}

fn rows_mut<const U: usize>(values: &mut [f32]) -> &mut [[f32; U]] {
    values.as_chunks_mut::<U>().0
}

impl Level {
    pub(super) fn new(operator: Operator) -> Self {
        let shape = operator.shape;
        let mut pivots = vec![0.0; shape.cells()];
        let slabs = pivots.par_chunks_mut(shape.plane()).with_min_len(tasks(shape.plane()));
        slabs.zip(operator.stack.par_chunks(shape.plane())).zip(operator.diagonal.par_chunks(shape.plane())).for_each(
            |((pivots, stack), diagonal)| {
                for_across!(shape.across, U => factor_lines::<U>(rows(stack), rows(diagonal), rows_mut(pivots)));
            },
        );
        let weights = weights(&operator);
        let excess = excess(&operator);
        Self { operator, pivots, excess, weights, arch: Arch::new() }
    }

    fn slab<const U: usize>(&self, slab: usize) -> Slab<'_, U> {
        let plane = self.operator.shape.plane();
        let here = slab * plane..(slab + 1) * plane;
        let op = &self.operator;
        Slab {
            below: rows(&op.along[here.clone()]),
            above: rows(&op.along[here.end..here.end + plane]),
            stack: rows(&op.stack[here.clone()]),
            across: rows(&op.across[here.clone()]),
            excess: rows(&self.excess[here.clone()]),
            pivots: rows(&self.pivots[here]),
        }
    }

    /// The slabs below and above one, of the other colour. Beyond the ends the nearest stands in: the coupling to it is 0.
    fn beside<'a, const U: usize>(&self, other: &'a [f32], slab: usize, len: usize) -> Beside<'a, U> {
        let last = other.len() / len - 1;
        let (below, above) = if slab.is_multiple_of(2) {
            ((slab / 2).saturating_sub(1), (slab / 2).min(last))
        } else {
            (slab / 2, (slab / 2 + 1).min(last))
        };
        let part = |index: usize| rows(&other[index * len..(index + 1) * len]);
        Beside { below: part(below), above: part(above) }
    }

    fn product<'a, const U: usize>(&'a self, slab: usize, fields: usize, x: &'a [f32], other: &'a [f32]) -> Product<'a, U> {
        Product { slab: self.slab(slab), fields, beside: self.beside(other, slab, x.len()), x: rows(x) }
    }

    /// Solves all lines of one colour, the other held still.
    pub(super) fn relax(&self, colour: Colour, b: &Fields, x: &mut Fields, from_zero: bool) {
        let (len, fields) = (x.slab_len(), x.count());
        let (own, other) = split(x, colour);
        let b = &b.colours[colour as usize];
        own.par_chunks_mut(len).with_min_len(tasks(len)).zip(b.par_chunks(len)).enumerate().for_each(|(index, (x, b))| {
            let slab = colour.of(index);
            for_across!(self.operator.shape.across, U => self.arch.dispatch(Relax::<U> {
                slab: self.slab(slab),
                fields,
                b: rows(b),
                beside: (!from_zero).then(|| self.beside(other, slab, len)),
                x: rows_mut(x),
            }));
        });
    }

    /// `A x`, and for each slab `x . A x`.
    pub(super) fn multiply(&self, x: &Fields, ax: &mut Fields, sums: &mut SlabSums) {
        let (len, fields) = (x.slab_len(), x.count());
        for colour in Colour::BOTH {
            let other = &x.colours[1 - colour as usize];
            let own = x.colours[colour as usize].par_chunks(len);
            let out = ax.colours[colour as usize].par_chunks_mut(len).with_min_len(tasks(len));
            out.zip(own).zip(sums.colour(colour)).enumerate().for_each(|(index, ((ax, x), sums))| {
                let slab = colour.of(index);
                for_across!(self.operator.shape.across, U => *sums = self.arch.dispatch(Multiply::<U> {
                    product: self.product(slab, fields, x, other),
                    ax: rows_mut(ax),
                }));
            });
        }
    }

    /// The residual `b - A x`.
    pub(super) fn residual(&self, b: &Fields, x: &Fields, residual: &mut Fields) {
        let (len, fields) = (x.slab_len(), x.count());
        for colour in Colour::BOTH {
            let (own, other) = (&x.colours[colour as usize], &x.colours[1 - colour as usize]);
            let out = residual.colours[colour as usize].par_chunks_mut(len).with_min_len(tasks(len));
            let slabs = out.zip(own.par_chunks(len)).zip(b.colours[colour as usize].par_chunks(len));
            slabs.enumerate().for_each(|(index, ((residual, x), b))| {
                for_across!(self.operator.shape.across, U => self.arch.dispatch(Residual::<U> {
                    product: self.product(colour.of(index), fields, x, other),
                    b: rows(b),
                    residual: rows_mut(residual),
                }));
            });
        }
    }

    fn weights<const U: usize>(&self, slab: usize) -> &[[f32; U]] {
        let plane = self.operator.shape.plane();
        rows(&self.weights[slab * plane..(slab + 1) * plane])
    }

    /// Brings a residual to the coarser grid: the transpose of [`Level::prolong`].
    pub(super) fn restrict(&self, fine: &Fields, coarse: &mut Fields) {
        let (len, coarse_len) = (fine.slab_len(), coarse.slab_len());
        let slabs = self.operator.shape.slabs;
        for colour in Colour::BOTH {
            let out = coarse.colours[colour as usize].par_chunks_mut(coarse_len).with_min_len(tasks(2 * len));
            out.enumerate().for_each(|(index, coarse)| {
                coarse.fill(0.0);
                let first = 2 * colour.of(index);
                // The own two slabs, and one beyond on either side.
                for slab in first.saturating_sub(1)..(first + 3).min(slabs) {
                    let beyond = slab / 2 != first / 2;
                    self.restrict_slab(slab, beyond, fine, coarse);
                }
            });
        }
    }

    fn restrict_slab(&self, slab: usize, beyond: bool, fine: &Fields, coarse: &mut [f32]) {
        let (fields, across) = (fine.count(), self.operator.shape.across);
        let coarse_across = across * coarse.len() / fine.slab_len();
        for_pair!(across, coarse_across, U, C => self.arch.dispatch(Restrict::<U, C> {
            fields,
            weights: self.weights(slab),
            beyond,
            fine: rows(fine.slab(slab)),
            coarse: rows_mut(coarse),
        }));
    }

    /// Adds a correction found on the coarser grid.
    pub(super) fn prolong(&self, coarse: &Fields, x: &mut Fields) {
        let (len, fields, across) = (x.slab_len(), x.count(), x.shape().across);
        let coarse_shape = coarse.shape();
        for colour in Colour::BOTH {
            x.colours[colour as usize].par_chunks_mut(len).with_min_len(tasks(len)).enumerate().for_each(|(pair, x)| {
                let beyond = match colour {
                    Colour::Even => pair.saturating_sub(1),
                    Colour::Odd => (pair + 1).min(coarse_shape.slabs - 1),
                };
                for_pair!(across, coarse_shape.across, U, C => self.arch.dispatch(Prolong::<U, C> {
                    fields,
                    weights: self.weights(colour.of(pair)),
                    own: rows(coarse.slab(pair)),
                    beyond: rows(coarse.slab(beyond)),
                    fine: rows_mut(x),
                }));
            });
        }
    }
}

/// What each cell's diagonal has beyond its couplings.
#[expect(clippy::cast_possible_truncation, reason = "coefficients are kept in f32")]
fn excess(operator: &Operator) -> Vec<f32> {
    let (shape, mut excess) = (operator.shape, vec![0.0; operator.shape.cells()]);
    excess.par_chunks_mut(shape.plane()).with_min_len(tasks(shape.plane())).enumerate().for_each(|(slab, excess)| {
        for (cell, excess) in excess.iter_mut().enumerate() {
            *excess = operator.excess(slab, cell / shape.across, cell % shape.across) as f32;
        }
    });
    excess
}

fn split(x: &mut Fields, colour: Colour) -> (&mut [f32], &[f32]) {
    let [even, odd] = &mut x.colours;
    match colour {
        Colour::Even => (even, odd),
        Colour::Odd => (odd, even),
    }
}

/// Slabs that go to one core at least.
fn tasks(slab_len: usize) -> usize {
    (VALUES_PER_TASK / slab_len.max(1)).max(1)
}

/// For each slab the sums of its fields.
#[derive(Debug, Clone)]
pub(super) struct SlabSums {
    colours: [Vec<Sums>; 2],
}

impl SlabSums {
    pub(super) fn new(slabs: usize) -> Self {
        let zero = || vec![[0.0; MOST_FIELDS]; slabs / 2];
        Self { colours: [zero(), zero()] }
    }

    fn colour(&mut self, colour: Colour) -> &mut [Sums] {
        &mut self.colours[colour as usize]
    }

    /// The sums over all slabs, in their order.
    pub(super) fn total(&self) -> Sums {
        let mut total = [0.0; MOST_FIELDS];
        for sums in self.colours.iter().flatten() {
            for (total, sum) in total.iter_mut().zip(sums) {
                *total += sum;
            }
        }
        total
    }
}

/// `a . b`, field by field.
pub(super) fn dot(arch: Arch, a: &Fields, b: &Fields, sums: &mut SlabSums) -> Sums {
    let (len, fields, across) = (a.slab_len(), a.count(), a.shape().across);
    for colour in Colour::BOTH {
        let (a, b) = (&a.colours[colour as usize], &b.colours[colour as usize]);
        let slabs = a.par_chunks(len).with_min_len(tasks(len)).zip(b.par_chunks(len)).zip(sums.colour(colour));
        slabs.for_each(|((a, b), sums)| {
            for_across!(across, U => *sums = arch.dispatch(Dot::<U> { fields, a: rows(a), b: rows(b) }));
        });
    }
    sums.total()
}

/// `x += step * direction; direction = z + keep * direction`, field by field: two sums in one pass.
pub(super) fn step_and_turn(arch: Arch, step: &[f32], keep: &[f32], z: &Fields, direction: &mut Fields, x: &mut Fields) {
    let (len, across) = (x.slab_len(), x.shape().across);
    for ((z, direction), x) in z.colours.iter().zip(&mut direction.colours).zip(&mut x.colours) {
        let slabs = direction.par_chunks_mut(len).with_min_len(tasks(len)).zip(x.par_chunks_mut(len)).zip(z.par_chunks(len));
        slabs.for_each(|((direction, x), z)| {
            for_across!(across, U => arch.dispatch(StepAndTurn::<U> {
                step,
                keep,
                z: rows(z),
                direction: rows_mut(direction),
                x: rows_mut(x),
            }));
        });
    }
}

/// `r -= step * product`, and `r . r`, field by field.
pub(super) fn reduce_residual(arch: Arch, step: &[f32], product: &Fields, r: &mut Fields, sums: &mut SlabSums) -> Sums {
    let (len, across) = (r.slab_len(), r.shape().across);
    for colour in Colour::BOTH {
        let product = &product.colours[colour as usize];
        let slabs = r.colours[colour as usize].par_chunks_mut(len).with_min_len(tasks(len)).zip(product.par_chunks(len));
        slabs.zip(sums.colour(colour)).for_each(|((r, product), sums)| {
            for_across!(across, U => *sums = arch.dispatch(ReduceResidual::<U> {
                step,
                product: rows(product),
                r: rows_mut(r),
            }));
        });
    }
    sums.total()
}
