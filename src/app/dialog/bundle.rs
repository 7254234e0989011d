//! What came with a layout in a bundle, offered to the maker's own presets and swatches.

use super::safe_answer;
use crate::app::brought::Brought;
use crate::app::context::Ask;
use crate::reveal::colour::SwatchBook;
use egui::{RichText, Ui};

pub(super) fn show(brought: &Brought, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.heading("Keep what came with it?");
    ui.add(egui::Label::new("The bundle's layout is open, not saved yet. It also brought:").wrap());
    for preset in &brought.presets {
        ui.add(egui::Label::new(RichText::new(format!("Spacing preset: {}", preset.name)).strong()).wrap());
    }
    for swatch in brought.swatches.iter().flat_map(SwatchBook::swatches) {
        ui.add(egui::Label::new(RichText::new(format!("Swatch: {}", swatch.colour.name)).strong()).wrap());
    }
    ui.add(
        egui::Label::new(RichText::new("Nothing of yours is replaced: what has a name that you use gets a number.").weak())
            .wrap(),
    );
    ui.add_space(8.0);
    ui.horizontal_wrapped(|ui| {
        if safe_answer("Keep them", ui) {
            asks.push(Ask::CloseDialog);
            asks.push(Ask::KeepBrought(Box::new(brought.clone())));
        }
        if ui.button("Only the layout").clicked() {
            asks.push(Ask::CloseDialog);
        }
    });
}
