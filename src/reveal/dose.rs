//! The doses in the rod: solved, and read anywhere in it.

use super::assemble::{System, assemble};
use super::assembler::Medium;
use super::feed::{Face, dye_feed};
use super::grid::RodGrid;
use super::solver::{ConjugateGradients, Fields, MOST_FIELDS, SolveOptions, Solved, SolverError};
use super::{Cancel, RevealError};
use crate::layout::{Dip, DyeBy, DyeFields, Process, Rest};

/// Doses in the cells of a rod, a field for each dye and for what mixtures have besides ([`DyeFields`]), or one for the bath. 1 is the dose at a fully fed surface.
#[derive(Debug, Clone)]
pub struct DoseField {
    dose: Fields,
    creases: Fields,
    solution: Fields,
    solved: Solved,
}

/// The rod's cells and the doses in them.
#[derive(Debug, Clone)]
pub struct RodDoses {
    /// The cells.
    pub grid: RodGrid,
    /// Doses of the dyes' fields ([`DyeFields`]), dips among them; none without dyes.
    pub dyes: Option<DoseField>,
    /// What each dip brings to each field of its dye, before it is added to the dyes.
    pub dips: Vec<DoseField>,
    /// Dose of the discharge bath; none without one.
    pub bath: Option<DoseField>,
}

impl RodDoses {
    /// The places of the stack, from the bottom up, whose cloth has in the mean less than `least` of all dyes together: layers that dye
    /// hardly reaches. Places without cloth are none of them. `of` are the fields that the doses are kept as.
    #[must_use]
    pub fn unreached(&self, of: &DyeFields, least: f64) -> Vec<usize> {
        let Some(dyes) = &self.dyes else { return Vec::new() };
        let (shape, fields) = (self.grid.shape(), dyes.fields());
        let is_unreached = |place: &usize| {
            let (mut cloth_mm2, mut dose) = (0.0, 0.0);
            for slab in 0..shape.slabs() {
                for across in 0..shape.across() {
                    let held_mm2 = self.grid.cloth_mm2(slab, *place, across);
                    let of_field = |field| f64::from(fields.value(field, slab, *place, across));
                    let all: f64 = (0..of.dyes()).map(|dye| of.dose(dye, of_field)).sum();
                    cloth_mm2 += held_mm2;
                    dose += held_mm2 * all;
                }
            }
            cloth_mm2 > 0.0 && dose < least * cloth_mm2
        };
        (0..shape.places()).filter(is_unreached).collect()
    }
}

/// The equations of the dyes.
///
/// `section_dyes` names for each section from the tip outward the dye strewn on it, below `dyes`.
///
/// # Errors
/// [`RevealError::TooManyDyes`].
pub fn dye_system(grid: &RodGrid, process: &Process, section_dyes: &[Option<usize>], dyes: usize) -> Result<System, RevealError> {
    dye_system_reaching(grid, process, 1.0, section_dyes, dyes)
}

/// The same of what reaches `reach_factor` times as far as dyes do.
///
/// # Errors
/// [`RevealError::TooManyDyes`].
pub fn dye_system_reaching(
    grid: &RodGrid,
    process: &Process,
    reach_factor: f64,
    section_dyes: &[Option<usize>],
    dyes: usize,
) -> Result<System, RevealError> {
    if dyes > MOST_FIELDS {
        return Err(RevealError::TooManyDyes { dyes, most: MOST_FIELDS });
    }
    let process = &lying(grid, process);
    let field_on = |section: usize| section_dyes.get(section).copied().flatten();
    let feed = |face: &Face| dye_feed(process, face);
    let system = assemble(
        grid,
        &Medium {
            reach: process.dye_reach().times(reach_factor),
            seeping: seeping(process),
            feed: &feed,
            field_on: &field_on,
            fields: dyes.max(1),
            zone: None,
            uneven_creases: process.hand.uneven_creases,
            seed: process.hand.seed,
        },
    );
    Ok(system?)
}

/// The equations of the discharge bath, which reaches every face.
///
/// # Errors
/// [`RevealError::Solver`].
pub fn discharge_system(grid: &RodGrid, process: &Process) -> Result<System, RevealError> {
    let system = assemble(
        grid,
        &Medium {
            reach: process.calibration.discharge_reach,
            seeping: (0.0, 0.0),
            feed: &|_| 1.0,
            field_on: &|_| Some(0),
            fields: 1,
            zone: None,
            uneven_creases: 0.0,
            seed: 0,
        },
    );
    Ok(system?)
}

/// The equations of a dip: what of the bundle lies in dye is fed all round, over its flats, its creases and its sides.
///
/// # Limits
/// A cell that the waterline runs through counts as wet, from its middle on: the line is found to half a cell.
///
/// # Errors
/// [`RevealError::Solver`].
pub fn dip_system(grid: &RodGrid, process: &Process, dip: &Dip) -> Result<System, RevealError> {
    dip_system_reaching(grid, process, 1.0, dip)
}

/// The same of what reaches `reach_factor` times as far as dyes do.
///
/// # Errors
/// [`RevealError::Solver`].
pub fn dip_system_reaching(grid: &RodGrid, process: &Process, reach_factor: f64, dip: &Dip) -> Result<System, RevealError> {
    let system = assemble(
        grid,
        &Medium {
            reach: process.dip_reach(dip.minutes).times(reach_factor),
            seeping: (0.0, 0.0),
            feed: &|_| 1.0,
            field_on: &|_| Some(0),
            fields: 1,
            zone: Some(&dip.zone),
            uneven_creases: process.hand.uneven_creases,
            seed: process.hand.seed,
        },
    );
    Ok(system?)
}

/// How a ring is dyed: it lies on one of its two faces, which are the edges of its layers, whatever a rod would lie on.
fn lying(grid: &RodGrid, process: &Process) -> Process {
    match process.rest {
        Rest::OnItsFlat if grid.ring().is_some() => Process { rest: Rest::EdgesUp, ..*process },
        _ => *process,
    }
}

/// Water seeps down: the potential falls with height. Turned half-way, it seeps as much one way as the other.
fn seeping(process: &Process) -> (f64, f64) {
    let fall = -process.calibration.seeping_per_mm;
    match (process.dye, process.rest) {
        (DyeBy::ByHand | DyeBy::Dipped, _) | (_, Rest::TurnedHalfWay) => (0.0, 0.0),
        (DyeBy::PowderUnderIce, Rest::EdgesUp) => (fall, 0.0),
        (DyeBy::PowderUnderIce, Rest::OnItsFlat) => (0.0, fall),
    }
}

impl DoseField {
    /// Solves a system, from an earlier solution on the same grid where there is one.
    ///
    /// # Errors
    /// [`RevealError::Cancelled`], [`RevealError::Solver`].
    pub fn solve(system: System, earlier: Option<&Self>, options: &SolveOptions, cancel: &Cancel) -> Result<Self, RevealError> {
        let System { operator, source, scale, creases, .. } = system;
        let (shape, fields) = (source.shape(), source.count());
        let fits = |earlier: &&Self| earlier.solution.shape() == shape && earlier.solution.count() == fields;
        let mut solution = earlier.filter(fits).map_or_else(|| source.zero_on(shape), |earlier| earlier.solution.clone());
        let is_stopped = || cancel.is_cancelled();
        let solved = ConjugateGradients::new(operator, fields)?.solve(&source, &mut solution, options, &is_stopped)?;
        let mut dose = solution.clone();
        if let Some(scale) = scale {
            dose.scale_cells(&scale);
        }
        if !dose.is_finite() {
            return Err(SolverError::Overflow { steps: solved.steps }.into());
        }
        // The equations have no dose below 0; a solution short of them by the residual may.
        dose.raise_to_zero();
        Ok(Self { creases: creases.doses(&dose), dose, solution, solved })
    }

    /// Doses of nothing, for so many dyes.
    ///
    /// # Errors
    /// [`RevealError::Solver`] for more dyes than are solved at once.
    pub fn bare(grid: &RodGrid, dyes: usize) -> Result<Self, RevealError> {
        let dose = Fields::zero(grid.shape(), dyes)?;
        let creases = dose.zero_on(grid.shape().creases());
        Ok(Self { solution: dose.clone(), dose, creases, solved: Solved::default() })
    }

    /// Some of its fields, to start from; none where it has fewer.
    pub(super) fn picked(&self, numbers: &[usize]) -> Option<Self> {
        let pick = |from: &Fields| {
            let mut picked = Fields::zero(from.shape(), numbers.len()).ok()?;
            for (to, &number) in numbers.iter().enumerate() {
                (number < from.count()).then(|| picked.put(to, from, number))?;
            }
            Some(picked)
        };
        let (dose, creases, solution) = (pick(&self.dose)?, pick(&self.creases)?, pick(&self.solution)?);
        Some(Self { dose, creases, solution, solved: self.solved })
    }

    /// So many fields of several solutions on one grid, each with the numbers that its own take. It went as the slowest did.
    pub(super) fn merged(grid: &RodGrid, fields: usize, parts: &[(Vec<usize>, Self)]) -> Result<Self, RevealError> {
        let mut merged = Self::bare(grid, fields)?;
        for (numbers, part) in parts {
            for (from, &number) in numbers.iter().enumerate() {
                merged.dose.put(number, &part.dose, from);
                merged.creases.put(number, &part.creases, from);
                merged.solution.put(number, &part.solution, from);
            }
            merged.solved.steps = merged.solved.steps.max(part.solved.steps);
            merged.solved.residual = merged.solved.residual.max(part.solved.residual);
        }
        Ok(merged)
    }

    /// Adds the one dose of another to that of a field; where the next solve starts from stays as it is.
    pub fn add(&mut self, field: usize, other: &Self) {
        for (own, other) in [(&mut self.dose, &other.dose), (&mut self.creases, &other.creases)] {
            let (shape, across) = (own.shape(), own.shape().across());
            for slab in 0..shape.slabs() {
                for place in 0..shape.places() {
                    let (into, from) = (own.row(place, field), other.row(place, 0));
                    let added = &other.slab(slab)[from..from + across];
                    own.slab_mut(slab)[into..into + across].iter_mut().zip(added).for_each(|(own, added)| *own += added);
                }
            }
        }
    }

    /// How the solve went.
    #[must_use]
    pub fn solved(&self) -> Solved {
        self.solved
    }

    /// The doses in the middle of the cells.
    #[must_use]
    pub fn fields(&self) -> &Fields {
        &self.dose
    }

    /// The doses at both creases of every place, where `across` is 0 and where it is 1, on a grid of two cells across.
    #[must_use]
    pub fn creases(&self) -> &Fields {
        &self.creases
    }
}
