//! What a photograph shows by distance: the mean colour of the cloth millimetre by millimetre from the burst centre, or along a fold.

use super::finding::aside;
use super::outline::{SeenOutline, mirror};
use super::{Light, Marks, PhotoError, Photograph, Registration};
use crate::geometry::{ClothPoint, Panel};
use crate::layout::Layout;
use crate::reveal::Cancel;
use crate::reveal::colour::{Lab, LinearRgb};
use crate::telling::Voice;
use kurbo::{Point, Rect, Vec2};
use rayon::prelude::*;

/// From place to place on the cloth, mm, and how far from the outline places count: as for colours of sections.
const STEP_MM: f64 = 1.5;
const FROM_EDGE_MM: f64 = 8.0;
/// Fewest places of a row; a ring of half a finger round has so many. Own choice.
const FEWEST_PLACES: usize = 6;
/// Steps by which the middle of the rings is looked for, mm, and how far from the layout's it is looked for: a hand marks a centre nearer
/// (own judgement).
const SHIFT_STEPS_MM: [f64; 4] = [8.0, 4.0, 2.0, 1.0];
const MOST_SHIFT_MM: f64 = 30.0;
/// What is told of a shift, mm, and how far off each of its ways is: as of a centre that was measured.
const LEAST_SHIFT_MM: f64 = 4.0;
const SHIFT_SD_MM: f64 = 2.0;

/// A millimetre of the cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeenRow {
    /// Its middle, mm from the zero of the layout's rule: the burst centre, or the line.
    pub at_mm: f64,
    /// Its mean colour, of light.
    pub colour: Lab,
}

/// What is seen by distance.
#[derive(Debug, Clone, PartialEq)]
pub struct SeenProfile {
    /// From the inmost outward; those that show too little are left out.
    pub rows: Vec<SeenRow>,
    /// Where the middle of the rings lies beside the layout's, as the photograph shows it, mm: right and down.
    pub shift: Vec2,
    /// Whether the light is taken out by a white sheet. Without one colours are as the camera shows them.
    pub is_lit: bool,
}

impl SeenProfile {
    /// That what is seen lies elsewhere than the layout says, where it does.
    #[must_use]
    pub fn shift_words(&self, voice: Voice) -> Option<String> {
        let Vec2 { x: dx_mm, y: dy_mm } = self.shift;
        let moved = (self.shift.hypot() >= LEAST_SHIFT_MM).then(|| aside([dx_mm, dy_mm], SHIFT_SD_MM, voice))?;
        Some(format!("The pattern lies {moved} the layout's place; the wish counts from where it lies."))
    }
}

/// A place of the cloth and the light that it reflects.
struct Place {
    at: Point,
    light: [f64; 3],
    lab: Lab,
}

/// Finds it, where `map` is what [`register`](super::register) found for these marks. The garment need not have been tied as the layout says: only where
/// its centre or line lies is the layout's, give or take [`SeenProfile::shift`].
///
/// # Errors
/// [`PhotoError`] for a sheet that is burnt out, too little table, a side that the garment has not; [`PhotoError::Reveal`] where it is stopped.
pub fn profile(
    photograph: &Photograph,
    layout: &Layout,
    marks: &Marks,
    map: &Registration,
    cancel: &Cancel,
) -> Result<SeenProfile, PhotoError> {
    let panel = layout.panels().panel(marks.side).ok_or(PhotoError::Unsettled { points: marks.points.len() })?;
    let outline = SeenOutline::of(panel, marks.side);
    let light = marks.sheet.as_ref().map(|sheet| Light::of(photograph, map, &outline, sheet)).transpose()?;
    cancel.check()?;
    let places = places(photograph, layout, marks.side, map, light.as_ref());
    cancel.check()?;
    let rows = Rows { layout, side: marks.side, places: &places };
    let shift = rows.middle(cancel)?;
    Ok(SeenProfile { rows: rows.means(shift), shift, is_lit: light.is_some() })
}

/// Every place of the cloth well inside its outline.
fn places(photograph: &Photograph, layout: &Layout, side: Panel, map: &Registration, light: Option<&Light>) -> Vec<Place> {
    let bounds = layout.panels().panel(side).map_or(Rect::ZERO, |panel| panel.whole().bounds());
    let turned = |at: Point| Point::new(mirror(side) * at.x, at.y);
    let count = |length_mm: f64| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a garment's size in steps")]
        let steps = (length_mm / STEP_MM).ceil() as usize;
        steps
    };
    let (across, down) = (count(bounds.width()), count(bounds.height()));
    let seen = [turned(bounds.origin()).x, turned(Point::new(bounds.x1, 0.0)).x];
    let origin = Point::new(seen[0].min(seen[1]), bounds.y0);
    let at = |column: usize, row: usize| origin + STEP_MM * Vec2::new(column as f64 + 0.5, row as f64 + 0.5);
    let has_cloth = |column: usize, row: usize| {
        let Point { x: x_mm, y: y_mm } = turned(at(column, row));
        layout.fold().has_cloth(ClothPoint { panel: side, x_mm, y_mm })
    };
    let cloth: Vec<bool> =
        (0..across * down).into_par_iter().map(|index| has_cloth(index % across.max(1), index / across.max(1))).collect();
    let away = count(FROM_EDGE_MM);
    let is_inside = |column: usize, row: usize| {
        let (left, right) = (column.checked_sub(away), column + away);
        let (top, bottom) = (row.checked_sub(away), row + away);
        let (Some(left), Some(top), true, true) = (left, top, right < across, bottom < down) else { return false };
        [left, column, right].iter().all(|column| [top, row, bottom].iter().all(|row| cloth[row * across + column]))
    };
    let place = |index: usize| {
        let (column, row) = (index % across, index / across);
        let at = at(column, row);
        let seen = is_inside(column, row).then(|| photograph.at(map.apply(at)?)).flatten()?;
        let light = light.map_or(seen.map(f64::from), |light| light.reflected(at, seen));
        Some(Place { at, light, lab: LinearRgb(light).to_xyz().to_lab() })
    };
    (0..across * down).into_par_iter().filter_map(place).collect()
}

/// Places put into rows by where they lie along the bundle.
struct Rows<'a> {
    layout: &'a Layout,
    side: Panel,
    places: &'a [Place],
}

impl Rows<'_> {
    /// The row of a place, where the pattern lies so far beside the layout's.
    fn row(&self, place: &Place, shift: Vec2) -> Option<usize> {
        let at = place.at - shift;
        let fold = self.layout.fold();
        let along_mm = fold.along_as_laid_mm(fold.lay().plane_as_laid(Point::new(mirror(self.side) * at.x, at.y)));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked to be a place; casts saturate")]
        (0.0..fold.length_mm()).contains(&along_mm).then_some(along_mm as usize)
    }

    /// The shift at which rows are most of one colour: the least sum of squares about their means in L\*a\*b\*, by a search in ever smaller steps.
    fn middle(&self, cancel: &Cancel) -> Result<Vec2, PhotoError> {
        let mut best = (self.stray(Vec2::ZERO), Vec2::ZERO);
        for step_mm in SHIFT_STEPS_MM {
            loop {
                cancel.check()?;
                let ways = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)].map(|(x, y)| best.1 + step_mm * Vec2::new(x, y));
                let tried = ways.into_iter().filter(|shift| shift.hypot() <= MOST_SHIFT_MM);
                let next = tried.map(|shift| (self.stray(shift), shift)).min_by(|a, b| a.0.total_cmp(&b.0));
                match next.filter(|next| next.0 < best.0) {
                    Some(next) => best = next,
                    None => break,
                }
            }
        }
        Ok(best.1)
    }

    /// The mean square of how far places are from their row's mean colour.
    fn stray(&self, shift: Vec2) -> f64 {
        let (mut squares, mut count) = (0.0, 0.0);
        for [places, l, a, b, square] in self.sums(shift, |place| {
            let Lab { l, a, b } = place.lab;
            [1.0, l, a, b, l * l + a * a + b * b]
        }) {
            if places > 0.0 {
                squares += square - (l * l + a * a + b * b) / places;
                count += places;
            }
        }
        if count > 0.0 { squares / count } else { f64::INFINITY }
    }

    /// The mean colours.
    fn means(&self, shift: Vec2) -> Vec<SeenRow> {
        let zero_mm = self.layout.zero_mm();
        let mean = |(row, [places, red, green, blue]): (usize, [f64; 4])| {
            let colour = LinearRgb([red, green, blue].map(|channel| channel / places)).to_xyz().to_lab();
            (places >= FEWEST_PLACES as f64).then_some(SeenRow { at_mm: row as f64 + 0.5 - zero_mm, colour })
        };
        let sums = self.sums(shift, |Place { light: [red, green, blue], .. }| [1.0, *red, *green, *blue]);
        sums.into_iter().enumerate().filter_map(mean).collect()
    }

    /// What places add up to, row by row.
    fn sums<const N: usize>(&self, shift: Vec2, of: impl Fn(&Place) -> [f64; N] + Sync) -> Vec<[f64; N]> {
        let parts = self.places.par_chunks(PLACES_AT_ONCE).map(|places| {
            let mut sums = vec![[0.0; N]; self.count()];
            for place in places {
                if let Some(sum) = self.row(place, shift).and_then(|row| sums.get_mut(row)) {
                    add(sum, &of(place));
                }
            }
            sums
        });
        // In their order, so that the same photograph gives the same to the last bit.
        let parts: Vec<Vec<[f64; N]>> = parts.collect();
        parts.iter().fold(vec![[0.0; N]; self.count()], |mut sums, part| {
            sums.iter_mut().zip(part).for_each(|(sum, part)| add(sum, part));
            sums
        })
    }

    fn count(&self) -> usize {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a rod's length in mm")]
        let rows = self.layout.fold().length_mm().max(0.0).ceil() as usize;
        rows
    }
}

/// Places that one thread sums up at a time.
const PLACES_AT_ONCE: usize = 16_384;

fn add<const N: usize>(sums: &mut [f64; N], values: &[f64; N]) {
    sums.iter_mut().zip(values).for_each(|(sum, value)| *sum += value);
}
