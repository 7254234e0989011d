//! The panel beside the table: what each step of the work lets the maker say.

mod binds;
mod burst;
mod colours;
mod gaps;
mod garment;
mod numbers;
mod presets;
mod process;
mod progression;
mod swatches;
mod thread;

pub(super) use binds::binds;
pub(super) use burst::burst;
pub(super) use colours::colours;
pub(super) use gaps::Gaps;
pub(super) use garment::garment;
pub(super) use numbers::numbers;
pub(super) use presets::Presets;
pub(super) use process::process;
pub(super) use swatches::Swatches;
pub(super) use thread::thread;

use egui::Ui;

/// A choice among a few, with its label.
pub(super) fn choice<T: Copy + PartialEq>(ui: &mut Ui, label: &str, now: T, all: &[T], name: impl Fn(T) -> String) -> Option<T> {
    let mut chosen = now;
    super::field::pick(ui, label, name(now), |ui| {
        for &one in all {
            ui.selectable_value(&mut chosen, one, name(one));
        }
    });
    (chosen != now).then_some(chosen)
}

/// A part of a panel under its heading, open until it is put away.
pub(super) fn section(ui: &mut Ui, title: &str, add: impl FnOnce(&mut Ui)) {
    ui.add_space(4.0);
    let title = egui::RichText::new(title).strong().size(17.0);
    egui::CollapsingHeader::new(title).default_open(true).show_unindented(ui, add);
}

/// A small heading.
pub(super) fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(6.0);
    ui.label(egui::RichText::new(text).strong().size(17.0));
}
