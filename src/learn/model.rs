//! What a piece would look like with given calibration values and reaches: the reveal, read in its bins.

use super::component::fields_of;
use super::piece::{Measured, Side};
use crate::layout::{Calibration, ComponentReach, DyeFields, Layout, Process, Tuning};
use crate::photo::Plan;
use crate::reveal::colour::{DyeSet, Ground, LinearRgb};
use crate::reveal::solver::SolveOptions;
use crate::reveal::{
    Cancel, Cells, GridSpec, MOST_CELLS, ReadDoses, RevealError, RevealOptions, RodDoses, Standing, fine_grid, rod_doses_kept_as,
};
use rayon::prelude::*;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Length of a cell along the rod, mm: with 2 a line is 3.4 to 4.4 mm wide by where its bind falls between cells, with 1 it keeps its width within
/// 3 % (measured).
const CELL_MM: f64 = 1.0;
/// Residual to which doses are solved: differences between neighbouring values have to be known to a few percent.
const RESIDUAL: f64 = 1e-4;
/// Pixels coloured by one thread before the next.
const BLOCK: usize = 8192;

/// A piece's cells, and how often its equations were solved.
#[derive(Debug)]
pub(super) struct Model<'a> {
    pub(super) piece: &'a Measured<'a>,
    dyes: DyeSet,
    /// What doses of dyes are kept as, with the layout's own reaches.
    fields: DyeFields,
    options: RevealOptions,
    solves: AtomicUsize,
}

/// Doses for some calibration values and reaches.
#[derive(Debug, Clone)]
pub(super) struct Solved {
    tuning: Tuning,
    rod: RodDoses,
    /// In the bins, side by side.
    doses: Vec<ReadDoses>,
}

/// What changed since an earlier solution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Changed {
    /// Anything.
    All,
    /// Values of the dyes alone.
    Dyes,
    /// How far the component goes that is this field of the dyes.
    Field(usize),
    /// Values of the bath alone.
    Bath,
    /// What no dose depends on.
    ColourAlone,
}

impl<'a> Model<'a> {
    pub(super) fn of(piece: &'a Measured<'a>) -> Self {
        let solve = SolveOptions { residual: RESIDUAL, ..SolveOptions::default() };
        let cells = Cells::Of(cells(piece));
        let options = RevealOptions { cells, solve, ..RevealOptions::default() };
        let (layout, fields) = (&piece.layout, fields_of(&piece.layout));
        let dyes = DyeSet::of_swatches_by(Ground::of_layout(layout), &layout.raw().colours.rotation, &fields);
        Self { piece, dyes, fields, options, solves: AtomicUsize::new(0) }
    }

    /// How often equations were solved.
    pub(super) fn solves(&self) -> usize {
        self.solves.load(Ordering::Relaxed)
    }

    /// How many dyes there are: a mixture's powder is as strong in all that it is made of.
    pub(super) fn dyes(&self) -> usize {
        self.piece.layout.raw().colours.rotation.len()
    }

    /// The field of the dyes that a component is, by its number.
    pub(super) fn field_of(&self, component: &ComponentReach) -> Option<usize> {
        let rotation = &self.piece.layout.raw().colours.rotation;
        let dye = rotation.iter().position(|swatch| swatch.name == component.mixture)?;
        let index = rotation[dye].components.iter().position(|one| one.name == component.component)?;
        self.fields.all().iter().position(|field| field.dye == dye && field.components == [index])
    }

    /// The layout with these values and reaches, and the fields of its dyes. Where components are not fields of their own, they reach as they did:
    /// else there would be other fields.
    fn tuned(&self, tuning: &Tuning) -> (Layout, DyeFields) {
        let own = &self.piece.layout;
        let is_parted = self.fields == DyeFields::of_components(&own.raw().colours.rotation);
        let layout = if is_parted { own.tuned(tuning) } else { own.with_calibration(tuning.calibration) };
        let fields = fields_of(&layout);
        (layout, fields)
    }

    /// Solves the doses, from an earlier solution where there is one, of which what did not change is taken over.
    pub(super) fn solve(
        &self,
        tuning: Tuning,
        earlier: Option<(&Solved, Changed)>,
        cancel: &Cancel,
    ) -> Result<Solved, RevealError> {
        if let Some((earlier, Changed::ColourAlone)) = earlier {
            return Ok(Solved { tuning, ..earlier.clone() });
        }
        let (layout, fields) = self.tuned(&tuning);
        let mut binds = self.piece.binds.clone();
        binds.iter_mut().for_each(|bind| bind.effect = tuning.calibration.bind(layout.thread().kind));
        let earlier = earlier.map(|(earlier, changed)| {
            let standing = match changed {
                Changed::Bath => Standing { dyes: true, ..Standing::CLOTH },
                Changed::Dyes => Standing { bath: true, ..Standing::CLOTH },
                Changed::Field(number) => Standing { dyes: true, but: Some(number), bath: true, cloth: true },
                Changed::All | Changed::ColourAlone => Standing::CLOTH,
            };
            (&earlier.rod, standing)
        });
        let rod = rod_doses_kept_as(&fields, &layout, &binds, &self.options, earlier, &cancel.beneath())?;
        let doses = self.piece.sides.iter().map(|side| side.bins.of_bins.doses_of(&fields, &layout, &rod)).collect();
        self.solves.fetch_add(1, Ordering::Relaxed);
        Ok(Solved { tuning, rod, doses })
    }

    /// The light of cloth with these doses, each dye as strong as its strength on a logarithmic scale says.
    fn light(&self, calibration: Calibration, doses: &ReadDoses, strengths: &[f64]) -> Vec<[f32; 3]> {
        let dyes = self.dyes.len();
        let process = Process { calibration, ..*self.piece.layout.process() };
        #[expect(clippy::cast_possible_truncation, reason = "doses are kept in single precision")]
        let factors: Vec<f32> = self.dyes.owners().iter().map(|dye| strengths[*dye].exp() as f32).collect();
        let mut light = vec![[0.0; 3]; doses.bath.len()];
        light.par_chunks_mut(BLOCK).enumerate().for_each(|(block, light)| {
            let first = block * BLOCK;
            let bath = &doses.bath[first..first + light.len()];
            #[expect(clippy::cast_possible_truncation, reason = "a share")]
            let gone: Vec<f32> = bath.iter().map(|&dose| process.discharged_share(f64::from(dose)) as f32).collect();
            let mut of_dyes = doses.dyes[first * dyes..(first + light.len()) * dyes].to_vec();
            for doses in of_dyes.chunks_exact_mut(dyes.max(1)) {
                doses.iter_mut().zip(&factors).for_each(|(dose, factor)| *dose *= factor);
            }
            self.dyes.fill_linear(&of_dyes, &gone, light);
            // A photograph's file holds nothing beyond.
            light.iter_mut().for_each(|light| *light = light.map(|channel| channel.clamp(0.0, 1.0)));
        });
        light
    }

    /// The mean light of each bin of each side.
    pub(super) fn bins(&self, solved: &Solved, strengths: &[f64]) -> Vec<Vec<[f64; 3]>> {
        let sides = self.piece.sides.iter().zip(&solved.doses);
        sides.map(|(side, doses)| side.bins.means(&self.light(solved.tuning.calibration, doses, strengths))).collect()
    }

    /// What the photographs show in each bin, their lines drawn to where this solution has them.
    pub(super) fn seen(&self, solved: &Solved, strengths: &[f64]) -> Vec<Vec<Option<[f64; 3]>>> {
        let (layout, fields) = self.tuned(&solved.tuning);
        let of_side = |side: &Side<'_>| {
            let doses = side.bins.reading.doses_of(&fields, &layout, &solved.rod);
            let light = self.light(solved.tuning.calibration, &doses, strengths);
            let mut picture = vec![[0.0; 4]; side.frame.pixels()];
            for ((&pixel, &share), [red, green, blue]) in side.bins.cloth.iter().zip(&side.bins.covered).zip(light) {
                picture[pixel as usize] = [red * share, green * share, blue * share, share];
            }
            let plan = Plan::from_light(self.piece.layout.clone(), side.panel, side.frame, picture);
            plan.map_or_else(|| vec![None; side.bins.len()], |plan| side.straightened(&plan))
        };
        self.piece.sides.iter().map(of_side).collect()
    }
}

/// Cells of 1 mm, or as short as a long garment's may be.
fn cells(piece: &Measured<'_>) -> GridSpec {
    let fold = piece.layout.fold();
    let usual = fine_grid(&piece.layout);
    let fits = |across: usize| {
        let cells = fold.length_mm() / CELL_MM * f64::from(fold.places()) * f64::from(u32::try_from(across).unwrap_or(u32::MAX));
        cells <= 0.9 * f64::from(u32::try_from(MOST_CELLS).unwrap_or(u32::MAX))
    };
    let halves = std::iter::successors(Some(usual.across), |across| Some(across / 2).filter(|across| *across >= LEAST_ACROSS));
    halves.into_iter().find(|across| fits(*across)).map_or(usual, |across| GridSpec { cell_mm: CELL_MM, across })
}

/// Fewest cells across a pleat for which cells are made shorter.
const LEAST_ACROSS: usize = 8;

/// Mean light as Lab.
pub(super) fn lab(light: [f64; 3]) -> [f64; 3] {
    let lab = LinearRgb(light).to_xyz().to_lab();
    [lab.l, lab.a, lab.b]
}
