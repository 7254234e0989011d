//! Colour spaces: sRGB with and without its curve, CIE XYZ, CIE L\*a\*b\*.

use crate::layout::Srgb;
use crate::srgb::{byte_of_light, light_of_channel};

/// Linear sRGB to XYZ. Source: IEC 61966-2-1, four digits.
const XYZ_FROM_RGB: [[f64; 3]; 3] = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];

/// XYZ to linear sRGB: the exact inverse of [`XYZ_FROM_RGB`], so that going there and back changes nothing.
pub(super) const RGB_FROM_XYZ: [[f64; 3]; 3] = inverse(XYZ_FROM_RGB);

/// XYZ of the white of sRGB: the row sums of its matrix.
pub(super) const WHITE_XYZ: [f64; 3] = {
    let [x, y, z] = XYZ_FROM_RGB;
    [x[0] + x[1] + x[2], y[0] + y[1] + y[2], z[0] + z[1] + z[2]]
};

/// White of L\*a\*b\*: D65 at its chromaticity in IEC 61966-2-1, x 0.3127, y 0.3290.
const LAB_WHITE_XYZ: [f64; 3] = [0.3127 / 0.3290, 1.0, (1.0 - 0.3127 - 0.3290) / 0.3290];

/// Red, green and blue of sRGB in proportion to light (IEC 61966-2-1), 0 to 1 within what a screen shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinearRgb(pub [f64; 3]);

/// CIE 1931 XYZ; Y is 1 for a perfect white.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Xyz(pub [f64; 3]);

/// CIE 1976 L\*a\*b\* under D65.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lab {
    /// Lightness, 0 black to 100 white.
    pub l: f64,
    /// From green (negative) to red.
    pub a: f64,
    /// From blue (negative) to yellow.
    pub b: f64,
}

impl LinearRgb {
    /// To XYZ.
    #[must_use]
    pub fn to_xyz(self) -> Xyz {
        Xyz(times(&XYZ_FROM_RGB, self.0))
    }

    /// To what a screen shows: each channel is held between 0 and 1, then rounded to 8 bits.
    #[must_use]
    pub fn to_srgb(self) -> Srgb {
        let [red, green, blue] = self.0.map(byte_of_light);
        Srgb { red, green, blue }
    }
}

impl From<Srgb> for LinearRgb {
    fn from(colour: Srgb) -> Self {
        Self([colour.red, colour.green, colour.blue].map(|byte| light_of_channel(f64::from(byte) / 255.0)))
    }
}

impl Xyz {
    /// To linear sRGB; channels leave 0 to 1 where no screen shows the colour.
    #[must_use]
    pub fn to_linear_rgb(self) -> LinearRgb {
        LinearRgb(times(&RGB_FROM_XYZ, self.0))
    }

    /// To L\*a\*b\*. Source: CIE 15, with the exact constants 216/24389 and 24389/27.
    #[must_use]
    pub fn to_lab(self) -> Lab {
        let [x, y, z] = [0, 1, 2].map(|axis| lab_curve(self.0[axis] / LAB_WHITE_XYZ[axis]));
        Lab { l: 116.0 * y - 16.0, a: 500.0 * (x - y), b: 200.0 * (y - z) }
    }
}

impl Lab {
    /// To XYZ, the inverse of [`Xyz::to_lab`].
    #[must_use]
    pub fn to_xyz(self) -> Xyz {
        let y = (self.l + 16.0) / 116.0;
        let [x, z] = [y + self.a / 500.0, y - self.b / 200.0];
        let shares = [x, y, z].map(lab_curve_inverse);
        Xyz([0, 1, 2].map(|axis| shares[axis] * LAB_WHITE_XYZ[axis]))
    }

    /// The nearest colour that a screen shows, channel by channel.
    #[must_use]
    pub fn to_srgb(self) -> Srgb {
        self.to_xyz().to_linear_rgb().to_srgb()
    }
}

impl From<Srgb> for Lab {
    fn from(colour: Srgb) -> Self {
        LinearRgb::from(colour).to_xyz().to_lab()
    }
}

/// Where the curve of L\*a\*b\* begins to be a cube root, and its slope before, times 116 (CIE 15).
const EPSILON: f64 = 216.0 / 24389.0;
const KAPPA: f64 = 24389.0 / 27.0;

fn lab_curve_inverse(value: f64) -> f64 {
    let cube = value * value * value;
    if cube > EPSILON { cube } else { (116.0 * value - 16.0) / KAPPA }
}

fn lab_curve(share: f64) -> f64 {
    if share > EPSILON { share.cbrt() } else { (KAPPA * share + 16.0) / 116.0 }
}

fn times(matrix: &[[f64; 3]; 3], vector: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| row[0] * vector[0] + row[1] * vector[1] + row[2] * vector[2])
}

const fn inverse(m: [[f64; 3]; 3]) -> [[f64; 3]; 3] {
    let mut cofactors = [[0.0; 3]; 3];
    let mut row = 0;
    while row < 3 {
        let mut column = 0;
        while column < 3 {
            let (r1, r2, c1, c2) = ((row + 1) % 3, (row + 2) % 3, (column + 1) % 3, (column + 2) % 3);
            cofactors[row][column] = m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1];
            column += 1;
        }
        row += 1;
    }
    let determinant = m[0][0] * cofactors[0][0] + m[0][1] * cofactors[0][1] + m[0][2] * cofactors[0][2];
    let mut inverse = [[0.0; 3]; 3];
    row = 0;
    while row < 3 {
        let mut column = 0;
        while column < 3 {
            inverse[row][column] = cofactors[column][row] / determinant;
            column += 1;
        }
        row += 1;
    }
    inverse
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_byte_comes_back() {
        for byte in 0..=255 {
            let colour = Srgb { red: byte, green: 255 - byte, blue: byte / 2 };
            assert_eq!(LinearRgb::from(colour).to_xyz().to_linear_rgb().to_srgb(), colour);
            assert_eq!(Lab::from(colour).to_srgb(), colour);
        }
    }

    #[test]
    fn light_beyond_the_screen_is_held_and_a_nan_is_black() {
        let shown = LinearRgb([-0.5, 7.0, f64::NAN]).to_srgb();
        assert_eq!(shown, Srgb { red: 0, green: 255, blue: 0 });
    }
}
