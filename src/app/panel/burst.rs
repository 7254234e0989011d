//! A burst's centre and arcs.

use super::further::further;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::heading::heading;
use crate::app::heights::heights;
use crate::edit::EditCommand;
use crate::geometry::{Burst, Centre};
use crate::layout::BurstFigures;
use egui::{RichText, Ui};
use kurbo::Point;

pub(super) fn burst(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let (Some(burst), Some(figures)) = (ctx.layout.burst(), &ctx.figures.burst) else { return };
    centre(ctx, burst, figures, asks, ui);
    heading(ui, "Arcs");
    if let Some(radius_mm) = field::length(ctx, ui, "Guide arc", burst.guide_radius_mm()) {
        asks.push(Ask::Edit(EditCommand::SetGuideRadius(radius_mm)));
    }
    if let Some(rounding) = ctx.figures.fold.guide_rounding(ctx.lengths) {
        ui.label(RichText::new(format!("The guide arc is {rounding}.")).weak());
    }
    further(ctx, asks, ui);
}

fn centre(ctx: &Context<'_>, burst: &Burst, figures: &BurstFigures, asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Burst centre");
    let centre = burst.centre();
    if let Some(x) = field::length(ctx, ui, "From the centre line", centre.x) {
        asks.push(Ask::Edit(EditCommand::MoveCentre(Point::new(x, centre.y))));
    }
    let by_middle = ctx.layout.raw().fold.burst().is_some_and(|burst| matches!(burst.centre, Centre::AboveMiddle { .. }));
    let middle_mm = figures.centre_below_shoulder_mm + figures.centre_above_middle_mm;
    if let Some(below) = field::length(ctx, ui, heights(ctx.figures.fold.top).field, figures.centre_below_shoulder_mm) {
        asks.push(Ask::Edit(EditCommand::MoveCentre(Point::new(centre.x, below))));
    }
    if let Some(above) = field::length(ctx, ui, "Above the middle", figures.centre_above_middle_mm) {
        asks.push(Ask::Edit(EditCommand::MoveCentre(Point::new(centre.x, middle_mm - above))));
    }
    let mut keep_middle = by_middle;
    if ui.checkbox(&mut keep_middle, "Keep this height above the middle when the garment changes").changed() {
        asks.push(Ask::Edit(EditCommand::MeasureCentreFromMiddle(keep_middle)));
    }
}
