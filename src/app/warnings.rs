//! What to look out for in a layout, wherever it is shown.

use super::context::{Ask, Context};
use super::heading::heading;
use super::step::Step;
use super::theme::Palette;
use crate::layout::warning_runs;
use crate::telling::Warned as _;
use egui::{RichText, Ui};

/// What to look out for, each with the way to where it can be mended.
pub(crate) fn warnings(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    // One tie may spoil the next: all of them are told wherever one is worked on.
    if ctx.whole_figures.warnings.is_empty() {
        return;
    }
    let palette = Palette::of(ui.ctx());
    heading(ui, "Warnings");
    for run in warning_runs(&ctx.whole_figures.warnings) {
        let (words, step) = (RichText::new(run.say(ctx.voice())).color(palette.warn), Step::of(run.first()));
        let label = ui.add(egui::Label::new(words).sense(egui::Sense::click()));
        if label.on_hover_text(format!("Go to {}", step.name())).clicked() {
            asks.push(Ask::Go(step));
        }
        if ui.link(RichText::new("What this means").small()).clicked() {
            asks.push(Ask::ReadAbout(run.first().name()));
        }
    }
}
