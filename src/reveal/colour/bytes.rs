//! From linear light to the bytes of sRGB, fast enough for every pixel of a picture.

use crate::srgb::light_of_channel;

/// Cells of the table over linear light from 0 to 1. A cell is narrower than the narrowest step of 8 bits, 1 / (255 * 12.92) of
/// the light, so at most one byte begins in it.
const CELLS: usize = 4096;

/// Turns linear light into bytes of sRGB (IEC 61966-2-1), rounded to the nearest as the formula does, without raising powers.
#[derive(Debug, Clone)]
pub struct SrgbBytes {
    /// The byte at the lower end of each cell.
    at_cell: Vec<u8>,
    /// Linear light from which each byte is the nearest; the last is out of reach.
    begins: [f32; 257],
}

impl SrgbBytes {
    /// Builds the table.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, reason = "light from 0 to 1, stored in single precision")]
    pub fn new() -> Self {
        let mut begins = [f32::INFINITY; 257];
        begins[0] = 0.0;
        for (byte, begin) in (1..=255_u8).zip(&mut begins[1..]) {
            *begin = light_of_channel((f64::from(byte) - 0.5) / 255.0) as f32;
        }
        let mut byte = 0_u8;
        let at_cell = (0_u16..)
            .take(CELLS + 1)
            .map(|cell| {
                let light = f32::from(cell) / CELLS as f32;
                while light >= begins[usize::from(byte) + 1] {
                    byte += 1;
                }
                byte
            })
            .collect();
        Self { at_cell, begins }
    }

    /// The byte for this light, held between 0 and 1; a NaN is black.
    #[must_use]
    #[inline]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the table")]
    pub fn byte(&self, light: f32) -> u8 {
        let light = light.clamp(0.0, 1.0);
        let at_cell = self.at_cell[(light * CELLS as f32) as usize];
        at_cell + u8::from(light >= self.begins[usize::from(at_cell) + 1])
    }
}

impl Default for SrgbBytes {
    fn default() -> Self {
        Self::new()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reveal::colour::LinearRgb;

    #[test]
    fn the_table_rounds_as_the_formula_does() {
        let bytes = SrgbBytes::new();
        for step in 0..=200_000_u32 {
            let light = f64::from(step) / 200_000.0;
            let exact = LinearRgb([light; 3]).to_srgb().red;
            #[expect(clippy::cast_possible_truncation, reason = "light from 0 to 1")]
            let byte = bytes.byte(light as f32);
            assert_eq!(byte, exact, "{light}");
        }
        for (light, byte) in [(-1.0, 0), (2.0, 255), (f32::NAN, 0), (f32::INFINITY, 255)] {
            assert_eq!(bytes.byte(light), byte, "{light}");
        }
    }
}
