//! Which fold it is, chosen by its picture, and what each fold lets the maker say.

use super::swatches::Swatches;
use super::taken::taken;
use super::{blocks, burst, flat, line, spiral};
use crate::app::canvas::Canvas;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::fold_picture;
use crate::app::heading::heading;
use crate::edit::EditCommand;
use crate::geometry::{Centring, Pleats};
use crate::layout::FoldStart;
use crate::measure::counted;
use egui::{RichText, Ui};

pub(crate) fn fold(ctx: &Context<'_>, canvas: &mut Canvas, swatches: &Swatches, asks: &mut Vec<Ask>, ui: &mut Ui) {
    super::ties::ties(ctx, swatches, asks, ui);
    heading(ui, "Fold");
    choose(ctx, asks, ui);
    taken(ctx, asks, ui);
    let all = [Centring::Nested, Centring::PlainHalf, Centring::Open];
    if let Some(centring) = choice(ui, "Half fold", ctx.layout.lay().centring(), &all, |centring| centring.name().to_owned()) {
        asks.push(Ask::Edit(EditCommand::SetCentring(centring)));
    }
    ui.label(RichText::new(ctx.figures.fold.matching).weak());
    burst::burst(ctx, asks, ui);
    line::line(ctx, canvas, asks, ui);
    flat::flat(ctx, asks, ui);
    blocks::blocks(ctx, asks, ui);
    spiral::spiral(ctx, asks, ui);
    pleats(ctx, asks, ui);
}

/// The folds, a picture each.
fn choose(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let fold = &ctx.layout.raw().fold;
    let shape = fold.line().and_then(|line| line.line.shape());
    let is_same = |of: &FoldStart| match of {
        FoldStart::Line(of) => shape.is_some_and(|shape| shape.name() == of.name()),
        FoldStart::Spiral(_) => fold.spiral().is_some(),
        FoldStart::Flat(of) => fold.flat().is_some_and(|flat| flat.pattern.kind() == of.kind),
        _ => fold.burst().is_some(),
    };
    let hover = |of: &FoldStart| format!("Fold {}, with new binds for it", of.words());
    if let Some(of) = fold_picture::choose(is_same, hover, ui).filter(|of| !is_same(of)) {
        asks.push(Ask::Edit(EditCommand::SetFold(of)));
    }
    ui.add_space(4.0);
}

fn pleats(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(given) = ctx.layout.raw().fold.pleats() else { return };
    heading(ui, "Pleats");
    let fold = &ctx.figures.fold;
    let depth_mm = match given {
        Pleats::Depth { depth_mm } => depth_mm,
        Pleats::Count { .. } => fold.pleat_depth_mm,
    };
    if let Some(depth_mm) = field::length(ctx, ui, "Pleat depth", depth_mm) {
        asks.push(Ask::Edit(EditCommand::SetPleats(Pleats::Depth { depth_mm })));
    }
    if let Some(count) = field::count(ui, "Number of pleats", fold.pleats) {
        asks.push(Ask::Edit(EditCommand::SetPleats(Pleats::Count { count })));
    }
    let depth = ctx.lengths.format(fold.pleat_depth_mm);
    let of_each = match (&ctx.figures.burst, &ctx.figures.line) {
        (Some(burst), _) => format!("{depth}, {:.1}° each", burst.pleat_angle_deg),
        (None, Some(line)) => {
            let [least, most] = line.pleat_depths_mm.map(|mm| ctx.lengths.format(mm));
            if least == most { depth } else { format!("{least} to {most}") }
        }
        (None, None) => depth,
    };
    let layers = counted(fold.layers, "layer");
    ui.label(RichText::new(format!("{} pleats of {of_each}, {layers} in each", fold.pleats)).weak());
    if let Some(line) = ctx.figures.line.as_ref().filter(|line| line.pleats_on_guide < line.pleats) {
        let words = format!("{} of them lie along the fold guide; the others end before it.", line.pleats_on_guide);
        ui.label(RichText::new(words).weak());
    }
}
