//! Spacing of the binds, single binds, presets.

use super::presets::Presets;
use super::progression::progression;
use crate::app::action::Action;
use crate::app::canvas::Canvas;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::edit::{EditCommand, Target};
use crate::geometry::{Neighbours, Side};
use crate::measure::RuleMarks;
use egui::{RichText, Ui};

pub(crate) fn binds(ctx: &Context<'_>, canvas: &mut Canvas, presets: &mut Presets, asks: &mut Vec<Ask>, ui: &mut Ui) {
    canvas.gaps.show(ctx, &mut canvas.selected, canvas.neighbours, asks, ui);
    heading(ui, "Guide arc to centre");
    progression(ctx, asks, ui, Side::Inward);
    heading(ui, "Guide arc to edge");
    progression(ctx, asks, ui, Side::Outward);
    heading(ui, "Rounding");
    if let Some(marks) =
        choice(ui, "Round radii to", ctx.layout.raw().binds.marks, &RuleMarks::ALL, |marks| marks.name().to_owned())
    {
        asks.push(Ask::Edit(EditCommand::SetMarks(marks)));
    }
    single(ctx, canvas, asks, ui);
    presets.show(ctx.voice(), asks, ui);
}

/// The selected bind, and what binds beside a moved one do.
fn single(ctx: &Context<'_>, canvas: &mut Canvas, asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Single binds");
    ui.label("When you move a bind, its neighbours");
    ui.horizontal(|ui| {
        ui.selectable_value(&mut canvas.neighbours, Neighbours::Stay, "stay");
        ui.selectable_value(&mut canvas.neighbours, Neighbours::Follow, "follow");
    });
    let selected = canvas.selected.and_then(|target| Some((target, target.radius_mm(ctx.layout)?)));
    match selected {
        Some((Target::Bind(id), radius_mm)) => {
            let name = Target::Bind(id).name(ctx.layout);
            if let Some(at_mm) = field::length(ctx, ui, &format!("{name} at"), radius_mm) {
                asks.push(Ask::Edit(EditCommand::PutBind(id, at_mm, canvas.neighbours)));
            }
            ui.horizontal(|ui| {
                if ui.button("Remove").on_hover_text("Remove this bind (Delete)").clicked() {
                    asks.push(Ask::Edit(EditCommand::RemoveBind(id)));
                }
                let by_hand = ctx.layout.binds().binds.iter().any(|bind| bind.id == id && bind.is_by_hand());
                if ui.add_enabled(by_hand, egui::Button::new("Reset")).on_hover_text("Return it to its spacing rule").clicked() {
                    asks.push(Ask::Edit(EditCommand::ReleaseBind(id)));
                }
            });
        }
        _ => {
            ui.label(RichText::new("Drag or select a bind on the cloth. Double-click the cloth to add one.").weak());
        }
    }
    if !ctx.layout.raw().binds.edits.is_empty()
        && ui.button(Action::ReleaseBinds.label()).on_hover_text(Action::ReleaseBinds.tooltip()).clicked()
    {
        asks.push(Ask::Act(Action::ReleaseBinds));
    }
}
