//! The outline of a garment of the maker's own: from a drawing, its back and its layers.

use crate::app::action::Action;
use crate::app::context::{Ask, Context};
use crate::app::field::choice;
use crate::app::purpose::{DrawnAs, Purpose};
use crate::edit::EditCommand;
use crate::geometry::{OwnOutline, Panels};
use egui::Ui;

pub(super) fn outline(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let own = ctx.layout.raw().garment.outline.as_ref();
    let set = |outline: OwnOutline| Ask::Edit(EditCommand::SetOutline(Box::new(outline)));
    ui.horizontal_wrapped(|ui| {
        for action in [Action::ImportOutline, Action::OutlineFromPhoto] {
            if ui.button(action.label()).on_hover_text(action.tooltip()).clicked() {
                asks.push(Ask::Act(action));
            }
        }
        let Some(own) = own.filter(|own| own.panels == Panels::Two) else { return };
        let hint = "A back that is cut otherwise than the front; its top lies at the front's";
        if ui.button("Back from a drawing…").on_hover_text(hint).clicked() {
            asks.push(Ask::NameFile(Purpose::Drawing(DrawnAs::Back)));
        }
        if ui.button("Back from a photograph…").on_hover_text(hint).clicked() {
            asks.push(Ask::NameFile(Purpose::OutlinePhotograph { back: true }));
        }
        let hint = "Cut the back as the front is cut";
        if own.back.is_some() && ui.button("Back as the front").on_hover_text(hint).clicked() {
            asks.push(set(OwnOutline::alike(own.front.clone(), own.panels)));
        }
    });
    let Some(own) = own else { return };
    if let Some(panels) = choice(ui, "Layers", own.panels, &Panels::ALL, |panels| panels.name().to_owned()) {
        asks.push(set(own.clone().in_layers(panels)));
    }
}
