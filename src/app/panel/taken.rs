//! Lines that are no shapes of the program's own: from a drawing, or beside the garment's own edge.

use crate::app::action::Action;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::edit::EditCommand;
use crate::geometry::GarmentEdge;
use crate::layout::FoldStart;
use egui::{Id, Ui};

pub(super) fn taken(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let id = Id::unique("how far within the edge");
    let mut inset_mm = ui.data(|data| data.get_temp(id)).unwrap_or(GarmentEdge::USUAL_INSET_MM);
    ui.horizontal_wrapped(|ui| {
        let action = Action::ImportLine;
        if ui.button(action.label()).on_hover_text(action.tooltip()).clicked() {
            asks.push(Ask::Act(action));
        }
        for edge in GarmentEdge::ALL {
            let hint = format!("Fold along a parallel to the {}, with new binds for it", edge.name());
            if ui.button(format!("Along the {}", edge.name())).on_hover_text(hint).clicked() {
                asks.push(Ask::Edit(EditCommand::SetFold(FoldStart::Beside(edge, inset_mm))));
            }
        }
        super::ties::another(ctx, asks, ui);
    });
    if let Some(typed_mm) = field::length(ctx, ui, "From the edge", inset_mm) {
        inset_mm = typed_mm;
        ui.data_mut(|data| data.insert_temp(id, inset_mm));
    }
}
