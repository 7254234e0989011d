//! The coarser grid of the multigrid: every two slabs and every two cells across become one; the stack keeps its places.

use super::{GridShape, Operator};
use rayon::prelude::*;
use std::ops::Range;

/// Cells across are halved when they are coupled at least this strongly, as a share of the coupling along the rod: what is
/// coupled weakly is left oscillating by the relaxation and has to stay visible on the coarser grid. Found by trial.
const STRONG_SHARE: f64 = 0.25;

/// Halves a grid along the rod, and across where the coupling is strong enough.
fn coarse_shape(fine: &Operator) -> GridShape {
    let sum = |couplings: &[f32]| couplings.iter().map(|&c| f64::from(c)).sum::<f64>();
    let halve = fine.shape.across > 1 && sum(&fine.across) >= STRONG_SHARE * sum(&fine.along);
    let across = if halve { fine.shape.across / 2 } else { fine.shape.across };
    GridShape { slabs: fine.shape.slabs / 2, across, ..fine.shape }
}

/// The operator on the coarser grid. What a cell loses by itself adds up; couplings are conductances, in parallel where they lie
/// side by side and in series along the path from the middle of one coarse cell to that of the next.
pub(super) fn coarsen(fine: &Operator) -> Operator {
    let shape = coarse_shape(fine);
    let mut coarse = Operator::unit(shape);
    let plane = shape.plane();
    let cells = |index: usize| (index / shape.across, index % shape.across);
    coarse.along.par_chunks_mut(plane).take(shape.slabs).enumerate().skip(1).for_each(|(slab, along_slab)| {
        for (index, coupling) in along_slab.iter_mut().enumerate() {
            let (place, across) = cells(index);
            *coupling = along(fine, slab, place, children(fine, shape, across));
        }
    });
    coarse.stack.par_chunks_mut(plane).zip(coarse.across.par_chunks_mut(plane)).enumerate().for_each(
        |(slab, (stack, beside))| {
            for (index, (coupling, beside)) in stack.iter_mut().zip(beside).enumerate() {
                let (place, across) = cells(index);
                let stacked = |s: usize, u: usize| f64::from(fine.stack[fine.shape.index(s, place, u)]);
                *coupling = sum_of_children(slab, children(fine, shape, across), stacked);
                if across + 1 < shape.across {
                    *beside = self::across(fine, shape, slab, place, across);
                }
            }
        },
    );
    set_diagonal(fine, &mut coarse);
    coarse
}

/// The cells across the fine grid that lie in one of the coarse grid.
fn children(fine: &Operator, coarse: GridShape, across: usize) -> Range<usize> {
    let each = fine.shape.across / coarse.across;
    each * across..each * (across + 1)
}

#[expect(clippy::cast_possible_truncation, reason = "couplings are kept in f32")]
fn sum_of_children(slab: usize, children: Range<usize>, of: impl Fn(usize, usize) -> f64) -> f32 {
    // Two neighbours first, so that a mirror image adds up to the same bits.
    let of_slab = |s: usize| children.clone().map(|u| of(s, u)).sum::<f64>();
    (of_slab(2 * slab) + of_slab(2 * slab + 1)) as f32
}

/// Conductance from middle to middle: through half of one cell, the face between, and half of the next. Where a half is missing
/// the path begins at the face.
fn in_series(before: f32, face: f32, after: f32) -> f64 {
    if face <= 0.0 {
        return 0.0;
    }
    let half = |coupling: f32| if coupling > 0.0 { 0.5 / f64::from(coupling) } else { 0.0 };
    1.0 / (half(before) + half(after) + 1.0 / f64::from(face))
}

#[expect(clippy::cast_possible_truncation, reason = "couplings are kept in f32")]
fn along(fine: &Operator, slab: usize, place: usize, children: Range<usize>) -> f32 {
    let at = |s: usize, u: usize| fine.along[s * fine.shape.plane() + place * fine.shape.across + u];
    let path = |u: usize| in_series(at(2 * slab - 1, u), at(2 * slab, u), at(2 * slab + 1, u));
    children.map(path).sum::<f64>() as f32
}

#[expect(clippy::cast_possible_truncation, reason = "couplings are kept in f32")]
fn across(fine: &Operator, coarse: GridShape, slab: usize, place: usize, across: usize) -> f32 {
    let at = |s: usize, u: usize| fine.across[fine.shape.index(s, place, u)];
    let path = |s: usize| {
        if coarse.across == fine.shape.across {
            return f64::from(at(s, across));
        }
        in_series(at(s, 2 * across), at(s, 2 * across + 1), at(s, 2 * across + 2))
    };
    [2 * slab, 2 * slab + 1].map(path).iter().sum::<f64>() as f32
}

#[expect(clippy::cast_possible_truncation, reason = "the diagonal is kept in f32")]
fn set_diagonal(fine: &Operator, coarse: &mut Operator) {
    let shape = coarse.shape;
    let mut diagonal = std::mem::take(&mut coarse.diagonal);
    diagonal.fill(0.0);
    // Without a diagonal of its own a cell's excess is what it gives to its neighbours, negative.
    coarse.diagonal.clone_from(&diagonal);
    let bare: &Operator = coarse;
    diagonal.par_chunks_mut(shape.plane()).enumerate().for_each(|(slab, diagonal)| {
        for (index, value) in diagonal.iter_mut().enumerate() {
            let (place, across) = (index / shape.across, index % shape.across);
            let couplings = -bare.excess(slab, place, across);
            let own = f64::from(sum_of_children(slab, children(fine, shape, across), |s, u| fine.excess(s, place, u)));
            *value = (own + couplings) as f32;
        }
    });
    coarse.diagonal = diagonal;
}

/// How far each fine cell takes its value from the coarse cell beyond its own, along the rod: the share of the two conductances
/// between which it lies, a quarter where all are alike, nothing across a barred face.
#[expect(clippy::cast_possible_truncation, reason = "weights of f32 values")]
pub(super) fn weights(fine: &Operator) -> Vec<f32> {
    let plane = fine.shape.plane();
    let mut weights = vec![0.0; fine.shape.cells()];
    weights.par_chunks_mut(plane).enumerate().for_each(|(slab, weights)| {
        // The face towards the coarse cell beyond, the one within the own coarse cell, and the one within that beyond.
        let (face, own) = if slab % 2 == 0 { (slab, slab + 1) } else { (slab + 1, slab) };
        let far = if slab % 2 == 0 { slab.checked_sub(1) } else { Some(slab + 2).filter(|&s| s <= fine.shape.slabs) };
        let Some(far) = far else { return };
        for (cell, weight) in weights.iter_mut().enumerate() {
            let at = |slab: usize| fine.along[slab * plane + cell];
            let beyond = in_series(0.0, at(face), at(far));
            let near = 2.0 * f64::from(at(own));
            // Without a sibling the fine cell is all that the coarse one is.
            if beyond > 0.0 && near > 0.0 {
                *weight = (beyond / (beyond + near)) as f32;
            }
        }
    });
    weights
}
