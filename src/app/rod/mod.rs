//! The rod, side on and to scale, and the cloth's way to it in a few drawn steps.

mod bound;
mod drawing;
mod guide;
mod pen;

use self::bound::Bound;
use super::canvas::{Scene, Showing};
use super::context::Context;
use super::theme::Palette;
use crate::layout::{Layout, RodProfile};
use egui::{Frame, Margin, ScrollArea, Ui};
use std::sync::Arc;

/// What is drawn of a layout.
#[derive(Debug)]
struct Drawn {
    layout: Arc<Layout>,
    /// The cloth as it lies.
    scene: Scene,
    profile: RodProfile,
}

/// The rod's view.
#[derive(Debug, Default)]
pub(crate) struct RodView {
    /// The step of the way there that shows where there is room for one only.
    step: usize,
    /// Made anew when the layout changes.
    drawn: Option<Drawn>,
}

/// Room round what is drawn, points.
const MARGIN: Margin = Margin::symmetric(26, 12);

impl RodView {
    /// Draws the bound rod with its strip beneath, and the way there.
    pub(crate) fn show(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(ui.max_rect(), 0.0, palette.table);
        let drawn = self.drawn.take().filter(|drawn| Arc::ptr_eq(&drawn.layout, ctx.layout));
        let drawn = drawn.unwrap_or_else(|| Drawn {
            layout: ctx.layout.clone(),
            scene: Scene::new(ctx.layout, Showing::AsLaid),
            profile: RodProfile::of(ctx.layout, ctx.figures),
        });
        ScrollArea::vertical().id_salt("rod").auto_shrink(false).show(ui, |ui| {
            Frame::NONE.inner_margin(MARGIN).show(ui, |ui| {
                Bound::show(ctx, &drawn.profile, ui);
                ui.add_space(14.0);
                guide::show(ctx, &drawn, &mut self.step, ui);
            });
        });
        self.drawn = Some(drawn);
    }
}
