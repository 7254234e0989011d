//! From the rod's cells to equations: conductances between cells, losses, feeds.
//!
//! Finite volumes: what flows between two cells is a conductance times the difference of their doses, so that nothing is lost or
//! made; what a cell fixes is its volume times its dose (the rate is the unit). Missing cloth in the stack is a bridge: it takes
//! nothing, holds nothing, and conducts so well that its neighbours lie as good as on each other. A cell that an edge of the cloth
//! runs through is as thick as it is in the mean; cells beside each other are joined over as much as both have of cloth.
//!
//! Water seeping down takes dye along. With a flow that follows a potential `p` (in units that diffusion holds in balance), the
//! exponentially fitted flux between two cells is `c (B(-P) G1 - B(P) G2)` with `P = p2 - p1` and `B(x) = x / (e^x - 1)` (Scharfetter
//! and Gummel 1969, from memory). In the variable `y = e^(-p/2) G` the equations are symmetric again, and what is solved for is `y`.
//! Where more water arrives in a cell than leaves it, the rest drips off and takes its dye; where more leaves, it came in over
//! the face with what lies on it. So no dose is below 0 or above what feeds it.

use super::assembler::{Assembler, Medium, slab_facts, to_f32};
use super::binds::Piece;
use super::faces::{CreaseFaces, SlabFaces};
use super::grid::RodGrid;
use super::solver::{Fields, Operator, SolverError};
use rayon::prelude::*;

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
    /// What each cell gives back of its dose over the faces and with water that drips off, mm3.
    pub leaving: Vec<f32>,
    /// How the doses at the creases follow from those of the cells beside them.
    pub creases: CreaseFaces,
}

/// What comes into the cells of a slab over its faces: by conductance, for each cell over each piece of the slab, and with water.
struct Inflow {
    pieces: usize,
    faces: SlabFaces,
    water: Vec<f64>,
}

impl Inflow {
    fn faces(&self, cell: usize) -> &[f64] {
        &self.faces.conductances[cell * self.pieces..(cell + 1) * self.pieces]
    }

    /// What a cell gives back of its dose: over its faces, and with the water that arrives in it and does not go on.
    fn leaving(&self, cell: usize) -> f64 {
        self.faces(cell).iter().sum::<f64>() + (-self.water[cell]).max(0.0)
    }
}

/// Writes the equations of a medium in a rod.
///
/// # Errors
/// [`SolverError::Fields`].
pub(super) fn assemble(grid: &RodGrid, medium: &Medium<'_>) -> Result<System, SolverError> {
    let shape = grid.shape();
    let facts = (0..shape.slabs()).map(|slab| slab_facts(grid, slab)).collect();
    let mut assembler = Assembler { grid, medium, shape, facts, potential: None };
    if medium.seeping != (0.0, 0.0) {
        assembler.potential = Some(assembler.potential());
    }
    let mut operator = Operator::unit(shape);
    let mut fixed = vec![0.0; shape.cells()];
    let mut source = Fields::zero(shape, medium.fields)?;
    let plane = shape.plane();
    let inflow: Vec<Inflow> = operator
        .loss
        .par_chunks_mut(plane)
        .zip(operator.along.par_chunks_mut(plane))
        .zip(operator.stack.par_chunks_mut(plane))
        .zip(operator.across.par_chunks_mut(plane))
        .zip(fixed.par_chunks_mut(plane))
        .enumerate()
        .map(|(slab, ((((loss, along), stack), across), fixed))| assembler.slab(slab, loss, along, stack, across, fixed))
        .collect();
    for (slab, inflow) in inflow.iter().enumerate() {
        assembler.feed(slab, inflow, &mut source);
    }
    if grid.ring().is_some() {
        // The last slab goes on into the first.
        operator.along.copy_within(..plane, shape.cells());
    }
    let scale = assembler.potential.as_ref().map(|potential| potential.iter().map(|p| to_f32((0.5 * p).exp())).collect());
    let leaving = inflow.iter().flat_map(|inflow| (0..plane).map(|cell| to_f32(inflow.leaving(cell)))).collect();
    let creases = assembler.crease_faces(inflow.iter().map(|inflow| &inflow.faces), &source);
    Ok(System { operator, source, scale, fixed, leaving, creases })
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
    fn rise(&self, slab: usize, cell: usize, to_slab: usize, to_cell: usize) -> f64 {
        let plane = self.shape.plane();
        self.potential.as_ref().map_or(0.0, |p| p[to_slab * plane + to_cell] - p[slab * plane + cell])
    }

    /// The potential of seeping water in every cell: it falls with the height over the rod's middle.
    fn potential(&self) -> Vec<f64> {
        let (shape, (across_rise, through_rise)) = (self.shape, self.medium.seeping);
        let mut potential = vec![0.0; shape.cells()];
        potential.par_chunks_mut(shape.plane()).enumerate().for_each(|(slab, potential)| {
            let thickness_mm: Vec<f64> = (0..shape.plane()).map(|cell| self.thickness_mm(slab, cell)).collect();
            // From the rod's middle up to the underside of the next layer, column by column.
            let mut up_mm = vec![0.0; shape.across()];
            for layer_mm in thickness_mm.chunks_exact(shape.across()) {
                up_mm.iter_mut().zip(layer_mm).for_each(|(up_mm, layer_mm)| *up_mm += layer_mm);
            }
            up_mm.iter_mut().for_each(|up_mm| *up_mm *= -0.5);
            let layers = potential.chunks_exact_mut(shape.across()).zip(thickness_mm.chunks_exact(shape.across()));
            for (place, (potential, layer_mm)) in layers.enumerate() {
                let columns = potential.iter_mut().zip(&mut up_mm).zip(layer_mm);
                for (((potential, up_mm), layer_mm), right_mm) in columns.zip(self.grid.off_middle_mm(slab, place)) {
                    *potential = across_rise * right_mm + through_rise * (*up_mm + 0.5 * layer_mm);
                    *up_mm += layer_mm;
                }
            }
        });
        potential
    }

    /// Fills one slab's coefficients, and gives for each cell the water that comes in over the faces.
    fn slab(
        &self,
        slab: usize,
        loss: &mut [f32],
        along: &mut [f32],
        stack: &mut [f32],
        across: &mut [f32],
        fixed: &mut [f32],
    ) -> Inflow {
        let (shape, facts) = (self.shape, &self.facts[slab]);
        // What a cell gives its neighbours beyond the symmetric couplings, where water flows.
        let mut beyond = vec![0.0; shape.plane()];
        let mut water_out = vec![0.0; shape.plane()];
        let mut join = |first: usize, second: Option<usize>, flux: Flux| {
            beyond[first] += flux.from_first - flux.coupling;
            water_out[first] += flux.from_first - flux.from_second;
            if let Some(second) = second {
                beyond[second] += flux.from_second - flux.coupling;
                water_out[second] -= flux.from_first - flux.from_second;
            }
        };
        let has_cloth: Vec<bool> = (0..shape.across()).map(|u| self.grid.column_has_cloth(slab, u)).collect();
        for cell in 0..shape.plane() {
            if has_cloth[cell % shape.across()] && cell + shape.across() < shape.plane() {
                let flux = self.stack_flux(slab, cell);
                stack[cell] = to_f32(flux.coupling);
                join(cell, Some(cell + shape.across()), flux);
            }
            if (cell + 1) % shape.across() != 0 {
                let flux = self.across_flux(slab, cell);
                across[cell] = to_f32(flux.coupling);
                join(cell, Some(cell + 1), flux);
            }
            let [below, above] = self.beside(slab);
            if let Some(below) = below {
                let flux = self.along_flux(slab, cell, below);
                along[cell] = to_f32(flux.coupling);
                join(cell, None, flux);
            }
            if let Some(above) = above {
                join(cell, None, self.along_flux(slab, cell, above));
            }
        }
        let inflow = Inflow { pieces: facts.pieces.len(), faces: self.slab_faces(slab), water: water_out };
        for cell in 0..shape.plane() {
            fixed[cell] =
                to_f32(self.cloth_share(slab, cell) * self.length_mm(cell) * self.width_mm(slab, cell) * facts.layer_mm);
            let own = beyond[cell] + f64::from(fixed[cell]) + inflow.leaving(cell);
            loss[cell] = if has_cloth[cell % shape.across()] { to_f32(own) } else { 1.0 };
        }
        inflow
    }

    fn stack_flux(&self, slab: usize, cell: usize) -> Flux {
        let (facts, above) = (&self.facts[slab], cell + self.shape.across());
        let apart_mm = 0.5 * (self.thickness_mm(slab, cell) + self.thickness_mm(slab, above));
        // Unequal layers lie on each other as far as the narrower one reaches.
        let width_mm = self.held_width_mm(slab, cell).min(self.held_width_mm(slab, above));
        let length_mm = 0.5 * (self.length_mm(cell) + self.length_mm(above));
        let conductance = self.through_reach2() * facts.conduct_across * length_mm * width_mm / apart_mm;
        let conductance = conductance * self.column(slab, cell).through * self.wound_through(slab, cell);
        flux(conductance, self.rise(slab, cell, slab, above))
    }

    fn across_flux(&self, slab: usize, cell: usize) -> Flux {
        let facts = &self.facts[slab];
        let opening = self.cloth_share(slab, cell).min(self.cloth_share(slab, cell + 1));
        // Blocks and wound thread leave less of its width to a cell, as if it were wider.
        let as_free_mm =
            |cell: usize| self.width_mm(slab, cell) / (self.column(slab, cell).across * self.under_thread(slab, cell).across);
        let apart_mm = 0.5 * (as_free_mm(cell) + as_free_mm(cell + 1));
        let conductance = self.across_reach2() * facts.conduct_across * self.length_mm(cell) * facts.layer_mm / apart_mm;
        flux(opening * conductance, self.rise(slab, cell, slab, cell + 1))
    }

    /// Halves of both cells in series.
    fn along_flux(&self, slab: usize, cell: usize, to: usize) -> Flux {
        let opening = self.cloth_share(slab, cell).min(self.cloth_share(to, cell));
        if opening <= 0.0 {
            return Flux::default();
        }
        let resistance = |slab: usize| {
            let facts = &self.facts[slab];
            let conduct_along = facts.conduct_along * self.column(slab, cell).along * self.under_thread(slab, cell).along;
            0.5 * self.length_mm(cell) / (conduct_along * self.width_mm(slab, cell) * facts.layer_mm)
        };
        let conductance = opening * self.across_reach2() / (resistance(slab) + resistance(to));
        flux(conductance, self.rise(slab, cell, to, cell))
    }

    /// Adds what comes in over the faces of a slab to the right-hand sides. Water brings of each field what it has of the slab's
    /// free surface.
    fn feed(&self, slab: usize, from: &Inflow, source: &mut Fields) {
        let (shape, pieces) = (self.shape, &self.facts[slab].pieces);
        let wetted = |piece: &Piece| piece.share * piece.conductance * piece.free;
        let all_wetted = pieces.iter().map(wetted).sum::<f64>().max(f64::MIN_POSITIVE);
        for cell in 0..shape.plane() {
            let water =
                if from.faces(cell).iter().any(|&conductance| conductance > 0.0) { from.water[cell].max(0.0) } else { 0.0 };
            let potential = self.potential.as_ref().map_or(0.0, |p| p[slab * shape.plane() + cell]);
            let scale = (-0.5 * potential).exp();
            for (piece, conductance) in pieces.iter().zip(from.faces(cell)) {
                let inflow = conductance + water * wetted(piece) / all_wetted;
                if let Some(field) = self.field_on(piece).filter(|_| inflow > 0.0) {
                    let row = source.row(cell / shape.across(), field);
                    source.slab_mut(slab)[row + cell % shape.across()] += to_f32(inflow * scale);
                }
            }
        }
    }
}
