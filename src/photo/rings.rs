//! The rings of a photograph: how far each bind's line lies from where the plan has it, sector by sector, then all of them together.
//!
//! In every sector the shift is sought at which the photograph's profile across the line correlates best with the plan's own; then, robustly
//! over all sectors of all rings, `shift = s_i + d . n`, with a shift `s_i` for each ring, one displacement `d` of the whole pattern, and `n`
//! the direction outward.

use super::photograph::root;
use super::track::{Sector, Track, tracks};
use super::{Photograph, Plan, Registration};
use crate::telling::listed;
use kurbo::{Point, Vec2};
use nalgebra::{DMatrix, DVector};
use rayon::prelude::*;

/// From sample to sample across a line, mm.
const STEP_MM: f64 = 0.5;
/// How far on both sides of a line its profile is compared, mm: at most 0.45 of the gap.
const HALF_MM: f64 = 7.0;
/// How far a line is looked for, mm, at most 0.42 of the gap; in later rounds.
const SEARCH_MM: [f64; 3] = [8.0, 6.0, 6.0];
/// Least correlation that counts as found.
const LEAST_MATCH: f64 = 0.6;
/// How much of a place has to be cloth on the plan.
const CLOTH: f32 = 0.97;
/// A ring needs as many sectors.
const FEWEST_SECTORS: usize = 3;
/// A ring needs as large a share of its sectors: where it lies farther off than it is looked for, a few resemble something else (of a ring
/// that lies 8 to 12 mm off, up to 0.3 were found on drawn photographs, and of one within its reach nearly all).
const LEAST_SHARE: f64 = 0.35;
/// A shift that lies this far off the fit counts half, mm.
const ROBUST_MM: f64 = 1.5;
const ROBUST_ROUNDS: usize = 12;
/// Keeps what no sector says anything of at 0.
const RIDGE: f64 = 1e-6;

/// What was found in a sector.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Found {
    ring: usize,
    at: Point,
    outward: Vec2,
    shift_mm: f64,
}

/// A bind's ring as it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// The bind, counted from the tip, from 1.
    pub bind: usize,
    /// Where the plan has it along the bundle, mm: of a burst, its distance from the centre.
    pub planned_mm: f64,
    /// How much farther it lies, mm, on average along it.
    pub shift_mm: f64,
    /// How far off that may be, mm: scatter along the ring and what is not known of the lay.
    pub sd_mm: f64,
    /// How wide the line is at half of its depth, mm; none where it has no clear depth.
    pub width_mm: Option<f64>,
    /// Share of its sectors on the cloth that were found.
    pub found: f64,
}

impl Rings {
    /// How much of the rings was found: `, 98 % of the rings`; nothing where there are none.
    #[must_use]
    pub fn found_words(&self) -> String {
        if self.rings.is_empty() { String::new() } else { format!(", {:.0} % of the rings", 100.0 * self.found) }
    }

    /// Which rings were not found, and why that may be; none where all were.
    #[must_use]
    pub fn unfound_words(&self) -> Option<String> {
        let binds = listed(self.unfound.iter().map(usize::to_string), "and");
        match self.unfound.len() {
            0 => None,
            1 => {
                Some(format!("Bind {binds} was not found: it may lie far from its place, or between colours that are too alike."))
            }
            _ => Some(format!(
                "Binds {binds} were not found: they may lie far from their places, or between colours that are too alike."
            )),
        }
    }
}

impl Ring {
    /// Where it lies along the bundle, mm.
    #[must_use]
    pub fn radius_mm(&self) -> f64 {
        self.planned_mm + self.shift_mm
    }
}

/// The rings of a photograph.
#[derive(Debug, Clone, PartialEq)]
pub struct Rings {
    /// Those that were found, from the tip outward.
    pub rings: Vec<Ring>,
    /// Binds whose rings run over the cloth and were not found, from the tip outward.
    pub unfound: Vec<usize>,
    /// By how much the whole pattern lies off, mm: to the right as it is seen, and down.
    pub displacement: Vec2,
    /// How far off that may be along each, mm.
    pub displacement_sd_mm: f64,
    /// Share of all sectors on the cloth that were found.
    pub found: f64,
    /// How many sectors there are on the cloth.
    pub(super) looked: usize,
    /// Of each bind its sectors that were found: where, and how much farther out than planned, mm, beyond the displacement of the whole.
    pub(super) sectors: Vec<Vec<(Point, f64)>>,
}

/// Finds them.
pub(super) fn rings(photograph: &Photograph, plan: &Plan, map: &Registration) -> Rings {
    let tracks = tracks(plan);
    let has_centre = plan.centre().is_some();
    let mut displacement = Vec2::ZERO;
    let (mut fitted, mut found, mut looked) = (Fit::default(), Vec::new(), vec![0; tracks.len()]);
    for search_mm in SEARCH_MM {
        let matched: Vec<Vec<Option<Option<Found>>>> = tracks
            .par_iter()
            .enumerate()
            .map(|(ring, track)| {
                track
                    .sectors
                    .iter()
                    .map(|sector| matched(photograph, plan, map, (ring, track, sector), displacement, search_mm))
                    .collect()
            })
            .collect();
        looked = matched.iter().map(|sectors| sectors.iter().flatten().count()).collect();
        found = matched.into_iter().flatten().flatten().flatten().collect::<Vec<Found>>();
        fitted = Fit::of(tracks.len(), &found, has_centre);
        displacement += fitted.displacement;
    }
    let sectors = |ring: usize| found.iter().filter(move |found| found.ring == ring);
    let one = |(ring, track): (usize, &Track)| {
        let places: Vec<(Point, Vec2)> = sectors(ring).map(|found| (found.at, found.outward)).collect();
        let share = places.len() as f64 / looked[ring].max(1) as f64;
        if places.len() < FEWEST_SECTORS || share < LEAST_SHARE {
            return None;
        }
        let scatter_mm = fitted.scatter_mm(ring, &found) / (places.len() as f64).sqrt();
        Some(Ring {
            bind: ring + 1,
            planned_mm: track.along_mm,
            shift_mm: fitted.shifts_mm[ring],
            sd_mm: map.lay().sd_mm(&places).hypot(scatter_mm),
            width_mm: super::width::width_mm(photograph, plan, map, track, &places_with_shift(sectors(ring)), displacement),
            found: share,
        })
    };
    let rings: Vec<Ring> = tracks.iter().enumerate().filter_map(one).collect();
    let is_unfound = |bind: &usize| looked[*bind - 1] >= FEWEST_SECTORS && rings.iter().all(|ring| ring.bind != *bind);
    let unfound = (1..=tracks.len()).filter(is_unfound).collect();
    let all: Vec<(Point, Vec2)> = found.iter().map(|found| (found.at, Vec2::new(1.0, 0.0))).collect();
    let displacement_sd_mm = if has_centre && !all.is_empty() { map.lay().sd_mm(&thinned(&all)) } else { 0.0 };
    let beyond_whole = |found: &Found| (found.at, found.shift_mm - fitted.displacement.dot(found.outward));
    let by_bind = (0..tracks.len()).map(|ring| sectors(ring).map(beyond_whole).collect()).collect();
    let looked = looked.iter().sum::<usize>();
    let found = found.len() as f64 / looked.max(1) as f64;
    Rings { sectors: by_bind, rings, unfound, displacement, displacement_sd_mm, found, looked }
}

/// The share of the sectors of several ties that were found.
pub(super) fn found_of_all<'a>(ties: impl Iterator<Item = &'a Rings>) -> f64 {
    let (found, looked) =
        ties.fold((0.0, 0), |(found, looked), tie| (found + tie.found * tie.looked as f64, looked + tie.looked));
    found / looked.max(1) as f64
}

/// Where sectors of lines were found, the direction outward there, and how much farther out than on the plan each lies, mm, beyond the
/// displacement of the whole.
pub(super) fn line_shifts(
    photograph: &Photograph,
    plan: &Plan,
    map: &Registration,
    displacement: Vec2,
    search_mm: f64,
) -> Vec<(Point, Vec2, f64)> {
    let tracks = tracks(plan);
    let of_track = |(ring, track): (usize, &Track)| {
        let sectors = track.sectors.iter().map(|sector| (ring, track, sector));
        let found = sectors.filter_map(|looked| matched(photograph, plan, map, looked, displacement, search_mm).flatten());
        found.map(|found| (found.at, found.outward, found.shift_mm)).collect::<Vec<_>>()
    };
    tracks.par_iter().enumerate().flat_map_iter(of_track).collect()
}

fn places_with_shift<'a>(found: impl Iterator<Item = &'a Found>) -> Vec<(Point, Vec2, f64)> {
    found.map(|found| (found.at, found.outward, found.shift_mm)).collect()
}

/// At most some hundred of many places.
fn thinned(places: &[(Point, Vec2)]) -> Vec<(Point, Vec2)> {
    places.iter().step_by(places.len() / 100 + 1).copied().collect()
}

/// The profile of a sector across its line, from `from_mm` on, as many samples; none where some of it is not cloth or not in the picture.
pub(super) fn profile(
    points: &[(Point, Vec2)],
    from_mm: f64,
    samples: usize,
    colour: impl Fn(Point) -> Option<[f32; 3]>,
) -> Option<Vec<[f32; 3]>> {
    let mut sums = vec![[0.0_f32; 3]; samples];
    for (at, outward) in points {
        for (index, sum) in sums.iter_mut().enumerate() {
            let colour = root(colour(*at + (from_mm + STEP_MM * index as f64) * *outward)?);
            sum.iter_mut().zip(colour).for_each(|(sum, channel)| *sum += channel);
        }
    }
    let share = 1.0 / points.len() as f32;
    Some(sums.into_iter().map(|sum| sum.map(|channel| channel * share)).collect())
}

/// The shift of a sector's line: none where it is not looked for, as it does not lie wholly on cloth; `Some(None)` where it was not found.
fn matched(
    photograph: &Photograph,
    plan: &Plan,
    map: &Registration,
    (ring, track, sector): (usize, &Track, &Sector),
    displacement: Vec2,
    search_mm: f64,
) -> Option<Option<Found>> {
    let [half, search] = [HALF_MM.min(0.45 * track.gap_mm), search_mm.min(0.42 * track.gap_mm)].map(in_steps);
    // Near the tip there is nothing within.
    let inner = half.min(in_steps(track.along_mm));
    let planned = |at: Point| {
        let (colour, cloth) = plan.at(at);
        (cloth > CLOTH).then_some(colour)
    };
    let first = inner.min(half) as f64;
    let template = profile(&sector.points, -first * STEP_MM, inner + half + 1, planned)?;
    let moved: Vec<(Point, Vec2)> = sector.points.iter().map(|(at, outward)| (*at + displacement, *outward)).collect();
    let seen = |at: Point| {
        let (_, cloth) = plan.at(at);
        if cloth > CLOTH { photograph.at(map.apply(at)?) } else { None }
    };
    let inward = search.min(in_steps(track.along_mm).saturating_sub(inner));
    let from_mm = -((inner + inward) as f64) * STEP_MM;
    let observed = profile(&moved, from_mm, template.len() + inward + search, seen)?;
    let scores: Vec<f64> = observed.windows(template.len()).map(|window| correlation(window, &template)).collect();
    let (at, outward) = sector.middle();
    Some(peak(&scores).map(|place| Found { ring, at, outward, shift_mm: (place - inward as f64) * STEP_MM }))
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some mm in steps")]
fn in_steps(length_mm: f64) -> usize {
    (length_mm.max(0.0) / STEP_MM).round() as usize
}

/// The normalised correlation of two profiles, their three channels together; 0 of one without any contrast.
fn correlation(seen: &[[f32; 3]], planned: &[[f32; 3]]) -> f64 {
    let mean = |profile: &[[f32; 3]]| {
        let sum = profile.iter().fold([0.0_f32; 3], |sum, colour| [0, 1, 2].map(|channel| sum[channel] + colour[channel]));
        sum.map(|channel| channel / profile.len() as f32)
    };
    let (seen_mean, planned_mean) = (mean(seen), mean(planned));
    let (mut both, mut own, mut other) = (0.0_f32, 0.0_f32, 0.0_f32);
    for (seen, planned) in seen.iter().zip(planned) {
        for channel in 0..3 {
            let (a, b) = (seen[channel] - seen_mean[channel], planned[channel] - planned_mean[channel]);
            both += a * b;
            own += a * a;
            other += b * b;
        }
    }
    f64::from(both) / (f64::from(own) * f64::from(other) + 1e-12).sqrt()
}

/// Where scores are greatest, by a parabola through the three greatest; none where that is too low or at an end.
fn peak(scores: &[f64]) -> Option<f64> {
    let best = (0..scores.len()).max_by(|a, b| scores[*a].total_cmp(&scores[*b]))?;
    if scores[best] < LEAST_MATCH || best == 0 || best + 1 == scores.len() {
        return None;
    }
    let [before, here, after] = [scores[best - 1], scores[best], scores[best + 1]];
    let bend = before - 2.0 * here + after;
    Some(best as f64 + if bend < 0.0 { 0.5 * (before - after) / bend } else { 0.0 })
}

/// Shifts of all rings, and the displacement of the whole.
#[derive(Debug, Default)]
struct Fit {
    shifts_mm: Vec<f64>,
    displacement: Vec2,
}

impl Fit {
    /// By least squares, reweighted so that what lies far off counts little.
    fn of(rings: usize, found: &[Found], has_centre: bool) -> Self {
        let unknowns = rings + if has_centre { 2 } else { 0 };
        let mut fit = Self { shifts_mm: vec![0.0; rings], displacement: Vec2::ZERO };
        if unknowns == 0 {
            return fit;
        }
        for round in 0..ROBUST_ROUNDS {
            let mut matrix = DMatrix::<f64>::identity(unknowns, unknowns) * RIDGE;
            let mut right = DVector::<f64>::zeros(unknowns);
            for found in found {
                let weight = if round == 0 { 1.0 } else { 1.0 / (1.0 + (fit.off_mm(found) / ROBUST_MM).powi(2)) };
                let slopes = [(found.ring, 1.0), (rings, found.outward.x), (rings + 1, found.outward.y)];
                let slopes = slopes.iter().filter(|(unknown, _)| *unknown < unknowns);
                for (row, a) in slopes.clone() {
                    right[*row] += weight * a * found.shift_mm;
                    for (column, b) in slopes.clone() {
                        matrix[(*row, *column)] += weight * a * b;
                    }
                }
            }
            let Some(factor) = matrix.cholesky() else { break };
            let solved = factor.solve(&right);
            fit.shifts_mm = solved.iter().take(rings).copied().collect();
            if has_centre {
                fit.displacement = Vec2::new(solved[rings], solved[rings + 1]);
            }
        }
        fit
    }

    fn off_mm(&self, found: &Found) -> f64 {
        found.shift_mm - self.shifts_mm[found.ring] - self.displacement.dot(found.outward)
    }

    /// How far a ring's sectors scatter about the fit, mm.
    fn scatter_mm(&self, ring: usize, found: &[Found]) -> f64 {
        let off: Vec<f64> = found.iter().filter(|found| found.ring == ring).map(|found| self.off_mm(found)).collect();
        (off.iter().map(|off| off * off).sum::<f64>() / off.len().max(1) as f64).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Planted shifts and displacement come back, wild sectors among them.
    #[test]
    fn planted_shifts_and_displacement_come_back() {
        let planted = ([2.5, -1.0, 0.5], Vec2::new(1.5, -0.75));
        let mut found = Vec::new();
        for (ring, shift_mm) in planted.0.into_iter().enumerate() {
            for step in 0..40 {
                let outward = Vec2::from_angle(f64::from(step) * 0.157);
                let wild = if step % 13 == 0 { 6.0 } else { 0.0 };
                found.push(Found { ring, at: Point::ORIGIN, outward, shift_mm: shift_mm + planted.1.dot(outward) + wild });
            }
        }
        let fit = Fit::of(3, &found, true);
        for (found, planted) in fit.shifts_mm.iter().zip(planted.0) {
            assert!((found - planted).abs() < 0.05, "{found} is not {planted}");
        }
        assert!((fit.displacement - planted.1).hypot() < 0.05, "{:?}", fit.displacement);
    }

    #[test]
    fn a_parabola_is_found_between_samples() {
        let scores: Vec<f64> = (0..9).map(|at| 1.0 - 0.01 * (f64::from(at) - 4.3).powi(2)).collect();
        assert!((peak(&scores).unwrap() - 4.3).abs() < 1e-9);
        assert_eq!((peak(&scores[5..]), peak(&[0.1, 0.2, 0.1])), (None, None));
    }
}
