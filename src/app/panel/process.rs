//! How the rod is dyed, and the calibration that no source gives.

use crate::app::action::Action;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heading::section;
use crate::app::learn::{LearnAsk, begins};
use crate::edit::EditCommand;
use crate::layout::{BindEffect, Calibration, Discharge, Dryness, DyeBy, Hand, IceLayers, Process, Reach, Rest};
use crate::telling::capitalised;
use egui::{CollapsingHeader, RichText, Ui};

pub(crate) fn process(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    section(ui, "Dyeing", |ui| settings(ctx, asks, ui));
}

fn settings(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let now = *ctx.layout.process();
    discharged_first(ctx, asks, ui);
    let mut ask = |process: Process| asks.push(Ask::Edit(EditCommand::SetProcess(process)));
    if let Some(discharge) = now.discharge
        && let Some(strength) = field::number(ui, "Discharge strength", discharge.strength)
    {
        ask(Process { discharge: Some(Discharge { strength }), ..now });
    }
    if let Some(dye) = choice(ui, "Dye", now.dye, &ways(ctx), |dye| dye_name(dye).to_owned()) {
        ask(Process { dye, ..now });
    }
    let rests = [Rest::EdgesUp, Rest::OnItsFlat, Rest::TurnedHalfWay];
    // A puck lies on its face.
    if ctx.layout.spiral().is_none()
        && let Some(rest) = choice(ui, "Rod lies", now.rest, &rests, |rest| rest_name(rest).to_owned())
    {
        ask(Process { rest, ..now });
    }
    let insides = [Dryness::Dry, Dryness::Damp, Dryness::Wet];
    if let Some(inside) = choice(ui, "Rod inside", now.inside, &insides, |inside| inside_name(inside).to_owned()) {
        ask(Process { inside, ..now });
    }
    if let Some(layers) = field::count(ui, "Layers of ice", now.ice_layers.0) {
        ask(Process { ice_layers: IceLayers(layers), ..now });
    }
    CollapsingHeader::new("Hand wander").show(ui, |ui| {
        if let Some(hand) = hand(ctx, now.hand, ui) {
            ask(Process { hand, ..now });
        }
    });
    let mut more = Vec::new();
    CollapsingHeader::new("Calibration").show(ui, |ui| {
        let source =
            now.calibration.learned.map_or_else(|| "Our own guess, or yours.".to_owned(), |from| capitalised(&from.words()));
        ui.label(RichText::new(source).weak());
        if let Some(calibration) = calibration(ctx, &now.calibration, ui) {
            ask(Process { calibration, ..now });
        }
        if ui.button("Reset calibration").clicked() {
            ask(Process { calibration: Calibration::default(), ..now });
        }
        learned(ctx, &mut more, ui);
    });
    asks.extend(more);
}

/// What photographs taught: where it comes from, and whether layouts begin with it.
fn learned(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let action = Action::LearnFromPhotographs;
    ui.horizontal_wrapped(|ui| {
        let use_it = ctx.settings.learned.is_some() && ui.button("Use what you learned").clicked();
        if use_it {
            asks.push(Ask::Learn(LearnAsk::Use));
        }
        if ui.button(action.label()).on_hover_text(action.tooltip()).clicked() {
            asks.push(Ask::Act(action));
        }
    });
    begins(ctx.settings, asks, ui);
}

/// Whether the garment's own colour is taken out before it is dyed.
pub(super) fn discharged_first(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let now = *ctx.layout.process();
    let mut discharged = now.discharge.is_some();
    let words = ui.checkbox(&mut discharged, "Discharge the garment's colour first");
    if words.on_hover_text("Discharge removes it except where thread blocks it; otherwise dye goes over it").changed() {
        let discharge = discharged.then(Discharge::default);
        asks.push(Ask::Edit(EditCommand::SetProcess(Process { discharge, ..now })));
    }
}

/// The ways to put dye on; only a flat bundle has edges and corners to dip.
fn ways(ctx: &Context<'_>) -> Vec<DyeBy> {
    let dipped = ctx.layout.flat().map(|_| DyeBy::Dipped).or(Some(DyeBy::Dipped).filter(|&way| way == ctx.layout.process().dye));
    [DyeBy::PowderUnderIce, DyeBy::ByHand].into_iter().chain(dipped).collect()
}

fn dye_name(dye: DyeBy) -> &'static str {
    match dye {
        DyeBy::PowderUnderIce => "powder under ice",
        DyeBy::ByHand => "dissolved, by hand",
        DyeBy::Dipped => "dips alone",
    }
}

fn rest_name(rest: Rest) -> &'static str {
    match rest {
        Rest::EdgesUp => "creases up",
        Rest::OnItsFlat => "flat",
        Rest::TurnedHalfWay => "turned halfway",
    }
}

fn inside_name(inside: Dryness) -> &'static str {
    match inside {
        Dryness::Dry => "dry",
        Dryness::Damp => "damp",
        Dryness::Wet => "wet",
    }
}

fn hand(ctx: &Context<'_>, now: Hand, ui: &mut Ui) -> Option<Hand> {
    let wander = field::thickness(ctx, ui, "Wander", now.wander_mm).map(|wander_mm| Hand { wander_mm, ..now });
    let length = field::length(ctx, ui, "Wander length", now.wander_length_mm);
    let length = length.map(|wander_length_mm| Hand { wander_length_mm, ..now });
    let creases = field::number(ui, "Uneven creases", now.uneven_creases);
    let creases = creases.map(|uneven_creases| Hand { uneven_creases, ..now });
    let another = ui.button("Try another hand").on_hover_text("Same settings, other random folds").clicked();
    let another = another.then(|| Hand { seed: now.seed.wrapping_add(1), ..now });
    wander.or(length).or(creases).or(another)
}

fn calibration(ctx: &Context<'_>, now: &Calibration, ui: &mut Ui) -> Option<Calibration> {
    let mut next = *now;
    let mut changed = reach(ctx, "Dye", &mut next.dye_reach, ui) | reach(ctx, "Discharge", &mut next.discharge_reach, ui);
    let shares = [
        ("Damp inside, share", &mut next.damp_share),
        ("Wet inside, share", &mut next.wet_share),
        ("Extra ice adds", &mut next.further_ice_share),
        ("Run-off feeds", &mut next.underside),
        ("Sides catch", &mut next.side_catch),
        ("Flat after, rods", &mut next.flat_after_diameters),
        ("Whole dip, minutes", &mut next.dip_minutes),
        ("Half discharged at", &mut next.discharge_half_dose),
        ("Discharge steepness", &mut next.discharge_steepness),
        ("Reached from dose", &mut next.reached_dose),
    ];
    for (label, value) in shares {
        if let Some(new) = field::number(ui, label, *value) {
            *value = new;
            changed = true;
        }
    }
    let unit = ctx.unit();
    if let Some(seeping) = field::number(ui, &format!("Seeping, per {unit}"), next.seeping_per_mm * unit.in_mm()) {
        next.seeping_per_mm = seeping / unit.in_mm();
        changed = true;
    }
    for (label, effect) in [("Waxed", &mut next.waxed), ("String", &mut next.plain_string), ("Band", &mut next.rubber_band)] {
        changed |= bind(ctx, label, effect, ui);
    }
    changed.then_some(next)
}

fn reach(ctx: &Context<'_>, what: &str, reach: &mut Reach, ui: &mut Ui) -> bool {
    let along = field::length(ctx, ui, &format!("{what}, along cloth"), reach.along_mm);
    let through = field::thickness(ctx, ui, &format!("{what}, through"), reach.through_mm);
    reach.along_mm = along.unwrap_or(reach.along_mm);
    reach.through_mm = through.unwrap_or(reach.through_mm);
    along.is_some() || through.is_some()
}

fn bind(ctx: &Context<'_>, what: &str, effect: &mut BindEffect, ui: &mut Ui) -> bool {
    let conductance = field::number(ui, &format!("{what} lets through"), effect.conductance);
    let cover = field::number(ui, &format!("{what} covers"), effect.cover);
    let beyond = field::thickness(ctx, ui, &format!("{what} presses"), effect.beyond_mm);
    effect.conductance = conductance.unwrap_or(effect.conductance);
    effect.cover = cover.unwrap_or(effect.cover);
    effect.beyond_mm = beyond.unwrap_or(effect.beyond_mm);
    conductance.is_some() || cover.is_some() || beyond.is_some()
}
