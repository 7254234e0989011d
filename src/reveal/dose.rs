//! The doses in the rod: solved, and read anywhere in it.

use super::assemble::{Medium, System, assemble};
use super::binds;
use super::feed::{Face, dye_feed};
use super::grid::RodGrid;
use super::solver::{Fields, MOST_FIELDS, Multigrid, SolveOptions, Solved};
use super::{Cancel, RevealError};
use crate::layout::{DyeBy, Process, Rest};

/// Doses in the cells of a rod, one field for each dye, or one for the bath. 1 is the dose at a fully fed surface.
#[derive(Debug, Clone)]
pub struct DoseField {
    dose: Fields,
    solution: Fields,
    solved: Solved,
}

/// The equations of the dyes.
///
/// `section_dyes` names for each section from the tip outward the dye strewn on it, below `dyes`.
///
/// # Errors
/// [`RevealError::TooManyDyes`].
pub fn dye_system(grid: &RodGrid, process: &Process, section_dyes: &[Option<usize>], dyes: usize) -> Result<System, RevealError> {
    if dyes > MOST_FIELDS {
        return Err(RevealError::TooManyDyes { dyes, most: MOST_FIELDS });
    }
    let strength = |slab: usize| strength(grid, section_dyes, slab);
    let feed = |face: &Face| dye_feed(process, face);
    Ok(assemble(
        grid,
        &Medium {
            reach: process.dye_reach(),
            seeping: seeping(process),
            feed: &feed,
            strength: &strength,
            fields: dyes.max(1),
            uneven_creases: process.hand.uneven_creases,
            seed: process.hand.seed,
        },
    ))
}

/// The equations of the discharge bath, which reaches every face.
#[must_use]
pub fn discharge_system(grid: &RodGrid, process: &Process) -> System {
    assemble(
        grid,
        &Medium {
            reach: process.calibration.discharge_reach,
            seeping: (0.0, 0.0),
            feed: &|_| 1.0,
            strength: &|_| [1.0; MOST_FIELDS],
            fields: 1,
            uneven_creases: 0.0,
            seed: 0,
        },
    )
}

/// Water seeps down: the potential falls with height. Turned half-way, it seeps as much one way as the other.
fn seeping(process: &Process) -> (f64, f64) {
    let fall = -process.calibration.seeping_per_mm;
    match (process.dye, process.rest) {
        (DyeBy::ByHand, _) | (_, Rest::TurnedHalfWay) => (0.0, 0.0),
        (DyeBy::PowderUnderIce, Rest::EdgesUp) => (fall, 0.0),
        (DyeBy::PowderUnderIce, Rest::OnItsFlat) => (0.0, fall),
    }
}

/// What of each dye lies on a slab: its sections' share of what is free of thread.
fn strength(grid: &RodGrid, section_dyes: &[Option<usize>], slab: usize) -> [f64; MOST_FIELDS] {
    let (from_mm, to_mm) = (slab as f64 * grid.cell_mm(), (slab + 1) as f64 * grid.cell_mm());
    let free: f64 = binds::sections_free(grid.binds(), from_mm, to_mm).map(|(_, share)| share).sum();
    let mut strength = [0.0; MOST_FIELDS];
    let mut add = |section: usize, share: f64| {
        if let Some(strength) = section_dyes.get(section).copied().flatten().and_then(|dye| strength.get_mut(dye)) {
            *strength += share;
        }
    };
    if free > 0.0 {
        binds::sections_free(grid.binds(), from_mm, to_mm).for_each(|(section, share)| add(section, share / free));
    } else {
        // All under thread: what seeps under it comes from both sides.
        let middle = grid.along_mm(slab);
        let section = binds::section(grid.binds(), middle);
        add(section, 0.5);
        let bind = grid.binds().get(section).filter(|bind| bind.along_mm - middle < bind.breadth_mm);
        add(if bind.is_some() { section + 1 } else { section.saturating_sub(1) }, 0.5);
    }
    strength
}

impl DoseField {
    /// Solves a system, from an earlier solution on the same grid where there is one.
    ///
    /// # Errors
    /// [`RevealError::Cancelled`], [`RevealError::NotConverged`].
    pub fn solve(system: System, earlier: Option<&Self>, options: &SolveOptions, cancel: &Cancel) -> Result<Self, RevealError> {
        let System { operator, source, scale, .. } = system;
        let (shape, fields) = (source.shape(), source.count());
        let fits = |earlier: &&Self| earlier.solution.shape() == shape && earlier.solution.count() == fields;
        let mut solution = earlier.filter(fits).map_or_else(|| Fields::zero(shape, fields), |earlier| earlier.solution.clone());
        let solved = Multigrid::new(operator, fields).solve(&source, &mut solution, options, cancel)?;
        let mut dose = solution.clone();
        if let Some(scale) = scale {
            dose.scale_cells(&scale);
        }
        // The equations have no dose below 0; a solution short of them by the residual may.
        dose.raise_to_zero();
        Ok(Self { dose, solution, solved })
    }

    /// How the solve went.
    #[must_use]
    pub fn solved(&self) -> Solved {
        self.solved
    }

    /// The doses.
    #[must_use]
    pub fn fields(&self) -> &Fields {
        &self.dose
    }

    /// Adds to `doses`, one for each field, `share` times the dose at a place in the rod: between the four cells about it in its layer,
    /// those without cloth left out.
    pub(super) fn add_at(&self, at: &Spot, share: f32, doses: &mut [f32]) {
        for &(slab, across, weight) in at.cells.iter().filter(|(_, _, weight)| *weight > 0.0) {
            let values = self.dose.slab(slab);
            for (field, dose) in doses.iter_mut().enumerate() {
                *dose += share * weight * values[self.dose.row(at.place, field) + across];
            }
        }
    }
}

/// A place in the rod, and the cells about it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    place: usize,
    cells: [(usize, usize, f32); 4],
}

impl Spot {
    /// The cells with cloth about a place, and their weights; `None` where there are none.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the grid; weights are of f32 values")]
    pub(super) fn find(grid: &RodGrid, along_mm: f64, across: f64, place: usize) -> Option<Self> {
        let shape = grid.shape();
        let between = |at: f64, cells: usize| {
            let at = at.clamp(0.0, (cells - 1) as f64);
            let low = (at as usize).min(cells.saturating_sub(2));
            (low, (low + 1).min(cells - 1), at - low as f64)
        };
        let (slab, next_slab, s) = between(along_mm / grid.cell_mm() - 0.5, grid.used_slabs());
        let (cell, next_cell, t) = between(across * shape.across as f64 - 0.5, shape.across);
        let corners = [
            (slab, cell, (1.0 - s) * (1.0 - t)),
            (slab, next_cell, (1.0 - s) * t),
            (next_slab, cell, s * (1.0 - t)),
            (next_slab, next_cell, s * t),
        ];
        let weigh = |(slab, across, weight): (usize, usize, f64)| if grid.is_cloth(slab, place, across) { weight } else { 0.0 };
        let sum: f64 = corners.into_iter().map(weigh).sum();
        if sum <= 1e-6 {
            return None;
        }
        let cells = corners.map(|corner| (corner.0, corner.1, (weigh(corner) / sum) as f32));
        Some(Self { place, cells })
    }
}
