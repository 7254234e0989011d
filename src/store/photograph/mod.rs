//! Photographs to be measured: read upright, in linear light, their embedded profile honoured, no larger than serves, and held to a size before
//! anything is reserved for them.

mod boxes;
mod decode;
mod error;
mod profile;

pub use error::{PhotographError, PhotographProblem};

use super::journal::{ending, read_bytes};
use crate::photo::{KeptPixels, Photograph};
use crate::srgb::light_of_channel;
use boxes::Boxed;
use image::metadata::Orientation;
use image::{DynamicImage, ImageBuffer, Rgb};
use kurbo::Point;
use std::path::Path;

/// Endings of the files that photographs to be measured are read from.
pub const PHOTOGRAPH_ENDINGS: [&str; 6] = ["jpg", "jpeg", "png", "webp", "tif", "tiff"];

/// Whether a file's name is that of a photograph, of a kind that can be measured or one that is told how to become it.
#[must_use]
pub fn is_named_photograph(path: &Path) -> bool {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default();
    PHOTOGRAPH_ENDINGS.contains(&&*ending) || ["heic", "heif"].contains(&&*ending)
}

/// Reads the photograph in a file: JPEG, PNG, WebP or TIFF.
///
/// # Errors
/// [`PhotographError`] naming the file, what is wrong, and for kinds that are not read here the way to one that is.
pub fn read_photograph(path: &Path) -> Result<Photograph, PhotographError> {
    let wrong = |problem| PhotographError { path: path.to_owned(), problem };
    let bytes = read_bytes(path).map_err(|problem| wrong(problem.into()))?;
    photograph_of(&bytes).map_err(wrong)
}

/// The photograph of a file's content.
///
/// # Errors
/// [`PhotographProblem`].
pub fn photograph_of(bytes: &[u8]) -> Result<Photograph, PhotographProblem> {
    let decoded = match ending(bytes) {
        Some("jpg") => decode::jpeg(bytes),
        Some("png") => decode::png(bytes),
        Some("webp") => decode::webp(bytes),
        Some("tif") => decode::tiff(bytes),
        Some("heic") => Err(PhotographProblem::Heic),
        _ => Err(PhotographProblem::Kind),
    };
    let decode::Decoded { mut boxed, orientation, profile } = decoded?;
    if let Some(profile) = profile {
        profile::to_srgb(&mut boxed.rgb, &profile)?;
    }
    upright(boxed, orientation)
}

/// Turned as the camera was held, and from what files say to light.
fn upright(boxed: Boxed, orientation: Orientation) -> Result<Photograph, PhotographProblem> {
    let Boxed { whole, step, kept: [across, down], rgb } = boxed;
    let short = [across, down].map(|cells| i64::from(cells) * i64::from(step));
    let short = [i64::from(whole[0]) - short[0], i64::from(whole[1]) - short[1]];
    let damaged = || PhotographProblem::Photo(super::journal::PhotoProblem::Damaged);
    let buffer = ImageBuffer::<Rgb<u16>, Vec<u16>>::from_raw(across, down, rgb).ok_or_else(damaged)?;
    let mut image = DynamicImage::ImageRgb16(buffer);
    image.apply_orientation(orientation);
    let buffer = image.into_rgb16();
    let width = buffer.width() as usize;
    let curve: Vec<f32> = (0..=u16::MAX).map(light_of).collect();
    let light = buffer.into_raw().as_chunks::<3>().0.iter().map(|rgb| rgb.map(|channel| curve[usize::from(channel)])).collect();
    let (is_upended, [right, bottom]) = ends(orientation);
    let (whole, short) = if is_upended { ([whole[1], whole[0]], [short[1], short[0]]) } else { (whole, short) };
    // A picture that is no whole number of steps is counted from its other end once it is turned.
    let first = |is_end: bool, short: i64| if is_end { short as f64 } else { 0.0 };
    let first = Point::new(first(right, short[0]), first(bottom, short[1]));
    Photograph::new(whole, KeptPixels { width, light, step, first }).ok_or_else(damaged)
}

#[expect(clippy::cast_possible_truncation, reason = "light is kept in single precision")]
fn light_of(channel: u16) -> f32 {
    light_of_channel(f64::from(channel) / f64::from(u16::MAX)) as f32
}

/// Whether width and height change places, and whether x and y of the upright picture are counted from what was the end of the file's.
const fn ends(orientation: Orientation) -> (bool, [bool; 2]) {
    match orientation {
        Orientation::NoTransforms => (false, [false, false]),
        Orientation::FlipHorizontal => (false, [true, false]),
        Orientation::FlipVertical => (false, [false, true]),
        Orientation::Rotate180 => (false, [true, true]),
        Orientation::Rotate90FlipH => (true, [false, false]),
        Orientation::Rotate90 => (true, [true, false]),
        Orientation::Rotate270 => (true, [false, true]),
        Orientation::Rotate270FlipH => (true, [true, true]),
    }
}

#[cfg(test)]
mod tests;
