//! Spacing of the binds, single binds, presets.

use super::progression::progression;
use super::{choice, heading};
use crate::app::action::Action;
use crate::app::canvas::Canvas;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::theme::Palette;
use crate::edit::{EditCommand, Target};
use crate::geometry::{Fit, Neighbours, Side};
use crate::measure::RuleMarks;
use crate::store::{EXAMPLE_PRESETS, parse_preset};
use egui::{Align2, FontId, RichText, Sense, Stroke, Ui, pos2, vec2};

pub(crate) fn binds(ctx: &Context<'_>, canvas: &mut Canvas, asks: &mut Vec<Ask>, ui: &mut Ui) {
    plot(ctx, canvas, ui);
    heading(ui, "From the guide arc to the centre");
    progression(ctx, asks, ui, Side::Inward);
    heading(ui, "From the guide arc to the edge");
    progression(ctx, asks, ui, Side::Outward);
    heading(ui, "On the rule");
    if let Some(marks) = choice(ui, "Radii fall on", ctx.layout.raw().binds.marks, &RuleMarks::ALL, marks_name) {
        asks.push(Ask::Edit(EditCommand::SetMarks(marks)));
    }
    single(ctx, canvas, asks, ui);
    presets(asks, ui);
}

fn marks_name(marks: RuleMarks) -> String {
    match marks {
        RuleMarks::Exact => "no marks",
        RuleMarks::Millimetres1 => "every 1 mm",
        RuleMarks::Millimetres5 => "every 5 mm",
        RuleMarks::InchEighth => "every 1/8 in",
        RuleMarks::InchSixteenth => "every 1/16 in",
    }
    .to_owned()
}

/// Height of the plot, points.
const PLOT_HEIGHT: f32 = 110.0;

/// Each gap against the radius of the bind outside it; a click selects that bind.
fn plot(ctx: &Context<'_>, canvas: &mut Canvas, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let (response, painter) = ui.allocate_painter(vec2(ui.available_width(), PLOT_HEIGHT), Sense::click());
    response
        .widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, "Gaps between binds, from the centre to the edge"));
    let rect = response.rect.shrink2(vec2(8.0, 14.0));
    let binds = &ctx.figures.binds;
    let widest = binds.iter().skip(1).map(|bind| bind.gap_inside_mm).fold(1.0, f64::max);
    let farthest = ctx.figures.burst.farthest_mm.max(1.0);
    let x = |mm: f64| rect.left() + rect.width() * crate::app::canvas::screen(mm / farthest);
    let y = |gap: f64| rect.bottom() - rect.height() * crate::app::canvas::screen(gap / widest);
    painter.hline(rect.x_range(), rect.bottom(), Stroke::new(1.0, palette.faint));
    for pair in binds.windows(2) {
        let bind = &pair[1];
        let is_selected = canvas.selected.and_then(|target| target.radius_mm(ctx.layout)) == Some(bind.radius_mm);
        let colour = if is_selected {
            palette.accent
        } else if bind.on_guide_arc {
            palette.guide
        } else {
            palette.faint
        };
        let (from, to) = (x(pair[0].radius_mm) + 1.0, x(bind.radius_mm) - 1.0);
        let bar = egui::Rect::from_min_max(pos2(from, y(bind.gap_inside_mm)), pos2(to.max(from + 1.0), rect.bottom()));
        painter.rect_filled(bar, 1.0, colour.gamma_multiply(if is_selected { 1.0 } else { 0.65 }));
    }
    let small = FontId::proportional(12.0);
    painter.text(
        response.rect.left_top() + vec2(8.0, 0.0),
        Align2::LEFT_TOP,
        ctx.lengths.format(widest),
        small.clone(),
        palette.faint,
    );
    painter.text(response.rect.left_bottom() + vec2(8.0, 0.0), Align2::LEFT_BOTTOM, "centre", small.clone(), palette.faint);
    painter.text(response.rect.right_bottom() - vec2(8.0, 0.0), Align2::RIGHT_BOTTOM, "edge", small, palette.faint);
    if let Some(at) = response.interact_pointer_pos().filter(|_| response.clicked()) {
        let mm = f64::from((at.x - rect.left()) / rect.width()) * farthest;
        let bind = ctx.layout.binds().binds.iter().find(|bind| bind.radius_mm >= mm);
        canvas.selected = bind.map(|bind| if bind.is_guide() { Target::GuideArc } else { Target::Bind(bind.id) });
    }
}

/// The selected bind, and what binds beside a moved one do.
fn single(ctx: &Context<'_>, canvas: &mut Canvas, asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Single binds");
    ui.horizontal(|ui| {
        ui.label("Beside a moved bind, the others");
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
                if ui.button("Remove").on_hover_text("Take this bind away (Delete)").clicked() {
                    asks.push(Ask::Edit(EditCommand::RemoveBind(id)));
                }
                let by_hand = ctx.layout.binds().binds.iter().any(|bind| bind.id == id && bind.is_by_hand());
                if ui
                    .add_enabled(by_hand, egui::Button::new("Release"))
                    .on_hover_text("Give it back to its progression")
                    .clicked()
                {
                    asks.push(Ask::Edit(EditCommand::ReleaseBind(id)));
                }
            });
        }
        _ => {
            ui.label(RichText::new("Drag a bind on the cloth, or select one. A double click on the cloth adds one.").weak());
        }
    }
    if !ctx.layout.raw().binds.edits.is_empty()
        && ui.button(Action::ReleaseBinds.label()).on_hover_text(Action::ReleaseBinds.tooltip()).clicked()
    {
        asks.push(Ask::Act(Action::ReleaseBinds));
    }
}

fn presets(asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Presets");
    for preset in EXAMPLE_PRESETS.iter().filter_map(|example| parse_preset(example.text).ok()) {
        ui.horizontal(|ui| {
            let name = preset.name.clone();
            let scaled = ui.button(&name).on_hover_text(format!("{}\nScaled to this guide arc.", preset.note));
            let kept = ui.small_button("kept").on_hover_text(format!("\"{name}\" with its own lengths"));
            kept.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, format!("{name}, kept")));
            for (clicked, fit) in [(scaled.clicked(), Fit::Scaled), (kept.clicked(), Fit::Kept)] {
                if clicked {
                    asks.push(Ask::Edit(EditCommand::ApplyPreset(Box::new(preset.clone()), fit)));
                }
            }
        });
    }
    if ui.button(Action::SavePreset.label()).on_hover_text(Action::SavePreset.tooltip()).clicked() {
        asks.push(Ask::Act(Action::SavePreset));
    }
}
