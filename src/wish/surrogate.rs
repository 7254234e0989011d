//! What a dye gives at any distance from the tip, of a rod that is flat and of one that is pressed round.
//!
//! All dyes go the same way through the rod, so one dose stands for each. Between flat and round the doses are taken in proportion to how round
//! the rod is there, which depends on the binds around alone.

use super::line::{Comb, LINE_ROWS};
use super::rows::{Doses, Rows};
use super::shelf::Shelf;
use crate::geometry::rod_size;
use crate::layout::{Calibration, Layout, Process};
use crate::reveal::colour::{DyeSet, Lab, LinearRgb, ciede2000};
use crate::reveal::{Cancel, RevealError, RevealOptions, RodBind, RodDoses, Standing, rod_doses_bound};
use rayon::prelude::*;

/// Steps of roundness, flat and round among them.
pub(super) const LEVELS: usize = 5;
/// How far a bind's roundness goes, in its diameters: as good as nowhere, and over all of the rod (within what a layout may say).
const FLAT_AFTER: f64 = 0.05;
const ROUND_AFTER: f64 = 100.0;

/// Colours row by row; none where there is no cloth.
pub(super) type RowColours = Vec<Option<Lab>>;

/// Colours by roundness, dye and row, and under and beside a bind.
#[derive(Debug)]
pub(super) struct Surrogate {
    /// By level of roundness and by dye.
    pub(super) levels: Vec<Vec<RowColours>>,
    /// By dye and by whole millimetres from the middle of a bind.
    pub(super) line: Vec<Vec<RowColours>>,
    /// How far the colour has come there from the line's to the section's own.
    pub(super) come: Vec<Vec<Vec<f64>>>,
}

/// Doses of the two rods.
#[derive(Debug)]
pub(super) struct Ends {
    flat: Doses,
    round: Doses,
    rods: [RodDoses; 2],
}

impl Ends {
    /// Solves a layout with one dye on every section, flat and round.
    ///
    /// # Errors
    /// [`RevealError`].
    pub(super) fn solve(plain: &Layout, rows: &Rows, options: &RevealOptions, cancel: &Cancel) -> Result<Self, RevealError> {
        let flat = solve(plain, FLAT_AFTER, None, options, cancel)?;
        let round = solve(plain, ROUND_AFTER, Some((&flat, Standing::CLOTH)), options, cancel)?;
        let rods = [flat, round];
        Ok(Self { flat: rows.doses(plain, &rods[0]), round: rows.doses(plain, &rods[1]), rods })
    }

    /// The same where dye goes on otherwise, the bath as it was.
    ///
    /// # Errors
    /// [`RevealError`].
    pub(super) fn dyed_otherwise(
        &self,
        plain: &Layout,
        rows: &Rows,
        options: &RevealOptions,
        cancel: &Cancel,
    ) -> Result<Self, RevealError> {
        let [flat, round] = self.rods.each_ref().map(|rod| Some((rod, Standing { bath: true, ..Standing::CLOTH })));
        let (flat, round) =
            rayon::join(|| solve(plain, FLAT_AFTER, flat, options, cancel), || solve(plain, ROUND_AFTER, round, options, cancel));
        let rods = [flat?, round?];
        Ok(Self { flat: rows.doses(plain, &rods[0]), round: rows.doses(plain, &rods[1]), rods })
    }

    /// What lies between the two, from 0, flat, to 1, round.
    fn between(&self, roundness: f64) -> Doses {
        #[expect(clippy::cast_possible_truncation, reason = "a share")]
        let share = roundness as f32;
        let mix = |flat: &[f32], round: &[f32]| -> Vec<f32> {
            flat.iter().zip(round).map(|(flat, round)| flat + share * (round - flat)).collect()
        };
        let mut mixed = self.flat.clone();
        mixed.read.dyes = mix(&self.flat.read.dyes, &self.round.read.dyes);
        mixed.gone = mix(&self.flat.gone, &self.round.gone);
        mixed
    }
}

/// One rod without binds but at its very end, as round as this, from an earlier one.
fn solve(
    plain: &Layout,
    flat_after_diameters: f64,
    earlier: Option<(&RodDoses, Standing)>,
    options: &RevealOptions,
    cancel: &Cancel,
) -> Result<RodDoses, RevealError> {
    let Process { calibration, .. } = *plain.process();
    let layout = plain.with_calibration(Calibration { flat_after_diameters, ..calibration });
    let (guide_mm, length_mm) = (layout.guide_mm(), layout.fold().length_mm());
    let diameter_mm = rod_size(layout.fold(), layout.cloth(), guide_mm).bound_diameter_mm;
    let bind = RodBind {
        along_mm: length_mm,
        breadth_mm: f64::from(layout.thread().wraps) * layout.thread().diameter_mm,
        diameter_mm,
        effect: calibration.bind(layout.thread().kind),
    };
    rod_doses_bound(&layout, &[bind], options, earlier, &cancel.beneath())
}

/// The colours that the dyes of a shelf give, by level of roundness and by dye.
pub(super) fn levels(ends: &Ends, shelf: &Shelf, rows: &Rows) -> Vec<Vec<RowColours>> {
    let dyes: Vec<DyeSet> = (0..shelf.swatches.len()).map(|dye| shelf.alone(dye)).collect();
    let level = |level: usize| {
        let doses = ends.between(level as f64 / (LEVELS - 1) as f64);
        dyes.par_iter().map(|dye| rows.colours(dye, &doses.read.dyes, &doses.gone)).collect()
    };
    (0..LEVELS).map(level).collect()
}

impl Surrogate {
    /// The colours that the dyes of a shelf give.
    pub(super) fn of(ends: &Ends, comb: &Comb, shelf: &Shelf, rows: &Rows) -> Self {
        let dyes: Vec<_> = (0..shelf.swatches.len()).map(|dye| shelf.alone(dye)).collect();
        let levels = levels(ends, shelf, rows);
        // Under a bind the rod is round.
        let round = ends.between(1.0);
        let beside = |dye: &DyeSet| {
            let (line, own) = (comb.beside(dye), rows.lights(dye, &round.read.dyes, &round.gone));
            let shown: Vec<_> = (0..rows.len()).map(|row| line.at(row as f64 + 0.5)).collect();
            let lab = |light: [f64; 3]| LinearRgb(light).to_xyz().to_lab();
            let colour = |row: usize, away: usize| {
                let own = own[row]?;
                Some(lab(shown[row].map_or(own, |shown| shown.beside(own, away))))
            };
            let colours: Vec<RowColours> =
                (0..LINE_ROWS).map(|away| (0..rows.len()).map(|row| colour(row, away)).collect()).collect();
            let come = |away: usize| shown.iter().map(|shown| shown.map_or(1.0, |shown| shown.share(away).min(1.0))).collect();
            let come: Vec<Vec<f64>> = (0..LINE_ROWS).map(come).collect();
            (colours, come)
        };
        let (line, come) = dyes.par_iter().map(beside).unzip();
        Self { levels, line, come }
    }

    /// The colour of a dye in a row at some roundness.
    pub(super) fn at(&self, dye: usize, row: usize, roundness: f64) -> Option<Lab> {
        let (level, share) = between_levels(roundness);
        let [low, high] = [level, level + 1].map(|level| self.levels[level][dye][row]);
        let (low, high) = (low?, high?);
        Some(mixed(low, high, share))
    }
}

impl Surrogate {
    /// How far from the middle of a bind a dye's colour has come half-way from the line's to its own, mm, about this row; none where it does
    /// not show a line.
    pub(super) fn half_line_mm(&self, dye: usize, row: usize) -> Option<f64> {
        let colours: Vec<Lab> = self.line[dye].iter().map(|rows| rows.get(row).copied().flatten()).collect::<Option<_>>()?;
        let (line, own) = (*colours.first()?, *colours.last()?);
        if ciede2000(line, own) < LEAST_LINE {
            return None;
        }
        let axis = [own.l - line.l, own.a - line.a, own.b - line.b];
        let length2: f64 = axis.iter().map(|part| part * part).sum();
        let share =
            |at: &Lab| (axis[0] * (at.l - line.l) + axis[1] * (at.a - line.a) + axis[2] * (at.b - line.b)) / length2 - 0.5;
        let pair = colours.windows(2).position(|pair| share(&pair[0]) < 0.0 && share(&pair[1]) >= 0.0)?;
        let (before, after) = (share(&colours[pair]), share(&colours[pair + 1]));
        Some(pair as f64 + 0.5 + before / (before - after))
    }
}

/// The CIEDE2000 under which a line does not show beside a colour: half of what sections are told apart by (own judgement).
const LEAST_LINE: f64 = 5.0;

/// The level below a roundness, and how far it lies toward the next.
pub(super) fn between_levels(roundness: f64) -> (usize, f64) {
    let at = roundness.clamp(0.0, 1.0) * (LEVELS - 1) as f64;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the levels")]
    let level = (at as usize).min(LEVELS - 2);
    (level, at - level as f64)
}

/// What lies between two colours, evenly in L\*a\*b\*.
pub(super) fn mixed(first: Lab, second: Lab, share: f64) -> Lab {
    let mix = |first: f64, second: f64| first + share * (second - first);
    Lab { l: mix(first.l, second.l), a: mix(first.a, second.a), b: mix(first.b, second.b) }
}
