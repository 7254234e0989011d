//! The panel beside a photograph that an outline is taken from: the sheet, what counts, what comes of it.

use super::super::PhotoAsk;
use super::marked::Marked;
use super::{OutlineView, Ready};
use crate::app::context::Ask;
use crate::app::field;
use crate::app::heading::section;
use crate::app::purpose::Purpose;
use crate::app::theme::Palette;
use crate::photo::{Halves, Sheet, SheetPaper};
use crate::telling::{Refused as _, Voice};
use egui::{Button, Label, RichText, Ui};

/// Halves that lie farther apart are told of in the colour of warnings, mm: what two sides of a sewn garment do is less (our own judgement).
const APART_MM: f64 = 10.0;

impl OutlineView {
    /// The panel.
    pub(crate) fn choices(&mut self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        section(ui, "Outline from a photograph", |ui| self.about(voice, asks, ui));
        let Some(ready) = &mut self.ready else { return };
        ready.trace();
        self.taking(voice, asks, ui);
        let Some(ready) = &mut self.ready else { return };
        section(ui, "Sheet", |ui| ready.sheet_choice(ui));
        section(ui, "Outline", |ui| ready.outline_choice(voice, ui));
    }

    fn about(&self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ui.add(Label::new(RichText::new(&self.name).strong()).wrap());
        let hint = "The undyed garment lies flat and upright on a plain table of another colour, a sheet of paper beside it, seen from above.";
        ui.add(Label::new(RichText::new(hint).weak()).wrap());
        if let Some(refused) = &self.refused {
            ui.add(Label::new(RichText::new(refused.say(voice)).color(Palette::of(ui.ctx()).refused)).wrap());
        }
        if self.reader.is_some() {
            ui.horizontal(|ui| {
                ui.spinner();
                ui.label("Reading the photograph…");
            });
        }
        ui.horizontal_wrapped(|ui| {
            if ui.button("Put it away").on_hover_text("Without taking anything from it").clicked() {
                asks.push(Ask::Photo(PhotoAsk::CloseOutline));
            }
            if ui.button("Another photograph…").clicked() {
                asks.push(Ask::NameFile(Purpose::OutlinePhotograph { back: self.back }));
            }
        });
    }

    /// As the garment's outline, or why not.
    fn taking(&self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let Some(ready) = &self.ready else { return };
        ui.add_space(8.0);
        let palette = Palette::of(ui.ctx());
        if let Some((_, Err(error))) = &ready.traced {
            ui.add(Label::new(RichText::new(error.say(voice)).color(palette.refused)).wrap());
        }
        let words = if self.back { "Use it as the back's outline" } else { "Use it as the garment's outline" };
        let half = ready.half();
        if ui.add_enabled(half.is_some(), Button::new(words)).clicked()
            && let Some(half) = half
        {
            asks.push(Ask::Photo(PhotoAsk::TakeOutline { half: half.half.clone(), back: self.back }));
        }
    }
}

impl Ready {
    fn sheet_choice(&mut self, ui: &mut Ui) {
        let paper = self.history.now.sheet.paper;
        let words = |paper: SheetPaper| paper.name().to_owned();
        if let Some(paper) = field::choice(ui, "Paper", paper, &SheetPaper::ALL, words) {
            self.history.change("Choose the paper", |marked| marked.sheet = Sheet { paper, ..marked.sheet.clone() });
        }
        let words = if self.found.sheet.is_some() {
            "A4 and Letter are told by their shape; A3 has that of A4."
        } else {
            "No sheet was made out: drag its corners onto the paper's."
        };
        ui.add(Label::new(RichText::new(words).weak()).wrap());
    }

    fn outline_choice(&mut self, voice: Voice, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let words = |halves: Halves| {
            let words = match halves {
                Halves::Mean => "mean of both",
                Halves::Left => "left half",
                Halves::Right => "right half",
            };
            words.to_owned()
        };
        if let Some(halves) = field::choice(ui, "Take the", self.history.now.halves, &Halves::ALL, words) {
            self.history.change("Choose the half", |marked| marked.halves = halves);
        }
        if self.found.nodes.is_empty() {
            let words = "No garment was made out: drag the points onto its edge, and double-click for more.";
            ui.add(Label::new(RichText::new(words).color(palette.warn)).wrap());
        } else if self.found.is_cut {
            let words = "The garment goes on beyond the picture: photograph it with table all round.";
            ui.add(Label::new(RichText::new(words).color(palette.warn)).wrap());
        }
        if let Some(half) = self.half() {
            let [width, height] = half.size_mm.map(|mm| voice.about(mm.round()));
            ui.label(format!("{width} wide, {height} high"));
            let apart = format!("The halves lie up to {} apart.", voice.about(half.apart_mm.round()));
            let apart = RichText::new(apart);
            ui.add(Label::new(if half.apart_mm > APART_MM { apart.color(palette.warn) } else { apart }).wrap());
            let scale = "The sheet tells sizes to 1.6 %: tape width and height, and give them at Garment.";
            ui.add(Label::new(RichText::new(scale).weak()).wrap());
        }
        if ui.button("Find it again").on_hover_text("Put sheet and outline where the program finds them").clicked() {
            let now = Marked { halves: self.history.now.halves, ..Marked::of(&self.found, &self.photograph) };
            self.history.change("Find the outline", |marked| *marked = now);
        }
    }
}
