//! Pictures on a drawing: pixels on white paper, scaled down to what a printer can show.

use kurbo::{Affine, BezPath, Rect, Shape as _};
use std::fmt;
use std::sync::Arc;

use super::flatten::FLATTEN_MM;
use crate::srgb::{byte_of_light, light_of_channel};

/// Opaque pixels, row by row.
#[derive(Clone, PartialEq, Eq)]
pub struct Pixels {
    width: usize,
    height: usize,
    /// Red, green and blue of each pixel, sRGB.
    rgb: Vec<[u8; 3]>,
}

/// The size alone: half a million numbers help nobody.
impl fmt::Debug for Pixels {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Pixels({} x {})", self.width, self.height)
    }
}

impl Pixels {
    /// Straight-alpha sRGB pixels, four bytes each, laid on white paper and scaled down, by whole pixels, to at most `most` across and
    /// down. Averages are taken of light, not of its code, so that fine stripes keep their brightness. None where the bytes are not
    /// `4 x width x height`, or there are none.
    #[must_use]
    pub fn on_paper(width: usize, height: usize, rgba: &[u8], most: usize) -> Option<Self> {
        let count = width.checked_mul(height)?.checked_mul(4)?;
        if count == 0 || rgba.len() != count {
            return None;
        }
        let step = width.max(height).div_ceil(most.max(1)).max(1);
        let (small_width, small_height) = (width.div_ceil(step), height.div_ceil(step));
        let light = light_of_codes();
        let cell = |row: usize, column: usize| {
            let (mut sum, mut pixels) = ([0.0; 3], 0.0);
            for y in (row * step..height).take(step) {
                for x in (column * step..width).take(step) {
                    let at = 4 * (y * width + x);
                    let cover = f64::from(rgba[at + 3]) / 255.0;
                    for (sum, &code) in sum.iter_mut().zip(&rgba[at..at + 3]) {
                        *sum += cover * light[usize::from(code)] + (1.0 - cover);
                    }
                    pixels += 1.0;
                }
            }
            sum.map(|sum| byte_of_light(sum / pixels))
        };
        let rgb = (0..small_height).flat_map(|row| (0..small_width).map(move |column| (row, column)));
        let rgb = rgb.map(|(row, column)| cell(row, column)).collect();
        Some(Self { width: small_width, height: small_height, rgb })
    }

    /// Pixels across.
    #[must_use]
    pub const fn width(&self) -> usize {
        self.width
    }

    /// Pixels down.
    #[must_use]
    pub const fn height(&self) -> usize {
        self.height
    }

    /// Red, green, blue and opacity of each pixel, row by row; all are opaque.
    #[must_use]
    pub fn rgba(&self) -> Vec<u8> {
        self.rgb.iter().flat_map(|&[red, green, blue]| [red, green, blue, 255]).collect()
    }

    /// As a PNG file.
    pub(super) fn png(&self) -> Result<Vec<u8>, png::EncodingError> {
        let mut bytes = Vec::new();
        let size = |pixels: usize| u32::try_from(pixels).unwrap_or(u32::MAX);
        let mut encoder = png::Encoder::new(&mut bytes, size(self.width), size(self.height));
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_depth(png::BitDepth::Eight);
        let mut writer = encoder.write_header()?;
        writer.write_image_data(self.rgb.as_flattened())?;
        writer.finish()?;
        Ok(bytes)
    }
}

/// Light of every sRGB code, 0 to 1.
fn light_of_codes() -> [f64; 256] {
    let mut light = [0.0; 256];
    for (code, light) in (0_u8..=u8::MAX).zip(light.iter_mut()) {
        *light = light_of_channel(f64::from(code) / 255.0);
    }
    light
}

/// Pixels at a place of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Image {
    /// Takes the unit square, x to the right and y down, to the drawing's mm.
    pub drawing_from_unit: Affine,
    /// The pixels, shared by every copy of the drawing.
    pub pixels: Arc<Pixels>,
}

impl Image {
    /// Pixels in an upright box.
    #[must_use]
    pub fn new(pixels: Arc<Pixels>, at: Rect) -> Self {
        let drawing_from_unit = Affine::translate(at.origin().to_vec2()) * Affine::scale_non_uniform(at.width(), at.height());
        Self { drawing_from_unit, pixels }
    }

    /// Its edge.
    #[must_use]
    pub fn edge(&self) -> BezPath {
        self.drawing_from_unit * Rect::new(0.0, 0.0, 1.0, 1.0).to_path(FLATTEN_MM)
    }
}

/// Bytes as text (RFC 4648, 4), for a picture inside a text file.
pub(super) fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let byte = |index: usize| u32::from(three.get(index).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for index in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * index) & 63) as usize];
            text.push(if index <= three.len() { char::from(letter) } else { '=' });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4648, section 10.
    #[test]
    fn the_published_examples_of_base64() {
        let cases = [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg=="), ("foobar", "Zm9vYmFy")];
        for (bytes, text) in cases {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
    }

    /// Black and white in equal parts is half the light: code 188, not 128 (IEC 61966-2-1).
    #[test]
    fn pixels_are_averaged_by_their_light() {
        let board: Vec<u8> = (0..64).flat_map(|at| if (at + at / 8) % 2 == 0 { [0, 0, 0, 255] } else { [255; 4] }).collect();
        let small = Pixels::on_paper(8, 8, &board, 4).expect("64 pixels");
        assert_eq!((small.width(), small.height()), (4, 4));
        assert!(small.rgb.iter().all(|&rgb| rgb == [188; 3]), "{:?}", small.rgb);
        let whole = Pixels::on_paper(8, 8, &board, 8).expect("64 pixels");
        assert!(whole.rgba() == board);
    }

    #[test]
    fn what_is_not_there_is_paper() {
        let bare = Pixels::on_paper(3, 2, &[0; 24], 100).expect("six pixels");
        assert!(bare.rgb.iter().all(|&rgb| rgb == [255; 3]));
        assert_eq!(Pixels::on_paper(3, 2, &[0; 23], 100), None);
        assert_eq!(Pixels::on_paper(0, 0, &[], 100), None);
    }
}
