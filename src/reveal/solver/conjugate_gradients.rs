//! Conjugate gradients over a multigrid cycle.

use super::block::NOTHING;
use super::kernels::{MOST_FIELDS, Sums};
use super::level::Level;
use super::multigrid::Multigrid;
use super::ring::RingCycle;
use super::vectors::{copy, dot, reduce_residual, step_along, step_and_turn};
use super::{Fields, Operator, SolverError, Values};
use rayon::prelude::*;

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
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Solved {
    /// Steps taken.
    pub steps: usize,
    /// The largest relative residual of any field.
    pub residual: f64,
}

/// An operator made ready for solving, and room for a number of fields.
#[derive(Debug)]
pub struct ConjugateGradients {
    cycle: Cycle,
    work: Work,
}

/// What stands for the inverse within each step.
#[derive(Debug)]
enum Cycle {
    Rod(Multigrid),
    Ring(Box<RingCycle>),
}

impl Cycle {
    fn new(operator: Operator, like: &Fields) -> Self {
        if operator.is_ring() {
            Self::Ring(Box::new(RingCycle::new(operator, like)))
        } else {
            Self::Rod(Multigrid::new(operator, like))
        }
    }

    fn finest(&self) -> &Level {
        match self {
            Self::Rod(cycle) => cycle.finest(),
            Self::Ring(cycle) => cycle.level(),
        }
    }
}

#[derive(Debug)]
struct Work {
    r: Fields,
    z: Fields,
    direction: Fields,
    /// `A direction`, and within a cycle what relaxation leaves on the way down.
    product: Fields,
}

type Factors = [f32; MOST_FIELDS];

/// How a solve begins.
struct Begun {
    /// `b . b`.
    square: Sums,
    /// `r . r`.
    left: Sums,
    /// `b . x`, about the square of the solution's length in the operator's own norm, where it begins elsewhere than at zero.
    ///
    /// There the residual tells too little: what is wrong with the solution of another operator may be smooth, and is then large where the
    /// residual is small. It is judged besides by `r . z`, which is about the square of what the solution is off by in the same norm.
    energy: Option<Sums>,
}

/// What a solution that began elsewhere than at zero may be off by, as a share of its length in the operator's norm, in residuals wanted: so
/// much that it comes as near as one that began at zero (measured on the example tee).
const OFF_BY: f64 = 1.0;

impl ConjugateGradients {
    /// Makes an operator ready for `fields` right-hand sides at once.
    ///
    /// # Errors
    /// [`SolverError::Fields`] for none or more than [`MOST_FIELDS`]; [`SolverError::Length`] and [`SolverError::Value`] for
    /// coefficients that are not as many as the grid has cells, no numbers, or below 0.
    pub fn new(operator: Operator, fields: usize) -> Result<Self, SolverError> {
        operator.check()?;
        let none = Fields::zero(operator.shape, fields)?;
        let cycle = rayon::scope(|_| Cycle::new(operator, &none));
        let work = Work { r: none.clone(), z: none.clone(), direction: none.clone(), product: none };
        Ok(Self { cycle, work })
    }

    /// The operator.
    #[must_use]
    pub fn operator(&self) -> &Operator {
        &self.cycle.finest().operator
    }

    /// Solves `A x = b` for all fields, starting from what `x` holds: zeros, or the last solution. It asks before
    /// each step whether to stop.
    ///
    /// # Errors
    /// [`SolverError::Unlike`] for fields of another grid or number; [`SolverError::Value`] for values that are no numbers;
    /// [`SolverError::Cancelled`]; [`SolverError::NotConverged`] after `most_steps`, and [`SolverError::Overflow`].
    pub fn solve(
        &mut self,
        b: &Fields,
        x: &mut Fields,
        options: &SolveOptions,
        is_stopped: &(dyn Fn() -> bool + Sync),
    ) -> Result<Solved, SolverError> {
        for (what, fields) in [(Values::RightHandSide, b), (Values::Start, &*x)] {
            if fields.shape() != self.work.r.shape() || fields.count() != self.work.r.count() {
                return Err(SolverError::Unlike { what });
            }
            what.check(&fields.values)?;
        }
        // Once into the pool of threads, not anew for each pass over the grid.
        rayon::scope(|_| self.iterate(b, x, options, is_stopped))
    }

    fn iterate(
        &mut self,
        b: &Fields,
        x: &mut Fields,
        options: &SolveOptions,
        is_stopped: &(dyn Fn() -> bool + Sync),
    ) -> Result<Solved, SolverError> {
        let fields = b.count();
        let Begun { square, mut left, mut energy } = self.begin(b, x);
        let wanted = square.map(|square| square * options.residual * options.residual);
        let (mut steps, mut rz_before, mut step) = (0, NOTHING, Factors::default());
        loop {
            if !left.iter().chain(&square).all(|sum| sum.is_finite()) {
                return Err(SolverError::Overflow { steps });
            }
            let mut turned = None;
            if !is_above(&left, &wanted, fields) {
                let Some(energy) = &mut energy else { break };
                let rz = self.precondition();
                energy.iter_mut().zip(&rz).for_each(|(energy, rz)| *energy = energy.max(*rz));
                let wanted = energy.map(|energy| energy * (OFF_BY * options.residual).powi(2));
                if !is_above(&rz, &wanted, fields) {
                    break;
                }
                turned = Some(rz);
            }
            if steps == options.most_steps {
                let residual = relative(&left, &wanted, options.residual);
                return Err(SolverError::NotConverged { steps, residual, wanted: options.residual });
            }
            if is_stopped() {
                return Err(SolverError::Cancelled);
            }
            let rz = turned.unwrap_or_else(|| self.precondition());
            let (level, work) = (self.cycle.finest(), &mut self.work);
            if steps == 0 {
                std::mem::swap(&mut work.direction, &mut work.z);
            } else {
                let keep = ratios(&rz, &rz_before);
                step_and_turn(level, &step[..fields], &keep[..fields], &work.z, &mut work.direction, x);
            }
            step = ratios(&rz, &level.multiply(&work.direction, &mut work.product));
            left = reduce_residual(level, &step[..fields], &work.product, &mut work.r);
            (rz_before, steps) = (rz, steps + 1);
        }
        if steps > 0 {
            step_along(self.cycle.finest(), &step[..fields], &self.work.direction, x);
        }
        if !x.is_finite() {
            return Err(SolverError::Overflow { steps });
        }
        Ok(Solved { steps, residual: relative(&left, &wanted, options.residual) })
    }

    /// Makes the first residual, `r = b - A x`.
    fn begin(&mut self, b: &Fields, x: &mut Fields) -> Begun {
        let (level, work) = (self.cycle.finest(), &mut self.work);
        let square = copy(level, b, &mut work.r);
        if x.values.par_chunks(x.slab_len()).all(|slab| slab.iter().all(|&value| value == 0.0)) {
            return Begun { square, left: square, energy: None };
        }
        level.multiply(x, &mut work.product);
        let left = reduce_residual(level, &[1.0; MOST_FIELDS][..b.count()], &work.product, &mut work.r);
        Begun { square, left, energy: Some(dot(level, x, b)) }
    }

    /// Makes `z` about `A^-1 r` by one cycle. Gives `r . z`.
    fn precondition(&mut self) -> Sums {
        let Self { cycle, work } = self;
        match cycle {
            Cycle::Rod(cycle) => cycle.turn(&work.r, &mut work.product, &mut work.z),
            Cycle::Ring(cycle) => cycle.turn(&work.r, &mut work.z),
        }
    }
}

/// Whether any field is not yet what is wanted; so is one whose residual is no number.
fn is_above(left: &Sums, wanted: &Sums, fields: usize) -> bool {
    !left.iter().zip(wanted).take(fields).all(|(left, wanted)| left <= wanted)
}

/// The largest relative residual, from squares left and squares wanted.
fn relative(left: &Sums, wanted: &Sums, at_wanted: f64) -> f64 {
    let share = |(left, wanted): (&f64, &f64)| if *wanted > 0.0 { (left / wanted).sqrt() * at_wanted } else { 0.0 };
    left.iter().zip(wanted).map(share).fold(0.0, f64::max)
}

/// Quotients; 0 where a field is done.
#[expect(clippy::cast_possible_truncation, reason = "factors of f32 values")]
fn ratios(above: &Sums, below: &Sums) -> Factors {
    std::array::from_fn(|field| if below[field] > f64::MIN_POSITIVE { (above[field] / below[field]) as f32 } else { 0.0 })
}
