//! Several ties on one garment: which one is worked on, their names and order, the cloth between them.

use super::named;
use super::swatches::Swatches;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::heading::heading;
use crate::app::theme::Palette;
use crate::edit::{EditCommand, TieChange, another_tie, mirrored};
use crate::layout::{FoldKind, MOST_TIES, Srgb, Swatch};
use egui::{Button, CursorIcon, DragAndDrop, RichText, Sense, Stroke, Ui, vec2};

/// The ties, where there are several: to choose, name, order and take off.
pub(super) fn ties(ctx: &Context<'_>, swatches: &Swatches, asks: &mut Vec<Ask>, ui: &mut Ui) {
    if !ctx.whole.is_of_several() {
        return;
    }
    heading(ui, "Ties");
    ui.label(RichText::new("Tied in this order. What one takes is not there for the next.").weak());
    let names: Vec<String> = ctx.whole.raw().tie_names().map(str::to_owned).collect();
    for (number, name) in names.iter().enumerate() {
        row(ctx, number, name, asks, ui);
    }
    if let Some(name) = field::wide_words(ui, "Name", &names[ctx.tie]) {
        asks.push(change(TieChange::Rename(ctx.tie, name)));
    }
    ui.horizontal_wrapped(|ui| moves(ctx, names.len(), asks, ui));
    loose(ctx, swatches, asks, ui);
}

/// A tie of the list, which is on the pointer.
struct TieInHand(usize);

/// A tie of the list: chosen by a click, dragged to another place in the order.
fn row(ctx: &Context<'_>, number: usize, name: &str, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let label = format!("{}  {name}", number + 1);
    let button = ui.add(Button::selectable(number == ctx.tie, label).sense(Sense::click_and_drag()));
    if button.clicked() {
        asks.push(Ask::WorkOnTie(number));
    }
    button.dnd_set_drag_payload(TieInHand(number));
    // The room between rows belongs to the nearer.
    let room = button.rect.expand2(vec2(0.0, 0.5 * ui.spacing().item_spacing.y)).with_max_x(ui.max_rect().right());
    let pointer = ui.input(|input| input.pointer.interact_pos()).filter(|at| room.contains(*at));
    if let (Some(at), Some(held)) = (pointer, DragAndDrop::payload::<TieInHand>(ui.ctx())) {
        let is_below = at.y > button.rect.center().y;
        let place = landed(held.0, number + usize::from(is_below));
        if place != held.0 {
            let y = if is_below { room.bottom() } else { room.top() };
            ui.painter().hline(room.x_range(), y, Stroke::new(2.0, Palette::of(ui.ctx()).accent));
        }
        ui.set_cursor_icon(CursorIcon::Grabbing);
        if ui.input(|input| input.pointer.any_released()) {
            DragAndDrop::clear_payload(ui.ctx());
            if place != held.0 {
                asks.push(change(TieChange::Reorder(held.0, place)));
            }
        }
    }
    button.on_hover_text("Work on this tie, or drag it to another place in the order");
}

/// The number that a tie gets which is put before another, or after all, counted before it is taken out.
const fn landed(from: usize, before: usize) -> usize {
    if before > from { before - 1 } else { before }
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
pub(super) fn loose(ctx: &Context<'_>, swatches: &Swatches, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(several) = &ctx.whole_figures.several else { return };
    let now = several.loose.colour.as_deref();
    field::pick(ui, "Loose cloth", now.unwrap_or("no dye"), |ui| {
        if ui.selectable_label(now.is_none(), "no dye").clicked() {
            asks.push(change(TieChange::SetLoose(None)));
        }
        for swatch in ctx.whole.swatches() {
            if ui.selectable_label(now == Some(swatch.name.as_str()), &swatch.name).clicked() {
                asks.push(change(TieChange::SetLoose(Some(swatch.clone()))));
            }
        }
        if ui.selectable_label(false, "another dye").on_hover_text("One that no tie needs to have").clicked() {
            let is_free = |name: &String| ctx.whole.swatches().iter().all(|swatch| swatch.name != *name);
            let name = (1..).map(|number| format!("dye {number}")).find(is_free).unwrap_or_default();
            asks.push(change(TieChange::SetLoose(Some(Swatch::plain(name, FIRST_SEEN)))));
        }
    });
    own_dye(ctx, swatches, asks, ui);
    let area = ctx.lengths.format_area(several.loose.area_mm2.sum());
    ui.label(RichText::new(format!("{area} that no tie takes, {:.0} g", several.loose.mass_g)).weak());
}

/// How a dye looks that is added to loose cloth, before it is chosen.
const FIRST_SEEN: Srgb = Srgb { red: 60, green: 110, blue: 90 };

/// The loose cloth's own dye, to be named and chosen, where no tie has it.
fn own_dye(ctx: &Context<'_>, swatches: &Swatches, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(own) = ctx.whole.raw().ties.as_ref().and_then(|ties| ties.loose_dye.as_ref()) else { return };
    let used: Vec<Swatch> = ctx.whole.swatches().into_iter().cloned().collect();
    let (_, changed) = named::swatch(ctx, ui, "Own dye", own, &|| swatches.offered(&used), false, asks);
    if let Some(changed) = changed {
        asks.push(change(TieChange::SetLoose(Some(changed))));
    }
}

fn change(change: TieChange) -> Ask {
    Ask::Edit(EditCommand::Ties(change))
}
