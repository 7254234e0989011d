//! What a dye of the rotation is mixed of.

use super::named::swatch;
use super::swatches::Swatches;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::picker::with_patch;
use crate::edit::EditCommand;
use crate::layout::{COMPONENTS, Colours, Component, Swatch, with_another, with_share, without};
use crate::learn::reach_words;
use crate::reveal::colour::Together;
use egui::{RichText, Ui};

/// The components of a mixed dye, each with its colour, share and reach, and how they look together.
pub(super) fn components(ctx: &Context<'_>, swatches: &Swatches, index: usize, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let colours = &ctx.layout.raw().colours;
    let dye = &colours.rotation[index];
    if dye.components.is_empty() {
        return;
    }
    ui.label(RichText::new("Components:").weak());
    let taught = ctx.taught.map(|taught| taught.tuning(ctx.layout.raw()));
    for number in 0..dye.components.len() {
        ui.push_id(number, |ui| {
            one(ctx, swatches, dye, number, asks, ui);
            let name = &dye.components[number].name;
            if let Some(factor) = taught.as_ref().and_then(|taught| taught.reach_of(&dye.name, name)) {
                learned(factor, dye, number, asks, ui);
            }
        });
    }
    ui.horizontal_wrapped(|ui| {
        let has_room = dye.components.len() < COMPONENTS[1];
        if has_room && ui.button("Add a component").clicked() {
            asks.push(mix(dye, with_another(&dye.components, dye.srgb)));
        }
        if ui.button("Not mixed").on_hover_text("Forget what it is mixed of").clicked() {
            asks.push(mix(dye, Vec::new()));
        }
    });
    together(colours, index, asks, ui);
    ui.add_space(6.0);
}

/// One component: its colour and name, its share, how much farther or less far than other dyes it spreads.
fn one(ctx: &Context<'_>, swatches: &Swatches, dye: &Swatch, number: usize, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let now = &dye.components[number];
    let with = |changed: Component| {
        let mut components = dye.components.clone();
        components[number] = changed;
        mix(dye, components)
    };
    let label = format!("No. {}", number + 1);
    let shown = Swatch::plain(now.name.clone(), now.srgb);
    if let (_, Some(Swatch { name, srgb, .. })) = swatch(ctx, ui, &label, &shown, &|| swatches.offered(&[]), false, asks) {
        asks.push(with(Component { name, srgb, ..now.clone() }));
    }
    if let Some(percent) = field::number(ui, "Share, %", now.percent) {
        asks.push(mix(dye, with_share(&dye.components, number, percent)));
    }
    if let Some(percent) = field::number(ui, "Spreads farther, %", now.farther_percent()) {
        asks.push(with(now.clone().spread_farther(percent)));
    }
    if dye.components.len() > COMPONENTS[0] && ui.button("Remove component").clicked() {
        asks.push(mix(dye, without(&dye.components, number)));
    }
}

/// What the maker's pieces taught of a component's reach, offered where it is another: to a mixture from the book of swatches as to one that was
/// made up here.
fn learned(factor: f64, dye: &Swatch, number: usize, asks: &mut Vec<Ask>, ui: &mut Ui) {
    if factor.total_cmp(&dye.components[number].reach_factor).is_eq() {
        ui.label(RichText::new("Spreads as your pieces taught.").weak());
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(format!("Your pieces taught: {}.", reach_words(factor))).weak());
        if ui.button("Use that").on_hover_text("Let this component spread as photographs of your pieces taught").clicked() {
            let mut components = dye.components.clone();
            components[number].reach_factor = factor;
            asks.push(mix(dye, components));
        }
    });
}

/// How the components look together, beside how the dye looks.
fn together(colours: &Colours, index: usize, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let dye = &colours.rotation[index];
    let Some(found) = Together::of(dye) else { return };
    let seen = Swatch::plain(format!("the components of {} together", dye.name), found.srgb);
    with_patch(&seen, ui, |ui| {
        let words = if found.is_alike() { "together: like this dye" } else { "together: unlike this dye" };
        let tip = "The reveal bends the components until they look together as the dye does";
        ui.label(RichText::new(words).weak()).on_hover_text(tip);
        if !found.is_alike() && ui.button("Take this colour").on_hover_text("As the dye's own").clicked() {
            let mut colours = colours.clone();
            colours.rotation[index].srgb = found.srgb;
            asks.push(Ask::Edit(EditCommand::SetColours(colours)));
        }
    });
}

pub(super) fn mix(dye: &Swatch, components: Vec<Component>) -> Ask {
    Ask::Edit(EditCommand::SetComponents(dye.name.clone(), components))
}
