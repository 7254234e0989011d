//! Scaled sums of whole fields.

use super::Fields;
use super::across::for_across;
use super::block::{Grid, NOTHING, SlabsMut, add, on_blocks};
use super::kernels::{ReduceResidual, StepAlong, StepAndTurn, Sums, rows, rows_mut};
use super::level::Level;

/// `a . b`, field by field.
pub(super) fn dot(level: &Level, a: &mut Fields, b: &Fields) -> Sums {
    on_blocks(&level.blocks, SlabsMut::all(Grid::Fine, a), &|block, a| {
        let mut sums = NOTHING;
        for slab in block.fine.clone() {
            add(&mut sums, &level.dot(a.get(slab).unwrap_or_default(), b.slab(slab), b.count()));
        }
        sums
    })
}

/// `a = b`, and `b . b`, field by field.
pub(super) fn copy(level: &Level, b: &Fields, a: &mut Fields) -> Sums {
    on_blocks(&level.blocks, SlabsMut::all(Grid::Fine, a), &|block, mut a| {
        let mut sums = NOTHING;
        for slab in block.fine.clone() {
            a.slab_mut(slab).copy_from_slice(b.slab(slab));
            add(&mut sums, &level.dot(b.slab(slab), b.slab(slab), b.count()));
        }
        sums
    })
}

/// `x += step * direction`, field by field.
pub(super) fn step_along(level: &Level, step: &[f32], direction: &Fields, x: &mut Fields) {
    let across = x.shape().across();
    on_blocks(&level.blocks, SlabsMut::all(Grid::Fine, x), &|block, mut x| {
        for slab in block.fine.clone() {
            for_across!(across, U => level.vectors.run(StepAlong::<U> {
                step,
                direction: rows(direction.slab(slab)),
                x: rows_mut(x.slab_mut(slab)),
            }));
        }
        NOTHING
    });
}

/// `x += step * direction; direction = z + keep * direction`, field by field: two sums in one pass.
pub(super) fn step_and_turn(level: &Level, step: &[f32], keep: &[f32], z: &Fields, direction: &mut Fields, x: &mut Fields) {
    let across = x.shape().across();
    let parts = (SlabsMut::all(Grid::Fine, direction), SlabsMut::all(Grid::Fine, x));
    on_blocks(&level.blocks, parts, &|block, (mut direction, mut x)| {
        for slab in block.fine.clone() {
            for_across!(across, U => level.vectors.run(StepAndTurn::<U> {
                step,
                keep,
                z: rows(z.slab(slab)),
                direction: rows_mut(direction.slab_mut(slab)),
                x: rows_mut(x.slab_mut(slab)),
            }));
        }
        NOTHING
    });
}

/// `r -= step * product`, and `r . r`, field by field.
pub(super) fn reduce_residual(level: &Level, step: &[f32], product: &Fields, r: &mut Fields) -> Sums {
    let across = r.shape().across();
    on_blocks(&level.blocks, SlabsMut::all(Grid::Fine, r), &|block, mut r| {
        let mut sums = NOTHING;
        for slab in block.fine.clone() {
            let more = for_across!(across, U => level.vectors.run(ReduceResidual::<U> {
                step,
                product: rows(product.slab(slab)),
                r: rows_mut(r.slab_mut(slab)),
            }));
            add(&mut sums, &more);
        }
        sums
    })
}
