//! What is done to one slab: all in the innermost cache, along rows of `U` cells that fill vector registers.
//!
//! Each kernel is a type of its own, so that `pulp` can compile it for the vector registers of the processor it runs on. None
//! allocates, and none fuses multiply and add, so that every processor gives the same bytes.

use pulp::NullaryFnOnce;

/// Most fields that are worked on at once.
pub const MOST_FIELDS: usize = 16;

/// Sums over the cells of a slab, one for each field.
pub(super) type Sums = [f64; MOST_FIELDS];

/// The couplings of one slab.
#[derive(Debug, Clone, Copy)]
pub(super) struct Slab<'a, const U: usize> {
    pub(super) below: &'a [[f32; U]],
    pub(super) above: &'a [[f32; U]],
    pub(super) stack: &'a [[f32; U]],
    pub(super) across: &'a [[f32; U]],
    pub(super) excess: &'a [[f32; U]],
    pub(super) pivots: &'a [[f32; U]],
}

/// The values of the two slabs beside one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Beside<'a, const U: usize> {
    pub(super) below: &'a [[f32; U]],
    pub(super) above: &'a [[f32; U]],
}

#[inline(always)]
fn add_product<const U: usize>(sum: &mut [f32; U], a: &[f32; U], b: &[f32; U]) {
    for i in 0..U {
        sum[i] += a[i] * b[i];
    }
}

/// Adds what the two neighbours across the pleat give.
#[inline(always)]
fn add_across<const U: usize>(sum: &mut [f32; U], coupling: &[f32; U], x: &[f32; U]) {
    let mut from_next = [0.0; U];
    let mut from_last = [0.0; U];
    for i in 1..U {
        from_next[i - 1] = coupling[i - 1] * x[i];
        from_last[i] = coupling[i - 1] * x[i - 1];
    }
    for i in 0..U {
        sum[i] += from_next[i] + from_last[i];
    }
}

/// Adds what flows to a neighbour.
#[inline(always)]
fn add_flow<const U: usize>(sum: &mut [f32; U], coupling: &[f32; U], x: &[f32; U], neighbour: &[f32; U]) {
    for i in 0..U {
        sum[i] += coupling[i] * (x[i] - neighbour[i]);
    }
}

/// Adds what flows to the two neighbours across the pleat.
#[inline(always)]
fn add_flow_across<const U: usize>(sum: &mut [f32; U], coupling: &[f32; U], x: &[f32; U]) {
    let mut to_next = [0.0; U];
    let mut to_last = [0.0; U];
    for i in 1..U {
        to_next[i - 1] = coupling[i - 1] * (x[i - 1] - x[i]);
        to_last[i] = coupling[i - 1] * (x[i] - x[i - 1]);
    }
    for i in 0..U {
        sum[i] += to_next[i] + to_last[i];
    }
}

#[inline(always)]
fn sum_rows<const U: usize>(rows: &[[f32; U]; MOST_FIELDS]) -> Sums {
    let mut sums = [0.0; MOST_FIELDS];
    for (sum, row) in sums.iter_mut().zip(rows) {
        *sum = row.iter().map(|&value| f64::from(value)).sum();
    }
    sums
}

/// Factors the lines through the stack: the reciprocals of the pivots of Thomas's elimination.
pub(super) fn factor_lines<const U: usize>(stack: &[[f32; U]], diagonal: &[[f32; U]], pivots: &mut [[f32; U]]) {
    for place in 0..pivots.len() {
        for i in 0..U {
            let eliminated = if place > 0 { stack[place - 1][i] * stack[place - 1][i] * pivots[place - 1][i] } else { 0.0 };
            pivots[place][i] = 1.0 / (diagonal[place][i] - eliminated);
        }
    }
}

/// Solves the lines through the stack exactly (Thomas) with everything beside them held still. Without `beside` all values before,
/// here and there, count as zero.
pub(super) struct Relax<'a, const U: usize> {
    pub(super) slab: Slab<'a, U>,
    pub(super) fields: usize,
    pub(super) b: &'a [[f32; U]],
    pub(super) beside: Option<Beside<'a, U>>,
    pub(super) x: &'a mut [[f32; U]],
}

impl<const U: usize> Relax<'_, U> {
    /// What the line at `place` has on its right-hand side.
    #[inline(always)]
    fn load(&self, row: usize, place: usize) -> [f32; U] {
        let mut sum = self.b[row];
        if let Some(beside) = &self.beside {
            add_product(&mut sum, &self.slab.below[place], &beside.below[row]);
            add_product(&mut sum, &self.slab.above[place], &beside.above[row]);
            add_across(&mut sum, &self.slab.across[place], &self.x[row]);
        }
        sum
    }
}

impl<const U: usize> NullaryFnOnce for Relax<'_, U> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let (places, fields) = (self.slab.excess.len(), self.fields);
        for place in 0..places {
            let pivots = self.slab.pivots[place];
            let stack = if place > 0 { self.slab.stack[place - 1] } else { [0.0; U] };
            for row in place * fields..(place + 1) * fields {
                let mut sum = self.load(row, place);
                if place > 0 {
                    let before = self.x[row - fields];
                    add_product(&mut sum, &stack, &before);
                }
                for i in 0..U {
                    sum[i] *= pivots[i];
                }
                self.x[row] = sum;
            }
        }
        for place in (0..places - 1).rev() {
            let mut factor = self.slab.stack[place];
            factor.iter_mut().zip(&self.slab.pivots[place]).for_each(|(factor, pivot)| *factor *= pivot);
            for row in place * fields..(place + 1) * fields {
                let mut value = self.x[row];
                add_product(&mut value, &factor, &self.x[row + fields]);
                self.x[row] = value;
            }
        }
    }
}

/// The slab and its values, for rows of `A x`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Product<'a, const U: usize> {
    pub(super) slab: Slab<'a, U>,
    pub(super) fields: usize,
    pub(super) beside: Beside<'a, U>,
    pub(super) x: &'a [[f32; U]],
}

impl<const U: usize> Product<'_, U> {
    /// A row of `A x`, from differences to the neighbours and what the diagonal has beyond its couplings: where couplings are
    /// large and neighbours nearly equal, nothing is lost by taking one large number from another.
    #[inline(always)]
    fn row(&self, row: usize, place: usize) -> [f32; U] {
        let x = &self.x[row];
        let mut sum = [0.0; U];
        add_flow(&mut sum, &self.slab.below[place], x, &self.beside.below[row]);
        add_flow(&mut sum, &self.slab.above[place], x, &self.beside.above[row]);
        add_flow_across(&mut sum, &self.slab.across[place], x);
        if place > 0 {
            add_flow(&mut sum, &self.slab.stack[place - 1], x, &self.x[row - self.fields]);
        }
        if place + 1 < self.slab.excess.len() {
            add_flow(&mut sum, &self.slab.stack[place], x, &self.x[row + self.fields]);
        }
        add_product(&mut sum, &self.slab.excess[place], x);
        sum
    }
}

/// `A x` of one slab, and `x . A x`.
pub(super) struct Multiply<'a, const U: usize> {
    pub(super) product: Product<'a, U>,
    pub(super) ax: &'a mut [[f32; U]],
}

impl<const U: usize> NullaryFnOnce for Multiply<'_, U> {
    type Output = Sums;

    #[inline(always)]
    fn call(self) -> Sums {
        let fields = self.product.fields;
        let mut sums = [[0.0_f32; U]; MOST_FIELDS];
        for place in 0..self.product.slab.excess.len() {
            for (field, sum) in sums.iter_mut().enumerate().take(fields) {
                let row = place * fields + field;
                let ax = self.product.row(row, place);
                add_product(sum, &ax, &self.product.x[row]);
                self.ax[row] = ax;
            }
        }
        sum_rows(&sums)
    }
}

/// `b - A x` of one slab.
pub(super) struct Residual<'a, const U: usize> {
    pub(super) product: Product<'a, U>,
    pub(super) b: &'a [[f32; U]],
    pub(super) residual: &'a mut [[f32; U]],
}

impl<const U: usize> NullaryFnOnce for Residual<'_, U> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let fields = self.product.fields;
        for place in 0..self.product.slab.excess.len() {
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

/// Adds the share of one fine slab to a slab of the coarser grid, `U` cells across to `C`: its weights, or what they leave of 1.
pub(super) struct Restrict<'a, const U: usize, const C: usize> {
    pub(super) fields: usize,
    pub(super) weights: &'a [[f32; U]],
    pub(super) beyond: bool,
    pub(super) fine: &'a [[f32; U]],
    pub(super) coarse: &'a mut [[f32; C]],
}

impl<const U: usize, const C: usize> NullaryFnOnce for Restrict<'_, U, C> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let rows = self.fine.chunks_exact(self.fields).zip(self.coarse.chunks_exact_mut(self.fields));
        for (weights, (fine, coarse)) in self.weights.iter().zip(rows) {
            let mut share = *weights;
            if !self.beyond {
                share.iter_mut().for_each(|share| *share = 1.0 - *share);
            }
            for (fine, coarse) in fine.iter().zip(coarse) {
                // Two neighbours first, so that a mirror image across adds up to the same bits.
                let each = U / C;
                for (i, sum) in coarse.iter_mut().enumerate() {
                    let (first, last) = (each * i, each * i + each - 1);
                    let both = if each == 2 { share[first] * fine[first] + share[last] * fine[last] } else { share[i] * fine[i] };
                    *sum += both;
                }
            }
        }
    }
}

/// Adds to one fine slab what was found on the coarser grid: in its own coarse slab and in the one beyond.
pub(super) struct Prolong<'a, const U: usize, const C: usize> {
    pub(super) fields: usize,
    pub(super) weights: &'a [[f32; U]],
    pub(super) own: &'a [[f32; C]],
    pub(super) beyond: &'a [[f32; C]],
    pub(super) fine: &'a mut [[f32; U]],
}

impl<const U: usize, const C: usize> NullaryFnOnce for Prolong<'_, U, C> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        for (place, weights) in self.weights.iter().enumerate() {
            for row in place * self.fields..(place + 1) * self.fields {
                let (own, beyond) = (self.own[row], self.beyond[row]);
                let mut value = self.fine[row];
                for i in 0..U {
                    let from = i * C / U;
                    value[i] += own[from] + weights[i] * (beyond[from] - own[from]);
                }
                self.fine[row] = value;
            }
        }
    }
}

/// Products of two slabs, one for each field.
pub(super) struct Dot<'a, const U: usize> {
    pub(super) fields: usize,
    pub(super) a: &'a [[f32; U]],
    pub(super) b: &'a [[f32; U]],
}

impl<const U: usize> NullaryFnOnce for Dot<'_, U> {
    type Output = Sums;

    #[inline(always)]
    fn call(self) -> Sums {
        let mut sums = [[0.0_f32; U]; MOST_FIELDS];
        for (a, b) in self.a.chunks_exact(self.fields).zip(self.b.chunks_exact(self.fields)) {
            for (sum, (a, b)) in sums.iter_mut().zip(a.iter().zip(b)) {
                add_product(sum, a, b);
            }
        }
        sum_rows(&sums)
    }
}

/// `x += step direction`, then `direction = z + keep direction`.
pub(super) struct StepAndTurn<'a, const U: usize> {
    pub(super) step: &'a [f32],
    pub(super) keep: &'a [f32],
    pub(super) z: &'a [[f32; U]],
    pub(super) direction: &'a mut [[f32; U]],
    pub(super) x: &'a mut [[f32; U]],
}

impl<const U: usize> NullaryFnOnce for StepAndTurn<'_, U> {
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
pub(super) struct ReduceResidual<'a, const U: usize> {
    pub(super) step: &'a [f32],
    pub(super) product: &'a [[f32; U]],
    pub(super) r: &'a mut [[f32; U]],
}

impl<const U: usize> NullaryFnOnce for ReduceResidual<'_, U> {
    type Output = Sums;

    #[inline(always)]
    fn call(self) -> Sums {
        let fields = self.step.len();
        let mut sums = [[0.0_f32; U]; MOST_FIELDS];
        for (product, r) in self.product.chunks_exact(fields).zip(self.r.chunks_exact_mut(fields)) {
            for ((sum, &step), (product, r)) in sums.iter_mut().zip(self.step).zip(product.iter().zip(r)) {
                for i in 0..U {
                    r[i] -= step * product[i];
                    sum[i] += r[i] * r[i];
                }
            }
        }
        sum_rows(&sums)
    }
}
