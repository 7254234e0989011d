//! The colours of the sections, and of the loose cloth about several ties, held against the plan's.

use super::{Light, Photograph, Plan, Registration, Rings};
use crate::layout::Srgb;
use crate::reveal::PixelFrame;
use crate::reveal::colour::{Lab, LinearRgb, ciede2000};
use kurbo::{Point, Vec2};
use rayon::prelude::*;

/// From place to place on the cloth, mm.
const STEP_MM: f64 = 2.0;
/// How far from a bind a section's colour counts, mm.
const FROM_BIND_MM: f64 = 4.0;
/// Over what distance sectors of a line tell where that runs, mm, about one from the next; how much they have to count for together; and by how
/// much they may stray from the line's mean place, mm: the hand's own wander, three times (our own judgement).
const NEAR_SECTOR_MM: f64 = 12.0;
const LEAST_WEIGHT: f64 = 0.1;
const MOST_STRAY_MM: f64 = 4.5;
/// How far from the outline a section's colour counts, mm.
const FROM_EDGE_MM: f64 = 8.0;
/// Fewest places of a section or a part of one: 250 mm2.
const FEWEST_PLACES: f64 = 62.0;
/// Parts round the middle by which evenness is told.
const PARTS: usize = 8;
/// How far off a section's colour is, CIEDE2000 (measured on drawn photographs: 1.0 on average, 90 % within 1.4).
pub(super) const COLOUR_SD: f64 = 1.0;

/// Breadth of what counts of a section, mm, below which blur and the binds' own places tell more and more of its colour: a section of which a strip
/// of 2 mm was left came out 6.6 off on a drawn photograph of a shirt exactly as planned (own judgement from that).
const BROAD_MM: f64 = 7.0;

/// How far off the colour of a section may be of which so much lies clear of its binds, CIEDE2000.
fn colour_sd(clear_mm: f64) -> f64 {
    COLOUR_SD * (BROAD_MM / clear_mm).hypot(1.0)
}

/// How far off evenness is.
const EVENNESS_SD: f64 = 1.5;

/// A section's colour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionColour {
    /// The section, counted from the tip, from 1.
    pub section: usize,
    /// Its mean, as under the plan's light.
    pub lab: Lab,
    /// The plan's mean.
    pub planned: Lab,
    /// The same as a screen shows it.
    pub srgb: Srgb,
    /// CIEDE2000 between both.
    pub delta_e: f64,
    /// How far off that may be.
    pub delta_e_sd: f64,
}

/// The colour of cloth that is no section: what lies loose about several ties.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LooseColour {
    /// Its mean, as under the plan's light.
    pub lab: Lab,
    /// The plan's mean.
    pub planned: Lab,
    /// The same as a screen shows it.
    pub srgb: Srgb,
    /// CIEDE2000 between both.
    pub delta_e: f64,
    /// How far off that may be.
    pub delta_e_sd: f64,
}

/// Colours of all sections that show enough of themselves.
#[derive(Debug, Clone, PartialEq)]
pub struct Colours {
    /// From the tip outward.
    pub sections: Vec<SectionColour>,
    /// How far parts of sections round the middle stray from their section, beyond what the plan's do: root mean square, CIEDE2000; none where no
    /// section has two parts.
    pub evenness: Option<f64>,
}

impl Colours {
    /// How far off the evenness may be, CIEDE2000: below twice this nothing is told (our own judgement).
    #[must_use]
    pub fn evenness_sd(&self) -> f64 {
        EVENNESS_SD
    }
}

/// The mean of how far the sections of all ties are off the plan, CIEDE2000; none without sections.
pub(super) fn mean_delta_e(ties: &[&Colours]) -> Option<f64> {
    let all: Vec<f64> = ties.iter().flat_map(|tie| &tie.sections).map(|section| section.delta_e).collect();
    (!all.is_empty()).then(|| all.iter().sum::<f64>() / all.len() as f64)
}

/// Light summed over places, in parts round the middle.
#[derive(Debug, Clone, Copy, Default)]
struct Sum {
    parts: [(f64, [f64; 3]); PARTS],
}

impl Sum {
    fn add(&mut self, part: usize, light: [f64; 3]) {
        let (count, sum) = &mut self.parts[part];
        *count += 1.0;
        sum.iter_mut().zip(light).for_each(|(sum, channel)| *sum += channel);
    }

    fn and(mut self, other: &Self) -> Self {
        for ((count, sum), (other_count, other)) in self.parts.iter_mut().zip(&other.parts) {
            *count += other_count;
            sum.iter_mut().zip(other).for_each(|(sum, channel)| *sum += channel);
        }
        self
    }

    /// The mean of some parts; none of too few places.
    fn mean(&self, parts: std::ops::Range<usize>) -> Option<LinearRgb> {
        let parts = self.parts[parts].iter();
        let count: f64 = parts.clone().map(|(count, _)| count).sum();
        let sum = parts.fold([0.0; 3], |sum, (_, part)| [0, 1, 2].map(|channel| sum[channel] + part[channel]));
        (count >= FEWEST_PLACES).then(|| LinearRgb(sum.map(|channel| channel / count)))
    }
}

/// Measures them.
pub(super) fn colours(photograph: &Photograph, plan: &Plan, map: &Registration, light: &Light, rings: &Rings) -> Colours {
    let planned: Vec<f64> = plan.layout().binds().binds.iter().map(|bind| bind.radius_mm).collect();
    let mut found = planned.clone();
    for ring in &rings.rings {
        found[ring.bind - 1] = ring.radius_mm();
    }
    let frame = plan.frame();
    // One of several ties ends at its last bind, and where an earlier one took cloth.
    let sections = plan.layout().sections();
    let is_own = |section: usize, at: Point| section < sections && plan.is_own(at) && plan.from_earlier_mm(at) >= FROM_BIND_MM;
    let middle = plan.centre().or_else(|| Some(plan.turned(plan.layout().middle()?)));
    let middle = middle.unwrap_or_else(|| frame.middle(frame.width / 2, frame.height / 2));
    let (across, down) = places(&frame);
    let row = |row: usize| {
        let mut sums = vec![[Sum::default(); 2]; planned.len() + 1];
        for column in 0..across {
            let at = place(&frame, column, row);
            if !is_well_inside(plan, at) {
                continue;
            }
            let part = part(at - middle);
            if let Some(section) = section(&planned, plan.along_mm(at)).filter(|section| is_own(*section, at)) {
                sums[section][0].add(part, plan.at(at).0.map(f64::from));
            }
            let seen = || photograph.at(map.apply(at)?);
            let place_as_tied = at - rings.displacement;
            let along_mm = plan.along_mm(place_as_tied);
            let local = |bind: usize| local_mm(found[bind], planned[bind], &rings.sectors[bind], place_as_tied);
            let section = section(&found, along_mm)
                .filter(|section| is_clear(*section, found.len(), local, along_mm) && is_own(*section, place_as_tied));
            if let Some((section, seen)) = section.zip(seen()) {
                sums[section][1].add(part, light.reflected(at, seen));
            }
        }
        sums
    };
    let rows: Vec<Vec<[Sum; 2]>> = (0..down).into_par_iter().map(row).collect();
    let none = vec![[Sum::default(); 2]; planned.len() + 1];
    let mut sums: Vec<[Sum; 2]> =
        rows.iter().fold(none, |sums, row| sums.into_iter().zip(row).map(|([a, b], [c, d])| [a.and(c), b.and(d)]).collect());
    sums.truncate(sections);
    let sections = (1..).zip(&sums).filter_map(|(section, sums)| colour(section, sums, clear_mm(&planned, section))).collect();
    Colours { sections, evenness: evenness(&sums) }
}

/// The colour of the loose cloth of a plan of several ties, well away from where the hand may have tied any of them; none where too little of it
/// shows.
pub(super) fn loose(photograph: &Photograph, plan: &Plan, map: &Registration, light: &Light) -> Option<LooseColour> {
    let frame = plan.frame();
    let (across, down) = places(&frame);
    let row = |row: usize| {
        let mut sums = [Sum::default(); 2];
        for column in 0..across {
            let at = place(&frame, column, row);
            let is_loose = is_well_inside(plan, at) && plan.from_earlier_mm(at) >= FROM_BIND_MM + MOST_STRAY_MM;
            let seen = is_loose.then(|| photograph.at(map.apply(at)?)).flatten();
            if let Some(seen) = seen {
                sums[0].add(0, plan.at(at).0.map(f64::from));
                sums[1].add(0, light.reflected(at, seen));
            }
        }
        sums
    };
    let rows: Vec<[Sum; 2]> = (0..down).into_par_iter().map(row).collect();
    let none = [Sum::default(); 2];
    let sums = rows.iter().fold(none, |[planned, seen], row| [planned.and(&row[0]), seen.and(&row[1])]);
    let SectionColour { section: _, lab, planned, srgb, delta_e, delta_e_sd } = colour(0, &sums, f64::INFINITY)?;
    Some(LooseColour { lab, planned, srgb, delta_e, delta_e_sd })
}

/// How many places there are across a frame, and down.
fn places(frame: &PixelFrame) -> (usize, usize) {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a garment's size in steps")]
    let count = |pixels: usize| (pixels as f64 * frame.pixel_mm / STEP_MM) as usize;
    (count(frame.width), count(frame.height))
}

fn place(frame: &PixelFrame, column: usize, row: usize) -> Point {
    Point::new(frame.left_mm, frame.top_mm) + STEP_MM * Vec2::new(column as f64 + 0.5, row as f64 + 0.5)
}

/// Whether cloth lies all round a place.
fn is_well_inside(plan: &Plan, at: Point) -> bool {
    const DIAGONAL: f64 = std::f64::consts::FRAC_1_SQRT_2;
    let ways = [(0.0, 0.0), (1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)];
    let diagonals = [(DIAGONAL, DIAGONAL), (-DIAGONAL, DIAGONAL), (DIAGONAL, -DIAGONAL), (-DIAGONAL, -DIAGONAL)];
    ways.into_iter().chain(diagonals).all(|(x, y)| plan.at(at + FROM_EDGE_MM * Vec2::new(x, y)).1 > 0.99)
}

/// The section of a place; none near a bind.
fn section(along: &[f64], place_mm: f64) -> Option<usize> {
    let section = along.partition_point(|bind| *bind <= place_mm);
    let neighbours = [section.checked_sub(1), Some(section)].into_iter().flatten();
    let is_near = neighbours.filter_map(|bind| along.get(bind)).any(|bind| (bind - place_mm).abs() < FROM_BIND_MM);
    (!is_near).then_some(section)
}

/// Whether a place of a section lies clear of both its binds' lines where they run beside it: the hand strays along a line.
fn is_clear(section: usize, binds: usize, local: impl Fn(usize) -> f64, place_mm: f64) -> bool {
    let inner = section.checked_sub(1).is_none_or(|bind| place_mm - local(bind) >= FROM_BIND_MM);
    inner && (section == binds || local(section) - place_mm >= FROM_BIND_MM)
}

/// Where a bind's line runs near a place, as its sectors there have it, the nearest the most: the hand strays along a line. On average where none
/// is near or these were hardly found.
fn local_mm(mean_mm: f64, planned_mm: f64, sectors: &[(Point, f64)], place: Point) -> f64 {
    let near = sectors.iter().map(|(at, shift_mm)| (at.distance_squared(place), shift_mm));
    let near = near.filter(|(away, _)| *away < (3.0 * NEAR_SECTOR_MM).powi(2));
    let (weight, sum) = near.fold((0.0, 0.0), |(weight, sum), (away, shift_mm)| {
        let own = (-0.5 * away / NEAR_SECTOR_MM.powi(2)).exp();
        (weight + own, sum + own * shift_mm)
    });
    let local_mm = planned_mm + sum / weight;
    if weight > LEAST_WEIGHT && (local_mm - mean_mm).abs() < MOST_STRAY_MM { local_mm } else { mean_mm }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "an eighth of a turn")]
fn part(from_middle: Vec2) -> usize {
    let turn = from_middle.atan2().rem_euclid(std::f64::consts::TAU) / std::f64::consts::TAU;
    ((turn * PARTS as f64) as usize).min(PARTS - 1)
}

/// How much of a section, counted from 1, lies clear of the binds about it, mm; without end beyond the last.
fn clear_mm(along: &[f64], section: usize) -> f64 {
    let inner_mm = section.checked_sub(2).and_then(|bind| along.get(bind)).map_or(0.0, |bind| bind + FROM_BIND_MM);
    along.get(section - 1).map_or(f64::INFINITY, |bind| (bind - FROM_BIND_MM - inner_mm).max(f64::MIN_POSITIVE))
}

fn colour(section: usize, [planned, seen]: &[Sum; 2], clear_mm: f64) -> Option<SectionColour> {
    let [planned, seen] = [planned.mean(0..PARTS)?, seen.mean(0..PARTS)?];
    let (lab, planned) = (seen.to_xyz().to_lab(), planned.to_xyz().to_lab());
    let delta_e = ciede2000(lab, planned);
    Some(SectionColour { section, lab, planned, srgb: seen.to_srgb(), delta_e, delta_e_sd: colour_sd(clear_mm) })
}

fn evenness(sums: &[[Sum; 2]]) -> Option<f64> {
    let lab = |sum: &Sum, parts| sum.mean(parts).map(|light| light.to_xyz().to_lab());
    let (mut squares, mut count) = (0.0, 0.0);
    for [planned, seen] in sums {
        let Some((whole, own)) = lab(planned, 0..PARTS).zip(lab(seen, 0..PARTS)) else { continue };
        for part in 0..PARTS {
            let Some((planned, seen)) = lab(planned, part..part + 1).zip(lab(seen, part..part + 1)) else { continue };
            // Where the part would be if it strayed as on the plan.
            let expected = Lab { l: own.l + planned.l - whole.l, a: own.a + planned.a - whole.a, b: own.b + planned.b - whole.b };
            squares += ciede2000(seen, expected).powi(2);
            count += 1.0;
        }
    }
    (count > 1.0).then(|| (squares / count).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Beside a line that strays what lies near it counts for no section, nor what lies near its mean.
    #[test]
    fn places_beside_a_straying_line_are_left_out() {
        let sectors = [(Point::new(100.0, 0.0), 3.0), (Point::new(0.0, 100.0), -3.0)];
        let counted = |place: Point| {
            let along_mm = place.to_vec2().hypot();
            let local = |bind: usize| if bind == 0 { local_mm(100.0, 100.0, &sectors, place) } else { 200.0 };
            section(&[100.0, 200.0], along_mm).filter(|section| is_clear(*section, 2, local, along_mm))
        };
        // The line lies at 103 there, at 97 here, and where nothing of it was found at its mean.
        assert_eq!([95.0, 97.0, 106.0, 108.0].map(|mm| counted(Point::new(mm, 0.0))), [Some(0), None, None, Some(1)]);
        assert_eq!([92.0, 94.0, 103.0, 105.0].map(|mm| counted(Point::new(0.0, mm))), [Some(0), None, None, Some(1)]);
        assert_eq!([95.0, 97.0, 105.0].map(|mm| counted(Point::new(-mm, 0.0))), [Some(0), None, Some(1)]);
        assert!((local_mm(100.0, 100.0, &[(Point::new(100.0, 0.0), 6.0)], Point::new(100.0, 0.0)) - 100.0).abs() < 1e-12);
    }

    /// A section of 10 mm keeps 2 between its binds' own strips; broad ones are known as well as was measured.
    #[test]
    fn narrow_sections_are_known_less_well() {
        let along = [16.0, 26.0, 66.0];
        assert_eq!([1, 2, 3, 4].map(|section| clear_mm(&along, section)), [12.0, 2.0, 32.0, f64::INFINITY]);
        assert!(colour_sd(2.0) > 3.3 && colour_sd(32.0) < 1.05 && (colour_sd(f64::INFINITY) - COLOUR_SD).abs() < 1e-12);
    }
}
