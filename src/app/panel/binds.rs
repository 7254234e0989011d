//! Spacing of the binds, single binds, presets.

use super::presets::Presets;
use super::progression::progression;
use crate::app::action::Action;
use crate::app::canvas::Canvas;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::app::theme::Palette;
use crate::edit::{EditCommand, Target};
use crate::geometry::{Neighbours, Side, SpiralSpec, TIGHTEST, tightening};
use crate::measure::{LengthUnit, RuleMarks};
use egui::{CollapsingHeader, RichText, Ui};

pub(crate) fn binds(ctx: &Context<'_>, canvas: &mut Canvas, presets: &mut Presets, asks: &mut Vec<Ask>, ui: &mut Ui) {
    if ctx.layout.spiral().is_some() {
        return bands(ctx, asks, ui);
    }
    super::ties::which(ctx, asks, ui);
    canvas.gaps.show(ctx, &mut canvas.selected, canvas.neighbours, asks, ui);
    whole(ctx, canvas, asks, ui);
    super::wrap::wrap(ctx, asks, ui);
    presets.show(ctx.voice(), asks, ui);
    heading(ui, "Spacing");
    CollapsingHeader::new("By numbers").show_unindented(ui, |ui| {
        for (title, side) in titles(ctx) {
            heading(ui, title);
            progression(ctx, &mut canvas.given[usize::from(side == Side::Outward)], asks, ui, side);
        }
    });
    heading(ui, "Rounding");
    if let Some(marks) =
        choice(ui, "Round radii to", ctx.layout.raw().binds.marks, &RuleMarks::ALL, |marks| marks.name().to_owned())
    {
        asks.push(Ask::Edit(EditCommand::SetMarks(marks)));
    }
    other_rule(ctx, asks, ui);
    single(ctx, canvas, asks, ui);
}

/// What there is to say of a puck's bands: they lie evenly round it.
fn bands(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(spec) = ctx.layout.raw().fold.spiral() else { return };
    if let Some(bands) = field::count(ui, "Bands over the puck", spec.bands) {
        asks.push(Ask::Edit(EditCommand::SetSpiral(SpiralSpec { bands, ..*spec })));
    }
    let words = "Each goes through the middle; together they part the puck evenly. Drag a line on the cloth to turn them all.";
    ui.add(egui::Label::new(RichText::new(words).weak()).wrap());
}

/// Where lengths show in inches but lie on millimetre marks, or the other way round: what a rule shows would not add up.
fn other_rule(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let (now, is_inch) = (ctx.layout.raw().binds.marks, ctx.unit() == LengthUnit::Inch);
    let Some(step_mm) = now.step_mm() else { return };
    let is_inch_rule = matches!(now, RuleMarks::InchEighth | RuleMarks::InchSixteenth);
    if is_inch == is_inch_rule || step_mm <= 0.0 {
        return;
    }
    let marks = if is_inch { RuleMarks::InchSixteenth } else { RuleMarks::Millimetres1 };
    let words = "The binds lie on the marks of another rule than you read lengths on, so lengths may not add up.";
    ui.label(RichText::new(words).color(Palette::of(ui.ctx()).warn));
    if ui.button("Use the marks of this rule").on_hover_text(format!("Round to marks {}", marks.name())).clicked() {
        asks.push(Ask::Edit(EditCommand::SetMarks(marks)));
    }
}

/// What the two sides are called.
fn titles(ctx: &Context<'_>) -> [(&'static str, Side); 2] {
    let words = ctx.layout.words();
    let [inward, outward] = match words.sides {
        _ if ctx.layout.burst().is_some() => ["Guide arc to centre", "Guide arc to edge"],
        _ if ctx.layout.flat().is_some() => ["First bind to first end", "First bind to other end"],
        [below, above] if below == above => ["First parallel to the line", "First parallel to the edge"],
        [below, _] if below.starts_with("below") => ["Below the line", "Above the line"],
        _ => ["Inside the line", "Outside the line"],
    };
    [(inward, Side::Inward), (outward, Side::Outward)]
}

/// What is said of the binds of the whole rod: how many there are, and how much they tighten toward the centre.
fn whole(ctx: &Context<'_>, canvas: &mut Canvas, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let placed = ctx.layout.binds();
    let now = u32::try_from(placed.binds.len()).unwrap_or(u32::MAX);
    if let Some(count) = field::count(ui, "Binds", now) {
        asks.push(Ask::Edit(EditCommand::SetBindCount(count)));
    }
    let Some(share) = tightening(&ctx.layout.raw().binds, placed) else { return };
    let label = "Even to tighter";
    let mut tighter = canvas.tighter.unwrap_or_else(|| tighter(share));
    let response = field::slider(ui, label, &mut tighter, 0.0..=1.0);
    if response.drag_started() || (response.changed() && !response.dragged()) {
        asks.push(Ask::BeginGesture("tighten gaps".to_owned()));
    }
    if response.changed() {
        asks.push(Ask::Edit(EditCommand::Tighten(share_of(tighter))));
    }
    // The slider stands where the hand holds it, even where gaps can't follow.
    canvas.tighter = response.dragged().then_some(tighter);
    if response.drag_stopped() || (response.changed() && !response.dragged()) {
        asks.push(Ask::EndGesture);
    }
    let ends = [placed.binds.windows(2).next(), placed.binds.windows(2).next_back()];
    if let [Some(centre), Some(edge)] =
        ends.map(|pair| pair.map(|pair| ctx.lengths.format(pair[1].radius_mm - pair[0].radius_mm)))
    {
        ui.label(RichText::new(format!("Gaps of {centre} at {}, {edge} at the edge", ctx.layout.words().tip)).weak());
    }
}

/// Where the slider stands for a share of the gaps: each step of it tightens alike.
fn tighter(share: f64) -> f64 {
    (share.ln() / TIGHTEST.ln()).clamp(0.0, 1.0)
}

/// The share that a place of the slider stands for.
fn share_of(tighter: f64) -> f64 {
    TIGHTEST.powf(tighter)
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
            if let Some(at_mm) = field::length(ctx, ui, &format!("{name} at"), ctx.layout.from_zero_mm(radius_mm)) {
                asks.push(Ask::Edit(EditCommand::PutBind(id, at_mm + ctx.layout.zero_mm(), canvas.neighbours)));
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
