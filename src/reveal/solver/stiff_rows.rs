//! Runs of cells across that lines through the stack can't move.
//!
//! Where a pleat, or a part of it, runs out to nothing, its cells lie so close together that they are coupled to each other many times as
//! strongly as to anything else. Each line through the stack is then held fast by the lines beside it: what is even over such cells stays
//! as it is under relaxation, and where it swings from slab to slab no coarser grid sees it once these slabs are merged. So in slabs
//! with such cells, besides the lines, what is even over those of each row is solved exactly: one more line through the stack.

use super::Operator;
use super::kernels::Slab;
use super::lines::{factored, slab_of};
use rayon::prelude::*;

/// A cell is stiff when it is coupled to those beside it across more than so many times as strongly as to everything else. Found by trial
/// on lines drawn on the example tee, whose burst has no such cell on any of its grids; from 4 to 8 the steps are about the same.
const STIFF_FROM: f64 = 6.0;

/// The stiff cells of a grid, those of a row as one.
#[derive(Debug)]
pub(super) struct StiffRows {
    /// Whether a slab has any.
    in_slab: Vec<bool>,
    /// 1 for each cell that is stiff, 0 for the others.
    is_stiff: Vec<f32>,
    /// What the operator is for values that are even over the stiff cells of each row and 0 elsewhere, slab by slab.
    even: Operator,
    pivots: Vec<f32>,
}

/// What is solved in a slab besides its lines.
#[derive(Debug, Clone, Copy)]
pub(super) struct StiffSlab<'a> {
    /// 1 for each cell that is stiff, 0 for the others.
    pub(super) is_stiff: &'a [f32],
    /// The line of what is even over them.
    pub(super) line: Slab<'a, 1>,
}

impl StiffRows {
    /// `None` where no cell is stiff.
    pub(super) fn of(operator: &Operator) -> Option<Self> {
        let shape = operator.shape;
        let by_itself = |cell: usize| operator.diagonal(cell) - operator.across_to_both(cell);
        let is_stiff = |cell: usize| operator.across_to_both(cell) > STIFF_FROM * by_itself(cell);
        let is_stiff: Vec<f32> = (0..shape.cells()).into_par_iter().map(|cell| f32::from(u8::from(is_stiff(cell)))).collect();
        let in_slab: Vec<bool> = is_stiff.par_chunks(shape.plane()).map(|cells| cells.contains(&1.0)).collect();
        if !in_slab.contains(&true) {
            return None;
        }
        let (cells, mut even) = (Stiff { operator, is_stiff: &is_stiff }, Operator::unit(shape.of_rows()));
        even.stack.par_iter_mut().zip(&mut even.loss).enumerate().for_each(|(row, (stack, loss))| {
            if cells.sum(row, |_| 1.0) > 0.0 {
                *stack = to_f32(cells.sum(row, |cell| cells.to_next(cell, 1.0)));
                *loss = to_f32(cells.sum(row, |cell| cells.held_by(cell)));
            }
        });
        Some(Self { in_slab, pivots: factored(&even), even, is_stiff })
    }

    /// What is solved in a slab that has any stiff cells.
    pub(super) fn slab(&self, slab: usize) -> Option<StiffSlab<'_>> {
        let plane = self.is_stiff.len() / self.in_slab.len();
        let is_stiff = &self.is_stiff[slab * plane..(slab + 1) * plane];
        self.in_slab[slab].then(|| StiffSlab { is_stiff, line: slab_of(&self.even, &self.pivots, slab) })
    }
}

/// What stiff cells are coupled to.
struct Stiff<'a> {
    operator: &'a Operator,
    is_stiff: &'a [f32],
}

impl Stiff<'_> {
    /// The sum over a row's stiff cells, the same to the last bit for a mirror image.
    fn sum(&self, row: usize, value: impl Fn(usize) -> f64) -> f64 {
        let across = self.operator.shape.across();
        let part = |cell: usize| if self.is_stiff[cell] > 0.0 { value(cell) } else { 0.0 };
        (0..across / 2).map(|cell| part(row * across + cell) + part((row + 1) * across - 1 - cell)).sum()
    }

    /// A coupling to another cell, if that is stiff (1) or if it is not (0).
    fn to(&self, coupling: Option<&f32>, cell: usize, if_stiff: f32) -> f64 {
        coupling.filter(|_| self.is_stiff.get(cell) == Some(&if_stiff)).map_or(0.0, |&coupling| f64::from(coupling))
    }

    /// The coupling to the next place.
    fn to_next(&self, cell: usize, if_stiff: f32) -> f64 {
        self.to(self.operator.stack.get(cell), cell + self.operator.shape.across(), if_stiff)
    }

    /// All that holds a cell but for stiff ones of its slab.
    fn held_by(&self, cell: usize) -> f64 {
        let operator = self.operator;
        let (before, last) = (cell.wrapping_sub(1), cell.wrapping_sub(operator.shape.across()));
        let across = self.to(operator.across.get(cell), cell + 1, 0.0) + self.to(operator.across.get(before), before, 0.0);
        let through = self.to_next(cell, 0.0) + self.to(operator.stack.get(last), last, 0.0);
        f64::from(operator.loss[cell]) + operator.along_to_both(cell) + (across + through)
    }
}

#[expect(clippy::cast_possible_truncation, reason = "coefficients are kept in f32")]
fn to_f32(sum: f64) -> f32 {
    sum as f32
}
