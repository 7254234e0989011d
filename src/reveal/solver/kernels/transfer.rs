//! From a slab to one of the coarser grid and back: `U` cells across there, `C` here, the same or half as many.

use super::times;
use crate::vector::Kernel;

/// By how much each cell of a slab takes from the coarse cells that are not its own: the slab beyond its own, and the cell beyond
/// its own across; the latter is read only where cells across are halved.
#[derive(Debug, Clone, Copy)]
pub(in super::super) struct Shares<'a, const U: usize> {
    pub(in super::super) along: &'a [[f32; U]],
    pub(in super::super) across: &'a [[f32; U]],
}

/// Adds the share of one fine slab to a slab of the coarser grid: its own, or that beyond. The transpose of [`Prolong`].
pub(in super::super) struct Restrict<'a, const U: usize, const C: usize> {
    pub(in super::super) fields: usize,
    pub(in super::super) shares: Shares<'a, U>,
    pub(in super::super) beyond: bool,
    pub(in super::super) fine: &'a [[f32; U]],
    pub(in super::super) coarse: &'a mut [[f32; C]],
}

impl<const U: usize, const C: usize> Kernel for Restrict<'_, U, C> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let rows = self.fine.chunks_exact(self.fields).zip(self.coarse.chunks_exact_mut(self.fields));
        for (place, (along, (fine, coarse))) in self.shares.along.iter().zip(rows).enumerate() {
            let mut share = *along;
            if !self.beyond {
                share.iter_mut().for_each(|share| *share = 1.0 - *share);
            }
            for (fine, coarse) in fine.iter().zip(coarse) {
                let mut own = times(&share, fine);
                if U == C {
                    for i in 0..C {
                        coarse[i] += own[i];
                    }
                    continue;
                }
                let over = times(&self.shares.across[place], &own);
                for i in 0..U {
                    own[i] -= over[i];
                }
                for i in 0..C {
                    let before = if i > 0 { over[2 * i - 1] } else { 0.0 };
                    let after = if i + 1 < C { over[2 * i + 2] } else { 0.0 };
                    coarse[i] += (own[2 * i] + own[2 * i + 1]) + (before + after);
                }
            }
        }
    }
}

/// Adds to one fine slab what was found on the coarser grid.
pub(in super::super) struct Prolong<'a, const U: usize, const C: usize> {
    pub(in super::super) fields: usize,
    pub(in super::super) shares: Shares<'a, U>,
    pub(in super::super) own: &'a [[f32; C]],
    pub(in super::super) beyond: &'a [[f32; C]],
    pub(in super::super) fine: &'a mut [[f32; U]],
}

impl<const U: usize, const C: usize> Kernel for Prolong<'_, U, C> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        for (place, along) in self.shares.along.iter().enumerate() {
            let across = if U == C { [0.0; U] } else { self.shares.across[place] };
            for row in place * self.fields..(place + 1) * self.fields {
                let (own, beyond) = (spread(&self.own[row], &across), spread(&self.beyond[row], &across));
                let mut value = self.fine[row];
                for i in 0..U {
                    value[i] += own[i] + along[i] * (beyond[i] - own[i]);
                }
                self.fine[row] = value;
            }
        }
    }
}

/// A coarse row at the cells of the fine one.
#[inline(always)]
fn spread<const U: usize, const C: usize>(coarse: &[f32; C], across: &[f32; U]) -> [f32; U] {
    let mut fine = [0.0; U];
    for i in 0..U {
        let own = i * C / U;
        fine[i] = coarse[own];
        if U != C {
            let beyond = if i % 2 == 0 { own.saturating_sub(1) } else { (own + 1).min(C - 1) };
            fine[i] += across[i] * (coarse[beyond] - coarse[own]);
        }
    }
    fine
}
