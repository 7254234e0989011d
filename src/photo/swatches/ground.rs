//! The light on what squares lie on: taken from that ground itself, table or paper.

use super::White;
use crate::photo::light::{FEWEST_PLACES, Light, white};
use crate::photo::{PhotoError, Photograph, Sheet};
use kurbo::{Point, Rect, Vec2};

/// Places along the longer side of the picture, or of a sheet that all squares lie on.
const PLACES: u32 = 56;
/// How far the ground has to lie from squares and from the sheet, as a share of the picture's shorter side: beyond the shadow of their edges (our
/// own judgement).
const CLEAR: f64 = 0.012;
/// How much of a sheet's rim is left out, as a share of its size.
const SHEET_INSET: f64 = 0.04;

/// What the squares lie on, in a picture.
pub(super) struct Ground<'a> {
    pub(super) photograph: &'a Photograph,
    pub(super) white: &'a White,
    pub(super) squares: &'a [Rect],
}

impl Ground<'_> {
    /// The sheet that all squares lie on, if they do.
    pub(super) fn sheet_below(&self) -> Option<&Sheet> {
        let White::Sheet(sheet) = self.white else { return None };
        self.squares.iter().all(|square| sheet.outside_px(square.center()) < 0.0).then_some(sheet)
    }

    /// The light.
    ///
    /// # Errors
    /// [`PhotoError::Table`] where too little of the ground shows, [`PhotoError::BurntOut`] of the sheet.
    pub(super) fn light(&self) -> Result<Light, PhotoError> {
        let [width, height] = self.photograph.whole().map(f64::from);
        let (middle, unit) = (Point::new(0.5 * width, 0.5 * height), 0.5 * width.hypot(height));
        let seen = self.places();
        let unsettled = || PhotoError::Table { places: seen.len(), least: FEWEST_PLACES };
        if seen.len() < FEWEST_PLACES {
            return Err(unsettled());
        }
        let light = Light::fitted(&seen, middle, unit).ok_or_else(unsettled)?;
        match self.white {
            White::Sheet(sheet) => {
                // A burnt-out sheet is refused also where its own light is taken from round the squares.
                let seen = white(self.photograph, sheet)?;
                let is_below = self.sheet_below().is_some();
                Ok(if is_below { light.on_paper() } else { light.with_white(sheet.middle(), seen) })
            }
            White::Ground => Ok(light.on_paper()),
        }
    }

    /// Places of the ground with their light's logarithms.
    fn places(&self) -> Vec<(Point, [f64; 3])> {
        let below = self.sheet_below();
        let within: Vec<Point> = match below {
            Some(sheet) => sheet.places(PLACES, SHEET_INSET).collect(),
            None => self.all_over(),
        };
        let [width, height] = self.photograph.whole().map(f64::from);
        let clear = CLEAR * width.min(height);
        let beside = match (self.white, below) {
            (White::Sheet(sheet), None) => Some(sheet),
            _ => None,
        };
        let is_clear = |at: &Point| {
            beside.is_none_or(|sheet| sheet.outside_px(*at) > clear)
                && !self.squares.iter().any(|square| square.inflate(2.0 * clear, 2.0 * clear).contains(*at))
        };
        let light = |at: Point| Some((at, self.photograph.at(at)?.map(|channel| f64::from(channel).max(1e-4).ln())));
        within.into_iter().filter(is_clear).filter_map(light).collect()
    }

    fn all_over(&self) -> Vec<Point> {
        let [width, height] = self.photograph.whole().map(f64::from);
        let step = width.max(height) / f64::from(PLACES);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most as many as along the longer side")]
        let count = |side: f64| (side / step).round().max(1.0) as u32;
        let (across, down) = (count(width), count(height));
        let at = |column: u32, row: u32| (step * Vec2::new(f64::from(column) + 0.5, f64::from(row) + 0.5)).to_point();
        (0..down).flat_map(|row| (0..across).map(move |column| at(column, row))).collect()
    }
}
