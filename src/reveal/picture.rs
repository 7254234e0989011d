//! The opened garment as a picture: doses to colours, front and back beside each other.

use super::colour::DyeSet;
use super::map::{dose_colour, ground_colour};
use super::reveal::{BAND_PIXELS, frames};
use super::texture::{BandTexture, ClothTexture, Texture};
use super::{Cancel, DoseMap, PictureMap, PixelFrame, Reveal, RevealError, RevealOptions};
use crate::geometry::{Panel, PanelOutline};
use crate::layout::Layout;
use rayon::prelude::*;

/// A picture: sRGB with straight alpha, row by row. An estimate, like the doses that it shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Four bytes a pixel: red, green, blue, and how much of it is cloth.
    pub rgba: Vec<u8>,
}

impl Picture {
    /// One picture above another, both at the left, with a gap between of this many pixels that shows nothing.
    #[must_use]
    pub fn above(&self, below: &Self, gap: usize) -> Self {
        let (width, height) = (self.width.max(below.width), self.height + gap + below.height);
        let mut rgba = vec![0; 4 * width * height];
        for (picture, top) in [(self, 0), (below, self.height + gap)] {
            let rows = rgba.chunks_exact_mut((4 * width).max(1)).skip(top);
            for (row, from) in rows.zip(picture.rgba.chunks_exact((4 * picture.width).max(1))) {
                row[..from.len()].copy_from_slice(from);
            }
        }
        Self { width, height, rgba }
    }
}

/// Paints the cloth of a reveal in flat colours, as paper wants them: the front, and to its right the back as seen from behind.
#[must_use]
pub fn picture(reveal: &Reveal, colours: &DyeSet) -> Picture {
    picture_of(reveal, colours, PictureMap::Cloth, Texture::Off)
}

/// Paints a map of a reveal: the front, and to its right the back as seen from behind. Only the cloth itself is given a texture; the
/// colours of the other maps are a scale.
#[must_use]
pub fn picture_of(reveal: &Reveal, colours: &DyeSet, map: PictureMap, texture: Texture) -> Picture {
    paint(reveal, colours, map, texture, BAND_PIXELS, &Cancel::new())
}

/// As [`picture_of`], for work that may be stopped.
///
/// # Errors
/// [`RevealError::Cancelled`].
pub fn picture_until(
    reveal: &Reveal,
    colours: &DyeSet,
    map: PictureMap,
    texture: Texture,
    cancel: &Cancel,
) -> Result<Picture, RevealError> {
    let picture = paint(reveal, colours, map, texture, BAND_PIXELS, cancel);
    cancel.check()?;
    Ok(picture)
}

/// Unfolds and paints both panels in bands of so many pixels, until all are done or it is stopped.
fn paint(reveal: &Reveal, colours: &DyeSet, map: PictureMap, texture: Texture, band_pixels: usize, cancel: &Cancel) -> Picture {
    let (width, height) = size(reveal.panels());
    let mut rgba = vec![0_u8; 4 * width * height];
    let painter = Painter::new(reveal, colours, map);
    let is_textured = map == PictureMap::Cloth && texture == Texture::Faint;
    let lines = split_lines(&mut rgba, width, reveal.panels());
    reveal.panels().par_iter().zip(lines).for_each(|(&(panel, frame), mut lines)| {
        let texture = is_textured.then(|| cloth_texture(reveal, panel, frame));
        for rows in frame.bands(band_pixels).take_while(|_| !cancel.is_cancelled()) {
            // The texture's creases are seen from the rows above and below.
            let with_next = rows.start.saturating_sub(1)..(rows.end + 1).min(frame.height);
            let Some(doses) = reveal.rows(panel, frame, with_next) else { continue };
            let texture = texture.as_ref().map(|texture| texture.on(&doses));
            let lines = lines[rows.clone()].par_iter_mut();
            lines.zip(rows).for_each(|(line, row)| painter.row(&doses, texture.as_ref(), row, line));
        }
    });
    Picture { width, height, rgba }
}

/// Each panel's part of every row of a picture.
fn split_lines<'a>(rgba: &'a mut [u8], width: usize, panels: &[(Panel, PixelFrame)]) -> Vec<Vec<&'a mut [u8]>> {
    let mut lines: Vec<Vec<&mut [u8]>> = panels.iter().map(|_| Vec::new()).collect();
    for line in rgba.chunks_exact_mut((4 * width).max(1)) {
        let mut rest = line;
        for ((_, frame), lines) in panels.iter().zip(&mut lines) {
            let (own, behind) = rest.split_at_mut(4 * frame.width);
            lines.push(own);
            rest = behind;
        }
    }
    lines
}

fn cloth_texture(reveal: &Reveal, panel: Panel, frame: PixelFrame) -> ClothTexture<'_> {
    let outline = reveal.layout().panels().panel(panel).map(PanelOutline::whole);
    ClothTexture::new(panel, frame, outline, reveal.layout().process().hand.seed)
}

/// Pixels across and down of panels beside each other.
fn size(panels: &[(Panel, PixelFrame)]) -> (usize, usize) {
    let height = panels.iter().map(|(_, frame)| frame.height).max().unwrap_or(0);
    (panels.iter().map(|(_, frame)| frame.width).sum(), height)
}

/// A picture as large as the one of a layout's reveal, with nothing on it: its place is known before the doses are.
///
/// # Errors
/// [`RevealError`] when the reveal itself would refuse the size of a pixel, or their number.
pub fn bare_picture(layout: &Layout, options: &RevealOptions) -> Result<Picture, RevealError> {
    let (width, height) = size(&frames(layout, options)?);
    Ok(Picture { width, height, rgba: vec![0; 4 * width * height] })
}

/// Colours of doses, as a map has them.
pub(super) struct Painter<'a> {
    colours: &'a DyeSet,
    map: PictureMap,
    reached_dose: f64,
    /// What each field counts of its dye's dose.
    shares: Vec<f32>,
}

/// Some pixels beside each other.
pub(super) struct Pixels<'a> {
    /// Of each pixel one dose for each field of the dyes.
    pub(super) doses: &'a [f32],
    pub(super) discharged: &'a [f32],
    /// Column and row of the first.
    pub(super) first: (usize, usize),
    pub(super) pixel_mm: f64,
}

/// From stripe to stripe of the hatching, mm, but at least four pixels.
const HATCH_MM: f64 = 6.0;

impl<'a> Painter<'a> {
    pub(super) fn new(reveal: &Reveal, colours: &'a DyeSet, map: PictureMap) -> Self {
        let fields = reveal.layout().dye_fields();
        #[expect(clippy::cast_possible_truncation, reason = "a share")]
        let shares = fields.all().iter().map(|field| field.share as f32).collect();
        Self { colours, map, reached_dose: reveal.layout().process().calibration.reached_dose, shares }
    }

    /// Paints the part of a row that is cloth.
    fn row(&self, panel: &DoseMap, texture: Option<&BandTexture<'_>>, row: usize, out: &mut [u8]) {
        let pixels = panel.row(row);
        let covered = &panel.coverage[pixels.clone()];
        let Some(first) = covered.iter().position(|&share| share > 0.0) else { return };
        let end = covered.iter().rposition(|&share| share > 0.0).map_or(first, |last| last + 1);
        let cloth = pixels.start + first..pixels.start + end;
        let doses = &panel.doses[panel.dyes * cloth.start..panel.dyes * cloth.end];
        let mut rgb = vec![[0_u8; 3]; cloth.len()];
        let light = texture.map(|texture| texture.light(row, first..end));
        let pixels = Pixels { doses, discharged: &panel.discharged[cloth], first: (first, row), pixel_mm: panel.frame.pixel_mm };
        self.colour(&pixels, light.as_deref(), &mut rgb);
        let pixels = out.as_chunks_mut::<4>().0[first..end].iter_mut();
        for ((pixel, [red, green, blue]), share) in pixels.zip(rgb).zip(&covered[first..end]) {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share between 0 and 1")]
            let alpha = (share.clamp(0.0, 1.0) * 255.0).round() as u8;
            if alpha > 0 {
                *pixel = [red, green, blue, alpha];
            }
        }
    }

    /// The colours of some pixels of a row, the cloth's in this light if any is given.
    pub(super) fn colour(&self, pixels: &Pixels<'_>, light: Option<&[f32]>, rgb: &mut [[u8; 3]]) {
        match (self.map, light) {
            (PictureMap::Cloth, Some(light)) => self.colours.fill_srgb_lit(pixels.doses, pixels.discharged, light, rgb),
            (PictureMap::Cloth, None) => self.colours.fill_srgb(pixels.doses, pixels.discharged, rgb),
            (PictureMap::DoseReached, _) => self.dose_reached(pixels, rgb),
            (PictureMap::GroundLeft, _) => {
                rgb.iter_mut().zip(pixels.discharged).for_each(|(rgb, gone)| *rgb = ground_colour(1.0 - gone));
            }
        }
    }

    fn dose_reached(&self, pixels: &Pixels<'_>, rgb: &mut [[u8; 3]]) {
        let spacing = (HATCH_MM / pixels.pixel_mm).max(4.0);
        let dyes = pixels.doses.len() / rgb.len().max(1);
        for (index, rgb) in rgb.iter_mut().enumerate() {
            let dose: f32 = pixels.doses[dyes * index..][..dyes].iter().zip(&self.shares).map(|(dose, share)| share * dose).sum();
            let along = (pixels.first.0 + index + pixels.first.1) as f64 / spacing;
            *rgb = if f64::from(dose) >= self.reached_dose {
                dose_colour(dose)
            } else {
                PictureMap::HATCH[usize::from(along.fract() >= 0.5)]
            };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reveal::{Cancel, RevealOptions, reveal_doses};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// Front and back stand beside each other; outside the cloth nothing is painted, on it everything.
    #[test]
    fn every_map_holds_both_panels_and_nothing_else() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let reveal = reveal_doses(&layout, &RevealOptions::preview(), &Cancel::new()).unwrap();
        let colours = DyeSet::of_layout(&layout, None);
        let cloth_mm2: f64 = layout.panels().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
        for map in PictureMap::ALL {
            let picture = picture_of(&reveal, &colours, map, Texture::Faint);
            let (_, frame) = reveal.panels()[0];
            assert_eq!((picture.width, picture.height), (2 * frame.width, frame.height));
            let painted: f64 = picture.rgba.chunks(4).map(|pixel| f64::from(pixel[3]) / 255.0).sum();
            let pixel_mm2 = frame.pixel_mm * frame.pixel_mm;
            assert!((painted * pixel_mm2 / cloth_mm2 - 1.0).abs() < 0.01, "{map:?}: {painted} pixels");
            assert_eq!(picture.rgba[3], 0, "the corner is bare");
            let bare = bare_picture(&layout, &RevealOptions::preview()).unwrap();
            assert_eq!((bare.width, bare.height, bare.rgba.len()), (picture.width, picture.height, picture.rgba.len()));
        }
    }

    /// What is hatched is what the reached dose leaves out, and nothing else has the hatching's greys.
    #[test]
    fn what_is_not_reached_is_hatched() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let reveal = reveal_doses(&layout, &RevealOptions::preview(), &Cancel::new()).unwrap();
        let picture = picture_of(&reveal, &DyeSet::of_layout(&layout, None), PictureMap::DoseReached, Texture::Faint);
        let (front, mut hatched) = (reveal.map(Panel::Front).unwrap(), 0);
        for (row, pixels) in picture.rgba.chunks(4 * picture.width).enumerate() {
            for (column, pixel) in pixels.chunks(4).enumerate().take(front.frame.width).filter(|(_, pixel)| pixel[3] > 0) {
                let dose: f32 = front.doses[front.dyes * (row * front.frame.width + column)..][..front.dyes].iter().sum();
                let is_hatched = PictureMap::HATCH.iter().any(|grey| grey == &pixel[..3]);
                assert_eq!(is_hatched, f64::from(dose) < layout.process().calibration.reached_dose, "{dose}");
                hatched += u32::from(is_hatched);
            }
        }
        assert!(hatched > 0, "the inside of the rod stays bare somewhere");
    }

    /// Painted in bands a picture has the same bytes as in one piece, however narrow the bands are, and their doses are the panel's.
    #[test]
    fn bands_do_not_show() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let reveal = reveal_doses(&layout, &RevealOptions::preview(), &Cancel::new()).unwrap();
        let colours = DyeSet::of_layout(&layout, None);
        let in_bands = |pixels: usize, map| paint(&reveal, &colours, map, Texture::Faint, pixels, &Cancel::new());
        for map in PictureMap::ALL {
            let whole = in_bands(usize::MAX, map);
            for pixels in [1, 7 * reveal.panels()[0].1.width, 20_000] {
                assert!(in_bands(pixels, map) == whole, "{map:?} in bands of {pixels}");
            }
        }
        for &(panel, frame) in reveal.panels() {
            let (whole, band) = (reveal.map(panel).unwrap(), reveal.rows(panel, frame, 50..61).unwrap());
            let pixels = whole.row(50).start..whole.row(60).end;
            assert!(band.coverage == whole.coverage[pixels.clone()] && band.relief == whole.relief[pixels.clone()]);
            assert!(band.doses == whole.doses[3 * pixels.start..3 * pixels.end], "{panel:?}");
        }
    }

    /// A stopped picture is none.
    #[test]
    fn painting_stops_when_asked() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let reveal = reveal_doses(&layout, &RevealOptions::preview(), &Cancel::new()).unwrap();
        let (colours, cancel) = (DyeSet::of_layout(&layout, None), Cancel::new());
        cancel.cancel();
        let stopped = picture_until(&reveal, &colours, PictureMap::Cloth, Texture::Faint, &cancel);
        assert_eq!(stopped, Err(RevealError::Cancelled));
    }

    #[test]
    fn two_pictures_stand_one_above_the_other() {
        let picture = |width: usize, height: usize, value: u8| Picture { width, height, rgba: vec![value; 4 * width * height] };
        let both = picture(2, 1, 7).above(&picture(1, 2, 9), 1);
        assert_eq!((both.width, both.height), (2, 4));
        let first_of_pixels: Vec<u8> = both.rgba.chunks(4).map(|pixel| pixel[0]).collect();
        assert_eq!(first_of_pixels, [7, 7, 0, 0, 9, 0, 9, 0]);
    }
}
