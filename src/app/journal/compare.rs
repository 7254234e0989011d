//! Two entries beside each other: everything in which they differ, in the maker's terms.

use super::photos::Photos;
use super::{beside, words};
use crate::app::heading::heading;
use crate::store::journal::{Comparison, Difference, Journal};
use egui::{Grid, Label, RichText, Ui};

/// Largest side of the pictures, points.
const PICTURE: f32 = 300.0;

pub(super) fn show(comparison: &Comparison, journal: &Journal, photos: &mut Photos, ui: &mut Ui) {
    let Comparison { first, second, made, layouts } = comparison;
    ui.label(RichText::new("Compare").size(24.0).strong());
    let side = PICTURE.min(0.5 * (ui.available_width() - GAP));
    ui.horizontal_top(|ui| {
        for entry in [first, second] {
            beside::entry(entry, side, journal, photos, ui);
        }
    });
    let heads = [words::title(first), words::title(second)];
    differences("As made", "Nothing differs.", made, &heads, ui);
    differences("The layouts", "The layouts are identical.", layouts, &heads, ui);
}

fn differences(title: &str, alike: &str, differences: &[Difference], heads: &[String; 2], ui: &mut Ui) {
    heading(ui, title);
    if differences.is_empty() {
        ui.label(alike);
        return;
    }
    let column = ((ui.available_width() - 2.0 * GAP) / 3.0).max(120.0);
    Grid::new(title).num_columns(3).spacing([GAP, 8.0]).striped(true).min_col_width(column).max_col_width(column).show(
        ui,
        |ui| {
            ui.label("");
            for head in heads {
                ui.add(Label::new(RichText::new(head).strong()).wrap());
            }
            ui.end_row();
            for Difference { what, first, second } in differences {
                ui.add(Label::new(RichText::new(what).weak()).wrap());
                ui.add(Label::new(first).wrap());
                ui.add(Label::new(second).wrap());
                ui.end_row();
            }
        },
    );
}

/// Room between columns, points.
const GAP: f32 = 16.0;
