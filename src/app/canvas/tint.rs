//! The sections in their colours, as a picture to be laid on the cloth.

use super::scene::Scene;
use crate::app::screen::screen;
use crate::app::theme::tone;
use crate::geometry::{Block, Bundle as _, ClothPoint, Panel};
use crate::layout::{Layout, Srgb};
use crate::reveal::colour::Ground;
use egui::{Color32, ColorImage, Context, TextureHandle, TextureId, TextureOptions};
use kurbo::{BezPath, Point, Rect, Shape as _};
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

/// Every section and every dip in its colour over `bounds` (mm, the garment's frame), what blocks hold as it was; `pixels` along the longer
/// side.
pub(crate) fn picture(layout: &Layout, bounds: Rect, cloth: Color32, pixels: u16) -> ColorImage {
    let tones = Tones::of(layout, cloth);
    let mm = bounds.width().max(bounds.height()) / f64::from(pixels);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at least 1 and at most `pixels`")]
    let count = |length_mm: f64| (length_mm / mm).ceil().clamp(1.0, f64::from(pixels)) as u16;
    let (width, height) = (count(bounds.width()), count(bounds.height()));
    let at = |index: u16, count: u16, length_mm: f64| (f64::from(index) + 0.5) * length_mm / f64::from(count);
    let rows = (0..height).flat_map(|row| {
        let y = bounds.y0 + at(row, height, bounds.height());
        (0..width).map(move |column| Point::new(bounds.x0 + at(column, width, bounds.width()), y))
    });
    ColorImage::new([width.into(), height.into()], rows.map(|at| tones.at(at)).collect())
}

/// What a layout's cloth is coloured with.
struct Tones<'a> {
    layout: &'a Layout,
    /// The cloth as it was.
    cloth: Color32,
    /// The distance along the fold up to which each section goes, mm, and its colour.
    edges_mm: Vec<f64>,
    sections: Vec<Color32>,
    /// What blocks hold, in the bundle's frame.
    held: Option<BezPath>,
    dips: Vec<Color32>,
    /// Of several ties each one's, and the loose cloth's colour.
    ties: Vec<Self>,
    loose: Color32,
}

impl<'a> Tones<'a> {
    fn of(layout: &'a Layout, cloth: Color32) -> Self {
        let is_known = layout.process().discharge.is_some() && layout.raw().garment.colour.is_some();
        let ground = if is_known { tone(Ground::of_layout(layout).discharged) } else { cloth };
        let rotation = &layout.raw().colours.rotation;
        let dyed = |index: usize| rotation.get(index).map_or(ground, |swatch| over(ground, swatch.srgb));
        let loose = layout.loose().and_then(|loose| loose.swatch);
        let ties = if layout.is_of_several() { layout.ties() } else { &[] };
        Self {
            layout,
            cloth,
            edges_mm: layout.binds().binds.iter().map(|bind| bind.radius_mm).collect(),
            sections: layout.section_colours().iter().map(|colour| colour.map_or(ground, dyed)).collect(),
            held: layout.blocks().map(Block::path),
            dips: layout.dips().iter().map(|dip| dyed(dip.colour)).collect(),
            ties: ties.iter().map(|tie| Self::of(tie, cloth)).collect(),
            loose: loose.map_or(ground, |swatch| over(ground, swatch.srgb)),
        }
    }

    /// The colour of the front at a place of the garment's frame.
    fn at(&self, at: Point) -> Color32 {
        if !self.ties.is_empty() {
            let cloth = ClothPoint { panel: Panel::Front, x_mm: at.x, y_mm: at.y };
            let holds = |tie: &&Self| tie.layout.tied_fold().is_some_and(|fold| fold.taken().holds(cloth));
            return self.ties.iter().find(holds).map_or(self.loose, |tie| tie.at(at));
        }
        let in_bundle = self.layout.flat().filter(|_| self.held.is_some() || !self.dips.is_empty()).and_then(|flat| {
            let place = flat.to_bundle(ClothPoint { panel: Panel::Front, x_mm: at.x, y_mm: at.y })?;
            Some((place, Point::new(place.along_mm, place.across * flat.size().height)))
        });
        if let Some((place, in_frame)) = in_bundle {
            if self.held.as_ref().is_some_and(|held| held.contains(in_frame)) {
                return self.cloth;
            }
            let dips = self.layout.dips().iter().zip(&self.dips);
            if let Some((_, colour)) = dips.rev().find(|(dip, _)| dip.zone.holds(place)) {
                return *colour;
            }
        }
        let along_mm = self.layout.fold().along_as_laid_mm(self.layout.lay().plane_as_laid(at));
        // Beyond a puck's last band its first wedge goes on.
        let section = self.edges_mm.partition_point(|&edge_mm| edge_mm <= along_mm) % self.sections.len().max(1);
        self.sections.get(section).copied().unwrap_or(self.cloth)
    }
}

fn over(cloth: Color32, colour: Srgb) -> Color32 {
    cloth.lerp_to_gamma(tone(colour), screen(f64::from(STRENGTH)))
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
        let ground =
            if layout.process().discharge.is_some() { tone(Ground::of_layout(&layout).discharged) } else { Color32::BLACK };
        for (index, pair) in layout.binds().binds.windows(2).enumerate().filter(|(_, pair)| pair[1].radius_mm < 290.0) {
            for radius_mm in [pair[0].radius_mm + 1.5, pair[1].radius_mm - 1.5] {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pixel of the picture")]
                let pixel = image[((300.0 + radius_mm) as usize, 300)];
                let swatch = &layout.raw().colours.rotation[colours[index + 1].unwrap()];
                assert_eq!(pixel, over(ground, swatch.srgb), "section {} at {radius_mm} mm", index + 2);
            }
        }
    }

    /// Of dipped cloth as much has a dip's colour as lies in dye, of clamped cloth as much keeps its own as lies under blocks.
    #[test]
    fn dips_and_blocks_take_their_share_of_the_cloth() {
        for (name, is_dipped) in [("harbour-row-triangle-pillowcase.ron", true), ("harbour-row-reverse-tote.ron", false)] {
            let text = EXAMPLE_LAYOUTS.iter().find(|example| example.name == name).unwrap().text;
            let mut raw = parse_layout(text).unwrap().raw().clone();
            raw.blocks = raw.blocks.filter(|_| !is_dipped);
            let layout = Layout::try_from(raw).unwrap();
            let flat = layout.flat().unwrap();
            let front = layout.panels().front.whole().path().clone();
            let bounds = front.bounding_box();
            let image = picture(&layout, bounds, Color32::BLACK, 900);
            let [width, height] = image.size;
            let pixel_mm2 = bounds.area() / (width * height) as f64;
            let at = |index: usize| {
                let share = |place: usize, count: usize| (place as f64 + 0.5) / count as f64;
                let (x, y) = (share(index % width, width), share(index / width, height));
                Point::new(bounds.x0 + x * bounds.width(), bounds.y0 + y * bounds.height())
            };
            let counted = image
                .pixels
                .iter()
                .enumerate()
                .filter(|(index, pixel)| (**pixel != Color32::BLACK) == is_dipped && front.contains(at(*index)));
            let seen_mm2 = counted.count() as f64 * pixel_mm2;
            let dipped_mm2 = layout.dips().iter().map(|dip| flat.dipped_mm2(&dip.zone).front).sum();
            let wanted_mm2: f64 = layout.blocks().map_or(dipped_mm2, |block| flat.under(block).cloth_mm2.front);
            assert!((seen_mm2 / wanted_mm2 - 1.0).abs() < 0.02, "{name}: {seen_mm2} of {wanted_mm2}");
        }
    }
}
