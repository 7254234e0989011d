//! Pictures as files that know their size.

use crate::reveal::Picture;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};

/// A picture that can't be encoded.
#[derive(Debug, thiserror::Error)]
pub struct PictureError(#[from] png::EncodingError);

displayed_as_in_files!(PictureError);

impl Refused for PictureError {
    fn told(&self, _voice: Voice) -> Told {
        Told::new(format!("the picture could not be made: {}", self.0), "choose another size of pixel")
    }
}

/// A picture as PNG, with the size of its pixels (mm) on the cloth, so that it prints true to size.
///
/// # Errors
/// What the encoder refuses: a picture without pixels.
pub fn picture_png(picture: &Picture, pixel_mm: f64) -> Result<Vec<u8>, PictureError> {
    let mut bytes = Vec::new();
    let size = |pixels: usize| u32::try_from(pixels).unwrap_or(u32::MAX);
    let mut encoder = png::Encoder::new(&mut bytes, size(picture.width), size(picture.height));
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_depth(png::BitDepth::Eight);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "saturates; pixels are between 0.05 and 50 mm")]
    let per_metre = (1000.0 / pixel_mm).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit: png::Unit::Meter }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&picture.rgba)?;
    writer.finish()?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_reads_back_with_its_pixels_and_its_size() {
        let picture = Picture { width: 2, height: 1, rgba: vec![1, 2, 3, 255, 9, 8, 7, 0] };
        let bytes = picture_png(&picture, 0.5).unwrap();
        let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
        let mut rgba = vec![0; 8];
        reader.next_frame(&mut rgba).unwrap();
        let size = reader.info().pixel_dims.unwrap();
        assert_eq!((rgba, size.xppu, size.yppu, size.unit), (picture.rgba, 2000, 2000, png::Unit::Meter));
    }
}
