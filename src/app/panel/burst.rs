//! A burst's centre and arcs.

use super::further::further;
use super::place::place;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::heading::heading;
use crate::edit::EditCommand;
use crate::geometry::Centre;
use egui::{RichText, Ui};

pub(super) fn burst(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(burst) = ctx.layout.burst() else { return };
    let by_middle = ctx.layout.raw().fold.burst().is_some_and(|burst| matches!(burst.centre, Centre::AboveMiddle { .. }));
    heading(ui, "Burst centre");
    place(ctx, by_middle, asks, ui);
    heading(ui, "Arcs");
    if let Some(radius_mm) = field::length(ctx, ui, "Guide arc", burst.guide_radius_mm()) {
        asks.push(Ask::Edit(EditCommand::SetGuideRadius(radius_mm)));
    }
    if let Some(rounding) = ctx.figures.fold.guide_rounding(ctx.lengths) {
        ui.label(RichText::new(format!("The guide arc is {rounding}.")).weak());
    }
    further(ctx, asks, ui);
}
