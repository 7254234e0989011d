//! The panel beside the pieces: learning, and what is done with what was learned.

use super::{LearnAsk, LearnView, Part, refusal, said};
use crate::app::action::Action;
use crate::app::context::Ask;
use crate::app::heading::heading;
use crate::app::purpose::Purpose;
use crate::app::screen::screen;
use crate::app::settings::Settings;
use egui::{Button, Label, ProgressBar, RichText, Ui};

pub(super) fn show(view: &mut LearnView, has_layout: bool, settings: &Settings, asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Learn from photographs");
    let about = "Calibration values are fitted to what came out. Keep one piece back: nothing is learned from it, and it tells how far to trust the rest.";
    ui.add(Label::new(RichText::new(about).weak()).wrap());
    ui.horizontal_wrapped(|ui| {
        if ui.button("Add a piece…").on_hover_text("A layout's file, with photographs of what was made from it").clicked() {
            asks.push(Ask::NameFile(Purpose::PieceLayout));
        }
        if ui.button(Action::TestCloth.label()).on_hover_text(Action::TestCloth.tooltip()).clicked() {
            asks.push(Ask::Act(Action::TestCloth));
        }
    });
    ui.add_space(6.0);
    learning(view, ui);
    if let Some(refused) = &view.refused {
        refusal(refused, ui);
    }
    if view.has_learned() {
        using(view, has_layout, asks, ui);
    }
    earlier(view, settings, asks, ui);
}

/// How far it is, or the button that begins it.
fn learning(view: &mut LearnView, ui: &mut Ui) {
    if let Some(learning) = &view.learning {
        ui.horizontal(|ui| {
            ui.spinner();
            ui.label("Learning…");
        });
        ui.horizontal(|ui| {
            ui.add(ProgressBar::new(screen(learning.cancel.done())).desired_width(160.0));
            if ui.button("Stop").clicked() {
                learning.cancel.cancel();
            }
        });
        return;
    }
    let [teaching, kept] = [Part::Teaches, Part::KeptBack].map(|part| view.rows_that(part).count());
    let pieces = if teaching == 1 { "1 piece teaches" } else { &format!("{teaching} pieces teach") };
    let words = format!("{pieces}, {} kept back.", if kept == 0 { "none" } else { "one" });
    ui.label(RichText::new(words).weak());
    let button = ui.add_enabled(view.can_begin(), Button::new("Learn"));
    if button.on_hover_text("Fit the values; a piece takes some ten seconds").clicked() {
        view.begin(ui.ctx());
    }
}

/// What can be done with what was learned.
fn using(view: &LearnView, has_layout: bool, asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Use it");
    if view.unkept().is_some() {
        ui.label(RichText::new("Not in a file yet.").weak());
        if ui.button("Keep…").on_hover_text("Save it to your own file; the earlier one is kept as a backup").clicked() {
            asks.push(Ask::NameFile(Purpose::KeepLearned));
        }
    }
    let here = ui.add_enabled(has_layout, Button::new("Use for the open layout"));
    let here = here.on_hover_text("Give the open layout these calibration values, as one step to undo");
    if here.on_disabled_hover_text("Open a layout first").clicked() {
        asks.push(Ask::Learn(LearnAsk::Use));
    }
}

/// The maker's own file, on top of which is learned and with which layouts begin.
fn earlier(view: &LearnView, settings: &Settings, asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Your own file");
    match (&view.own, &view.earlier) {
        (None, _) => drop(ui.add(Label::new(RichText::new("None yet: what is learned begins with the defaults.").weak()).wrap())),
        (Some(own), earlier) => {
            let pieces = earlier.as_ref().and_then(|earlier| earlier.as_ref().ok()).map(|learned| learned.pieces().len());
            let from = pieces.map(|count| format!(", from {count} so far")).unwrap_or_default();
            ui.add(Label::new(format!("{}{from}", said(own))).wrap()).on_hover_text(own.display().to_string());
            if let Some(Err(refused)) = earlier {
                refusal(refused, ui);
            }
            ui.add(Label::new(RichText::new("What is learned next adds to it.").weak()).wrap());
        }
    }
    ui.horizontal_wrapped(|ui| {
        let words = if view.own.is_some() { "Choose another…" } else { "Choose…" };
        if ui.button(words).on_hover_text("Learn on top of another file of learned values").clicked() {
            asks.push(Ask::NameFile(Purpose::EarlierLearned));
        }
        if view.own.is_some() && ui.button("Start afresh").on_hover_text("Learn from the defaults; the file stays").clicked() {
            asks.push(Ask::Learn(LearnAsk::Earlier(None)));
        }
    });
    begins(settings, asks, ui);
}

/// Whether new layouts begin with what was learned; shown wherever calibration is told of.
pub(crate) fn begins(settings: &Settings, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(own) = &settings.learned else { return };
    let mut begins = settings.begins_learned;
    let check = ui.checkbox(&mut begins, format!("Begin new layouts with {}", said(own)));
    if check.on_hover_text("Otherwise new layouts begin with the program's own calibration").changed() {
        asks.push(Ask::Learn(LearnAsk::BeginWith(begins)));
    }
}
