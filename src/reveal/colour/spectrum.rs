//! Reflectance spectra, and the one taken for a colour of which only the sRGB is known.

use super::linear_system::solve;
use super::observer::{BANDS, RGB_WEIGHTS, XYZ_WEIGHTS};
use super::{LinearRgb, Xyz};
use crate::layout::Srgb;

/// Least and greatest share of light in a channel of linear sRGB that a spectrum is sought for.
///
/// Nothing reflects all light or none, and the slope of the transform has no end there. sRGB 0 and 255 come back as 1 and 255:
/// the bounds lie within a step of the 8-bit scale (computed).
const LEAST_LIGHT: f64 = 0.000_3;
const GREATEST_LIGHT: f64 = 0.996;

/// Residual at which Newton's method stops: far under a step of 8 bits, far above rounding.
const RESIDUAL: f64 = 1e-10;
/// Steps after which it gives up. Colours need 4 to 11 (computed, on a grid of 140 608 through all 8-bit colours).
const MOST_STEPS: usize = 40;

/// Bands, and the three conditions that the colour comes out as asked.
const UNKNOWNS: usize = BANDS + 3;

/// The share of light that cloth reflects, band by band, each above 0 and below 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spectrum {
    bands: [f64; BANDS],
}

impl Spectrum {
    /// The smoothest spectrum that gives this colour in daylight.
    ///
    /// Burns, *Numerical methods for smoothest reflectance reconstruction* (Color Res. Appl., 2019), the least hyperbolic tangent
    /// slope: reflectance is (tanh z + 1) / 2, and among all z that give the colour the one with the least
    /// sum of squared steps is found by Newton's method on the conditions of the optimum. Channels of 0 and 255 are moved inward by
    /// less than one step of 8 bits first.
    #[must_use]
    pub fn of(colour: Srgb) -> Self {
        let asked = LinearRgb::from(colour).0.map(|light| light.clamp(LEAST_LIGHT, GREATEST_LIGHT));
        let mut z = [0.0; BANDS];
        let mut multipliers = [0.0; 3];
        for _ in 0..MOST_STEPS {
            if !newton_step(&mut z, &mut multipliers, &asked) {
                break;
            }
        }
        Self { bands: z.map(|z| reflectance_by(z)[0]) }
    }

    /// A spectrum made of K/S or measured, band by band.
    pub(super) fn from_bands(bands: [f64; BANDS]) -> Self {
        Self { bands }
    }

    /// The share of light reflected in each band, from 380 to 730 nm in steps of 10.
    #[must_use]
    pub fn bands(&self) -> &[f64; BANDS] {
        &self.bands
    }

    /// Its colour in daylight (D65), CIE 1931 2-degree observer.
    #[must_use]
    pub fn to_xyz(&self) -> Xyz {
        Xyz(XYZ_WEIGHTS.map(|weights| weighted(&weights, &self.bands)))
    }

    /// Its colour in daylight, as linear sRGB.
    #[must_use]
    pub fn to_linear_rgb(&self) -> LinearRgb {
        LinearRgb(RGB_WEIGHTS.map(|weights| weighted(&weights, &self.bands)))
    }
}

fn weighted(weights: &[f64; BANDS], bands: &[f64; BANDS]) -> f64 {
    weights.iter().zip(bands).map(|(weight, share)| weight * share).sum()
}

/// One step of Newton's method toward the optimum, on the gradient of the sum of squared steps with a multiplier for each channel
/// that is asked for; false when it is reached.
fn newton_step(z: &mut [f64; BANDS], multipliers: &mut [f64; 3], asked: &[f64; 3]) -> bool {
    let mut matrix = [[0.0; UNKNOWNS]; UNKNOWNS];
    let mut right = [0.0; UNKNOWNS];
    right[BANDS..].copy_from_slice(asked);
    for band in 0..BANDS {
        let [share, slope, bend] = reflectance_by(z[band]);
        for neighbour in [band.checked_sub(1), Some(band + 1).filter(|&next| next < BANDS)].into_iter().flatten() {
            right[band] -= 2.0 * (z[band] - z[neighbour]);
            matrix[band][neighbour] = -2.0;
            matrix[band][band] += 2.0;
        }
        for channel in 0..3 {
            let (weight, row) = (RGB_WEIGHTS[channel][band], BANDS + channel);
            right[band] -= slope * weight * multipliers[channel];
            right[row] -= weight * share;
            matrix[band][band] += bend * weight * multipliers[channel];
            matrix[band][row] = slope * weight;
            matrix[row][band] = slope * weight;
        }
    }
    let worst = right.iter().fold(0.0, |worst: f64, residual| worst.max(residual.abs()));
    if worst < RESIDUAL || !solve(&mut matrix, &mut right) {
        return false;
    }
    let (steps, multiplier_steps) = right.split_at(BANDS);
    z.iter_mut().zip(steps).for_each(|(z, step)| *z += step);
    multipliers.iter_mut().zip(multiplier_steps).for_each(|(multiplier, step)| *multiplier += step);
    true
}

/// Reflectance for z, with its first and second derivative.
fn reflectance_by(z: f64) -> [f64; 3] {
    let tanh = z.tanh();
    let slope = 0.5 * (1.0 - tanh * tanh);
    [0.5 * (tanh + 1.0), slope, -2.0 * tanh * slope]
}
