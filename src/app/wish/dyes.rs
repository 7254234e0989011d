//! The dyes that a wish may choose among.

use super::Wished;
use crate::app::context::{Ask, Context};
use crate::app::panel::Swatches;
use crate::app::picker::with_patch;
use egui::{RichText, Ui};

pub(super) fn show(wished: &mut Wished, ctx: &Context<'_>, swatches: &Swatches, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.label(RichText::new("Dyes to choose among").strong());
    let dyes = wished.dyes(ctx.layout).to_vec();
    let mut removed = None;
    for (index, dye) in dyes.iter().enumerate() {
        with_patch(dye, ui, |ui| {
            ui.label(&dye.name);
            // Of none there is nothing to choose.
            if dyes.len() > 1 && ui.button(format!("Leave out {}", dye.name)).clicked() {
                removed = Some(index);
            }
        });
    }
    if let Some(index) = removed {
        wished.dyes = dyes.clone();
        wished.dyes.remove(index);
    }
    ui.horizontal_wrapped(|ui| {
        if let Some(taken) = swatches.menu("Add from swatches", &dyes, ctx.voice(), asks, ui) {
            wished.dyes.clone_from(&dyes);
            wished.dyes.push(taken);
        }
        if !wished.dyes.is_empty() && ui.button("Use the layout's dyes").clicked() {
            wished.dyes.clear();
        }
    });
}
