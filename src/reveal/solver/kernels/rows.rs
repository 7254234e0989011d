//! What is even over the stiff cells of each row of a slab.

use super::{Product, times};
use crate::vector::Kernel;

/// What the stiff cells' parts of `b - A x` add up to, row by row.
pub(in super::super) struct RowSums<'a, const U: usize> {
    pub(in super::super) product: Product<'a, U>,
    /// 1 for each cell that is stiff, 0 for the others.
    pub(in super::super) is_stiff: &'a [[f32; U]],
    pub(in super::super) b: &'a [[f32; U]],
    /// One for each row of values, 0 at first.
    pub(in super::super) sums: &'a mut [f32],
}

impl<const U: usize> Kernel for RowSums<'_, U> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let fields = self.product.fields;
        // Of other rows nothing is added up.
        for (place, is_stiff) in self.is_stiff.iter().enumerate().filter(|(_, is_stiff)| is_stiff.contains(&1.0)) {
            for row in place * fields..(place + 1) * fields {
                let (mut residual, product) = (self.b[row], self.product.row_around(row, place, is_stiff));
                for i in 0..U {
                    residual[i] -= product[i];
                }
                let residual = times(is_stiff, &residual);
                // Rows of one cell have nothing to be even across.
                self.sums[row] = (0..U / 2).map(|i| residual[i] + residual[U - 1 - i]).sum();
            }
        }
    }
}

/// Adds one value to all stiff cells of a row, row by row.
pub(in super::super) struct AddToRows<'a, const U: usize> {
    pub(in super::super) is_stiff: &'a [[f32; U]],
    pub(in super::super) fields: usize,
    pub(in super::super) even: &'a [f32],
    pub(in super::super) x: &'a mut [[f32; U]],
}

impl<const U: usize> Kernel for AddToRows<'_, U> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        for (place, is_stiff) in self.is_stiff.iter().enumerate().filter(|(_, is_stiff)| is_stiff.contains(&1.0)) {
            for row in place * self.fields..(place + 1) * self.fields {
                let even = self.even[row];
                self.x[row].iter_mut().zip(is_stiff).for_each(|(x, is_stiff)| *x += is_stiff * even);
            }
        }
    }
}
