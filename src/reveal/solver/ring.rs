//! A ring: what stands for one multigrid cycle where the last slab is coupled to the first.
//!
//! The ring is covered by two arcs that overlap at both their ends, each a rod with nothing beyond: a cycle on either, both added up
//! (additive Schwarz). It can't be cut open instead: where a ring is so small that its cells hold each other all round, a cycle
//! that misses what couples its ends corrects far too much there (not solved after 100 steps, measured).
//!
//! # Sources
//! Smith, Bjorstad, Gropp, *Domain Decomposition* (1996), chapter 1 (from memory).

use super::kernels::Sums;
use super::level::Level;
use super::multigrid::Multigrid;
use super::vectors::dot;
use super::{Fields, GridShape, Operator};
use std::ops::Range;

/// How much of the ring each arc covers (our own choice). A tee's puck then takes 34 steps, where it takes 25 cut open (measured).
const COVERED: f64 = 0.75;

/// A cycle on a ring.
#[derive(Debug)]
pub(super) struct RingCycle {
    level: Level,
    arcs: [Arc; 2],
}

/// A part of the ring as a rod.
#[derive(Debug)]
struct Arc {
    /// Its slabs, those beyond the last being the first again.
    slabs: Range<usize>,
    cycle: Multigrid,
    r: Fields,
    relaxed: Fields,
    z: Fields,
}

impl RingCycle {
    /// The cycle for as many fields as `like` has.
    pub(super) fn new(operator: Operator, like: &Fields) -> Self {
        let slabs = operator.shape.slabs();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of the slabs")]
        let covered = ((slabs as f64 * COVERED).ceil() as usize).clamp(1, slabs);
        let arcs = [0, slabs / 2].map(|first| Arc::new(&operator, first..first + covered, like));
        Self { level: Level::new(operator, like.count()), arcs }
    }

    pub(super) fn level(&self) -> &Level {
        &self.level
    }

    /// Makes `z` about `A^-1 r`. Gives `r . z`.
    pub(super) fn turn(&mut self, r: &Fields, z: &mut Fields) -> Sums {
        z.values.fill(0.0);
        for arc in &mut self.arcs {
            arc.turn(r, z);
        }
        dot(&self.level, z, r)
    }
}

impl Arc {
    fn new(ring: &Operator, slabs: Range<usize>, like: &Fields) -> Self {
        let operator = arc_of(ring, &slabs);
        let none = like.zero_on(operator.shape);
        Self { slabs, cycle: Multigrid::new(operator, &none), r: none.clone(), relaxed: none.clone(), z: none }
    }

    fn turn(&mut self, r: &Fields, z: &mut Fields) {
        let around = r.shape().slabs();
        for (own, slab) in self.slabs.clone().enumerate() {
            self.r.slab_mut(own).copy_from_slice(r.slab(slab % around));
        }
        self.cycle.turn(&self.r, &mut self.relaxed, &mut self.z);
        for (own, slab) in self.slabs.clone().enumerate() {
            z.slab_mut(slab % around).iter_mut().zip(self.z.slab(own)).for_each(|(sum, own)| *sum += own);
        }
    }
}

/// The operator of a ring's slabs, what lies beyond them being held at nothing.
fn arc_of(ring: &Operator, slabs: &Range<usize>) -> Operator {
    let (plane, around) = (ring.shape.plane(), ring.shape.slabs());
    let shape: GridShape = ring.shape.coarser(slabs.len(), false);
    let mut arc = Operator::unit(shape);
    let cells = |slab: usize| slab % around * plane..(slab % around + 1) * plane;
    for (own, slab) in slabs.clone().enumerate() {
        let to = own * plane..(own + 1) * plane;
        for (values, from) in [(&mut arc.stack, &ring.stack), (&mut arc.across, &ring.across), (&mut arc.loss, &ring.loss)] {
            values[to.clone()].copy_from_slice(&from[cells(slab)]);
        }
        if own > 0 {
            arc.along[to].copy_from_slice(&ring.along[cells(slab)]);
        }
    }
    let last = shape.cells() - plane;
    for cell in 0..plane {
        arc.loss[cell] += ring.along[cells(slabs.start).start + cell];
        arc.loss[last + cell] += ring.along[cells(slabs.end).start + cell];
    }
    arc
}
