//! Rows of `A x` and what is made of them.

use super::{Beside, MOST_FIELDS, Slab, Sums, add, add_product, from_left, from_right, mirrored, sum_rows};
use crate::vector::Kernel;

/// A slab and its values, for rows of `A x`.
#[derive(Debug, Clone, Copy)]
pub(in super::super) struct Product<'a, const U: usize> {
    pub(in super::super) slab: Slab<'a, U>,
    pub(in super::super) fields: usize,
    pub(in super::super) beside: Beside<'a, U>,
    pub(in super::super) x: &'a [[f32; U]],
}

/// What flows to a neighbour.
#[inline(always)]
fn flow<const U: usize>(coupling: &[f32; U], x: &[f32; U], neighbour: &[f32; U]) -> [f32; U] {
    let mut flow = [0.0; U];
    for i in 0..U {
        flow[i] = coupling[i] * (x[i] - neighbour[i]);
    }
    flow
}

impl<const U: usize> Product<'_, U> {
    /// A row of `A x`, from differences to the neighbours and the loss: where couplings are
    /// large and neighbours nearly equal, nothing is lost by taking one large number from another.
    #[inline(always)]
    fn row(&self, row: usize, place: usize) -> [f32; U] {
        self.row_with(row, place, &self.slab.across[place])
    }

    /// The same without what flows between stiff cells, which for all of them is nothing.
    #[inline(always)]
    pub(super) fn row_around(&self, row: usize, place: usize, is_stiff: &[f32; U]) -> [f32; U] {
        let (mut across, next) = (self.slab.across[place], from_right(is_stiff));
        for i in 0..U {
            across[i] *= 1.0 - is_stiff[i] * next[i];
        }
        self.row_with(row, place, &across)
    }

    #[inline(always)]
    fn row_with(&self, row: usize, place: usize, across: &[f32; U]) -> [f32; U] {
        let (x, mut sum) = (&self.x[row], self.along(row, place));
        let to_right = flow(across, x, &from_right(x));
        let to_left = from_left(&to_right);
        for i in 0..U {
            sum[i] += to_right[i] - to_left[i];
        }
        add(&mut sum, &self.through(row, place));
        add_product(&mut sum, &self.slab.loss[place], x);
        sum
    }

    #[inline(always)]
    fn along(&self, row: usize, place: usize) -> [f32; U] {
        let (x, mut sum) = (&self.x[row], [0.0; U]);
        if let Some(below) = self.beside.below {
            add(&mut sum, &flow(&self.slab.below[place], x, &below[row]));
        }
        if let Some(above) = self.beside.above {
            add(&mut sum, &flow(&self.slab.above[place], x, &above[row]));
        }
        sum
    }

    #[inline(always)]
    fn through(&self, row: usize, place: usize) -> [f32; U] {
        let (x, mut through) = (&self.x[row], [0.0; U]);
        if place > 0 {
            through = flow(&self.slab.stack[place - 1], x, &self.x[row - self.fields]);
        }
        if place + 1 < self.slab.loss.len() {
            add(&mut through, &flow(&self.slab.stack[place], x, &self.x[row + self.fields]));
        }
        through
    }
}

/// `A x` of one slab, and `x . A x`.
pub(in super::super) struct Multiply<'a, const U: usize> {
    pub(in super::super) product: Product<'a, U>,
    pub(in super::super) ax: &'a mut [[f32; U]],
}

impl<const U: usize> Kernel for Multiply<'_, U> {
    type Output = Sums;

    #[inline(always)]
    fn call(self) -> Sums {
        let (product, fields) = (self.product, self.product.fields);
        let mut sums = [[0.0_f32; U]; MOST_FIELDS];
        for (place, mirror) in mirrored(product.slab.loss.len()) {
            for (field, sum) in sums.iter_mut().enumerate().take(fields) {
                let row = place * fields + field;
                let ax = product.row(row, place);
                let mut both = [0.0; U];
                add_product(&mut both, &ax, &product.x[row]);
                self.ax[row] = ax;
                if let Some(mirror) = mirror {
                    let row = mirror * fields + field;
                    let ax = product.row(row, mirror);
                    add_product(&mut both, &ax, &product.x[row]);
                    self.ax[row] = ax;
                }
                add(sum, &both);
            }
        }
        sum_rows(&sums)
    }
}

/// `b - A x` of one slab.
pub(in super::super) struct Residual<'a, const U: usize> {
    pub(in super::super) product: Product<'a, U>,
    pub(in super::super) b: &'a [[f32; U]],
    pub(in super::super) residual: &'a mut [[f32; U]],
}

impl<const U: usize> Kernel for Residual<'_, U> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let fields = self.product.fields;
        for place in 0..self.product.slab.loss.len() {
            for row in place * fields..(place + 1) * fields {
                let product = self.product.row(row, place);
                let mut residual = self.b[row];
                for i in 0..U {
                    residual[i] -= product[i];
                }
                self.residual[row] = residual;
            }
        }
    }
}
