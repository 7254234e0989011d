//! The multigrid: an operator on ever coarser grids, and the cycle over them.

use super::block::NOTHING;
use super::kernels::Sums;
use super::level::Level;
use super::vectors::dot;
use super::{Fields, GridShape, Operator};

/// An operator on its grid and on ever coarser ones.
#[derive(Debug)]
pub(super) struct Multigrid {
    levels: Vec<Level>,
    /// Room on each coarser grid.
    coarse: Vec<Coarse>,
}

/// Slabs of a grid with one cell across that is not made coarser: lines through the stack are solved exactly, and along so short a
/// rod there is little to even out.
const FEWEST_SLABS: usize = 4;

impl Multigrid {
    /// The grids for as many fields as `like` has.
    pub(super) fn new(operator: Operator, like: &Fields) -> Self {
        let fields = like.count();
        let mut levels = vec![Level::new(operator, fields)];
        while let Some(last) = levels.last()
            && (last.operator.shape.across() > 1 || last.operator.shape.slabs() > FEWEST_SLABS)
            && let Some(coarser) = last.coarser(fields)
        {
            levels.push(coarser);
        }
        let coarse = levels[1..].iter().map(|level| Coarse::new(level.operator.shape, like)).collect();
        Self { levels, coarse }
    }

    /// The finest grid.
    pub(super) fn finest(&self) -> &Level {
        &self.levels[0]
    }

    /// One cycle from the finest grid to the coarsest and back, symmetric in what it does: `z` becomes about `A^-1 r`. Gives `r . z`.
    /// `relaxed` is room for what relaxation leaves on the way down.
    pub(super) fn turn(&mut self, r: &Fields, relaxed: &mut Fields, z: &mut Fields) -> Sums {
        cycle(&self.levels, r, relaxed, z, &mut self.coarse)
    }
}

/// Right-hand side, what relaxation leaves on the way down, and solution on one of the coarser grids.
#[derive(Debug)]
struct Coarse {
    b: Fields,
    relaxed: Fields,
    x: Fields,
}

impl Coarse {
    /// Room for as many fields as `like` has.
    fn new(shape: GridShape, like: &Fields) -> Self {
        let zero = || like.zero_on(shape);
        Self { b: zero(), relaxed: zero(), x: zero() }
    }
}

fn cycle(levels: &[Level], b: &Fields, relaxed: &mut Fields, x: &mut Fields, coarse: &mut [Coarse]) -> Sums {
    let [level, coarser @ ..] = levels else { return NOTHING };
    let [next, rest @ ..] = coarse else {
        level.relax_only(b, x);
        return dot(level, x, b);
    };
    level.down(b, relaxed, &mut next.b);
    cycle(coarser, &next.b, &mut next.relaxed, &mut next.x, rest);
    level.up(b, relaxed, &next.x, x)
}
