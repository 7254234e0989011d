//! The light on the table, taken out of the colours: its unevenness from the table round the garment, its colour and amount from a white sheet.
//!
//! `log intensity = log reflectance + q(x, y) + constant` for each channel, `q` of second order, fitted robustly to the table, which is taken to
//! be of one colour. The sheet settles the constant.

use super::outline::SeenOutline;
use super::snap::middle_of;
use super::{PhotoError, Photograph, Registration, Sheet};
use kurbo::Point;
use nalgebra::{SMatrix, SVector};

/// From place to place on the table, mm.
const STEP_MM: f64 = 14.0;
/// How far from the garment the table is looked at, mm.
const BEYOND_MM: f64 = 230.0;
/// How far the table has to lie from cloth and sheet, mm.
const CLEAR_MM: f64 = 14.0;
/// Over what square each place is averaged, mm from its middle.
const SQUARE_MM: [f64; 4] = [-3.0, -1.0, 1.0, 3.0];
/// Fewest places, of six unknowns. Own choice.
pub(super) const FEWEST_PLACES: usize = 30;
const ROBUST_ROUNDS: usize = 8;
/// Length by which places are divided so that all terms are of one size, mm.
const UNIT_MM: f64 = 500.0;
/// Reflectance of white office paper: 0.87 (measured by its makers' own sheets at 0.84 to 0.92; from memory, unverified).
pub(super) const PAPER: f64 = 0.87;
/// Light above this share of the most that a file can say is burnt out.
pub(super) const BURNT: f32 = 0.985;
/// How much of the sheet may be burnt out.
pub(super) const MOST_BURNT: f64 = 0.02;
/// Places along a side of the sheet, and how far inside it, as a share.
const SHEET_PLACES: u32 = 24;
const SHEET_INSET: f64 = 0.14;

/// The light, and with it what the cloth reflects.
#[derive(Debug, Clone)]
pub struct Light {
    /// Where the polynomial begins, and by what lengths are divided so that its terms are of one size.
    middle: Point,
    unit: f64,
    /// Of each channel, the polynomial's.
    terms: [SVector<f64, 6>; 3],
    /// What the intensity divided by the polynomial's exponential is multiplied by.
    gain: [f64; 3],
}

impl Light {
    /// Learns it.
    ///
    /// # Errors
    /// [`PhotoError::BurntOut`], [`PhotoError::Table`].
    pub(super) fn of(
        photograph: &Photograph,
        map: &Registration,
        outline: &SeenOutline,
        sheet: &Sheet,
    ) -> Result<Self, PhotoError> {
        let white = white(photograph, sheet)?;
        let middle = outline.middle;
        let seen = table(photograph, map, outline, sheet);
        let unsettled = || PhotoError::Table { places: seen.len(), least: FEWEST_PLACES };
        if seen.len() < FEWEST_PLACES {
            return Err(unsettled());
        }
        let light = Self::fitted(&seen, middle, UNIT_MM).ok_or_else(unsettled)?;
        Ok(light.with_white(map.back(sheet.middle()).unwrap_or(middle), white))
    }

    /// The light by which a ground of one colour shows itself: places with the logarithms of the light seen there. The ground counts as reflecting
    /// all of it.
    pub(super) fn fitted(seen: &[(Point, [f64; 3])], middle: Point, unit: f64) -> Option<Self> {
        let fit =
            |channel: usize| robust(&seen.iter().map(|(at, log)| (terms(*at, middle, unit), log[channel])).collect::<Vec<_>>());
        Some(Self { middle, unit, terms: [fit(0)?, fit(1)?, fit(2)?], gain: [1.0; 3] })
    }

    /// The same where the ground is white paper.
    pub(super) fn on_paper(self) -> Self {
        Self { gain: [PAPER; 3], ..self }
    }

    /// The same where white paper at a place shows this light.
    pub(super) fn with_white(self, at: Point, white: [f32; 3]) -> Self {
        let there = Self { gain: [1.0; 3], ..self.clone() }.reflected(at, white);
        Self { gain: there.map(|channel| PAPER / channel.max(f64::MIN_POSITIVE)), ..self }
    }

    /// What cloth at a point reflects, 0 to about 1, where this is its light in the picture. Points are of the plane that the light was learned
    /// in: the plan's.
    #[must_use]
    pub fn reflected(&self, at: Point, light: [f32; 3]) -> [f64; 3] {
        let terms = terms(at, self.middle, self.unit);
        [0, 1, 2].map(|channel| f64::from(light[channel]) * self.gain[channel] * (-self.terms[channel].dot(&terms)).exp())
    }

    /// How much brighter the brightest part of a box is than its darkest, as a share.
    #[must_use]
    pub fn unevenness(&self, area: kurbo::Rect) -> f64 {
        let steps = || (0..=10).map(|step| f64::from(step) / 10.0);
        let places =
            steps().flat_map(|x| steps().map(move |y| Point::new(area.x0 + x * area.width(), area.y0 + y * area.height())));
        let amounts = places.map(|at| self.terms[1].dot(&terms(at, self.middle, self.unit)));
        let (least, most) =
            amounts.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), log| (least.min(log), most.max(log)));
        (most - least).exp() - 1.0
    }
}

fn terms(at: Point, middle: Point, unit: f64) -> SVector<f64, 6> {
    let v = (at - middle) / unit;
    SVector::from([1.0, v.x, v.y, v.x * v.x, v.y * v.y, v.x * v.y])
}

/// The median of the sheet's light; refused where it is burnt out.
pub(super) fn white(photograph: &Photograph, sheet: &Sheet) -> Result<[f32; 3], PhotoError> {
    let seen: Vec<[f32; 3]> = sheet.places(SHEET_PLACES, SHEET_INSET).filter_map(|at| photograph.at(at)).collect();
    let channels = seen.iter().flatten();
    let burnt = channels.clone().filter(|channel| **channel > BURNT).count() as f64 / (3 * seen.len()).max(1) as f64;
    if burnt > MOST_BURNT {
        return Err(PhotoError::BurntOut { percent: 100.0 * burnt, most_percent: 100.0 * MOST_BURNT });
    }
    #[expect(clippy::cast_possible_truncation, reason = "light is kept in single precision")]
    let median = |channel: usize| middle_of(seen.iter().map(|light| f64::from(light[channel])).collect()) as f32;
    Ok([0, 1, 2].map(median))
}

/// Places of the table round the garment, with the logarithms of their light.
fn table(photograph: &Photograph, map: &Registration, outline: &SeenOutline, sheet: &Sheet) -> Vec<(Point, [f64; 3])> {
    let area = outline.bounds().inset(BEYOND_MM);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a garment's size in steps")]
    let count = |length_mm: f64| (length_mm / STEP_MM) as u32;
    let (across, down) = (count(area.width()), count(area.height()));
    let places = (0..down).flat_map(|row| (0..across).map(move |column| (column, row)));
    let places = places.map(|(column, row)| area.origin() + STEP_MM * Point::new(f64::from(column), f64::from(row)).to_vec2());
    let clear = places.filter(|at| !outline.contains(*at) && outline.away_mm(*at) > CLEAR_MM);
    let seen = |at: Point| Some((at, mean(photograph, map, sheet, at)?.map(|channel| channel.max(1e-4).ln())));
    clear.filter_map(seen).collect()
}

/// The mean light of a square of the table; none where some of it lies outside the picture or near the sheet.
fn mean(photograph: &Photograph, map: &Registration, sheet: &Sheet, at: Point) -> Option<[f64; 3]> {
    let clear_px = CLEAR_MM * map.lens().px_per_mm(at)?;
    if sheet.outside_px(map.lens().apply(at)?) < clear_px {
        return None;
    }
    let mut sum = [0.0; 3];
    for x in SQUARE_MM {
        for y in SQUARE_MM {
            let light = photograph.at(map.lens().apply(Point::new(at.x + x, at.y + y))?)?;
            sum.iter_mut().zip(light).for_each(|(sum, channel)| *sum += f64::from(channel));
        }
    }
    Some(sum.map(|channel| channel / 16.0))
}

/// The polynomial that fits best, what lies far off counting little.
pub(super) fn robust(seen: &[(SVector<f64, 6>, f64)]) -> Option<SVector<f64, 6>> {
    let mut fitted = SVector::<f64, 6>::zeros();
    let mut scale = f64::INFINITY;
    for _ in 0..ROBUST_ROUNDS {
        let (mut matrix, mut right) = (SMatrix::<f64, 6, 6>::identity() * 1e-9, SVector::<f64, 6>::zeros());
        for (terms, log) in seen {
            let off = (log - fitted.dot(terms)) / scale;
            let weight = 1.0 / (1.0 + off * off);
            matrix += weight * terms * terms.transpose();
            right += weight * *log * terms;
        }
        fitted = matrix.cholesky()?.solve(&right);
        scale = 1.5 * middle_of(seen.iter().map(|(terms, log)| (log - fitted.dot(terms)).abs()).collect()) + 1e-4;
    }
    Some(fitted)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A planted polynomial comes back exactly, a tenth of the places being covered by something else.
    #[test]
    fn a_planted_light_comes_back_among_what_hides_the_table() {
        let planted = SVector::from([-1.2, 0.3, -0.2, -0.1, 0.05, 0.08]);
        let seen: Vec<_> = (0..400_u32)
            .map(|index| {
                let at = Point::new(f64::from(index % 20) * 60.0 - 600.0, f64::from(index / 20) * 50.0 - 500.0);
                let terms = terms(at, Point::ORIGIN, UNIT_MM);
                (terms, planted.dot(&terms) + if index % 10 == 3 { 0.8 } else { 0.0 })
            })
            .collect();
        let off = (robust(&seen).unwrap() - planted).norm();
        assert!(off < 1e-3, "{off}");
    }
}
