//! The projection beside the work: its panel in the window, its picture in one of its own.

use super::App;
use crate::app::context::Context;
use egui::Ui;

impl App {
    /// The panel that controls the projection, if it is on; whether there is room left for the work.
    pub(super) fn projection_panel(&mut self, ui: &mut Ui) -> bool {
        let lengths = self.lengths();
        let Some(document) = &self.document else { return true };
        let ctx = Context::of(document, lengths, &self.settings);
        self.projection.show_panel(&ctx, ui)
    }

    /// The picture that is projected.
    pub(super) fn projected(&mut self, ui: &Ui) {
        let lengths = self.lengths();
        let Some(document) = &self.document else { return };
        let ctx = Context::of(document, lengths, &self.settings);
        self.projection.show_picture(&ctx, ui);
    }
}
