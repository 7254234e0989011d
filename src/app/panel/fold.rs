//! Which fold it is, chosen by its picture, and what each fold lets the maker say.

use super::taken::taken;
use super::{blocks, burst, flat, fold_picture, line, spiral};
use crate::app::canvas::Canvas;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::app::theme::Palette;
use crate::edit::EditCommand;
use crate::geometry::{Centring, FlatKind, LineShape, Pleats};
use crate::layout::{FlatStart, FoldStart, SpiralStart};
use egui::{RichText, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, vec2};

/// Side of a picture, points, and the free border in it.
const PICTURE: f32 = 42.0;
const BORDER: f32 = 8.0;

pub(crate) fn fold(ctx: &Context<'_>, canvas: &mut Canvas, asks: &mut Vec<Ask>, ui: &mut Ui) {
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
    let lines = LineShape::ALL.map(FoldStart::Line);
    let bundles = FlatKind::ALL.map(|kind| FoldStart::Flat(FlatStart::of(kind)));
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 4.0);
        let spiral = FoldStart::Spiral(SpiralStart::default());
        for of in [FoldStart::Burst].into_iter().chain(lines).chain(bundles).chain([spiral]) {
            if picture(&of, is_same(&of), ui) && !is_same(&of) {
                asks.push(Ask::Edit(EditCommand::SetFold(of)));
            }
        }
    });
    ui.add_space(4.0);
}

/// The picture of a fold as a button; whether it was clicked.
fn picture(of: &FoldStart, is_chosen: bool, ui: &mut Ui) -> bool {
    let palette = Palette::of(ui.ctx());
    let (rect, response) = ui.allocate_exact_size(vec2(PICTURE, PICTURE), Sense::click());
    let name = match of {
        FoldStart::Burst => "burst".to_owned(),
        of => of.words(),
    };
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_chosen, format!("Fold: {name}")));
    let look = ui.style().interact_selectable(&response, is_chosen);
    let edge = if response.has_focus() { Stroke::new(2.0, palette.accent) } else { look.bg_stroke };
    ui.painter().rect(rect, look.corner_radius, look.weak_bg_fill, edge, StrokeKind::Inside);
    let painter = ui.painter_at(rect);
    let room = rect.shrink(BORDER);
    let stroke = Stroke::new(if is_chosen { 2.2 } else { 1.6 }, look.fg_stroke.color);
    match of {
        FoldStart::Line(shape) => fold_picture::outline(&painter, room, *shape, stroke),
        FoldStart::Flat(start) => fold_picture::bundle(&painter, room, start.kind, stroke),
        FoldStart::Spiral(_) => fold_picture::arms(&painter, room, stroke),
        _ => fold_picture::rings(&painter, room, stroke),
    }
    response.on_hover_text(format!("Fold {}, with new binds for it", of.words())).clicked()
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
    let layers = if fold.layers == 1 { "1 layer".to_owned() } else { format!("{} layers", fold.layers) };
    ui.label(RichText::new(format!("{} pleats of {of_each}, {layers} in each", fold.pleats)).weak());
    if let Some(line) = ctx.figures.line.as_ref().filter(|line| line.pleats_on_guide < line.pleats) {
        let words = format!("{} of them lie along the fold guide; the others end before it.", line.pleats_on_guide);
        ui.label(RichText::new(words).weak());
    }
}
