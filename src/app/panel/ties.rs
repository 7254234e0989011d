//! Several ties on one garment: which one is worked on, their names and order, the cloth between them.

use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::heading::heading;
use crate::edit::{EditCommand, TieChange, another_tie, mirrored};
use crate::layout::{FoldKind, MOST_TIES};
use egui::{Button, RichText, Ui};

/// The ties, where there are several: to choose, name, order and take off.
pub(super) fn ties(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    if !ctx.whole.is_of_several() {
        return;
    }
    heading(ui, "Ties");
    ui.label(RichText::new("Tied in this order. What one takes is not there for the next.").weak());
    let names: Vec<String> = ctx.whole.raw().tie_names().map(str::to_owned).collect();
    for (number, name) in names.iter().enumerate() {
        let label = format!("{}  {name}", number + 1);
        if ui.selectable_label(number == ctx.tie, label).on_hover_text("Work on this tie").clicked() {
            asks.push(Ask::WorkOnTie(number));
        }
    }
    if let Some(name) = field::wide_words(ui, "Name", &names[ctx.tie]) {
        asks.push(change(TieChange::Rename(ctx.tie, name)));
    }
    ui.horizontal_wrapped(|ui| moves(ctx, names.len(), asks, ui));
    loose(ctx, asks, ui);
}

/// What can be done with the tie that is worked on, as one of several.
fn moves(ctx: &Context<'_>, count: usize, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let (tie, has_room) = (ctx.tie, count < MOST_TIES);
    if ui.add_enabled(tie > 0, Button::new("Earlier")).on_hover_text("Tie it before the one above").clicked() {
        asks.push(change(TieChange::Reorder(tie, tie - 1)));
    }
    if ui.add_enabled(tie + 1 < count, Button::new("Later")).on_hover_text("Tie it after the one below").clicked() {
        asks.push(change(TieChange::Reorder(tie, tie + 1)));
    }
    if ui.button("Take off").on_hover_text("Its cloth goes to the others, or lies loose").clicked() {
        asks.push(change(TieChange::Remove(tie)));
    }
    let same = mirrored(ctx.whole, tie).filter(|_| has_room);
    let button = ui.add_enabled(same.is_some(), Button::new("Same again, mirrored"));
    let button = button.on_hover_text("Put the same tie on the other side of the centre line");
    let button = button.on_disabled_hover_text("On a folded garment a tie is on both sides already");
    if let Some(tie) = same.filter(|_| button.clicked()) {
        asks.push(change(TieChange::Add(Box::new(tie))));
    }
    if ui.add_enabled(has_room, Button::new("Add a tie")).on_hover_text(ADDS).clicked() {
        asks.push(change(TieChange::Add(Box::new(another_tie(ctx.whole)))));
    }
}

const ADDS: &str = "Put a small burst where there is most room beside the others";

/// A way to a second tie, where all of the garment is one.
pub(super) fn another(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let takes_others = matches!(ctx.layout.raw().fold.kind(), FoldKind::Burst | FoldKind::Line);
    if ctx.whole.is_of_several() || !takes_others {
        return;
    }
    let hint =
        "Tie more than once: each tie takes the cloth within its last bind, and a small burst is put where there is most room";
    if ui.button("Add a tie").on_hover_text(hint).clicked() {
        asks.push(change(TieChange::Add(Box::new(another_tie(ctx.whole)))));
    }
}

/// Which tie the panel's values are of, to choose another; nothing where there is one.
pub(super) fn which(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    if !ctx.whole.is_of_several() {
        return;
    }
    heading(ui, "Tie");
    ui.horizontal_wrapped(|ui| {
        for (number, name) in ctx.whole.raw().tie_names().enumerate() {
            if ui.selectable_label(number == ctx.tie, name).clicked() {
                asks.push(Ask::WorkOnTie(number));
            }
        }
    });
}

/// What the cloth that no tie takes is dyed with.
pub(super) fn loose(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(several) = &ctx.whole_figures.several else { return };
    let now = several.loose.colour.as_deref();
    field::pick(ui, "Loose cloth", now.unwrap_or("no dye"), |ui| {
        if ui.selectable_label(now.is_none(), "no dye").clicked() {
            asks.push(change(TieChange::SetLoose(None)));
        }
        for swatch in ctx.whole.swatches() {
            if ui.selectable_label(now == Some(swatch.name.as_str()), &swatch.name).clicked() {
                asks.push(change(TieChange::SetLoose(Some(swatch.name.clone()))));
            }
        }
    });
    let area = ctx.lengths.format_area(several.loose.area_mm2.sum());
    ui.label(RichText::new(format!("{area} that no tie takes, {:.0} g", several.loose.mass_g)).weak());
}

fn change(change: TieChange) -> Ask {
    Ask::Edit(EditCommand::Ties(change))
}
