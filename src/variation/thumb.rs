//! A small picture to be told apart from others: the colours of the cloth on a grid.

use crate::layout::Srgb;
use crate::reveal::Picture;
use crate::reveal::colour::{Lab, LinearRgb, ciede2000};

/// Colours of a picture at every so many pixels, where there is cloth.
#[derive(Debug, Clone)]
pub(super) struct Thumb {
    colours: Vec<Option<Lab>>,
}

/// Pixels from one point that is looked at to the next, across and down.
const STEP: usize = 2;

impl Thumb {
    /// The colours of a picture.
    pub(super) fn of(picture: &Picture) -> Self {
        let rows = picture.rgba.chunks_exact((4 * picture.width).max(1)).step_by(STEP);
        let pixels = rows.flat_map(|row| row.as_chunks::<4>().0.iter().step_by(STEP));
        let colour = |&[red, green, blue, alpha]: &[u8; 4]| {
            (alpha >= 128).then(|| LinearRgb::from(Srgb { red, green, blue }).to_xyz().to_lab())
        };
        Self { colours: pixels.map(colour).collect() }
    }

    /// How far two pictures of one garment lie apart: the mean CIEDE2000 over the cloth that both show; 0 where they share none.
    pub(super) fn apart(&self, other: &Self) -> f64 {
        let both = self.colours.iter().zip(&other.colours).filter_map(|(one, other)| one.zip(*other));
        let (sum, count) = both.fold((0.0, 0_u32), |(sum, count), (one, other)| (sum + ciede2000(one, other), count + 1));
        sum / f64::from(count.max(1))
    }
}
