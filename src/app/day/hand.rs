//! Folding and tying in the run: every part of every garment, with its numbers, to be ticked.

use super::RunAsk;
use super::run::Live;
use crate::app::settings::Settings;
use crate::app::theme::Palette;
use crate::layout::HandPart;
use crate::measure::LengthStyle;
use crate::plan::TiedGarment;
use crate::telling::capitalised;
use egui::{Button, Checkbox, Label, Response, RichText, Role, Ui, WidgetInfo};

impl Live {
    /// The garments of a step that are folded and tied in it. One is open: the maker's choice, else the first that is not done.
    pub(super) fn hands(&mut self, step: u32, settings: &Settings, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        let Self { run, presses, opened, .. } = self;
        let garments = run.tied_garments(step);
        let Some(first) = garments.first() else { return };
        ui.add_space(6.0);
        ui.label(RichText::new(format!("Fold and tie, with {}", first.garment.work.thread)).size(20.0).strong());
        let left = garments.iter().find(|garment| garment.next().is_some()).map(|garment| garment.number);
        let shown = opened.filter(|(of, _)| *of == step).map_or(left, |(_, garment)| garment);
        for garment in &garments {
            let is_shown = shown == Some(garment.number);
            let title = format!("{}: {} of {} done", garment.name, garment.done.len(), garment.parts());
            let header = ui.add(Button::new(RichText::new(&title).size(18.0)).selected(is_shown).wrap());
            header.widget_info(|| WidgetInfo::selected(Role::Button, true, is_shown, &title));
            if header.clicked() {
                *opened = Some((step, (!is_shown).then_some(garment.number)));
            }
            if !is_shown {
                continue;
            }
            let own = settings.lengths(garment.garment.marks);
            for part in garment.garment.work.parts() {
                let response = one_part(garment, part, own, ui);
                if presses.of(&response, ui) {
                    let done = !garment.done.contains(&part);
                    // With its last part done, the next garment opens.
                    if done && garment.done.len() + 1 == garment.parts() {
                        *opened = None;
                    }
                    asks.push(RunAsk::Part { step, garment: garment.number, part, done });
                }
            }
        }
    }
}

/// A part with its box to tick.
fn one_part(garment: &TiedGarment<'_>, part: HandPart, lengths: LengthStyle, ui: &mut Ui) -> Response {
    let work = &garment.garment.work;
    let palette = Palette::of(ui.ctx());
    let (mut done, title) = (garment.done.contains(&part), work.title(part));
    let (tone, ink) = match (done, garment.next() == Some(part)) {
        (true, _) => (palette.faint, palette.faint),
        (false, true) => (palette.accent, palette.ink),
        (false, false) => (palette.ink, palette.ink),
    };
    let response = ui.add(Checkbox::new(&mut done, RichText::new(capitalised(&title)).size(19.0).strong().color(tone)));
    let name = format!("{}: {title}", garment.name);
    response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, done, &name));
    ui.add(Label::new(RichText::new(work.words(part, lengths)).size(17.0).color(ink)).wrap());
    ui.add_space(4.0);
    response
}
