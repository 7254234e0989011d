//! The day: what is weighed, when what is done, and doing it.

use super::context::{Ask, Context};
use egui::Ui;

/// The view's state.
#[derive(Debug, Default)]
pub(crate) struct DayView {}

impl DayView {
    /// The choices, in the panel beside the table.
    pub(crate) fn choices(&mut self, _ctx: &Context<'_>, _asks: &mut Vec<Ask>, _ui: &mut Ui) {}

    /// What lies on the table.
    pub(crate) fn show(&mut self, _ctx: &Context<'_>, _asks: &mut Vec<Ask>, _ui: &mut Ui) {}
}
