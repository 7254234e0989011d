//! What the drawings of the way to the rod are made with.

use crate::app::canvas::{Fill, Scene, View, chalk_on};
use crate::app::context::Context;
use crate::app::theme::{LINE_CONTRAST, Palette, contrast, tone};
use crate::layout::RodProfile;
use egui::{Align2, Color32, FontId, Mesh, Painter, Pos2, Rect, Stroke, vec2};
use kurbo::Point;

/// What a drawing is made of and with.
pub(super) struct Pen<'a> {
    pub(super) ctx: &'a Context<'a>,
    pub(super) scene: &'a Scene,
    pub(super) profile: &'a RodProfile,
    pub(super) painter: &'a Painter,
    pub(super) palette: &'a Palette,
}

/// Size of words in a drawing, points.
pub(super) const SMALL: f32 = 13.0;
impl Pen<'_> {
    pub(super) fn cloth(&self) -> Color32 {
        let swatch = self.ctx.layout.raw().garment.colour.as_ref();
        swatch.map_or(self.palette.plain_cloth, |swatch| tone(swatch.srgb))
    }

    pub(super) fn write(&self, at: Pos2, anchor: Align2, words: impl ToString, ink: Color32) {
        self.painter.text(at, anchor, words, FontId::proportional(SMALL), ink);
    }

    pub(super) fn fill(&self, fill: &Fill, at: &impl Fn(Point) -> Pos2, colour: Color32) {
        let mut mesh = Mesh::default();
        for &p in &fill.points {
            mesh.colored_vertex(at(p), colour);
        }
        mesh.indices.extend_from_slice(&fill.triangles);
        self.painter.add(mesh);
    }

    /// The cloth as it lies, its upper panel over the lower; the way from mm to points.
    pub(super) fn laid(&self, rect: Rect) -> impl Fn(Point) -> Pos2 + use<> {
        let view = View::fitting(self.scene.bounds, rect, false);
        let at = move |p: Point| view.screen_from_mm(rect, p);
        let layers = self.scene.cloth.len();
        for (index, fill) in self.scene.cloth.iter().enumerate() {
            let under = if index + 1 == layers { 0.0 } else { 0.28 };
            self.fill(fill, &at, self.cloth().lerp_to_gamma(Color32::BLACK, under));
        }
        let outline = outline_on(self.cloth(), self.palette);
        for line in &self.scene.edges {
            self.painter.line(line.iter().map(|&p| at(p)).collect(), Stroke::new(1.4, outline));
        }
        at
    }

    /// Words on a paper tag to the right of a place.
    pub(super) fn tag(&self, at: Pos2, words: &str) {
        let [paper, ink] = self.palette.tag;
        let galley = self.painter.layout_no_wrap(words.to_owned(), FontId::proportional(SMALL), ink);
        let rect = Align2::LEFT_CENTER.anchor_size(at, galley.size() + vec2(8.0, 3.0));
        self.painter.rect_filled(rect, 2.0, paper);
        self.painter.galley(rect.center() - 0.5 * galley.size(), galley, ink);
    }
}

/// The outline of cloth of this colour: the theme's, or where it would not show on the cloth, chalk or pencil.
pub(super) fn outline_on(cloth: Color32, palette: &Palette) -> Color32 {
    if contrast(palette.edge, cloth) >= LINE_CONTRAST {
        return palette.edge;
    }
    let [light, dark] = [Color32::BLACK, Color32::WHITE].map(chalk_on);
    if contrast(light, cloth) > contrast(dark, cloth) { light } else { dark }
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::{Context, Theme};

    /// The layers of a navy shirt were one dark patch by the light theme: its outline is as dark.
    #[test]
    fn every_layer_has_an_outline_that_shows_on_it() {
        let ctx = Context::default();
        for theme in [Theme::Light, Theme::Dark] {
            ctx.set_theme(theme);
            let palette = Palette::of(&ctx);
            let steps = || (0..=255).step_by(15);
            for (red, green, blue) in steps().flat_map(|r| steps().flat_map(move |g| steps().map(move |b| (r, g, b)))) {
                let cloth = Color32::from_rgb(red, green, blue);
                let ratio = contrast(outline_on(cloth, palette), cloth);
                assert!(ratio >= LINE_CONTRAST, "{theme:?}, {cloth:?}: {ratio}");
            }
        }
        let navy = Color32::from_rgb(16, 24, 64);
        ctx.set_theme(Theme::Light);
        let palette = Palette::of(&ctx);
        assert!(contrast(palette.edge, navy) < 2.0 && contrast(outline_on(navy, palette), navy) > 10.0);
    }
}
