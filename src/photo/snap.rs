//! The edge of the cloth, found beside where it is thought to be.
//!
//! On the normal of each place of the outline, from outside inward, the edge lies where the distance from the table's colour passes half of
//! what it is on the cloth, and stays so. A white sheet beside the garment is masked: a side would be drawn to it.

use super::outline::EdgePlace;
use super::photograph::root;
use super::{Photograph, Sheet};
use kurbo::Point;
use rayon::prelude::*;

/// From sample to sample along a normal, mm.
const STEP_MM: f64 = 0.5;
/// How far beyond the window the colours of table and cloth are taken, mm.
const BEYOND_MM: f64 = 10.0;
/// Over what distance the cloth's colour has to stay, mm.
const STAYS_MM: f64 = 6.0;
/// How far the sheet's own edge reaches beyond its corners as they were marked, mm.
const SHEET_EDGE_MM: f64 = 6.0;
/// Least distance of cloth from table, in square roots of light. Own choice: beige on a light wooden table has about 0.1.
const LEAST_CONTRAST: f64 = 0.06;

/// Samples along one normal: their colours, none on the sheet.
type Line = Vec<Option<[f32; 3]>>;

/// How far outward of each place the edge lies, mm; none where it was not found within `half_mm`. `map` takes the plan to the picture.
pub(super) fn snap(
    photograph: &Photograph,
    places: &[EdgePlace],
    map: impl Fn(Point) -> Option<Point> + Sync,
    sheet: Option<&Sheet>,
    half_mm: f64,
) -> Vec<Option<f64>> {
    let lines: Vec<Option<Line>> = places.par_iter().map(|place| line(photograph, place, &map, sheet, half_mm)).collect();
    let outer: Vec<Option<[f64; 3]>> = lines.iter().map(|line| line.as_ref().and_then(table)).collect();
    let outer = filled(&outer);
    let Some(outer) = outer else { return vec![None; places.len()] };
    lines.iter().zip(outer).map(|(line, outer)| edge_mm(line.as_ref()?, outer, half_mm)).collect()
}

/// Samples from within to without; none where one lies outside the picture.
fn line(
    photograph: &Photograph,
    place: &EdgePlace,
    map: &impl Fn(Point) -> Option<Point>,
    sheet: Option<&Sheet>,
    half_mm: f64,
) -> Option<Line> {
    let reach = steps(half_mm + BEYOND_MM);
    let [from, to] = [-reach, reach].map(|steps| map(place.at + f64::from(steps) * STEP_MM * place.outward));
    let mask_px = SHEET_EDGE_MM * (to? - from?).hypot() / (2.0 * f64::from(reach) * STEP_MM);
    let sample = |step: i32| {
        let at = map(place.at + f64::from(step) * STEP_MM * place.outward)?;
        let colour = photograph.at(at)?;
        let is_on_sheet = sheet.is_some_and(|sheet| sheet.outside_px(at) < mask_px);
        Some((!is_on_sheet).then(|| root(colour)))
    };
    (-reach..=reach).map(sample).collect()
}

/// The table's colour, from beyond the window; where a sheet lies there, from what is left of its outer part.
fn table(line: &Line) -> Option<[f64; 3]> {
    let far = &line[line.len() - whole(BEYOND_MM)..];
    let far = if 2 * far.iter().flatten().count() > far.len() { far } else { &line[line.len() - whole(BEYOND_MM + 12.0)..] };
    median(far)
}

/// Those that are missing between their neighbours, round the outline.
fn filled(found: &[Option<[f64; 3]>]) -> Option<Vec<[f64; 3]>> {
    let known: Vec<usize> = (0..found.len()).filter(|at| found[*at].is_some()).collect();
    let last = *known.last()?;
    let mut before = found[last]?;
    let mut filled = Vec::with_capacity(found.len());
    for (at, colour) in found.iter().enumerate() {
        let after = known[known.partition_point(|known| *known < at) % known.len()];
        before = colour.unwrap_or(before);
        let after = found[after]?;
        filled.push([0, 1, 2].map(|channel| 0.5 * (before[channel] + after[channel])));
    }
    Some(filled)
}

/// How far outward of the middle of the line the edge lies.
fn edge_mm(line: &Line, table: [f64; 3], half_mm: f64) -> Option<f64> {
    let away = |colour: &[f32; 3]| {
        let square = |channel: usize| (f64::from(colour[channel]) - table[channel]).powi(2);
        (square(0) + square(1) + square(2)).sqrt()
    };
    let d: Vec<f64> = line.iter().map(|colour| colour.as_ref().map_or(0.0, away)).collect();
    let inner = median(&line[..whole(BEYOND_MM + 4.0)])?;
    let cloth = [0, 1, 2].map(|channel| (inner[channel] - table[channel]).powi(2)).iter().sum::<f64>().sqrt();
    let noise = middle_of(d[d.len() - whole(BEYOND_MM)..].to_vec());
    let limit = (0.5 * cloth).max(4.0 * noise);
    let stays = whole(STAYS_MM);
    let begins = (stays + 1..d.len()).rev().find(|&at| d[at - stays..at].iter().all(|d| *d > 0.8 * limit))?;
    let plateau = middle_of(d[begins.saturating_sub(14)..begins.saturating_sub(4).max(1)].to_vec());
    if plateau < LEAST_CONTRAST.max(5.0 * noise) {
        return None;
    }
    let half = 0.5 * plateau;
    let near = begins.saturating_sub(8).max(1)..(begins + 8).min(d.len());
    let at = near.rev().find(|&at| d[at - 1] >= half && d[at] < half)?;
    let steps_in = (at - 1) as f64 + (d[at - 1] - half) / (d[at - 1] - d[at]);
    let off_mm = steps_in * STEP_MM - (half_mm + BEYOND_MM);
    (off_mm.abs() < half_mm).then_some(off_mm)
}

/// The middle of each channel; none of nothing.
fn median(colours: &[Option<[f32; 3]>]) -> Option<[f64; 3]> {
    let known: Vec<[f32; 3]> = colours.iter().flatten().copied().collect();
    (!known.is_empty())
        .then(|| [0, 1, 2].map(|channel| middle_of(known.iter().map(|colour| f64::from(colour[channel])).collect())))
}

/// The median; 0 of nothing.
pub(super) fn middle_of(mut values: Vec<f64>) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    let middle = values.len() / 2;
    let (_, value, _) = values.select_nth_unstable_by(middle, f64::total_cmp);
    *value
}

#[expect(clippy::cast_possible_truncation, reason = "a length along a line of samples")]
fn steps(length_mm: f64) -> i32 {
    (length_mm / STEP_MM).round() as i32
}

fn whole(length_mm: f64) -> usize {
    usize::try_from(steps(length_mm)).unwrap_or_default()
}
