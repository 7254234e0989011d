//! What is done to one slab: all in the innermost caches, along rows of `U` cells that fill vector registers.
//!
//! Each kernel is a type of its own, so that it is compiled for the vector registers of the processor it runs on. None
//! allocates, and none fuses multiply and add, so that every processor gives the same bytes. What adds up over cells takes two that
//! lie mirrored to each other first, so that a mirror image adds up to the same bits.

mod product;
mod relax;
mod rows;
mod transfer;
mod vectors;

pub(super) use product::{Multiply, Product, Residual};
pub(super) use relax::{Relax, Start, factor_lines};
pub(super) use rows::{AddToRows, RowSums};
pub(super) use transfer::{Prolong, Restrict, Shares};
pub(super) use vectors::{Dot, ReduceResidual, StepAlong, StepAndTurn};

/// Most fields that are worked on at once.
pub const MOST_FIELDS: usize = 16;

/// Numbers of cells across a pleat that the kernels are made for: one vector register or several, and what halving leaves of them.
pub const ACROSS: [usize; 7] = [1, 2, 4, 8, 16, 32, 64];

/// Sums over cells, one for each field.
pub(super) type Sums = [f64; MOST_FIELDS];

/// A slab's values as rows of the cells across.
pub(super) fn rows<const U: usize>(values: &[f32]) -> &[[f32; U]] {
    values.as_chunks::<U>().0
}

/// The same, to be changed.
pub(super) fn rows_mut<const U: usize>(values: &mut [f32]) -> &mut [[f32; U]] {
    values.as_chunks_mut::<U>().0
}

/// The coefficients of one slab.
#[derive(Debug, Clone, Copy)]
pub(super) struct Slab<'a, const U: usize> {
    /// Coupling to the slab below.
    pub(super) below: &'a [[f32; U]],
    /// Coupling to the slab above.
    pub(super) above: &'a [[f32; U]],
    pub(super) stack: &'a [[f32; U]],
    pub(super) across: &'a [[f32; U]],
    pub(super) loss: &'a [[f32; U]],
    pub(super) pivots: &'a [[f32; U]],
}

/// The values of the two slabs beside one, where it has any.
#[derive(Debug, Clone, Copy)]
pub(super) struct Beside<'a, const U: usize> {
    pub(super) below: Option<&'a [[f32; U]]>,
    pub(super) above: Option<&'a [[f32; U]]>,
}

#[inline(always)]
fn add_product<const U: usize>(sum: &mut [f32; U], a: &[f32; U], b: &[f32; U]) {
    for i in 0..U {
        sum[i] += a[i] * b[i];
    }
}

#[inline(always)]
fn add<const U: usize>(sum: &mut [f32; U], more: &[f32; U]) {
    for i in 0..U {
        sum[i] += more[i];
    }
}

#[inline(always)]
fn times<const U: usize>(a: &[f32; U], b: &[f32; U]) -> [f32; U] {
    let mut product = [0.0; U];
    for i in 0..U {
        product[i] = a[i] * b[i];
    }
    product
}

/// Each cell's right neighbour; 0 for the last.
#[inline(always)]
fn from_right<const U: usize>(row: &[f32; U]) -> [f32; U] {
    let mut shifted = [0.0; U];
    shifted[..U - 1].copy_from_slice(&row[1..]);
    shifted
}

/// Each cell's left neighbour; 0 for the first.
#[inline(always)]
fn from_left<const U: usize>(row: &[f32; U]) -> [f32; U] {
    let mut shifted = [0.0; U];
    shifted[1..].copy_from_slice(&row[..U - 1]);
    shifted
}

/// The first places of a slab with their mirror images, and at last the middle one with none.
#[inline(always)]
fn mirrored(places: usize) -> impl Iterator<Item = (usize, Option<usize>)> {
    let middle = (!places.is_multiple_of(2)).then_some((places / 2, None));
    (0..places / 2).map(move |place| (place, Some(places - 1 - place))).chain(middle)
}

#[inline(always)]
fn sum_rows<const U: usize>(rows: &[[f32; U]; MOST_FIELDS]) -> Sums {
    let mut sums = [0.0; MOST_FIELDS];
    for (sum, row) in sums.iter_mut().zip(rows) {
        for i in 0..U / 2 {
            *sum += f64::from(row[i]) + f64::from(row[U - 1 - i]);
        }
        if U == 1 {
            *sum = f64::from(row[0]);
        }
    }
    sums
}
