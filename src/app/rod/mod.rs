//! The rod, side on and to scale, and the cloth's way to it in a few drawn steps.

mod bound;
mod drawing;
mod guide;

use self::bound::Bound;
use super::canvas::{Scene, Showing};
use super::context::Context;
use super::theme::Palette;
use crate::layout::Layout;
use egui::{Frame, Margin, ScrollArea, Ui};
use std::sync::Arc;

/// The rod's view.
#[derive(Debug, Default)]
pub(crate) struct RodView {
    /// The step of the way there that shows where there is room for one only.
    step: usize,
    /// The cloth as it lies, made anew when the layout changes.
    scene: Option<(Arc<Layout>, Arc<Scene>)>,
}

/// Room round what is drawn, points.
const MARGIN: Margin = Margin::symmetric(26, 12);

impl RodView {
    /// Draws the bound rod with its strip beneath, and the way there.
    pub(crate) fn show(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(ui.max_rect(), 0.0, palette.table);
        let scene = self.scene(ctx);
        ScrollArea::vertical().id_salt("rod").auto_shrink(false).show(ui, |ui| {
            Frame::NONE.inner_margin(MARGIN).show(ui, |ui| {
                Bound::show(ctx, ui);
                ui.add_space(14.0);
                guide::show(ctx, &scene, &mut self.step, ui);
            });
        });
    }

    fn scene(&mut self, ctx: &Context<'_>) -> Arc<Scene> {
        if let Some((layout, scene)) = &self.scene
            && Arc::ptr_eq(layout, ctx.layout)
        {
            return scene.clone();
        }
        let scene = Arc::new(Scene::new(ctx.layout, ctx.figures, Showing::AsLaid));
        self.scene = Some((ctx.layout.clone(), scene.clone()));
        scene
    }
}
