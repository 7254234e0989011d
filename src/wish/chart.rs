//! A wish and what comes of it as pictures of the opened garment: each pixel in the colour of its distance from the centre or the line.

use super::error::WishError;
use super::reached::ProfileRow;
use super::shelf::Shelf;
use super::target::Target;
use super::wish::Wish;
use crate::geometry::{ClothPoint, Panel};
use crate::layout::{Layout, Srgb};
use crate::reveal::{Picture, PixelFrame, RevealError, RevealOptions, panel_frames};
use rayon::prelude::*;

/// How far each pixel of the opened garment lies from the burst centre, or from the line: front, and to its right the back as seen from behind.
#[derive(Debug, Clone, PartialEq)]
pub struct Chart {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Distances, mm, row by row; none where there is no cloth of the bundle.
    at_mm: Vec<Option<f32>>,
}

impl Chart {
    /// Finds them for pixels of this size, mm.
    ///
    /// # Errors
    /// [`RevealError`] for pixels that no reveal could have.
    pub fn of(layout: &Layout, pixel_mm: f64) -> Result<Self, RevealError> {
        let frames = panel_frames(layout, &RevealOptions { pixel_mm, ..RevealOptions::default() })?;
        let height = frames.iter().map(|(_, frame)| frame.height).max().unwrap_or_default();
        let row = |row: usize| {
            frames.iter().flat_map(move |&(panel, frame)| (0..frame.width).map(move |column| (panel, frame, column, row)))
        };
        let places = (0..height).into_par_iter().flat_map_iter(row);
        let at_mm = places.map(|(panel, frame, column, row)| distance_mm(layout, panel, &frame, [column, row])).collect();
        Ok(Self { width: frames.iter().map(|(_, frame)| frame.width).sum(), height, at_mm })
    }

    /// The distance at a pixel, mm.
    #[must_use]
    pub fn at_mm(&self, column: usize, row: usize) -> Option<f64> {
        let at = Some(row * self.width + column).filter(|_| column < self.width)?;
        self.at_mm.get(at).copied().flatten().map(f64::from)
    }

    /// A picture with these colours by distance; nothing where there is no cloth.
    #[must_use]
    pub fn picture(&self, colour: impl Fn(f64) -> Srgb + Sync) -> Picture {
        let mut rgba = vec![0; 4 * self.at_mm.len()];
        rgba.par_chunks_exact_mut(4).zip(&self.at_mm).for_each(|(pixel, at_mm)| {
            if let Some(at_mm) = at_mm {
                let Srgb { red, green, blue } = colour(f64::from(*at_mm));
                pixel.copy_from_slice(&[red, green, blue, 255]);
            }
        });
        Picture { width: self.width, height: self.height, rgba }
    }
}

fn distance_mm(layout: &Layout, panel: Panel, frame: &PixelFrame, [column, row]: [usize; 2]) -> Option<f32> {
    let drawn = frame.middle(column, row);
    // The back is drawn as seen from behind.
    let x_mm = if panel == Panel::Back { -drawn.x } else { drawn.x };
    let cloth = ClothPoint { panel, x_mm, y_mm: drawn.y };
    let there = layout.fold().to_bundle(cloth).filter(|_| layout.fold().has_cloth(cloth))?;
    #[expect(clippy::cast_possible_truncation, reason = "a picture's distances")]
    Some((there.along_mm - layout.zero_mm()) as f32)
}

/// What a wish asks for, millimetre by millimetre.
#[derive(Debug, Clone, PartialEq)]
pub struct Sketch {
    rows: Vec<Option<Srgb>>,
    zero_mm: f64,
    /// Cloth without dye: what comes where nothing is wished.
    pub bare: Srgb,
}

impl Sketch {
    /// The sketch of a wish on a layout.
    ///
    /// # Errors
    /// [`WishError`] for what can't be wished of it.
    pub fn of(wish: &Wish, layout: &Layout) -> Result<Self, WishError> {
        wish.check_on(layout)?;
        let shelf = Shelf::of(&wish.dyes, layout)?;
        let zero_mm = layout.zero_mm();
        let target = Target::of(wish, &shelf, zero_mm, layout.fold().length_mm());
        let wished = target.rows.iter().map(|row| row.map(|wanted| wanted.colour.to_srgb()));
        Ok(Self { rows: wished.collect(), zero_mm, bare: shelf.bare().to_srgb() })
    }

    /// What is wished at a distance, mm: beyond an edge that no other part shares the garment's own colour.
    #[must_use]
    pub fn at(&self, at_mm: f64) -> Option<Srgb> {
        self.rows.get(row_of(at_mm + self.zero_mm)?).copied().flatten()
    }
}

/// The row of a profile at a distance, mm.
#[must_use]
pub fn profile_at(profile: &[ProfileRow], at_mm: f64) -> Option<&ProfileRow> {
    let first_mm = profile.first()?.at_mm - 0.5;
    profile.get(row_of(at_mm - first_mm)?)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked to be a place; casts saturate")]
fn row_of(mm: f64) -> Option<usize> {
    (mm >= 0.0).then_some(mm as usize)
}

/// From white, where a colour is as wished, to a dark red at a CIEDE2000 of [`MOST_SHOWN`] or more.
#[must_use]
pub fn difference_colour(off: f64) -> Srgb {
    let share = (off / MOST_SHOWN).clamp(0.0, 1.0);
    let channel = |from: f64, to: f64| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 255")]
        let byte = (from + share * (to - from)).round() as u8;
        byte
    };
    Srgb { red: channel(255.0, 122.0), green: channel(255.0, 12.0), blue: channel(255.0, 18.0) }
}

/// The CIEDE2000 that is shown in the darkest colour: as far as navy from teal, about (own choice).
pub const MOST_SHOWN: f64 = 20.0;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// Distances of a burst are those of plane geometry, on the back mirrored.
    #[test]
    fn a_pixel_lies_as_far_from_the_centre_as_it_is_drawn() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let chart = Chart::of(&layout, 8.0).unwrap();
        let frames = panel_frames(&layout, &RevealOptions { pixel_mm: 8.0, ..RevealOptions::default() }).unwrap();
        let (front, centre) = (frames[0].1, layout.middle().unwrap());
        assert_eq!(chart.width, 2 * front.width);
        let mut seen = 0;
        for (column, row) in (0..chart.width).flat_map(|column| (0..chart.height).map(move |row| (column, row))) {
            let Some(at_mm) = chart.at_mm(column, row) else { continue };
            let drawn = front.middle(column % front.width, row);
            assert!((drawn.distance(centre) - at_mm).abs() < 1e-3, "{column}, {row}");
            seen += 1;
        }
        assert!(seen > 5000, "{seen}");
        let half = chart.picture(|at_mm| difference_colour(if at_mm < 100.0 { 0.0 } else { 90.0 }));
        assert_eq!(half.rgba.chunks_exact(4).filter(|pixel| pixel[3] == 255).count(), seen);
        assert_eq!(chart.at_mm(chart.width, 0), None);
    }
}
