//! Colours of garment and sections.

use super::mixture;
use super::named::swatch;
use super::process::discharged_first;
use super::swatches::Swatches;
use crate::app::canvas::DyeInHand;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::edit::EditCommand;
use crate::layout::{Colours, RotationStart, Srgb, Swatch};
use crate::measure::grams_number;
use crate::reveal::colour::Ground;
use crate::telling::capitalised;
use egui::{RichText, Ui};

pub(crate) fn colours(ctx: &Context<'_>, swatches: &Swatches, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let raw = ctx.layout.raw();
    heading(ui, "Garment colour");
    let white = Swatch::plain("white", Srgb { red: 245, green: 243, blue: 234 });
    let garment = raw.garment.colour.clone().unwrap_or(white);
    if let (_, Some(changed)) = swatch(ctx, ui, "Garment", &garment, &|| swatches.offered(&[]), false, asks) {
        asks.push(Ask::Edit(EditCommand::SetGarmentColour(Some(changed))));
    }
    discharged_first(ctx, asks, ui);
    if ctx.layout.process().discharge.is_some() {
        let said = raw.garment.discharged.clone();
        let guess = || Swatch::plain("a guess", Ground::of_layout(ctx.layout).discharged);
        let now = said.unwrap_or_else(guess);
        if let (_, Some(changed)) = swatch(ctx, ui, "Discharged", &now, &|| swatches.offered(&[]), false, asks) {
            asks.push(Ask::Edit(EditCommand::SetDischargedColour(Some(changed))));
        }
    }
    super::ties::which(ctx, asks, ui);
    heading(ui, "Dye rotation");
    let now = &raw.colours;
    dyes(ctx, swatches, asks, ui);
    let starts = [RotationStart::Centre, RotationStart::Edge];
    let tip = ctx.layout.words().tip;
    let start_name = |start| if start == RotationStart::Centre { format!("at {tip}") } else { "at the edge".to_owned() };
    if let Some(start) = choice(ui, "Rotation starts", now.start, &starts, start_name) {
        asks.push(Ask::Edit(EditCommand::SetColours(Colours { start, ..now.clone() })));
    }
    sections(ctx, asks, ui);
    super::ties::loose(ctx, swatches, asks, ui);
    super::dips::dips(ctx, asks, ui);
}

/// The rotation: each dye with its name and colour, moved, removed, kept, added.
fn dyes(ctx: &Context<'_>, swatches: &Swatches, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let now = &ctx.layout.raw().colours;
    let mut next: Option<Colours> = None;
    let mut ask = |colours: Colours| next = Some(colours);
    let last = now.rotation.len().saturating_sub(1);
    for (index, one) in now.rotation.iter().enumerate() {
        ui.push_id(index, |ui| {
            let label = format!("Dye {}", index + 1);
            let unmixed = one.components.is_empty();
            let (button, changed) = swatch(ctx, ui, &label, one, &|| swatches.offered(&now.rotation), unmixed, asks);
            button.dnd_set_drag_payload(DyeInHand(one.clone()));
            button.on_hover_text("Choose its colour, or drag it onto a section of the cloth");
            match changed {
                Some(mixed) if mixed == (Swatch { components: mixed.components.clone(), ..one.clone() }) => {
                    asks.push(mixture::mix(one, mixed.components));
                }
                Some(changed) => ask(renamed(now, index, changed)),
                None => {}
            }
            ui.horizontal_wrapped(|ui| {
                if ui.add_enabled(index > 0, egui::Button::new("Up")).clicked() {
                    ask(with(now, |rotation| rotation.swap(index, index - 1)));
                }
                if ui.add_enabled(index < last, egui::Button::new("Down")).clicked() {
                    ask(with(now, |rotation| rotation.swap(index, index + 1)));
                }
                if ui.button("Remove").clicked() {
                    ask(without(now, index));
                }
                if ui.button("Keep").on_hover_text("Add it to your swatches, for other layouts").clicked() {
                    asks.push(Ask::KeepSwatch(one.clone()));
                }
            });
            mixture::components(ctx, swatches, index, asks, ui);
        });
    }
    if ui.button("Add a dye").clicked() {
        let name = (1..).map(|n| format!("dye {n}")).find(|name| now.rotation.iter().all(|other| other.name != *name));
        let added = Swatch::plain(name.unwrap_or_default(), Srgb { red: 60, green: 110, blue: 90 });
        ask(with(now, |rotation| rotation.push(added)));
    }
    if let Some(taken) = swatches.menu("Add from swatches", &now.rotation, ctx.voice(), asks, ui) {
        next = Some(with(now, |rotation| rotation.push(taken)));
    }
    asks.extend(next.map(|colours| Ask::Edit(EditCommand::SetColours(colours))));
}

fn with(now: &Colours, change: impl FnOnce(&mut Vec<Swatch>)) -> Colours {
    let mut colours = now.clone();
    change(&mut colours.rotation);
    colours
}

/// A changed dye keeps the sections that were given it by name.
fn renamed(now: &Colours, index: usize, changed: Swatch) -> Colours {
    let mut colours = now.clone();
    let earlier = std::mem::replace(&mut colours.rotation[index], changed.clone()).name;
    colours.single.values_mut().filter(|name| **name == earlier).for_each(|name| name.clone_from(&changed.name));
    colours
}

/// Sections that were given a removed dye by name get their turn back.
fn without(now: &Colours, index: usize) -> Colours {
    let mut colours = now.clone();
    let removed = colours.rotation.remove(index).name;
    colours.single.retain(|_, name| *name != removed);
    colours
}

/// What is said of a section's dye.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Given {
    /// Its turn.
    Turn,
    /// A dye of its own.
    Own(String),
    /// None.
    Nothing,
}

impl Given {
    fn of(colours: &Colours, section: u32) -> Self {
        match colours.single.get(&section) {
            _ if colours.bare.contains(&section) => Self::Nothing,
            Some(own) => Self::Own(own.clone()),
            None => Self::Turn,
        }
    }

    fn name(&self) -> &str {
        match self {
            Self::Turn => "by rotation",
            Self::Own(name) => name,
            Self::Nothing => "no dye",
        }
    }

    fn command(self, section: u32) -> EditCommand {
        match self {
            Self::Turn => EditCommand::SetSectionColour(section, None),
            Self::Own(name) => EditCommand::SetSectionColour(section, Some(name)),
            Self::Nothing => EditCommand::LeaveBare(section),
        }
    }
}

fn sections(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let (what, tip) = (ctx.layout.words().section, ctx.layout.words().tip);
    heading(ui, &format!("{}s, from {tip}", capitalised(what)));
    let colours = &ctx.layout.raw().colours;
    let dyes = colours.rotation.iter().map(|swatch| Given::Own(swatch.name.clone()));
    let choices: Vec<Given> = [Given::Turn].into_iter().chain(dyes).chain([Given::Nothing]).collect();
    for section in &ctx.figures.sections {
        let own = Given::of(colours, section.number);
        let label = format!("{} {}, {} g", capitalised(what), section.number, grams_number(section.mass_g, 1));
        let mut chosen = own.clone();
        let shown = match &own {
            Given::Turn => format!("{} (by rotation)", section.colour.as_deref().unwrap_or("none")),
            own => own.name().to_owned(),
        };
        field::pick(ui, &label, shown, |ui| {
            for choice in &choices {
                ui.selectable_value(&mut chosen, choice.clone(), choice.name());
            }
        });
        if chosen != own {
            asks.push(Ask::Edit(chosen.command(section.number)));
        }
    }
    if ctx.figures.colours.is_empty() {
        ui.label(RichText::new("Add a dye to colour the sections.").weak());
    }
    for colour in &ctx.figures.colours {
        ui.label(format!("{}: {} g of cloth in {}", colour.name, grams_number(colour.mass_g, 1), colour.goes_on(what)));
    }
}
