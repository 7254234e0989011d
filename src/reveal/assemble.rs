//! From the rod's cells to equations: conductances between cells, losses, feeds.
//!
//! Finite volumes: what flows between two cells is a conductance times the difference of their doses, so that nothing is lost or
//! made; what a cell fixes is its volume times its dose (the rate is the unit). Missing cloth in the stack is a bridge: it takes
//! nothing, holds nothing, and conducts so well that its neighbours lie as good as on each other.
//!
//! Water seeping down takes dye along. With a flow that follows a potential `p` (in units that diffusion holds in balance), the
//! exponentially fitted flux between two cells is `c (B(-P) G1 - B(P) G2)` with `P = p2 - p1` and `B(x) = x / (e^x - 1)` (Scharfetter
//! and Gummel 1969, from memory). In the variable `y = e^(-p/2) G` the equations are symmetric again, and what is solved for is `y`.
//! Where more water arrives in a cell than leaves it, the rest drips off and takes its dye; where more leaves, it came in over
//! the face with what lies on it. So no dose is below 0 or above what feeds it.

use super::binds;
use super::feed::Face;
use super::grid::RodGrid;
use super::noise;
use super::solver::{Fields, GridShape, MOST_FIELDS, Operator};
use crate::layout::Reach;
use rayon::prelude::*;

/// How much better missing cloth conducts through the stack than a layer of cloth. It makes the gap a hundredth of a layer thick.
const BRIDGE: f64 = 100.0;
/// Length along the rod over which a crease sticks out evenly, mm (our own judgement).
const CREASE_NOISE_MM: f64 = 60.0;

/// What flows in the rod and how it comes in.
pub(super) struct Medium<'a> {
    pub(super) reach: Reach,
    /// Rise of the potential across the pleats and through the stack, 1/mm.
    pub(super) seeping: (f64, f64),
    /// How well a face is fed.
    pub(super) feed: &'a (dyn Fn(&Face) -> f64 + Sync),
    /// For each slab the strength of every field at its faces.
    pub(super) strength: &'a (dyn Fn(usize) -> [f64; MOST_FIELDS] + Sync),
    pub(super) fields: usize,
    pub(super) uneven_creases: f64,
    pub(super) seed: u64,
}

/// The equations: `operator y = source`, and the dose is `scale` times `y`, cell by cell.
#[derive(Debug)]
pub struct System {
    /// The symmetric operator.
    pub operator: Operator,
    /// Right-hand sides.
    pub source: Fields,
    /// From the solution to the dose; `None` where they are the same.
    pub scale: Option<Vec<f32>>,
    /// What each cell fixes of its dose: its volume, mm3; 0 where there is no cloth.
    pub fixed: Vec<f32>,
}

/// Sizes and conductances of one slab's cells.
#[derive(Debug, Clone, Copy)]
struct SlabFacts {
    length_mm: f64,
    across_mm: f64,
    layer_mm: f64,
    free: f64,
    conduct_across: f64,
    conduct_along: f64,
}

/// What comes into the cells of a slab over its faces: by conductance, and with water.
struct Inflow {
    faces: Vec<f64>,
    water: Vec<f64>,
}

struct Assembler<'a> {
    grid: &'a RodGrid,
    medium: &'a Medium<'a>,
    shape: GridShape,
    facts: Vec<SlabFacts>,
    potential: Option<Vec<f64>>,
}

/// Writes the equations of a medium in a rod.
pub(super) fn assemble(grid: &RodGrid, medium: &Medium<'_>) -> System {
    let shape = grid.shape();
    let facts = (0..shape.slabs).map(|slab| slab_facts(grid, slab)).collect();
    let mut assembler = Assembler { grid, medium, shape, facts, potential: None };
    if medium.seeping != (0.0, 0.0) {
        assembler.potential = Some(assembler.potential());
    }
    let mut operator = Operator::unit(shape);
    let mut fixed = vec![0.0; shape.cells()];
    let mut source = Fields::zero(shape, medium.fields);
    let plane = shape.plane();
    let inflow: Vec<Inflow> = operator
        .diagonal
        .par_chunks_mut(plane)
        .zip(operator.along.par_chunks_mut(plane))
        .zip(operator.stack.par_chunks_mut(plane))
        .zip(operator.across.par_chunks_mut(plane))
        .zip(fixed.par_chunks_mut(plane))
        .enumerate()
        .map(|(slab, ((((diagonal, along), stack), across), fixed))| assembler.slab(slab, diagonal, along, stack, across, fixed))
        .collect();
    for (slab, inflow) in inflow.iter().enumerate() {
        assembler.feed(slab, inflow, &mut source);
    }
    let scale = assembler.potential.as_ref().map(|potential| potential.iter().map(|p| to_f32((0.5 * p).exp())).collect());
    System { operator, source, scale, fixed }
}

/// The one way from computed coefficients to stored ones.
#[expect(clippy::cast_possible_truncation, reason = "coefficients are kept in f32")]
fn to_f32(value: f64) -> f32 {
    value as f32
}

fn slab_facts(grid: &RodGrid, slab: usize) -> SlabFacts {
    let (from_mm, to_mm) = (slab as f64 * grid.cell_mm(), (slab + 1) as f64 * grid.cell_mm());
    let section = grid.section(slab);
    SlabFacts {
        length_mm: grid.cell_mm(),
        across_mm: section.width_mm / grid.shape().across as f64,
        layer_mm: section.layer_mm,
        free: 1.0 - binds::cover(grid.binds(), from_mm, to_mm),
        conduct_across: binds::conductance_across(grid.binds(), from_mm, to_mm),
        conduct_along: binds::conductance_along(grid.binds(), from_mm, to_mm),
    }
}

/// The two sides of a face with a flow over it: what the first and the second cell lose for a dose of 1 in them, and the symmetric
/// coupling.
#[derive(Debug, Clone, Copy, Default)]
struct Flux {
    from_first: f64,
    from_second: f64,
    coupling: f64,
}

fn flux(conductance: f64, rise: f64) -> Flux {
    if rise == 0.0 {
        return Flux { from_first: conductance, from_second: conductance, coupling: conductance };
    }
    let half = 0.5 * rise;
    let (even, coupling) = if half.abs() < 0.25 {
        // Series to the sixth order: relative error below 1e-7.
        let y = half * half;
        (
            1.0 + y * (1.0 / 3.0 + y * (-1.0 / 45.0 + y * (2.0 / 945.0))),
            1.0 - y * (1.0 / 6.0 - y * (7.0 / 360.0 - y * (31.0 / 15120.0))),
        )
    } else {
        (half / half.tanh(), half / half.sinh())
    };
    Flux { from_first: conductance * (even + half), from_second: conductance * (even - half), coupling: conductance * coupling }
}

impl Assembler<'_> {
    fn is_cloth(&self, slab: usize, cell: usize) -> bool {
        self.grid.is_cloth(slab, cell / self.shape.across, cell % self.shape.across)
    }

    fn rise(&self, slab: usize, cell: usize, to_slab: usize, to_cell: usize) -> f64 {
        let plane = self.shape.plane();
        self.potential.as_ref().map_or(0.0, |p| p[to_slab * plane + to_cell] - p[slab * plane + cell])
    }

    fn thickness_mm(&self, slab: usize, cell: usize) -> f64 {
        self.facts[slab].layer_mm * if self.is_cloth(slab, cell) { 1.0 } else { 1.0 / BRIDGE }
    }

    fn column_has_cloth(&self, slab: usize, across: usize) -> bool {
        (0..self.shape.places).any(|place| self.grid.is_cloth(slab, place, across))
    }

    /// The potential of seeping water in every cell: it falls with the height over the rod's middle.
    fn potential(&self) -> Vec<f64> {
        let (shape, (across_rise, through_rise)) = (self.shape, self.medium.seeping);
        let mut potential = vec![0.0; shape.cells()];
        potential.par_chunks_mut(shape.plane()).enumerate().for_each(|(slab, potential)| {
            for across in 0..shape.across {
                let right = across_rise * (across as f64 + 0.5 - 0.5 * shape.across as f64) * self.facts[slab].across_mm;
                let thickness = |place: usize| self.thickness_mm(slab, place * shape.across + across);
                let mut up_mm = -0.5 * (0..shape.places).map(thickness).sum::<f64>();
                for place in 0..shape.places {
                    let thickness_mm = thickness(place);
                    potential[place * shape.across + across] = right + through_rise * (up_mm + 0.5 * thickness_mm);
                    up_mm += thickness_mm;
                }
            }
        });
        potential
    }

    /// Fills one slab's coefficients, and gives for each cell the water that comes in over the faces.
    fn slab(
        &self,
        slab: usize,
        diagonal: &mut [f32],
        along: &mut [f32],
        stack: &mut [f32],
        across: &mut [f32],
        fixed: &mut [f32],
    ) -> Inflow {
        let (shape, facts) = (self.shape, self.facts[slab]);
        let mut loss = vec![0.0; shape.plane()];
        let mut water_out = vec![0.0; shape.plane()];
        let mut join = |first: usize, second: Option<usize>, flux: Flux| {
            loss[first] += flux.from_first;
            water_out[first] += flux.from_first - flux.from_second;
            if let Some(second) = second {
                loss[second] += flux.from_second;
                water_out[second] -= flux.from_first - flux.from_second;
            }
        };
        let has_cloth: Vec<bool> = (0..shape.across).map(|u| self.column_has_cloth(slab, u)).collect();
        for cell in 0..shape.plane() {
            if has_cloth[cell % shape.across] && cell + shape.across < shape.plane() {
                let flux = self.stack_flux(slab, cell);
                stack[cell] = to_f32(flux.coupling);
                join(cell, Some(cell + shape.across), flux);
            }
            if (cell + 1) % shape.across != 0 && self.is_cloth(slab, cell) && self.is_cloth(slab, cell + 1) {
                let conductance =
                    self.across_reach2() * facts.conduct_across * facts.length_mm * facts.layer_mm / facts.across_mm;
                let flux = flux(conductance, self.rise(slab, cell, slab, cell + 1));
                across[cell] = to_f32(flux.coupling);
                join(cell, Some(cell + 1), flux);
            }
            if slab > 0 {
                let flux = self.along_flux(slab, cell, slab - 1);
                along[cell] = to_f32(flux.coupling);
                join(cell, None, flux);
            }
            if slab + 1 < shape.slabs {
                join(cell, None, self.along_flux(slab, cell, slab + 1));
            }
        }
        let faces: Vec<f64> = (0..shape.plane()).map(|cell| self.face_conductance(slab, cell)).collect();
        for cell in 0..shape.plane() {
            if self.is_cloth(slab, cell) {
                fixed[cell] = to_f32(facts.length_mm * facts.across_mm * facts.layer_mm);
            }
            let own = loss[cell] + f64::from(fixed[cell]) + faces[cell] + (-water_out[cell]).max(0.0);
            diagonal[cell] = if has_cloth[cell % shape.across] { to_f32(own) } else { 1.0 };
        }
        Inflow { faces, water: water_out }
    }

    fn across_reach2(&self) -> f64 {
        self.medium.reach.along_mm * self.medium.reach.along_mm
    }

    fn through_reach2(&self) -> f64 {
        self.medium.reach.through_mm * self.medium.reach.through_mm
    }

    fn stack_flux(&self, slab: usize, cell: usize) -> Flux {
        let (facts, above) = (self.facts[slab], cell + self.shape.across);
        let apart_mm = 0.5 * (self.thickness_mm(slab, cell) + self.thickness_mm(slab, above));
        let conductance = self.through_reach2() * facts.conduct_across * facts.length_mm * facts.across_mm / apart_mm;
        flux(conductance, self.rise(slab, cell, slab, above))
    }

    /// Halves of both cells in series.
    fn along_flux(&self, slab: usize, cell: usize, to: usize) -> Flux {
        if !(self.is_cloth(slab, cell) && self.is_cloth(to, cell)) {
            return Flux::default();
        }
        let resistance = |slab: usize| {
            let facts = self.facts[slab];
            0.5 * facts.length_mm / (facts.conduct_along * facts.across_mm * facts.layer_mm)
        };
        let conductance = self.across_reach2() / (resistance(slab) + resistance(to));
        flux(conductance, self.rise(slab, cell, to, cell))
    }

    /// Conductance from what lies on the rod into a cell, over all its faces.
    fn face_conductance(&self, slab: usize, cell: usize) -> f64 {
        let (shape, across) = (self.shape, self.shape.across);
        let place = cell / across;
        let mut sum = 0.0;
        if place == 0 || place + 1 == shape.places {
            sum += self.flat_conductance(slab, cell);
        }
        if self.is_cloth(slab, cell) {
            if cell.is_multiple_of(across) {
                sum += self.crease_conductance(slab, place, self.grid.mates().at_start(place), -1.0);
            }
            if (cell + 1).is_multiple_of(across) {
                sum += self.crease_conductance(slab, place, self.grid.mates().at_end(place), 1.0);
            }
            if slab + 1 == self.grid.used_slabs() {
                let facts = self.facts[slab];
                let end = Face { across: 0.0, through: 0.0, ..self.face(slab) };
                let area_mm2 = facts.across_mm * facts.layer_mm;
                sum += self.across_reach2() * area_mm2 / (0.5 * facts.length_mm) * facts.free * (self.medium.feed)(&end);
            }
        }
        sum
    }

    fn face(&self, slab: usize) -> Face {
        let section = self.grid.section(slab);
        Face { across: 0.0, through: 0.0, width_mm: section.width_mm, height_mm: section.height_mm, roundness: section.roundness }
    }

    /// The first or the last place's flat side.
    fn flat_conductance(&self, slab: usize, cell: usize) -> f64 {
        let (facts, across) = (self.facts[slab], self.shape.across);
        if !self.column_has_cloth(slab, cell % across) {
            return 0.0;
        }
        let at = 2.0 * ((cell % across) as f64 + 0.5) / across as f64 - 1.0;
        let side = |through: f64| (self.medium.feed)(&Face { across: at, through, ..self.face(slab) });
        let mut feed = 0.0;
        if cell / across == 0 {
            feed += side(-1.0);
        }
        if cell / across + 1 == self.shape.places {
            feed += side(1.0);
        }
        let area_mm2 = facts.length_mm * facts.across_mm;
        let apart_mm = 0.5 * self.thickness_mm(slab, cell);
        self.through_reach2() * facts.conduct_across * area_mm2 / apart_mm * facts.free * feed
    }

    /// A crease: through half a cell, and through the cloth that is wrapped round it.
    fn crease_conductance(&self, slab: usize, place: usize, mate: Option<usize>, side: f64) -> f64 {
        let facts = self.facts[slab];
        let over = self.grid.mates().wrapped_over(place, mate, self.grid.layers()) as f64 * facts.layer_mm;
        let resistance = 0.5 * facts.across_mm / self.across_reach2() + over / self.through_reach2();
        let through = 2.0 * (place as f64 + 0.5) / self.shape.places as f64 - 1.0;
        let feed = (self.medium.feed)(&Face { across: side, through, ..self.face(slab) });
        let sticks_out = self.sticks_out(slab, place, mate, side);
        facts.conduct_across * facts.length_mm * facts.layer_mm / resistance * facts.free * feed * sticks_out
    }

    fn sticks_out(&self, slab: usize, place: usize, mate: Option<usize>, side: f64) -> f64 {
        if self.medium.uneven_creases == 0.0 {
            return 1.0;
        }
        let pleat = place.min(mate.unwrap_or(place)) / self.grid.layers().max(1);
        let line = i64::try_from(2 * pleat).unwrap_or(0) + i64::from(side > 0.0);
        let noise = noise::on_line(self.medium.seed, line, self.grid.along_mm(slab) / CREASE_NOISE_MM);
        (self.medium.uneven_creases * noise).exp()
    }

    /// Adds what comes in over the faces of a slab to the right-hand sides.
    fn feed(&self, slab: usize, from: &Inflow, source: &mut Fields) {
        let strength = (self.medium.strength)(slab);
        let (shape, fields) = (self.shape, self.medium.fields);
        for cell in 0..shape.plane() {
            let conductance = from.faces[cell];
            if conductance == 0.0 {
                continue;
            }
            let potential = self.potential.as_ref().map_or(0.0, |p| p[slab * shape.plane() + cell]);
            let inflow = (conductance + from.water[cell].max(0.0)) * (-0.5 * potential).exp();
            for (field, strength) in strength.iter().enumerate().take(fields) {
                let row = source.row(cell / shape.across, field);
                source.slab_mut(slab)[row + cell % shape.across] += to_f32(inflow * strength);
            }
        }
    }
}
