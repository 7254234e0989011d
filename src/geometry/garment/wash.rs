//! What washing does to a garment's measurements.

use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use kurbo::{Affine, Point};
use thiserror::Error;

use super::{Draft, Garment, GarmentError, Measurements, figure_line};

/// The change in size by washing, in per cent of the size before: 100 (after - before) / before, so that shrinking is negative
/// (the sign convention of ISO 5077, from memory).
///
/// A plain cotton jersey loses 3.8 to 10.1 % of its length (published by a cotton institute).
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Wash {
    length_percent: f64,
    width_percent: f64,
}

/// A direction of a garment that a wash changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WashDirection {
    /// Down the centre line.
    Length,
    /// Across it.
    Width,
}

impl WashDirection {
    /// The name of its change in files.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Length => "length_percent",
            Self::Width => "width_percent",
        }
    }
}

/// A change in size that no wash brings about.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub struct WashError {
    /// What it would change.
    pub direction: WashDirection,
    /// What was given.
    pub percent: f64,
}

displayed_as_in_files!(WashError);

impl Refused for WashError {
    fn told(&self, voice: Voice) -> Told {
        let range = format!("give {} to {} %; shrinking is negative", Wash::LEAST_PERCENT, Wash::MOST_PERCENT);
        let what = format!("{} % is not a plausible change by washing", voice.number(self.percent));
        Told::new(what, range).at(voice.key(self.direction.key()))
    }
}

impl Wash {
    /// The greatest shrinkage accepted, in per cent (memory).
    pub const LEAST_PERCENT: f64 = -30.0;
    /// The greatest growth accepted, in per cent (memory).
    pub const MOST_PERCENT: f64 = 10.0;

    /// A wash that changes length and width by so many per cent.
    ///
    /// # Errors
    /// A change that is no number or outside [`Self::LEAST_PERCENT`] to [`Self::MOST_PERCENT`].
    pub fn new(length_percent: f64, width_percent: f64) -> Result<Self, WashError> {
        for (direction, percent) in [(WashDirection::Length, length_percent), (WashDirection::Width, width_percent)] {
            if !(Self::LEAST_PERCENT..=Self::MOST_PERCENT).contains(&percent) {
                return Err(WashError { direction, percent });
            }
        }
        Ok(Self { length_percent, width_percent })
    }

    /// The change along the garment, down the centre line, in per cent.
    pub const fn length_percent(&self) -> f64 {
        self.length_percent
    }

    /// The change across the garment, in per cent.
    pub const fn width_percent(&self) -> f64 {
        self.width_percent
    }

    /// The map from a point of the unwashed garment to the same point of the washed one, both in their garment's frame.
    ///
    /// # Limits
    /// The whole garment changes as its body does: sleeves, whose cloth runs another way, and bands are not told apart.
    pub fn washed_from_unwashed(&self) -> Affine {
        Affine::scale_non_uniform(1.0 + self.width_percent / 100.0, 1.0 + self.length_percent / 100.0)
    }

    /// The garment's outlines after the wash.
    ///
    /// # Errors
    /// None that a checked garment and a wash in range can bring about; [`GarmentError::Outline`] if they did.
    pub fn draft_after(&self, garment: &Garment) -> Result<Draft, GarmentError> {
        garment.draft().transformed(garment.kind(), self.washed_from_unwashed())
    }

    /// The garment's measurements after the wash, each taken between the same two points as before.
    ///
    /// A sleeve's opening is no longer quite square to the sleeve when length and width change differently.
    pub fn measurements_after(&self, garment: &Garment) -> Measurements {
        let map = self.washed_from_unwashed();
        let washed = |[a, b]: [Point; 2]| (map * a).distance(map * b);
        let line = |(measure, _)| Some((measure, washed(figure_line(garment.kind(), garment.values(), measure)?)));
        garment.values().iter().filter_map(line).collect()
    }
}
