//! Photographs as small pictures: scaled while they are read, so that a large one takes no more memory than a small one, and held to
//! a size before anything is reserved for them.

mod shrink;

use super::PhotoProblem;
use super::photo_file::{ending, read_bytes};
use image::metadata::Orientation;
use image::{DynamicImage, RgbaImage};
use jpeg_decoder::{CodingProcess, PixelFormat};
use shrink::Shrink;
use std::io::{Chain, Cursor, Read as _};
use std::path::Path;

/// Most pixels of a photograph: a quarter more than the largest camera in a telephone takes, 200 million (from memory, unverified).
/// Bounds the time that one takes to read.
pub const MOST_PHOTO_PIXELS: u64 = 250_000_000;
/// Most memory for reading one, bytes, beside its file. Only a JPEG in passes comes near: it is put together whole, six bytes a pixel.
/// Own choice: 111 million pixels of such a one.
pub const MOST_PHOTO_MEMORY: u64 = 640 << 20;
/// Most passes of a JPEG; encoders write about ten. Bounds the time, since a pass without content goes over every pixel. Own choice.
const MOST_PASSES: usize = 200;

/// A small picture of a photograph, turned as the camera was held.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SmallPicture {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Red, green, blue and opacity of each pixel, row by row; sRGB with straight alpha.
    pub rgba: Vec<u8>,
}

impl SmallPicture {
    /// Reads the photograph in a file with at most so many pixels along a side. The file is not looked at beyond
    /// [`MOST_PHOTO_BYTES`](super::MOST_PHOTO_BYTES), and reading takes at most [`MOST_PHOTO_MEMORY`] beside it.
    ///
    /// # Errors
    /// [`PhotoProblem`]; [`PhotoProblem::Outside`] for kinds that only other programs show.
    pub fn read(path: &Path, most: u32) -> Result<Self, PhotoProblem> {
        let bytes = read_bytes(path)?;
        match kind(&bytes) {
            Some(Kind::Png) => read_png(&bytes, most),
            Some(Kind::Jpeg) => read_jpeg(&bytes, most),
            None => Err(PhotoProblem::Outside),
        }
    }
}

/// Whether a photograph's header claims a size that can be read. One of a kind that isn't read here claims none.
pub(super) fn check_size(bytes: &[u8]) -> Result<(), PhotoProblem> {
    let checked = match kind(bytes) {
        Some(Kind::Png) => png_of(bytes).map(drop),
        Some(Kind::Jpeg) => jpeg_of(bytes).map(drop),
        None => Ok(()),
    };
    match checked {
        // Another program may show what this one can't.
        Err(PhotoProblem::Damaged | PhotoProblem::Outside) => Ok(()),
        checked => checked,
    }
}

/// The kinds that are read here.
enum Kind {
    Png,
    Jpeg,
}

fn kind(bytes: &[u8]) -> Option<Kind> {
    match ending(bytes)? {
        "png" => Some(Kind::Png),
        "jpg" => Some(Kind::Jpeg),
        _ => None,
    }
}

/// Holds a size to the limits; `bytes` is what reading it reserves.
pub(in crate::store) fn hold(width: u32, height: u32, bytes: u64) -> Result<(), PhotoProblem> {
    if u64::from(width) * u64::from(height) > MOST_PHOTO_PIXELS {
        return Err(PhotoProblem::Pixels { width, height, most: MOST_PHOTO_PIXELS });
    }
    if bytes > MOST_PHOTO_MEMORY {
        return Err(PhotoProblem::Memory { width, height, bytes, most: MOST_PHOTO_MEMORY });
    }
    Ok(())
}

/// Most bytes that a PNG's decoder holds for each pixel of a row: the row and the one before as they are stored, up to 8 each, and the
/// row as it is given out.
const PNG_BYTES_A_COLUMN: u64 = 20;

/// A decoder that has read the header.
pub(in crate::store) fn png_of(bytes: &[u8]) -> Result<png::Decoder<Cursor<&[u8]>>, PhotoProblem> {
    let limit = usize::try_from(MOST_PHOTO_MEMORY).unwrap_or(usize::MAX);
    let mut decoder = png::Decoder::new_with_limits(Cursor::new(bytes), png::Limits { bytes: limit });
    decoder.set_ignore_text_chunk(true);
    decoder.set_transformations(png::Transformations::EXPAND | png::Transformations::STRIP_16);
    let info = decoder.read_header_info().map_err(|_malformed| PhotoProblem::Damaged)?;
    hold(info.width, info.height, u64::from(info.width) * PNG_BYTES_A_COLUMN)?;
    Ok(decoder)
}

/// Reads it row by row.
fn read_png(bytes: &[u8], most: u32) -> Result<SmallPicture, PhotoProblem> {
    let mut reader = png_of(bytes)?.read_info().map_err(|_malformed| PhotoProblem::Damaged)?;
    let (width, height, interlaced) = (reader.info().width, reader.info().height, reader.info().interlaced);
    let samples = reader.output_color_type().0.samples();
    let mut shrink = Shrink::new(width, height, most);
    for place in png_rows(width, height, interlaced) {
        let row = reader.next_row().map_err(|_malformed| PhotoProblem::Damaged)?.ok_or(PhotoProblem::Damaged)?;
        for (x, pixel) in (place.left..width).step_by(place.step).zip(row.data().chunks_exact(samples)) {
            shrink.add(x, place.y, from_png(pixel));
        }
    }
    let orientation = reader.info().exif_metadata.as_deref().and_then(Orientation::from_exif_chunk);
    turned(shrink, orientation)
}

pub(in crate::store) fn from_png(pixel: &[u8]) -> [u8; 4] {
    match *pixel {
        [grey] => [grey, grey, grey, 255],
        [grey, alpha] => [grey, grey, grey, alpha],
        [red, green, blue] => [red, green, blue, 255],
        [red, green, blue, alpha] => [red, green, blue, alpha],
        _ => [0; 4],
    }
}

/// Where a row's pixels lie.
pub(in crate::store) struct RowPlace {
    pub(in crate::store) y: u32,
    pub(in crate::store) left: u32,
    pub(in crate::store) step: usize,
}

/// The rows of a PNG in the order in which they are stored. With interlacing: Adam7, seven passes, each with its first column and row
/// and its steps (ISO/IEC 15948, 8.2); a pass without pixels has no rows.
pub(in crate::store) fn png_rows(width: u32, height: u32, interlaced: bool) -> impl Iterator<Item = RowPlace> {
    const WHOLE: [(u32, u32, usize, usize); 1] = [(0, 0, 1, 1)];
    const ADAM7: [(u32, u32, usize, usize); 7] =
        [(0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)];
    let passes = if interlaced { &ADAM7[..] } else { &WHOLE[..] };
    let passes = passes.iter().filter(move |(left, ..)| *left < width);
    passes.flat_map(move |&(left, top, step, down)| (top..height).step_by(down).map(move |y| RowPlace { y, left, step }))
}

/// What ends a JPEG (ITU-T T.81, table B.1).
const JPEG_END: &[u8] = &[0xff, 0xd9];

pub(in crate::store) type JpegDecoder<'a> = jpeg_decoder::Decoder<Chain<&'a [u8], &'static [u8]>>;

/// A decoder that has read the header. A file that was cut off is ended, so that it is shown as far as it goes.
pub(in crate::store) fn jpeg_of(bytes: &[u8]) -> Result<JpegDecoder<'_>, PhotoProblem> {
    let mut decoder = jpeg_decoder::Decoder::new(bytes.chain(JPEG_END));
    decoder.read_info().map_err(jpeg_problem)?;
    let info = decoder.info().ok_or(PhotoProblem::Damaged)?;
    let (width, height) = (u32::from(info.width), u32::from(info.height));
    let pixels = u64::from(width) * u64::from(height);
    let parts: u64 = match info.pixel_format {
        PixelFormat::L8 | PixelFormat::L16 => 1,
        PixelFormat::RGB24 => 3,
        PixelFormat::CMYK32 => 4,
    };
    match info.coding_process {
        CodingProcess::DctSequential => hold(width, height, 0)?,
        // Two bytes for each part of each pixel, until the last pass has come.
        CodingProcess::DctProgressive => hold(width, height, 2 * parts * pixels)?,
        CodingProcess::Lossless => {
            hold(width, height, 0)?;
            return Err(PhotoProblem::Outside);
        }
    }
    Ok(decoder)
}

/// Refuses a JPEG of more passes than any encoder writes.
pub(in crate::store) fn check_passes(bytes: &[u8]) -> Result<(), PhotoProblem> {
    // What begins a pass can't occur within one.
    let passes = bytes.windows(2).filter(|pair| *pair == [0xff, 0xda]).count();
    if passes > MOST_PASSES { Err(PhotoProblem::Damaged) } else { Ok(()) }
}

/// Reads it at an eighth, a quarter or half of its size where that is enough.
fn read_jpeg(bytes: &[u8], most: u32) -> Result<SmallPicture, PhotoProblem> {
    let mut decoder = jpeg_of(bytes)?;
    check_passes(bytes)?;
    let wanted = u16::try_from(most).unwrap_or(u16::MAX);
    decoder.scale(wanted, wanted).map_err(jpeg_problem)?;
    let pixels = decoder.decode().map_err(jpeg_problem)?;
    let info = decoder.info().ok_or(PhotoProblem::Damaged)?;
    let (width, height) = (u32::from(info.width), u32::from(info.height));
    let mut shrink = Shrink::new(width, height, most);
    let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    for ((x, y), pixel) in places.zip(pixels.chunks_exact(info.pixel_format.pixel_bytes())) {
        shrink.add(x, y, from_jpeg(pixel));
    }
    turned(shrink, decoder.exif_data().and_then(Orientation::from_exif_chunk))
}

pub(in crate::store) fn from_jpeg(pixel: &[u8]) -> [u8; 4] {
    match *pixel {
        [grey] => [grey, grey, grey, 255],
        [red, green, blue] => [red, green, blue, 255],
        // Inks, none of which is 0: what each leaves of the light, and the black of it.
        [cyan, magenta, yellow, black] => {
            let [red, green, blue] = [cyan, magenta, yellow].map(|ink| left_by(ink, black));
            [red, green, blue, 255]
        }
        _ => [0; 4],
    }
}

fn left_by(ink: u8, black: u8) -> u8 {
    let light = u16::from(255 - ink) * u16::from(255 - black) / 255;
    u8::try_from(light).unwrap_or(u8::MAX)
}

pub(in crate::store) fn jpeg_problem(error: jpeg_decoder::Error) -> PhotoProblem {
    match error {
        jpeg_decoder::Error::Unsupported(_) => PhotoProblem::Outside,
        _ => PhotoProblem::Damaged,
    }
}

fn turned(shrink: Shrink, orientation: Option<Orientation>) -> Result<SmallPicture, PhotoProblem> {
    let (width, height, rgba) = shrink.finish();
    let mut image = DynamicImage::from(RgbaImage::from_raw(width, height, rgba).ok_or(PhotoProblem::Damaged)?);
    image.apply_orientation(orientation.unwrap_or(Orientation::NoTransforms));
    let pixels = image.into_rgba8();
    let [width, height] = [pixels.width(), pixels.height()].map(|side| side as usize);
    Ok(SmallPicture { width, height, rgba: pixels.into_raw() })
}

#[cfg(test)]
mod tests;
