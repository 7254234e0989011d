//! The eye and the light: CIE 1931 2-degree observer under D65, on the working grid of 36 bands.

use super::spaces::{RGB_FROM_XYZ, WHITE_XYZ};

/// Number of bands of the working grid.
pub const BANDS: usize = 36;

/// Middle of the first band and step from band to band, nm.
const FIRST_NM: u16 = 380;
const STEP_NM: u16 = 10;

/// The middles of the bands, nm: 380 to 730 in steps of 10.
pub fn wavelengths_nm() -> impl Iterator<Item = f64> {
    (FIRST_NM..).step_by(usize::from(STEP_NM)).take(BANDS).map(f64::from)
}

/// Band by band: the observer's x, y and z, and the power of D65 relative to 100 at 560 nm.
///
/// Source: CIE 15, tables of the 1931 2-degree observer and of illuminant D65, at 10 nm. Beyond 730 nm the observer's values are
/// under 0.1 % of their peak and left out.
#[rustfmt::skip]
const OBSERVER_AND_D65: [[f64; 4]; BANDS] = [
    [0.001368, 0.000039, 0.006450001, 49.9755],
    [0.004243, 0.00012, 0.02005001, 54.6482],
    [0.01431, 0.000396, 0.06785001, 82.7549],
    [0.04351, 0.00121, 0.2074, 91.486],
    [0.13438, 0.004, 0.6456, 93.4318],
    [0.2839, 0.0116, 1.3856, 86.6823],
    [0.34828, 0.023, 1.74706, 104.865],
    [0.3362, 0.038, 1.77211, 117.008],
    [0.2908, 0.06, 1.6692, 117.812],
    [0.19536, 0.09098, 1.28764, 114.861],
    [0.09564, 0.13902, 0.8129501, 115.923],
    [0.03201, 0.20802, 0.46518, 108.811],
    [0.0049, 0.323, 0.272, 109.354],
    [0.0093, 0.503, 0.1582, 107.802],
    [0.06327, 0.71, 0.07824999, 104.79],
    [0.1655, 0.862, 0.04216, 107.689],
    [0.2904, 0.954, 0.0203, 104.405],
    [0.4334499, 0.9949501, 0.008749999, 104.046],
    [0.5945, 0.995, 0.0039, 100.0],
    [0.7621, 0.952, 0.0021, 96.3342],
    [0.9163, 0.87, 0.001650001, 95.788],
    [1.0263, 0.757, 0.0011, 88.6856],
    [1.0622, 0.631, 0.0008, 90.0062],
    [1.0026, 0.503, 0.00034, 89.5991],
    [0.8544499, 0.381, 0.00019, 87.6987],
    [0.6424, 0.265, 0.00004999999, 83.2886],
    [0.4479, 0.175, 0.00002, 83.6992],
    [0.2835, 0.107, 0.0, 80.0268],
    [0.1649, 0.061, 0.0, 80.2146],
    [0.0874, 0.032, 0.0, 82.2778],
    [0.04677, 0.017, 0.0, 78.2842],
    [0.0227, 0.00821, 0.0, 69.7213],
    [0.01135916, 0.004102, 0.0, 71.6091],
    [0.005790346, 0.002091, 0.0, 74.349],
    [0.002899327, 0.001047, 0.0, 61.604],
    [0.001439971, 0.00052, 0.0, 69.8856],
];

/// Weights that take a spectrum to XYZ. A perfect white comes out as the white of sRGB exactly: each of X, Y and Z is scaled by the
/// table's own white, for cut at 730 nm the table's white is 0.950119, 1, 1.088161.
pub(super) const XYZ_WEIGHTS: [[f64; BANDS]; 3] = xyz_weights();

/// Weights that take a spectrum to linear sRGB: a row may be negative in places.
pub(super) const RGB_WEIGHTS: [[f64; BANDS]; 3] = rgb_weights();

const fn xyz_weights() -> [[f64; BANDS]; 3] {
    let mut weights = [[0.0; BANDS]; 3];
    let mut axis = 0;
    while axis < 3 {
        let mut white = 0.0;
        let mut band = 0;
        while band < BANDS {
            let row = OBSERVER_AND_D65[band];
            weights[axis][band] = row[axis] * row[3];
            white += weights[axis][band];
            band += 1;
        }
        band = 0;
        while band < BANDS {
            weights[axis][band] *= WHITE_XYZ[axis] / white;
            band += 1;
        }
        axis += 1;
    }
    weights
}

const fn rgb_weights() -> [[f64; BANDS]; 3] {
    let mut weights = [[0.0; BANDS]; 3];
    let mut channel = 0;
    while channel < 3 {
        let from = RGB_FROM_XYZ[channel];
        let mut band = 0;
        while band < BANDS {
            weights[channel][band] =
                from[0] * XYZ_WEIGHTS[0][band] + from[1] * XYZ_WEIGHTS[1][band] + from[2] * XYZ_WEIGHTS[2][band];
            band += 1;
        }
        channel += 1;
    }
    weights
}
