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

use super::binds::{self, Piece};
use super::feed::Face;
use super::grid::RodGrid;
use super::noise;
use super::solver::{Fields, GridShape, Operator};
use crate::layout::Reach;
use rayon::prelude::*;

/// How much better missing cloth conducts through the stack than a layer of cloth. It makes the gap a twentieth of a layer thick; more
/// would ask for more digits than doses have, for what flows over a bridge is its conductance times a difference of doses.
const BRIDGE: f64 = 20.0;
/// Length along the rod over which a crease sticks out evenly, mm (our own judgement).
const CREASE_NOISE_MM: f64 = 60.0;

/// Breadth of the narrowest cells as a share of their length.
const NARROWEST: f64 = 0.7;

/// What flows in the rod and how it comes in.
pub(super) struct Medium<'a> {
    pub(super) reach: Reach,
    /// Rise of the potential across the pleats and through the stack, 1/mm.
    pub(super) seeping: (f64, f64),
    /// How well a face is fed.
    pub(super) feed: &'a (dyn Fn(&Face) -> f64 + Sync),
    /// The field that lies on a section, by its index.
    pub(super) field_on: &'a (dyn Fn(usize) -> Option<usize> + Sync),
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
    /// What each cell gives back of its dose over the faces and with water that drips off, mm3.
    pub leaving: Vec<f32>,
}

/// Sizes and conductances of one slab's cells.
#[derive(Debug)]
struct SlabFacts {
    length_mm: f64,
    across_mm: f64,
    layer_mm: f64,
    conduct_across: f64,
    conduct_along: f64,
    pieces: Vec<Piece>,
}

/// What comes into the cells of a slab over its faces: by conductance, for each cell over each piece of the slab, and with water.
struct Inflow {
    pieces: usize,
    faces: Vec<f64>,
    water: Vec<f64>,
}

impl SlabFacts {
    /// Cells that are narrower than this count as so wide in what they conduct across, mm: for the solver's sake, which does not take
    /// to cells that conduct far better across than along.
    fn narrowest_mm(&self) -> f64 {
        NARROWEST * self.length_mm
    }
}

impl Inflow {
    fn faces(&self, cell: usize) -> &[f64] {
        &self.faces[cell * self.pieces..(cell + 1) * self.pieces]
    }

    /// What a cell gives back of its dose: over its faces, and with the water that arrives in it and does not go on.
    fn leaving(&self, cell: usize) -> f64 {
        self.faces(cell).iter().sum::<f64>() + (-self.water[cell]).max(0.0)
    }
}

/// A face of a cell that looks out of the rod.
struct Outside {
    area_mm2: f64,
    /// From the middle of the cell to the face, in an unbound rod: 1/mm in units in which fixing has the rate 1.
    resistance: f64,
    /// Reach in the direction of the face, mm.
    reach_mm: f64,
    /// How well it is fed, 0 to 1.
    feed: f64,
}

impl Outside {
    /// Conductance from what lies on the rod into the cell, over the part of it that is in a piece of the rod.
    ///
    /// A deep rod whose face is fully fed takes up `reach` for a dose of 1, and one that is fed worse takes up its `feed` of that:
    /// so a face has the resistance `(1 / feed - 1) / reach`, however fine the cells are. Where thread presses the reach is shorter
    /// by the root of the conductance left.
    fn conductance(&self, piece: &Piece) -> f64 {
        let feed = self.feed * piece.free;
        if feed <= 0.0 {
            return 0.0;
        }
        let film = (1.0 / feed - 1.0) / (piece.conductance.sqrt() * self.reach_mm);
        piece.share * self.area_mm2 / (self.resistance / piece.conductance + film)
    }
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
    let scale = assembler.potential.as_ref().map(|potential| potential.iter().map(|p| to_f32((0.5 * p).exp())).collect());
    let leaving = inflow.iter().flat_map(|inflow| (0..plane).map(|cell| to_f32(inflow.leaving(cell)))).collect();
    System { operator, source, scale, fixed, leaving }
}

/// The one way from computed coefficients to stored ones.
#[expect(clippy::cast_possible_truncation, reason = "coefficients are kept in f32")]
fn to_f32(value: f64) -> f32 {
    value as f32
}

fn slab_facts(grid: &RodGrid, slab: usize) -> SlabFacts {
    let (from_mm, to_mm) = (slab as f64 * grid.cell_mm(), (slab + 1) as f64 * grid.cell_mm());
    let section = grid.section(slab);
    let pieces = binds::pieces(grid.binds(), from_mm, to_mm);
    SlabFacts {
        length_mm: grid.cell_mm(),
        across_mm: section.width_mm / grid.shape().across as f64,
        layer_mm: section.layer_mm,
        // Across the rod its pieces lie side by side, along it one after the other.
        conduct_across: pieces.iter().map(|piece| piece.share * piece.conductance).sum(),
        conduct_along: 1.0 / pieces.iter().map(|piece| piece.share / piece.conductance).sum::<f64>(),
        pieces,
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
    fn cloth_share(&self, slab: usize, cell: usize) -> f64 {
        self.grid.cloth_share(slab, cell / self.shape.across, cell % self.shape.across)
    }

    fn rise(&self, slab: usize, cell: usize, to_slab: usize, to_cell: usize) -> f64 {
        let plane = self.shape.plane();
        self.potential.as_ref().map_or(0.0, |p| p[to_slab * plane + to_cell] - p[slab * plane + cell])
    }

    fn thickness_mm(&self, slab: usize, cell: usize) -> f64 {
        let share = self.cloth_share(slab, cell);
        self.facts[slab].layer_mm * (share + (1.0 - share) / BRIDGE)
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
        let has_cloth: Vec<bool> = (0..shape.across).map(|u| self.grid.column_has_cloth(slab, u)).collect();
        for cell in 0..shape.plane() {
            if has_cloth[cell % shape.across] && cell + shape.across < shape.plane() {
                let flux = self.stack_flux(slab, cell);
                stack[cell] = to_f32(flux.coupling);
                join(cell, Some(cell + shape.across), flux);
            }
            if (cell + 1) % shape.across != 0 {
                let flux = self.across_flux(slab, cell);
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
        let faces = (0..shape.plane()).flat_map(|cell| self.face_conductances(slab, cell)).collect();
        let mut inflow = Inflow { pieces: facts.pieces.len(), faces, water: water_out };
        self.spread(slab, &mut inflow);
        for cell in 0..shape.plane() {
            fixed[cell] = to_f32(self.cloth_share(slab, cell) * facts.length_mm * facts.across_mm * facts.layer_mm);
            let own = beyond[cell] + f64::from(fixed[cell]) + inflow.leaving(cell);
            loss[cell] = if has_cloth[cell % shape.across] { to_f32(own) } else { 1.0 };
        }
        inflow
    }

    fn across_reach2(&self) -> f64 {
        self.medium.reach.along_mm * self.medium.reach.along_mm
    }

    fn through_reach2(&self) -> f64 {
        self.medium.reach.through_mm * self.medium.reach.through_mm
    }

    fn stack_flux(&self, slab: usize, cell: usize) -> Flux {
        let (facts, above) = (&self.facts[slab], cell + self.shape.across);
        let apart_mm = 0.5 * (self.thickness_mm(slab, cell) + self.thickness_mm(slab, above));
        let conductance = self.through_reach2() * facts.conduct_across * facts.length_mm * facts.across_mm / apart_mm;
        flux(conductance, self.rise(slab, cell, slab, above))
    }

    fn across_flux(&self, slab: usize, cell: usize) -> Flux {
        let facts = &self.facts[slab];
        let opening = self.cloth_share(slab, cell).min(self.cloth_share(slab, cell + 1));
        let across_mm = facts.across_mm.max(facts.narrowest_mm());
        let conductance = self.across_reach2() * facts.conduct_across * facts.length_mm * facts.layer_mm / across_mm;
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
            0.5 * facts.length_mm / (facts.conduct_along * facts.across_mm * facts.layer_mm)
        };
        let conductance = opening * self.across_reach2() / (resistance(slab) + resistance(to));
        flux(conductance, self.rise(slab, cell, to, cell))
    }

    /// Conductance from what lies on the rod into a cell over all its faces, for each piece of its slab.
    fn face_conductances(&self, slab: usize, cell: usize) -> impl Iterator<Item = f64> {
        let outsides = self.outsides(slab, cell);
        let over_piece = move |piece: &Piece| outsides.iter().flatten().map(|outside| outside.conductance(piece)).sum();
        self.facts[slab].pieces.iter().map(over_piece)
    }

    /// Where cells are narrower than [`SlabFacts::narrowest_mm`] what the faces of a row take in is spread over its cloth, as it
    /// spreads over so short a way by itself: so much of it that what is left uneven is as uneven as it would be.
    fn spread(&self, slab: usize, inflow: &mut Inflow) {
        let (facts, across) = (&self.facts[slab], self.shape.across);
        let own = (facts.across_mm / facts.narrowest_mm()).powi(2);
        if own >= 1.0 {
            return;
        }
        for (place, row) in inflow.faces.chunks_exact_mut(across * inflow.pieces).enumerate() {
            let share = |cell: usize| self.cloth_share(slab, place * across + cell);
            let cloth: f64 = (0..across).map(share).sum();
            for piece in (0..inflow.pieces).filter(|_| cloth > 0.0) {
                let at = |cell: usize| cell * inflow.pieces + piece;
                let all: f64 = (0..across).map(|cell| share(cell) * row[at(cell)]).sum();
                for cell in 0..across {
                    row[at(cell)] += share(cell) * (1.0 - own) * (all / cloth - row[at(cell)]);
                }
            }
        }
    }

    /// The faces of a cell that look out of the rod: its flats, its creases, the rod's end.
    fn outsides(&self, slab: usize, cell: usize) -> [Option<Outside>; 5] {
        let (place, across) = (cell / self.shape.across, cell % self.shape.across);
        let (is_cloth, mates) = (self.cloth_share(slab, cell) > 0.0, self.grid.mates());
        let has_cloth = || self.grid.column_has_cloth(slab, across);
        let flat = |through: f64| self.flat(slab, cell, through);
        [
            (place == 0 && has_cloth()).then(|| flat(-1.0)),
            (place + 1 == self.shape.places && has_cloth()).then(|| flat(1.0)),
            (is_cloth && across == 0).then(|| self.crease(slab, cell, mates.at_start(place), -1.0)),
            (is_cloth && across + 1 == self.shape.across).then(|| self.crease(slab, cell, mates.at_end(place), 1.0)),
            (is_cloth && slab + 1 == self.grid.shape().slabs).then(|| self.end(slab, cell)),
        ]
    }

    fn face(&self, slab: usize) -> Face {
        let section = self.grid.section(slab);
        Face { across: 0.0, through: 0.0, width_mm: section.width_mm, height_mm: section.height_mm, roundness: section.roundness }
    }

    /// The flat side of the first place (`through` is -1) or the last (1).
    fn flat(&self, slab: usize, cell: usize, through: f64) -> Outside {
        let across = 2.0 * ((cell % self.shape.across) as f64 + 0.5) / self.shape.across as f64 - 1.0;
        Outside {
            area_mm2: self.facts[slab].length_mm * self.facts[slab].across_mm,
            resistance: 0.5 * self.thickness_mm(slab, cell) / self.through_reach2(),
            reach_mm: self.medium.reach.through_mm,
            feed: (self.medium.feed)(&Face { across, through, ..self.face(slab) }),
        }
    }

    /// A crease: through half a cell, through the cloth that is wrapped round it, and half its own layer.
    fn crease(&self, slab: usize, cell: usize, mate: Option<usize>, side: f64) -> Outside {
        let (facts, place) = (&self.facts[slab], cell / self.shape.across);
        let layers = self.grid.mates().wrapped_over(place, mate, self.grid.layers()) as f64 + 0.5;
        let through = 2.0 * (place as f64 + 0.5) / self.shape.places as f64 - 1.0;
        Outside {
            area_mm2: self.cloth_share(slab, cell) * facts.length_mm * facts.layer_mm * self.sticks_out(slab, place, mate, side),
            resistance: 0.5 * facts.across_mm / self.across_reach2() + layers * facts.layer_mm / self.through_reach2(),
            reach_mm: self.medium.reach.along_mm,
            feed: (self.medium.feed)(&Face { across: side, through, ..self.face(slab) }),
        }
    }

    /// The rod's end.
    fn end(&self, slab: usize, cell: usize) -> Outside {
        let facts = &self.facts[slab];
        Outside {
            area_mm2: self.cloth_share(slab, cell) * facts.across_mm * facts.layer_mm,
            resistance: 0.5 * facts.length_mm / self.across_reach2(),
            reach_mm: self.medium.reach.along_mm,
            feed: (self.medium.feed)(&Face { across: 0.0, through: 0.0, ..self.face(slab) }),
        }
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
                if let Some(field) =
                    (self.medium.field_on)(piece.section).filter(|&field| inflow > 0.0 && field < self.medium.fields)
                {
                    let row = source.row(cell / shape.across, field);
                    source.slab_mut(slab)[row + cell % shape.across] += to_f32(inflow * scale);
                }
            }
        }
    }
}
