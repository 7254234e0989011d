//! The multigrid and the conjugate gradients over it.

use super::coarsen::coarsen;
use super::kernels::MOST_FIELDS;
use super::level::{Colour, Level, SlabSums, dot, reduce_residual, step_and_turn};
use super::{Fields, GridShape, Operator};
use crate::reveal::{Cancel, RevealError};
use pulp::Arch;

/// When a solve ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SolveOptions {
    /// Relative residual wanted of every field: the length of `b - A x` over that of `b`. 1e-4 unless said otherwise: doses within
    /// 2e-4 of exact ones, a tenth of what 8 bits of colour can show (measured on the example tee).
    pub residual: f64,
    /// Most steps; 60 unless said otherwise, ten times what ordinary rods take.
    pub most_steps: usize,
}

impl Default for SolveOptions {
    fn default() -> Self {
        Self { residual: 1e-4, most_steps: 60 }
    }
}

/// How a solve went.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solved {
    /// Steps taken.
    pub steps: usize,
    /// The largest relative residual of any field.
    pub residual: f64,
}

/// An operator made ready for solving, and room for a number of fields.
#[derive(Debug)]
pub struct Multigrid {
    levels: Vec<Level>,
    /// Room on each coarser grid.
    coarse: Vec<Coarse>,
    work: Work,
    arch: Arch,
}

#[derive(Debug)]
struct Work {
    r: Fields,
    z: Fields,
    direction: Fields,
    product: Fields,
    sums: SlabSums,
}

/// Grids are halved until so few slabs are left.
const FEWEST_SLABS: usize = 4;
/// Sweeps before and after the correction by the coarser grid, and in its place on the coarsest, where a cell is about as long as the
/// dye reaches. With two a million cells take 9 steps instead of 16, and a fifth less time than with one; three gain nothing (found
/// by trial on the example tee).
const SWEEPS: usize = 2;

type Factors = [f32; MOST_FIELDS];

impl Multigrid {
    /// Makes an operator ready for `fields` right-hand sides at once, at most [`MOST_FIELDS`].
    #[must_use]
    pub fn new(operator: Operator, fields: usize) -> Self {
        let fields = fields.clamp(1, MOST_FIELDS);
        let shape = operator.shape;
        let mut levels = vec![Level::new(operator)];
        while let Some(last) = levels.last().map(|level| &level.operator)
            && last.shape.slabs.is_multiple_of(4)
            && last.shape.slabs / 2 >= FEWEST_SLABS
        {
            levels.push(Level::new(coarsen(last)));
        }
        let coarse = levels[1..].iter().map(|level| Coarse::new(level.operator.shape, fields)).collect();
        let zero = || Fields::zero(shape, fields);
        let work = Work { r: zero(), z: zero(), direction: zero(), product: zero(), sums: SlabSums::new(shape.slabs) };
        Self { levels, coarse, work, arch: Arch::new() }
    }

    /// The operator.
    #[must_use]
    pub fn operator(&self) -> &Operator {
        &self.levels[0].operator
    }

    /// Solves `A x = b` for all fields, starting from what `x` holds: zeros, or the last solution.
    ///
    /// # Errors
    /// [`RevealError::Cancelled`], and [`RevealError::NotConverged`] after `most_steps`.
    pub fn solve(&mut self, b: &Fields, x: &mut Fields, options: &SolveOptions, cancel: &Cancel) -> Result<Solved, RevealError> {
        let fields = b.count();
        let wanted = dot(self.arch, b, b, &mut self.work.sums).map(|square| square * options.residual * options.residual);
        let mut left = self.first_residual(b, x);
        let (mut steps, mut rz_before, mut step) = (0, [0.0; MOST_FIELDS], Factors::default());
        self.work.direction.clear();
        while is_above(&left, &wanted, fields) {
            if steps == options.most_steps {
                let residual = relative(&left, &wanted, options.residual);
                return Err(RevealError::NotConverged { steps, residual, wanted: options.residual });
            }
            cancel.check()?;
            self.precondition();
            let work = &mut self.work;
            let rz = dot(self.arch, &work.r, &work.z, &mut work.sums);
            let keep = ratios(&rz, &rz_before);
            step_and_turn(self.arch, &step[..fields], &keep[..fields], &work.z, &mut work.direction, x);
            self.levels[0].multiply(&work.direction, &mut work.product, &mut work.sums);
            step = ratios(&rz, &work.sums.total());
            left = reduce_residual(self.arch, &step[..fields], &work.product, &mut work.r, &mut work.sums);
            (rz_before, steps) = (rz, steps + 1);
        }
        step_and_turn(self.arch, &step[..fields], &[0.0; MOST_FIELDS][..fields], &self.work.z, &mut self.work.direction, x);
        Ok(Solved { steps, residual: relative(&left, &wanted, options.residual) })
    }

    fn first_residual(&mut self, b: &Fields, x: &Fields) -> [f64; MOST_FIELDS] {
        let work = &mut self.work;
        for (r, b) in work.r.colours.iter_mut().zip(&b.colours) {
            r.copy_from_slice(b);
        }
        self.levels[0].multiply(x, &mut work.product, &mut work.sums);
        reduce_residual(self.arch, &[1.0; MOST_FIELDS][..b.count()], &work.product, &mut work.r, &mut work.sums)
    }

    /// One cycle from the finest grid to the coarsest and back, symmetric in what it does: `z` becomes about `A^-1 r`.
    fn precondition(&mut self) {
        let Self { levels, coarse, work, .. } = self;
        cycle(levels, &work.r, &mut work.z, &mut work.product, coarse);
    }
}

/// Right-hand side, solution and residual on one of the coarser grids.
#[derive(Debug)]
struct Coarse {
    b: Fields,
    x: Fields,
    residual: Fields,
}

impl Coarse {
    fn new(shape: GridShape, fields: usize) -> Self {
        let zero = || Fields::zero(shape, fields);
        Self { b: zero(), x: zero(), residual: zero() }
    }
}

fn cycle(levels: &[Level], b: &Fields, x: &mut Fields, residual: &mut Fields, coarse: &mut [Coarse]) {
    let [level, coarser @ ..] = levels else { return };
    level.relax(Colour::Even, b, x, true);
    for values in &mut x.colours[1..] {
        values.fill(0.0);
    }
    level.relax(Colour::Odd, b, x, false);
    for _ in 1..SWEEPS {
        level.relax(Colour::Even, b, x, false);
        level.relax(Colour::Odd, b, x, false);
    }
    if let [next, rest @ ..] = coarse {
        level.residual(b, x, residual);
        level.restrict(residual, &mut next.b);
        cycle(coarser, &next.b, &mut next.x, &mut next.residual, rest);
        level.prolong(&next.x, x);
    }
    for _ in 0..SWEEPS {
        level.relax(Colour::Odd, b, x, false);
        level.relax(Colour::Even, b, x, false);
    }
}

fn is_above(left: &[f64; MOST_FIELDS], wanted: &[f64; MOST_FIELDS], fields: usize) -> bool {
    left.iter().zip(wanted).take(fields).any(|(left, wanted)| left > wanted)
}

/// The largest relative residual, from squares left and squares wanted.
fn relative(left: &[f64; MOST_FIELDS], wanted: &[f64; MOST_FIELDS], at_wanted: f64) -> f64 {
    let share = |(left, wanted): (&f64, &f64)| if *wanted > 0.0 { (left / wanted).sqrt() * at_wanted } else { 0.0 };
    left.iter().zip(wanted).map(share).fold(0.0, f64::max)
}

/// Quotients; 0 where a field is done.
#[expect(clippy::cast_possible_truncation, reason = "factors of f32 values")]
fn ratios(above: &[f64; MOST_FIELDS], below: &[f64; MOST_FIELDS]) -> Factors {
    std::array::from_fn(|field| if below[field] > f64::MIN_POSITIVE { (above[field] / below[field]) as f32 } else { 0.0 })
}
