//! Relaxation: the lines through the stack solved exactly.
//!
//! Gauss's elimination for a tridiagonal matrix (Thomas), begun at both ends and ended in the middle: a mirrored line is worked on
//! in the same order, and two recurrences run side by side.

use super::{Beside, Slab, add_product, from_left, from_right, times};
use crate::vector::Kernel;

/// How strongly a cell holds to its own value against its neighbours across, which change at the same time: as if it were coupled
/// to its former value by this share of those couplings (damped Jacobi). With nothing, what swings from cell to cell would swing
/// on for ever where cells are coupled across more than along. Found by trial on the example tee.
const HOLD: f32 = 0.25;

/// What is known of the values when a slab is relaxed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in super::super) enum Start {
    /// All are zero.
    Zero,
    /// Those of the slab are zero, those beside it are not.
    OwnZero,
    /// None is zero.
    Values,
}

/// How strongly each cell of a row holds to its own value.
#[inline(always)]
fn held<const U: usize>(across: &[f32; U]) -> [f32; U] {
    let mut held = from_left(across);
    for i in 0..U {
        held[i] = HOLD * (across[i] + held[i]);
    }
    held
}

/// Factors the lines of a slab, from both ends to the middle: `lines`, what each cell's diagonal has without couplings through the
/// stack, becomes the reciprocals of the elimination's pivots. With an even number of places the last two are left coupled.
///
/// What elimination leaves of a cell is added up and never taken away from a large number: where couplings through the stack are
/// ten thousand times the rest, the rest would be lost in f32.
pub(in super::super) fn factor_lines<const U: usize>(stack: &[[f32; U]], across: &[[f32; U]], lines: &mut [[f32; U]]) {
    let places = lines.len();
    let (mut below, mut above) = ([0.0; U], [0.0; U]);
    for low in 0..places / 2 {
        let high = places - 1 - low;
        below = factor(&mut lines[low], &held(&across[low]), &below, &stack[low]);
        above = factor(&mut lines[high], &held(&across[high]), &above, &stack[high - 1]);
    }
    if !places.is_multiple_of(2) {
        let (middle, held) = (&mut lines[places / 2], held(&across[places / 2]));
        for i in 0..U {
            middle[i] = 1.0 / (middle[i] + held[i] + (below[i] + above[i]));
        }
    }
}

/// Makes a pivot of a place and gives what is left of it for the next on the way to the middle: its own and what was left before it,
/// in series with the coupling.
fn factor<const U: usize>(line: &mut [f32; U], held: &[f32; U], before: &[f32; U], coupling: &[f32; U]) -> [f32; U] {
    let mut left = [0.0; U];
    for i in 0..U {
        let rest = line[i] + held[i] + before[i];
        line[i] = 1.0 / (rest + coupling[i]);
        left[i] = rest * coupling[i] * line[i];
    }
    left
}

/// Solves the lines of one slab with everything beside them held still.
pub(in super::super) struct Relax<'a, const U: usize> {
    pub(in super::super) slab: Slab<'a, U>,
    pub(in super::super) fields: usize,
    pub(in super::super) start: Start,
    pub(in super::super) b: &'a [[f32; U]],
    pub(in super::super) beside: Beside<'a, U>,
    pub(in super::super) x: &'a mut [[f32; U]],
}

impl<const U: usize> Relax<'_, U> {
    /// What one row of a line has on its right-hand side.
    #[inline(always)]
    fn load(&self, row: usize, place: usize, held: &[f32; U]) -> [f32; U] {
        let mut sum = self.b[row];
        if self.start == Start::Zero {
            return sum;
        }
        if let Some(below) = self.beside.below {
            add_product(&mut sum, &self.slab.below[place], &below[row]);
        }
        if let Some(above) = self.beside.above {
            add_product(&mut sum, &self.slab.above[place], &above[row]);
        }
        if self.start == Start::Values {
            let (across, x) = (&self.slab.across[place], &self.x[row]);
            let right = from_right(x);
            let left = from_left(&times(across, x));
            for i in 0..U {
                sum[i] += (across[i] * right[i] + left[i]) + held[i] * x[i];
            }
        }
        sum
    }

    /// Eliminates at `place` what was eliminated at `last`, the place before on the way to the middle, and whose coupling is `coupling`.
    #[inline(always)]
    fn eliminate(&mut self, place: usize, coupling: usize, last: Option<usize>) {
        let (fields, pivot, held) = (self.fields, self.slab.pivots[place], held(&self.slab.across[place]));
        let stack = self.slab.stack[coupling];
        for field in 0..fields {
            let row = place * fields + field;
            let mut sum = self.load(row, place, &held);
            if let Some(last) = last {
                add_product(&mut sum, &stack, &self.x[last * fields + field]);
            }
            for i in 0..U {
                sum[i] *= pivot[i];
            }
            self.x[row] = sum;
        }
    }

    /// The one place in the middle, reached from both sides.
    #[inline(always)]
    fn solve_middle(&mut self, middle: usize) {
        let (fields, pivot, held) = (self.fields, self.slab.pivots[middle], held(&self.slab.across[middle]));
        for field in 0..fields {
            let row = middle * fields + field;
            let mut sum = self.load(row, middle, &held);
            if middle > 0 {
                let (below, above) = (self.x[row - fields], self.x[row + fields]);
                for i in 0..U {
                    sum[i] += self.slab.stack[middle - 1][i] * below[i] + self.slab.stack[middle][i] * above[i];
                }
            }
            for i in 0..U {
                sum[i] *= pivot[i];
            }
            self.x[row] = sum;
        }
    }

    /// The two places in the middle, one reached from either side.
    #[inline(always)]
    fn solve_middle_pair(&mut self, low: usize) {
        let (fields, stack) = (self.fields, &self.slab.stack[low]);
        let (from_high, from_low) = (times(stack, &self.slab.pivots[low]), times(stack, &self.slab.pivots[low + 1]));
        let mut scale = times(&from_high, &from_low);
        scale.iter_mut().for_each(|scale| *scale = 1.0 / (1.0 - *scale));
        for row in low * fields..(low + 1) * fields {
            let (mut below, mut above) = (self.x[row], self.x[row + fields]);
            for i in 0..U {
                (below[i], above[i]) =
                    ((below[i] + from_high[i] * above[i]) * scale[i], (above[i] + from_low[i] * below[i]) * scale[i]);
            }
            (self.x[row], self.x[row + fields]) = (below, above);
        }
    }

    /// Puts the solved place `next` into the one before it on the way back, `coupling` between them.
    #[inline(always)]
    fn put_back(&mut self, place: usize, coupling: usize, next: usize) {
        let (fields, factor) = (self.fields, times(&self.slab.stack[coupling], &self.slab.pivots[place]));
        for field in 0..fields {
            let mut value = self.x[place * fields + field];
            add_product(&mut value, &factor, &self.x[next * fields + field]);
            self.x[place * fields + field] = value;
        }
    }
}

impl<const U: usize> Kernel for Relax<'_, U> {
    type Output = ();

    #[inline(always)]
    fn call(mut self) {
        let places = self.slab.loss.len();
        let half = places / 2;
        for low in 0..half {
            let high = places - 1 - low;
            self.eliminate(low, low.saturating_sub(1), low.checked_sub(1));
            self.eliminate(high, high, (low > 0).then_some(high + 1));
        }
        let mut solved = half;
        if !places.is_multiple_of(2) {
            self.solve_middle(half);
        } else if half > 0 {
            solved = half - 1;
            self.solve_middle_pair(solved);
        }
        for low in (0..solved).rev() {
            let high = places - 1 - low;
            self.put_back(low, low, low + 1);
            self.put_back(high, high - 1, high - 1);
        }
    }
}
