//! Giving sections their dyes on the cloth: a click on a section, or a dye that is dragged there.

use super::paint::Brush;
use super::{Canvas, Scene, laid};
use crate::app::context::{Ask, Context};
use crate::app::picker::with_patch;
use crate::edit::{EditCommand, section_at};
use crate::layout::Swatch;
use egui::{Popup, Pos2, Response, Tooltip, Ui};

/// A dye of the rotation that a hand drags toward a section.
#[derive(Debug, Clone)]
pub(crate) struct DyeInHand(pub(crate) Swatch);

impl Canvas {
    /// Lets go of a dye over a section, and shows which section is under it; in Colours, a click on a section asks for its dye.
    pub(super) fn dye(
        &mut self,
        ctx: &Context<'_>,
        asks: &mut Vec<Ask>,
        ui: &Ui,
        response: &Response,
        brush: &Brush<'_>,
        scene: &Scene,
    ) {
        let place = |at: Pos2| laid(brush.view, brush.area, at, ctx.layout, self.showing);
        let section = |at: Option<Pos2>| at.and_then(|at| section_at(ctx.layout, ctx.figures, place(at)));
        let under = section(ui.input(|input| input.pointer.interact_pos()));
        if let Some(dye) = response.dnd_release_payload::<DyeInHand>() {
            asks.extend(under.map(|number| given(number, Some(&dye.0))));
        } else if let Some(dye) = response.dnd_hover_payload::<DyeInHand>() {
            if let Some(section) = under.and_then(|number| ctx.figures.sections.iter().find(|section| section.number == number)) {
                brush.section(scene, [section.inner_mm, section.outer_mm]);
            }
            let words =
                under.map_or_else(|| "no section here".to_owned(), |number| format!("{} {number}", ctx.layout.words().section));
            Tooltip::for_widget(response).at_pointer().gap(16.0).show(|ui| with_patch(&dye.0, ui, |ui| ui.label(words)));
        }
        if self.tinted && response.clicked() {
            let at = response.interact_pointer_pos();
            self.dyeing = section(at).zip(at);
        }
        let Some((number, at)) = self.dyeing else { return };
        let mut open = true;
        Popup::from_response(response).id(response.id.with("dyes")).at_position(at).open_bool(&mut open).show(|ui| {
            ui.strong(format!("Section {number}"));
            dyes_for(ctx, number, asks, ui);
        });
        if !open {
            self.dyeing = None;
        }
    }
}

/// The dyes to choose one from for a section, and its turn.
pub(super) fn dyes_for(ctx: &Context<'_>, number: u32, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let colours = &ctx.layout.raw().colours;
    let own = colours.single.get(&number);
    let mut chosen = None;
    for swatch in &colours.rotation {
        with_patch(swatch, ui, |ui| {
            if ui.selectable_label(own == Some(&swatch.name), &swatch.name).clicked() {
                chosen = Some(given(number, Some(swatch)));
            }
        });
    }
    if colours.rotation.is_empty() {
        ui.weak("Add a dye in Colours first.");
    } else {
        let is_bare = colours.bare.contains(&number);
        if ui.selectable_label(own.is_none() && !is_bare, "by rotation").clicked() {
            chosen = Some(given(number, None));
        }
        if ui.selectable_label(is_bare, "no dye").clicked() {
            chosen = Some(Ask::Edit(EditCommand::LeaveBare(number)));
        }
    }
    if chosen.is_some() {
        asks.extend(chosen);
        ui.close();
    }
}

fn given(section: u32, dye: Option<&Swatch>) -> Ask {
    Ask::Edit(EditCommand::SetSectionColour(section, dye.map(|dye| dye.name.clone())))
}
