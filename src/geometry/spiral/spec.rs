//! A spiral as a maker gives it.

use crate::geometry::{Centre, Centring};
use std::ops::Range;

/// A spiral as a maker gives it: cloth pinched at a centre, twisted there, and drawn together into a flat round puck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpiralSpec {
    /// How the garment is laid.
    pub centring: Centring,
    /// Where it is pinched.
    pub centre: Centre,
    /// Radius of what the fingers hold, mm: within it the cloth turns as one.
    pub pinch_radius_mm: f64,
    /// How often the pinch is turned while the cloth winds round it.
    pub turns: f64,
    /// Which way it is turned, seen from above.
    pub twist: Twist,
    /// Diameter of the puck, mm.
    pub puck_diameter_mm: f64,
    /// Height of the puck, mm; if none is given, as high as the cloth is at [`ORDINARY_PACKING`].
    pub puck_height_mm: Option<f64>,
    /// How many pleats begin at the pinch: farther out they branch by themselves.
    pub pleats: u32,
    /// Seed of where they begin.
    pub seed: u64,
    /// How many bands go over it, each through its middle, evenly round: they part it into twice as many wedges.
    pub bands: u32,
    /// Where the first of them crosses the rim, degrees clockwise from the zero as the puck is seen from above.
    pub first_band_deg: f64,
}

/// Which way the pinch is turned, seen from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Twist {
    /// As the hands of a clock: the arms of the spiral wind out against them.
    Clockwise,
    /// Against the hands of a clock.
    Anticlockwise,
}

impl Twist {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Clockwise, Self::Anticlockwise];

    /// Plain words for it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Clockwise => "clockwise",
            Self::Anticlockwise => "anticlockwise",
        }
    }

    /// The way in which cloth farther out lies behind the pinch: angles rise clockwise as drawn.
    pub(super) fn lag(self) -> f64 {
        match self {
            Self::Clockwise => -1.0,
            Self::Anticlockwise => 1.0,
        }
    }
}

/// The share of a puck that is cloth when it is held by a few bands (our own judgement: half of it is air).
pub const ORDINARY_PACKING: f64 = 0.5;
/// Shares of a puck's volume that cloth fills in practice: with less it falls open, with more it can't be drawn together (our own
/// judgement).
pub const USUAL_PACKING: Range<f64> = 0.3..0.8;
/// Fewest and most pleats that begin at a pinch (practice: what two or three fingers take up).
pub const PINCH_PLEATS: [u32; 2] = [6, 10];

/// Fewest and most bands over a puck (our own choice: 24 wedges are narrower than a spoon).
pub const PUCK_BANDS: [u32; 2] = [1, 12];

/// The share that can't be passed: cloth lying free, pressed to three quarters of its thickness until no air is left (the ratio is that
/// of [`crate::geometry::Cloth`]'s defaults).
pub(super) const MOST_PACKING: f64 = 1.33;
/// Fewest turns (our own choice: less is no spiral).
pub(super) const FEWEST_TURNS: f64 = 0.25;
/// Most turns that are computed with (our own choice: a square of 2 m in a puck of 10 cm holds five).
pub(super) const MOST_TURNS: f64 = 12.0;
/// Smallest pinch, mm, and largest (practice: from a fingertip to a hand).
pub(super) const PINCH_MM: [f64; 2] = [2.0, 100.0];
/// Smallest puck, mm (our own choice).
pub(super) const LEAST_PUCK_MM: f64 = 20.0;
/// Lowest puck, mm, and highest (our own choice).
pub(super) const HEIGHT_MM: [f64; 2] = [4.0, 300.0];
/// The largest puck as a share of the diameter of a disc of as much cloth: beyond it little is left to draw in (our own choice).
pub(super) const WIDEST: f64 = 0.9;
