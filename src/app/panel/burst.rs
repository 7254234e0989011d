//! Centring, centre, arcs and pleats.

use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::app::heights::heights;
use crate::edit::EditCommand;
use crate::geometry::{Burst, Centre, Centring, Pleats};
use crate::layout::BurstFigures;
use egui::{RichText, Ui};
use kurbo::Point;

pub(crate) fn burst(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let (Some(burst), Some(figures)) = (ctx.layout.burst(), &ctx.figures.burst) else { return };
    heading(ui, "Half fold and centre");
    let all = [Centring::Nested, Centring::PlainHalf, Centring::Open];
    if let Some(centring) = choice(ui, "Half fold", burst.centring(), &all, |centring| centring.name().to_owned()) {
        asks.push(Ask::Edit(EditCommand::SetCentring(centring)));
    }
    ui.label(RichText::new(ctx.figures.fold.matching).weak());
    centre(ctx, burst, figures, asks, ui);
    heading(ui, "Arcs");
    if let Some(radius_mm) = field::length(ctx, ui, "Guide arc", burst.guide_radius_mm()) {
        asks.push(Ask::Edit(EditCommand::SetGuideRadius(radius_mm)));
    }
    if let Some(rounding) = ctx.figures.fold.guide_rounding(ctx.lengths) {
        ui.label(RichText::new(format!("The guide arc is {rounding}.")).weak());
    }
    further(ctx, asks, ui);
    pleats(ctx, figures, asks, ui);
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

fn further(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let arcs = ctx.layout.references_mm().to_vec();
    for (index, &radius_mm) in arcs.iter().enumerate() {
        let changed = field::optional_length(ctx, ui, &format!("Extra arc {}", index + 1), Some(radius_mm));
        if let Some(value) = changed {
            let mut arcs = arcs.clone();
            match value {
                Some(radius_mm) => arcs[index] = radius_mm,
                None => drop(arcs.remove(index)),
            }
            asks.push(Ask::Edit(EditCommand::SetFurtherArcs(arcs)));
        }
    }
    if ui.button("Add an arc").on_hover_text("A reference arc to chalk; clear its field to remove it").clicked() {
        let next_mm = (ctx.layout.guide_mm() * 0.5).round();
        asks.push(Ask::Edit(EditCommand::SetFurtherArcs(arcs.into_iter().chain([next_mm]).collect())));
    }
}

fn pleats(ctx: &Context<'_>, figures: &BurstFigures, asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Pleats");
    let depth_mm = match ctx.layout.raw().fold.burst().map(|burst| burst.pleats) {
        Some(Pleats::Depth { depth_mm }) => depth_mm,
        Some(Pleats::Count { .. }) | None => figures.pleat_depth_mm,
    };
    if let Some(depth_mm) = field::length(ctx, ui, "Pleat depth", depth_mm) {
        asks.push(Ask::Edit(EditCommand::SetPleats(Pleats::Depth { depth_mm })));
    }
    if let Some(count) = field::count(ui, "Number of pleats", figures.pleats) {
        asks.push(Ask::Edit(EditCommand::SetPleats(Pleats::Count { count })));
    }
    ui.label(
        RichText::new(format!(
            "{} pleats of {}, {:.1}° each, {} layers in each",
            figures.pleats,
            ctx.lengths.format(figures.pleat_depth_mm),
            figures.pleat_angle_deg,
            figures.layers
        ))
        .weak(),
    );
}
