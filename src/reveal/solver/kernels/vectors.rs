//! Sums and scaled sums of whole slabs.

use super::{MOST_FIELDS, Sums, add, add_product, mirrored, sum_rows};
use crate::vector::Kernel;

/// Products of two slabs, one for each field.
pub(in super::super) struct Dot<'a, const U: usize> {
    pub(in super::super) fields: usize,
    pub(in super::super) a: &'a [[f32; U]],
    pub(in super::super) b: &'a [[f32; U]],
}

impl<const U: usize> Kernel for Dot<'_, U> {
    type Output = Sums;

    #[inline(always)]
    fn call(self) -> Sums {
        let mut sums = [[0.0_f32; U]; MOST_FIELDS];
        for (place, mirror) in mirrored(self.a.len() / self.fields) {
            for (field, sum) in sums.iter_mut().enumerate().take(self.fields) {
                let row = place * self.fields + field;
                let mut both = [0.0; U];
                add_product(&mut both, &self.a[row], &self.b[row]);
                if let Some(mirror) = mirror {
                    let row = mirror * self.fields + field;
                    add_product(&mut both, &self.a[row], &self.b[row]);
                }
                add(sum, &both);
            }
        }
        sum_rows(&sums)
    }
}

/// `x += step direction`.
pub(in super::super) struct StepAlong<'a, const U: usize> {
    pub(in super::super) step: &'a [f32],
    pub(in super::super) direction: &'a [[f32; U]],
    pub(in super::super) x: &'a mut [[f32; U]],
}

impl<const U: usize> Kernel for StepAlong<'_, U> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let fields = self.step.len();
        for (direction, x) in self.direction.chunks_exact(fields).zip(self.x.chunks_exact_mut(fields)) {
            for ((direction, x), &step) in direction.iter().zip(x).zip(self.step) {
                for i in 0..U {
                    x[i] += step * direction[i];
                }
            }
        }
    }
}

/// `x += step direction`, then `direction = z + keep direction`.
pub(in super::super) struct StepAndTurn<'a, const U: usize> {
    pub(in super::super) step: &'a [f32],
    pub(in super::super) keep: &'a [f32],
    pub(in super::super) z: &'a [[f32; U]],
    pub(in super::super) direction: &'a mut [[f32; U]],
    pub(in super::super) x: &'a mut [[f32; U]],
}

impl<const U: usize> Kernel for StepAndTurn<'_, U> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let fields = self.step.len();
        let places =
            self.z.chunks_exact(fields).zip(self.direction.chunks_exact_mut(fields)).zip(self.x.chunks_exact_mut(fields));
        for ((z, direction), x) in places {
            let rows = z.iter().zip(direction).zip(x).zip(self.step.iter().zip(self.keep));
            for (((z, direction), x), (&step, &keep)) in rows {
                for i in 0..U {
                    x[i] += step * direction[i];
                    direction[i] = z[i] + keep * direction[i];
                }
            }
        }
    }
}

/// `r -= step product`, and `r . r`.
pub(in super::super) struct ReduceResidual<'a, const U: usize> {
    pub(in super::super) step: &'a [f32],
    pub(in super::super) product: &'a [[f32; U]],
    pub(in super::super) r: &'a mut [[f32; U]],
}

impl<const U: usize> ReduceResidual<'_, U> {
    #[inline(always)]
    fn reduce(&mut self, row: usize, step: f32, squares: &mut [f32; U]) {
        let (mut r, product) = (self.r[row], &self.product[row]);
        for i in 0..U {
            r[i] -= step * product[i];
        }
        add_product(squares, &r, &r);
        self.r[row] = r;
    }
}

impl<const U: usize> Kernel for ReduceResidual<'_, U> {
    type Output = Sums;

    #[inline(always)]
    fn call(mut self) -> Sums {
        let fields = self.step.len();
        let mut sums = [[0.0_f32; U]; MOST_FIELDS];
        for (place, mirror) in mirrored(self.product.len() / fields) {
            for (field, (sum, &step)) in sums.iter_mut().zip(self.step).enumerate() {
                let mut both = [0.0; U];
                self.reduce(place * fields + field, step, &mut both);
                if let Some(mirror) = mirror {
                    self.reduce(mirror * fields + field, step, &mut both);
                }
                add(sum, &both);
            }
        }
        sum_rows(&sums)
    }
}
