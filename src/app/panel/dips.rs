//! What of a flat bundle is dipped into dye.

use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice, pick};
use crate::app::heading::heading;
use crate::edit::EditCommand;
use crate::geometry::DipPart;
use crate::layout::{Colours, DipFigures, DipSpec, DyeBy};
use crate::telling::capitalised;
use egui::{RichText, Ui};

/// How deep and how long a dip is begun with, mm and minutes.
const BEGUN: (f64, f64) = (20.0, 2.0);

pub(super) fn dips(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(flat) = ctx.layout.flat() else { return };
    heading(ui, "Dips");
    let (now, colours, parts) = (&ctx.layout.raw().dips, &ctx.layout.raw().colours, flat.dip_parts());
    let mut next = now.clone();
    for (index, figures) in ctx.figures.dips.iter().enumerate() {
        ui.push_id(("dip", index), |ui| dip(ctx, &mut next, index, &parts, figures, ui));
    }
    let is_full = colours.rotation.is_empty();
    let add = ui.add_enabled(!is_full, egui::Button::new("Add a dip"));
    let add = add.on_disabled_hover_text("Add a colour first, under Colours");
    if add.on_hover_text("Edges and corners are numbered in the Rod view").clicked() {
        next.extend(another(now, colours, &parts, flat.size().height));
    }
    if now.is_empty() && ctx.layout.process().dye == DyeBy::Dipped {
        ui.add(egui::Label::new(RichText::new("Nothing is dyed until something is dipped.").weak()).wrap());
    }
    if next != *now {
        asks.push(Ask::Edit(EditCommand::SetDips(next)));
    }
}

/// One dip's fields; what they change, or that it is taken away.
fn dip(ctx: &Context<'_>, dips: &mut Vec<DipSpec>, index: usize, parts: &[DipPart], figures: &DipFigures, ui: &mut Ui) {
    let Some(spec) = dips.get_mut(index) else { return };
    let label = |what: &str| format!("Dip {}, {what}", figures.number);
    if let Some(part) = choice(ui, &label("part"), spec.part, parts, |part| part.to_string()) {
        spec.part = part;
    }
    pick(ui, &label("colour"), capitalised(&spec.colour), |ui| {
        for swatch in &ctx.layout.raw().colours.rotation {
            if ui.selectable_label(swatch.name == spec.colour, capitalised(&swatch.name)).clicked() {
                spec.colour.clone_from(&swatch.name);
            }
        }
    });
    if let Some(depth_mm) = field::length(ctx, ui, &label("depth"), spec.depth_mm) {
        spec.depth_mm = depth_mm;
    }
    if let Some(minutes) = field::number(ui, &label("minutes"), spec.minutes) {
        spec.minutes = minutes;
    }
    let (cloth, reach) = (ctx.lengths.format_area(figures.area_mm2.sum()), ctx.lengths.format(figures.reach_mm));
    let words = format!("{cloth} of cloth lie in dye; it is drawn about {reach} farther.");
    ui.add(egui::Label::new(RichText::new(words).weak()).wrap());
    if ui.button("Remove").on_hover_text(format!("Remove dip {}", figures.number)).clicked() {
        dips.remove(index);
    }
}

/// The next corner that is not dipped yet, in the next colour.
fn another(now: &[DipSpec], colours: &Colours, parts: &[DipPart], width_mm: f64) -> Option<DipSpec> {
    let corners_first = parts.iter().filter(|part| matches!(part, DipPart::Corner(_))).chain(parts);
    let free = corners_first.clone().find(|&&part| now.iter().all(|dip| dip.part != part));
    let part = *free.or_else(|| parts.first())?;
    let colour = colours.rotation.get(now.len() % colours.rotation.len().max(1))?.name.clone();
    let (depth_mm, minutes) = BEGUN;
    let depth_mm = match part {
        DipPart::Top | DipPart::Underside => 1.0,
        DipPart::Edge(_) | DipPart::Corner(_) => depth_mm.min((0.25 * width_mm).round()).max(1.0),
    };
    Some(DipSpec { part, depth_mm, minutes, colour })
}
