//! The operator on the coarser grid.
//!
//! Couplings along and across are conductances: in parallel where they lie side by side, in series along the path from the middle of
//! one coarse cell to that of the next. What a cell loses by itself, and its couplings through the stack, go to the coarse cells of
//! which it takes its value, by the same shares: so the coarse grid is never softer than the fine one, and never corrects too much.

use super::Operator;
use super::across::for_pair;
use super::kernels::{Restrict, Shares, rows, rows_mut};
use super::level::Level;
use super::transfer::Transfer;
use rayon::prelude::*;

impl Level {
    /// The next coarser level, if there is any.
    pub(super) fn coarser(&self, fields: usize) -> Option<Self> {
        Some(Self::new(coarsen(self, self.transfer.as_ref()?), fields))
    }
}

/// The operator on the coarser grid of a level.
fn coarsen(fine: &Level, transfer: &Transfer) -> Operator {
    let shape = transfer.coarse;
    let mut coarse = Operator::unit(shape);
    coarse.loss.fill(0.0);
    let along = coarse.along.par_chunks_mut(shape.plane()).take(shape.slabs());
    let slabs = along.zip(coarse.stack.par_chunks_mut(shape.plane())).zip(coarse.across.par_chunks_mut(shape.plane()));
    slabs.zip(coarse.loss.par_chunks_mut(shape.plane())).enumerate().for_each(|(slab, (((along, stack), across), loss))| {
        set_along(&fine.operator, transfer, slab, along);
        set_across(&fine.operator, transfer, slab, across);
        give(fine, transfer, slab, &fine.operator.loss, 0, loss);
        set_stack(fine, transfer, slab, stack);
    });
    coarse
}

/// Conductance from middle to middle: through half of one cell, the face between, and half of the next. Where a half is missing
/// the path begins at the face.
fn in_series(before: Option<f32>, face: f32, after: Option<f32>) -> f64 {
    if face <= 0.0 {
        return 0.0;
    }
    let half = |coupling: Option<f32>| coupling.filter(|&coupling| coupling > 0.0).map_or(0.0, |c| 0.5 / f64::from(c));
    1.0 / (half(before) + half(after) + 1.0 / f64::from(face))
}

/// Half a coarse slab lies on the path where values are interpolated over it.
#[expect(clippy::cast_possible_truncation, reason = "couplings are kept in f32")]
fn set_along(fine: &Operator, transfer: &Transfer, slab: usize, along: &mut [f32]) {
    let Some(below) = slab.checked_sub(1) else { return };
    let face = transfer.children(slab).start;
    debug_assert_eq!(transfer.own[face - 1], below);
    let [before, after] = [face - 1, face].map(|child| transfer.crossed_face(child));
    let plane = fine.shape.plane();
    let each = fine.shape.across() / transfer.coarse.across();
    for (cell, coupling) in along.iter_mut().enumerate() {
        let path = |child: usize| {
            let at = |face: usize| fine.along[face * plane + each * cell + child];
            in_series(before.map(at), at(face), after.map(at))
        };
        *coupling = (0..each).map(path).sum::<f64>() as f32;
    }
}

#[expect(clippy::cast_possible_truncation, reason = "couplings are kept in f32")]
fn set_across(fine: &Operator, transfer: &Transfer, slab: usize, across: &mut [f32]) {
    let (shape, each) = (fine.shape, fine.shape.across() / transfer.coarse.across());
    for giver in transfer.givers(slab) {
        for (cell, coupling) in across.iter_mut().enumerate() {
            if (cell + 1) % transfer.coarse.across() == 0 {
                continue;
            }
            // The face between two coarse cells lies behind this fine one.
            let face = giver * shape.plane() + each * (cell + 1) - 1;
            let at = |cell: usize| fine.across[cell];
            let path = if each == 1 { f64::from(at(face)) } else { in_series(Some(at(face - 1)), at(face), Some(at(face + 1))) };
            let beyond = 0.5 * (f64::from(transfer.along[face]) + f64::from(transfer.along[face + 1]));
            let share = if transfer.own[giver] == slab { 1.0 - beyond } else { beyond };
            *coupling += (share * path) as f32;
        }
    }
}

/// Gives each cell's value to the coarse cells of which it takes its own, by the shares at the cell so many places further on.
fn give(fine: &Level, transfer: &Transfer, slab: usize, values: &[f32], places_on: usize, coarse: &mut [f32]) {
    let shape = fine.operator.shape;
    let (plane, on) = (shape.plane(), places_on * shape.across());
    for giver in transfer.givers(slab) {
        let cells = giver * plane..(giver + 1) * plane;
        for_pair!(shape.across(), transfer.coarse.across(), U, C => fine.vectors.run(Restrict::<U, C> {
            fields: 1,
            shares: Shares {
                along: &rows(&transfer.along[cells.clone()])[places_on..],
                across: transfer.across.get(cells.start + on..cells.end).map_or(&[], rows),
            },
            beyond: transfer.own[giver] != slab,
            fine: rows(&values[cells.clone()]),
            coarse: rows_mut(coarse),
        }));
    }
}

/// A coupling between two places goes by the mean of the shares at both.
fn set_stack(fine: &Level, transfer: &Transfer, slab: usize, stack: &mut [f32]) {
    let mut by_next = vec![0.0; stack.len()];
    give(fine, transfer, slab, &fine.operator.stack, 0, stack);
    give(fine, transfer, slab, &fine.operator.stack, 1, &mut by_next);
    stack.iter_mut().zip(by_next).for_each(|(stack, by_next)| *stack = 0.5 * (*stack + by_next));
}
