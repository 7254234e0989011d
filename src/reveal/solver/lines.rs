//! Lines through the stack: the coefficients of a slab of them, and their pivots.

use super::Operator;
use super::across::for_across;
use super::kernels::{Slab, factor_lines, rows, rows_mut};
use rayon::prelude::*;

/// The coefficients of one slab.
pub(super) fn slab_of<'a, const U: usize>(operator: &'a Operator, pivots: &'a [f32], slab: usize) -> Slab<'a, U> {
    let plane = operator.shape.plane();
    let here = slab * plane..(slab + 1) * plane;
    Slab {
        below: rows(&operator.along[here.clone()]),
        above: rows(&operator.along[here.end..here.end + plane]),
        stack: rows(&operator.stack[here.clone()]),
        across: rows(&operator.across[here.clone()]),
        loss: rows(&operator.loss[here.clone()]),
        pivots: rows(&pivots[here]),
    }
}

/// The pivots of all lines.
#[expect(clippy::cast_possible_truncation, reason = "coefficients are kept in f32")]
pub(super) fn factored(operator: &Operator) -> Vec<f32> {
    let (plane, mut pivots) = (operator.shape.plane(), vec![0.0; operator.shape.cells()]);
    pivots.par_chunks_mut(plane).enumerate().for_each(|(slab, lines)| {
        let cells = slab * plane..(slab + 1) * plane;
        for (line, cell) in lines.iter_mut().zip(cells.clone()) {
            *line = (f64::from(operator.loss[cell]) + operator.beside(cell)) as f32;
        }
        let (stack, across) = (&operator.stack[cells.clone()], &operator.across[cells]);
        for_across!(operator.shape.across(), U => factor_lines::<U>(rows(stack), rows(across), rows_mut(lines)));
    });
    pivots
}
