//! A spiral by numbers: its pinch, its turns, the puck and the bands over it.

use super::flat::degrees;
use super::place::place;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::edit::EditCommand;
use crate::geometry::{Centre, SpiralSpec, Twist};
use crate::layout::SpiralFigures;
use egui::{Label, RichText, Ui};

pub(super) fn spiral(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let (Some(spec), Some(figures)) = (ctx.layout.raw().fold.spiral(), &ctx.figures.spiral) else { return };
    heading(ui, "Pinch");
    place(ctx, matches!(spec.centre, Centre::AboveMiddle { .. }), asks, ui);
    let now = pinch(ctx, *spec, ui);
    heading(ui, "Puck");
    let now = puck(ctx, now, figures.puck_height_mm, ui);
    say(ui, format!("{} high; {:.0} % of it is cloth.", ctx.lengths.format(figures.puck_height_mm), 100.0 * figures.packing));
    heading(ui, "Bands");
    let now = bands(now, ui);
    words(ctx, figures, ui);
    if now != *spec {
        asks.push(Ask::Edit(EditCommand::SetSpiral(now)));
    }
}

fn pinch(ctx: &Context<'_>, spec: SpiralSpec, ui: &mut Ui) -> SpiralSpec {
    let pinch_radius_mm = field::length(ctx, ui, "Radius of the pinch", spec.pinch_radius_mm).unwrap_or(spec.pinch_radius_mm);
    let turns = field::number(ui, "Turns", spec.turns).unwrap_or(spec.turns);
    let twist = choice(ui, "Turned", spec.twist, &Twist::ALL, |twist| twist.name().to_owned()).unwrap_or(spec.twist);
    let pleats = field::count(ui, "Pleats at the pinch", spec.pleats).unwrap_or(spec.pleats);
    SpiralSpec { pinch_radius_mm, turns, twist, pleats, ..spec }
}

fn puck(ctx: &Context<'_>, spec: SpiralSpec, height_mm: f64, ui: &mut Ui) -> SpiralSpec {
    let puck_diameter_mm = field::length(ctx, ui, "Puck across", spec.puck_diameter_mm).unwrap_or(spec.puck_diameter_mm);
    let puck_height_mm =
        field::solved_length(ctx, ui, "Puck height", spec.puck_height_mm, height_mm).unwrap_or(spec.puck_height_mm);
    SpiralSpec { puck_diameter_mm, puck_height_mm, ..spec }
}

fn bands(spec: SpiralSpec, ui: &mut Ui) -> SpiralSpec {
    let bands = field::count(ui, "Bands over the puck", spec.bands).unwrap_or(spec.bands);
    let first_band_deg = degrees(ui, "First band at", spec.first_band_deg).unwrap_or(spec.first_band_deg);
    SpiralSpec { bands, first_band_deg, ..spec }
}

/// What comes of it, and how far it is to be trusted.
fn words(ctx: &Context<'_>, figures: &SpiralFigures, ui: &mut Ui) {
    let [least, most] = figures.wedge_shares.map(|share| 100.0 * share);
    say(ui, format!("{} wedges of {least:.0} to {most:.0} % of the cloth.", figures.wedges));
    let (girth, rim) = (ctx.lengths.format(figures.band_girth_mm), ctx.lengths.format(figures.rim_mm));
    say(ui, format!("A band over the middle is {girth} round; the rim is {rim}."));
    say(ui, format!("The cloth allows {} turns.", figures.told_most_turns()));
    say(ui, "An even puck is reckoned with: front and back come out alike, and pleats lie where chance puts them.".to_owned());
}

fn say(ui: &mut Ui, words: String) {
    ui.add(Label::new(RichText::new(words).weak()).wrap());
}
