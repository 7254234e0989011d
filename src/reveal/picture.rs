//! The opened garment as a picture: doses to colours, front and back beside each other.

use super::colour::DyeSet;
use super::{DoseMap, Reveal};

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

/// Paints a reveal: the front, and to its right the back as seen from behind.
#[must_use]
pub fn picture(reveal: &Reveal, colours: &DyeSet) -> Picture {
    let maps: Vec<&DoseMap> = std::iter::once(&reveal.front).chain(reveal.back.as_ref()).collect();
    let width = maps.iter().map(|map| map.frame.width).sum();
    let height = maps.iter().map(|map| map.frame.height).max().unwrap_or(0);
    let mut rgba = vec![0; 4 * width * height];
    let mut left = 0;
    for map in maps {
        let mut srgb = vec![[0_u8; 3]; map.frame.width * map.frame.height];
        colours.fill_srgb(&map.doses, &map.discharged, &mut srgb);
        for (row, (colours, covered)) in srgb.chunks(map.frame.width).zip(map.coverage.chunks(map.frame.width)).enumerate() {
            for (column, (rgb, share)) in colours.iter().zip(covered).enumerate() {
                let at = 4 * (row * width + left + column);
                rgba[at..at + 3].copy_from_slice(rgb);
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share between 0 and 1")]
                let alpha = (share.clamp(0.0, 1.0) * 255.0).round() as u8;
                rgba[at + 3] = alpha;
            }
        }
        left += map.frame.width;
    }
    Picture { width, height, rgba }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reveal::{Cancel, RevealOptions, reveal_doses};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// Front and back stand beside each other; outside the cloth nothing is painted, on it everything.
    #[test]
    fn the_picture_holds_both_panels_and_nothing_else() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let reveal = reveal_doses(&layout, &RevealOptions::preview(), &Cancel::new()).unwrap();
        let picture = picture(&reveal, &DyeSet::of_layout(&layout, None));
        assert_eq!((picture.width, picture.height), (2 * reveal.front.frame.width, reveal.front.frame.height));
        let painted: f64 = picture.rgba.chunks(4).map(|pixel| f64::from(pixel[3]) / 255.0).sum();
        let pixel_mm2 = reveal.front.frame.pixel_mm * reveal.front.frame.pixel_mm;
        let cloth_mm2: f64 = layout.fold().panels().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
        assert!((painted * pixel_mm2 / cloth_mm2 - 1.0).abs() < 0.01, "{painted} pixels");
        assert_eq!(picture.rgba[3], 0, "the corner is bare");
    }
}
