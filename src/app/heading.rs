//! Headings, of panels and on the table.

use egui::{RichText, Ui};

/// A part of a panel under its heading, open until it is put away.
pub(super) fn section(ui: &mut Ui, title: &str, add: impl FnOnce(&mut Ui)) {
    ui.add_space(4.0);
    let title = RichText::new(title).strong().size(17.0);
    egui::CollapsingHeader::new(title).default_open(true).show_unindented(ui, add);
}

/// A small heading.
pub(super) fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(6.0);
    ui.label(RichText::new(text).strong().size(17.0));
}

/// A heading on the table.
pub(super) fn on_table(words: &str, ui: &mut Ui) {
    ui.label(RichText::new(words).size(17.0).strong());
}
