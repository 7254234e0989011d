//! The sections in their colours, as a picture to be laid on the cloth.

use super::scene::Scene;
use crate::app::screen::screen;
use crate::layout::{Layout, Srgb};
use egui::{Color32, ColorImage, Context, TextureHandle, TextureId, TextureOptions};
use kurbo::{Point, Rect};
use std::sync::Arc;

/// Pixels along the picture's longer side: fine enough under the thread that covers every edge.
const PIXELS: u16 = 640;
/// How much of a section's colour shows over the cloth's own.
const STRENGTH: f32 = 0.86;

/// The picture and what it was made from.
#[derive(Default)]
pub(super) struct Tint {
    made: Option<(Arc<Layout>, Rect, Color32)>,
    texture: Option<TextureHandle>,
}

impl std::fmt::Debug for Tint {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Tint").finish_non_exhaustive()
    }
}

impl Tint {
    /// The picture for a scene, made anew when layout, bounds or cloth changed.
    pub(super) fn texture(&mut self, layout: &Arc<Layout>, scene: &Scene, cloth: Color32, ctx: &Context) -> TextureId {
        let is_made = |(made, bounds, tone): &(Arc<Layout>, Rect, Color32)| {
            Arc::ptr_eq(made, layout) && *bounds == scene.bounds && *tone == cloth
        };
        if let Some(texture) = self.texture.as_ref().filter(|_| self.made.as_ref().is_some_and(is_made)) {
            return texture.id();
        }
        self.made = Some((layout.clone(), scene.bounds, cloth));
        let image = picture(layout, scene.bounds, cloth, PIXELS);
        let texture = match self.texture.take() {
            Some(mut texture) => {
                texture.set(image, TextureOptions::LINEAR);
                texture
            }
            None => ctx.load_texture("sections", image, TextureOptions::LINEAR),
        };
        let id = texture.id();
        self.texture = Some(texture);
        id
    }
}

/// Every section in its colour over `bounds` (mm, the garment's frame), `pixels` along the longer side.
pub(crate) fn picture(layout: &Layout, bounds: Rect, cloth: Color32, pixels: u16) -> ColorImage {
    let (fold, lay) = (layout.fold(), layout.lay());
    let mm = bounds.width().max(bounds.height()) / f64::from(pixels);
    let rotation = &layout.raw().colours.rotation;
    let tones: Vec<Color32> = layout
        .section_colours()
        .iter()
        .map(|colour| colour.and_then(|index| rotation.get(index)).map_or(cloth, |swatch| over(cloth, swatch.srgb)))
        .collect();
    let edges: Vec<f64> = layout.binds().binds.iter().map(|bind| bind.radius_mm).collect();
    let tone = |p: Point| {
        let along_mm = fold.along_as_laid_mm(lay.plane_as_laid(p));
        // Beyond a puck's last band its first wedge goes on.
        tones.get(edges.partition_point(|&edge| edge <= along_mm) % tones.len().max(1)).copied().unwrap_or(cloth)
    };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at least 1 and at most `pixels`")]
    let count = |length_mm: f64| (length_mm / mm).ceil().clamp(1.0, f64::from(pixels)) as u16;
    let (width, height) = (count(bounds.width()), count(bounds.height()));
    let at = |index: u16, count: u16, length_mm: f64| (f64::from(index) + 0.5) * length_mm / f64::from(count);
    let rows = (0..height).flat_map(|row| {
        let y = bounds.y0 + at(row, height, bounds.height());
        (0..width).map(move |column| Point::new(bounds.x0 + at(column, width, bounds.width()), y))
    });
    ColorImage::new([width.into(), height.into()], rows.map(tone).collect())
}

fn over(cloth: Color32, colour: Srgb) -> Color32 {
    cloth.lerp_to_gamma(crate::app::theme::tone(colour), screen(f64::from(STRENGTH)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// A ring's colour begins at the bind inside it and ends at the bind outside it.
    #[test]
    fn every_section_has_its_colour_between_its_binds() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let centre = layout.burst().unwrap().centre();
        let bounds = Rect::new(-300.0, centre.y - 300.0, 300.0, centre.y + 300.0);
        let image = picture(&layout, bounds, Color32::BLACK, 600);
        let colours = layout.section_colours();
        for (index, pair) in layout.binds().binds.windows(2).enumerate().filter(|(_, pair)| pair[1].radius_mm < 290.0) {
            for radius_mm in [pair[0].radius_mm + 1.5, pair[1].radius_mm - 1.5] {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pixel of the picture")]
                let pixel = image[((300.0 + radius_mm) as usize, 300)];
                let swatch = &layout.raw().colours.rotation[colours[index + 1].unwrap()];
                assert_eq!(pixel, over(Color32::BLACK, swatch.srgb), "section {} at {radius_mm} mm", index + 2);
            }
        }
    }
}
