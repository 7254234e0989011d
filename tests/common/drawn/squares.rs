//! Photographs of dyed squares, drawn: known colours in uneven, tinted light, beside white paper and on it.

use image::{Rgb, RgbImage};
use kurbo::{Point, Rect};

/// Colours by their names in CSS Color Module Level 4.
pub(crate) const COLOURS: [(&str, [u8; 3]); 6] = [
    ("teal", [0, 128, 128]),
    ("goldenrod", [218, 165, 32]),
    ("plum", [221, 160, 221]),
    ("navy", [0, 0, 128]),
    ("indianred", [205, 92, 92]),
    ("olive", [128, 128, 0]),
];
pub(crate) const SIZE: [u32; 2] = [1200, 900];
/// What white paper reflects, as the program takes it to.
pub(crate) const PAPER: f64 = 0.87;
pub(crate) const TABLE: [f64; 3] = [0.20, 0.13, 0.08];
pub(crate) const SHEET: Rect = Rect::new(820.0, 120.0, 1120.0, 540.0);

/// The curve of IEC 61966-2-1.
pub(crate) fn to_light(byte: u8) -> f64 {
    let share = f64::from(byte) / 255.0;
    if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
}

pub(crate) fn to_byte(light: f64) -> u8 {
    let light = light.clamp(0.0, 1.0);
    let share = if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 255")]
    let byte = (255.0 * share).round() as u8;
    byte
}

/// Warm light that falls by two fifths across the picture.
pub(crate) fn lamp(at: Point) -> [f64; 3] {
    let (x, y) = (at.x / f64::from(SIZE[0]), at.y / f64::from(SIZE[1]));
    [0.98, 0.90, 0.70].map(|channel| channel * (-0.35 * x - 0.15 * y * y).exp())
}

/// A picture of what reflects so much at each place; the weave and the sensor scatter it by some hundredths, evenly over a pattern that repeats
/// nowhere near.
pub(crate) fn picture(reflects: impl Fn(Point) -> [f64; 3]) -> RgbImage {
    RgbImage::from_fn(SIZE[0], SIZE[1], |x, y| {
        let at = Point::new(f64::from(x) + 0.5, f64::from(y) + 0.5);
        let scatter = 1.0 + 0.04 * (f64::from((x * 7919 + y * 104_729) % 1009) / 1009.0 - 0.5);
        let (seen, lamp) = (reflects(at), lamp(at));
        Rgb([0, 1, 2].map(|channel| to_byte(seen[channel] * lamp[channel] * scatter)))
    })
}

/// Six squares of 120 px in two lines from a corner.
pub(crate) fn squares(left: f64, top: f64, apart: f64) -> [Rect; 6] {
    let at = |number: usize| {
        let (column, row) = ((number % 3) as f64, (number / 3) as f64);
        Rect::from_origin_size((left + apart * column, top + apart * row), (120.0, 120.0))
    };
    std::array::from_fn(at)
}

pub(crate) fn cloth(squares: &[Rect; 6], at: Point) -> Option<[f64; 3]> {
    let number = squares.iter().position(|square| square.contains(at))?;
    Some(COLOURS[number].1.map(to_light))
}

pub(crate) fn beside(squares: &[Rect; 6]) -> RgbImage {
    picture(|at| cloth(squares, at).unwrap_or(if SHEET.contains(at) { [PAPER; 3] } else { TABLE }))
}
