//! From a file's bytes to a picture that is small enough, with what the file says of its orientation and colours.

use super::PhotographProblem;
use super::boxes::{Boxed, Boxes, step_for};
use crate::store::journal::{
    MOST_PHOTO_MEMORY, PhotoProblem, check_passes, from_jpeg, from_png, hold, jpeg_of, jpeg_problem, png_of, png_rows,
};
use image::codecs::{tiff::TiffDecoder, webp::WebPDecoder};
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, Limits};
use std::io::Cursor;

/// A picture as its file says it.
pub(super) struct Decoded {
    pub(super) boxed: Boxed,
    pub(super) orientation: Orientation,
    pub(super) profile: Option<Vec<u8>>,
}

/// From 8 bits to 16.
fn wide([red, green, blue, _opacity]: [u8; 4]) -> [u16; 3] {
    [red, green, blue].map(|channel| 257 * u16::from(channel))
}

pub(super) fn jpeg(bytes: &[u8]) -> Result<Decoded, PhotographProblem> {
    let mut decoder = jpeg_of(bytes)?;
    check_passes(bytes)?;
    // The decoder takes a file that breaks off for a whole one.
    if !has_end(bytes) {
        return Err(PhotoProblem::Damaged.into());
    }
    let info = decoder.info().ok_or(PhotoProblem::Damaged)?;
    let (width, height) = (info.width, info.height);
    let step = step_for(u32::from(width), u32::from(height));
    // The decoder makes it smaller by powers of two itself.
    let own = if step.is_power_of_two() { u16::try_from(step).unwrap_or(1) } else { 1 };
    decoder.scale(width.div_ceil(own), height.div_ceil(own)).map_err(jpeg_problem)?;
    let pixels = decoder.decode().map_err(jpeg_problem)?;
    let info = decoder.info().ok_or(PhotoProblem::Damaged)?;
    let kept = [u32::from(info.width), u32::from(info.height)];
    let whole = [u32::from(width), u32::from(height)];
    let is_scaled = kept == whole.map(|side| side.div_ceil(u32::from(own)));
    let mut boxes = Boxes::new(kept[0], kept[1], if is_scaled { step / u32::from(own) } else { 1 });
    let places = (0..kept[1]).flat_map(|y| (0..kept[0]).map(move |x| (x, y)));
    for ((x, y), pixel) in places.zip(pixels.chunks_exact(info.pixel_format.pixel_bytes())) {
        boxes.add(x, y, wide(from_jpeg(pixel)));
    }
    drop(pixels);
    if !is_scaled {
        return Err(PhotoProblem::Damaged.into());
    }
    let boxed = Boxed { whole, step, ..boxes.finish() };
    let orientation = decoder.exif_data().and_then(Orientation::from_exif_chunk).unwrap_or(Orientation::NoTransforms);
    Ok(Decoded { boxed, orientation, profile: decoder.icc_profile() })
}

/// Whether a JPEG goes on to its end: in the data of a picture, which follow its segments, FF stands before D9 only there (ITU-T T.81, B.1.1).
fn has_end(bytes: &[u8]) -> bool {
    const START_OF_SCAN: u8 = 0xda;
    let mut at = 2;
    while let Some([0xff, marker, high, low]) = bytes.get(at..at + 4) {
        let length = usize::from(u16::from_be_bytes([*high, *low]));
        at += 2 + length;
        if *marker == START_OF_SCAN {
            return bytes.get(at..).is_some_and(|data| data.windows(2).any(|pair| pair == [0xff, 0xd9]));
        }
    }
    // Fill bytes or markers without a length: for the decoder to read.
    true
}

pub(super) fn png(bytes: &[u8]) -> Result<Decoded, PhotographProblem> {
    let damaged = |_malformed| PhotoProblem::Damaged;
    let mut reader = png_of(bytes)?.read_info().map_err(damaged)?;
    let (width, height, interlaced) = (reader.info().width, reader.info().height, reader.info().interlaced);
    let samples = reader.output_color_type().0.samples();
    let mut boxes = Boxes::new(width, height, step_for(width, height));
    for place in png_rows(width, height, interlaced) {
        let row = reader.next_row().map_err(damaged)?.ok_or(PhotoProblem::Damaged)?;
        for (x, pixel) in (place.left..width).step_by(place.step).zip(row.data().chunks_exact(samples)) {
            boxes.add(x, place.y, wide(from_png(pixel)));
        }
    }
    let orientation = reader.info().exif_metadata.as_deref().and_then(Orientation::from_exif_chunk);
    let profile = reader.info().icc_profile.as_deref().map(<[u8]>::to_vec);
    Ok(Decoded { boxed: boxes.finish(), orientation: orientation.unwrap_or(Orientation::NoTransforms), profile })
}

pub(super) fn webp(bytes: &[u8]) -> Result<Decoded, PhotographProblem> {
    whole(WebPDecoder::new(Cursor::new(bytes)).map_err(|_malformed| PhotoProblem::Damaged)?)
}

pub(super) fn tiff(bytes: &[u8]) -> Result<Decoded, PhotographProblem> {
    whole(TiffDecoder::new(Cursor::new(bytes)).map_err(|_malformed| PhotoProblem::Damaged)?)
}

/// Most bytes for each pixel of a picture that is decoded whole: its decoder's own, its samples, and the same as three of 16 bits.
const BYTES_A_PIXEL: u64 = 16;

fn whole(mut decoder: impl ImageDecoder) -> Result<Decoded, PhotographProblem> {
    let (width, height) = decoder.dimensions();
    hold(width, height, (u64::from(width) * u64::from(height) * BYTES_A_PIXEL).max(2 * decoder.total_bytes()))?;
    let damaged = |_malformed| PhotoProblem::Damaged;
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_PHOTO_MEMORY);
    decoder.set_limits(limits).map_err(damaged)?;
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let profile = decoder.icc_profile().unwrap_or_default();
    let picture = DynamicImage::from_decoder(decoder).map_err(damaged)?.into_rgb16();
    let mut boxes = Boxes::new(width, height, step_for(width, height));
    for (x, y, pixel) in picture.enumerate_pixels() {
        boxes.add(x, y, pixel.0);
    }
    Ok(Decoded { boxed: boxes.finish(), orientation, profile })
}
