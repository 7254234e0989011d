//! The journal: what was made, how it came out, what to change.

use super::context::{Ask, Context};
use egui::Ui;

/// The view's state.
#[derive(Debug, Default)]
pub(crate) struct JournalView {}

impl JournalView {
    /// The choices, in the panel beside the table.
    pub(crate) fn choices(&mut self, _ctx: &Context<'_>, _asks: &mut Vec<Ask>, _ui: &mut Ui) {}

    /// What lies on the table.
    pub(crate) fn show(&mut self, _ctx: &Context<'_>, _asks: &mut Vec<Ask>, _ui: &mut Ui) {}
}
