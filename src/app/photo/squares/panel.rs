//! The panel beside a photograph of dyed squares: what is white, the squares with names, shades and colours, and the way into the swatches.

use super::super::PhotoAsk;
use super::drawn::{Drawn, Grip};
use super::{Ready, SquaresView};
use crate::app::action::Action;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::heading::section;
use crate::app::picker::{Offered, Picker, Taken};
use crate::app::theme::{Palette, tone};
use crate::photo::{SheetPaper, SquareColour, White, guessed_sheet};
use crate::reveal::colour::{Ground, SwatchBook, SwatchBookError};
use crate::telling::{Refused as _, Voice};
use egui::{Button, CornerRadius, Label, Response, RichText, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, vec2};

/// A square whose parts stray so far from its colour, CIEDE2000, is dyed unevenly, or holds more than one thing (our own judgement).
const UNEVEN: f64 = 4.0;

impl SquaresView {
    /// The panel.
    pub(crate) fn choices(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        section(ui, "Swatches from a photograph", |ui| self.about(ctx, asks, ui));
        let Some(ready) = &mut self.ready else { return };
        ready.measure();
        self.taking(ctx.voice(), asks, ui);
        let Some(ready) = &mut self.ready else { return };
        section(ui, "White", |ui| ready.white_choice(ui));
        let mut turned = None;
        section(ui, "Squares", |ui| turned = ready.square_list(self.chosen.and_then(Grip::square), ui));
        section(ui, "Undyed cloth", |ui| {
            let offered = || Offered::new();
            let picker =
                Picker { label: "Undyed cloth", now: self.over.unwrap_or(Ground::WHITE), offered: &offered, mixes: false };
            ui.horizontal(|ui| {
                if let (_, Some(Taken::Colour(srgb) | Taken::Swatch(crate::layout::Swatch { srgb, .. }))) =
                    picker.show(ctx, asks, ui)
                {
                    self.over = Some(srgb);
                }
                ui.add(Label::new("What the squares were before dyeing: dyes mix on other cloth by it.").wrap());
            });
        });
        if let Some(square) = turned {
            self.turn_to(square);
        }
    }

    fn about(&self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ui.add(Label::new(RichText::new(&self.name).strong()).wrap());
        if let Some(refused) = &self.refused {
            ui.add(Label::new(RichText::new(refused.say(ctx.voice())).color(Palette::of(ui.ctx()).refused)).wrap());
        }
        if self.reader.is_some() {
            ui.horizontal(|ui| {
                ui.spinner();
                ui.label("Reading the photograph…");
            });
        }
        ui.horizontal_wrapped(|ui| {
            if ui.button("Back to the colours").clicked() {
                asks.push(Ask::Photo(PhotoAsk::CloseSquares));
            }
            if ui.button("Another photograph…").on_hover_text(Action::SwatchesFromPhoto.tooltip()).clicked() {
                asks.push(Ask::Act(Action::SwatchesFromPhoto));
            }
        });
    }

    /// Into the maker's own swatches, or why not.
    fn taking(&self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let Some(ready) = &self.ready else { return };
        ui.add_space(8.0);
        let refused = |words: String, ui: &mut Ui| {
            drop(ui.add(Label::new(RichText::new(words).color(Palette::of(ui.ctx()).refused)).wrap()));
        };
        let book = match &ready.measured {
            Some((.., Err(error))) => {
                refused(error.say(voice), ui);
                None
            }
            _ if ready.history.now.squares.is_empty() => {
                let words = "Add a square on each piece of dyed cloth: double-click it.";
                ui.add(Label::new(words).wrap());
                None
            }
            _ => match self.book(ready) {
                Ok(book) => Some(book),
                Err(error) => {
                    refused(error.say(voice), ui);
                    None
                }
            },
        };
        let count = ready.history.now.squares.len();
        let words = if count == 1 { "Add it to your swatches".to_owned() } else { format!("Add {count} to your swatches") };
        let is_there = book.is_some();
        if ui.add_enabled(is_there, Button::new(words)).clicked()
            && let Some(book) = book
        {
            asks.push(Ask::Photo(PhotoAsk::TakeSquares(book)));
        }
    }

    fn book(&self, ready: &Ready) -> Result<SwatchBook, SwatchBookError> {
        let named = ready.history.now.squares.iter().zip(ready.colours());
        let swatches = named.map(|(square, colour)| colour.swatch(square.name.trim(), square.shade_percent, self.over));
        SwatchBook::new("Swatches".to_owned(), String::new(), swatches.collect())
    }
}

impl Ready {
    fn white_choice(&mut self, ui: &mut Ui) {
        let is_sheet = matches!(self.history.now.white, White::Sheet(_));
        let words = |is_sheet: bool| if is_sheet { "a sheet of paper" } else { "what the squares lie on" }.to_owned();
        if let Some(chosen) = field::choice(ui, "White is", is_sheet, &[true, false], words) {
            let white = if chosen { White::Sheet(guessed_sheet(&self.photograph, SheetPaper::A4)) } else { White::Ground };
            self.history.change("Choose what is white", |drawn| drawn.white = white);
        }
        let words = if is_sheet { "Drag its corners onto the paper's." } else { "White paper has to fill the picture." };
        ui.add(Label::new(RichText::new(words).weak()).wrap());
    }

    /// The squares with names, shades and colours; the one that was chosen.
    fn square_list(&mut self, chosen: Option<usize>, ui: &mut Ui) -> Option<usize> {
        let (mut turned, mut removed) = (None, None);
        let now = self.history.now.clone();
        if now.squares.len() > 1 {
            let shade = now.squares[0].shade_percent;
            let is_one = now.squares.iter().all(|square| square.shade_percent == shade);
            let shown = is_one.then_some(shade);
            let set = field::read(ui, "Shade of all, %", &shown.map_or_else(String::new, |shade| shade.to_string()), read_shade);
            if let Some(shade) = set {
                self.change("Set the shade", |drawn| drawn.squares.iter_mut().for_each(|square| square.shade_percent = shade));
            }
        }
        for (index, square) in now.squares.iter().enumerate() {
            ui.push_id(index, |ui| {
                ui.separator();
                ui.horizontal(|ui| {
                    let colour = self.colours().get(index).copied();
                    if patch(colour, chosen == Some(index), &square.name, ui).clicked() {
                        turned = Some(index);
                    }
                    colour.iter().for_each(|colour| told(colour, ui));
                    if ui.button("Remove").clicked() {
                        removed = Some(index);
                    }
                });
                if let Some(name) = field::words_after(ui, 0.0, "Name", &square.name) {
                    self.change("Name a square", |drawn| drawn.squares[index].name = name);
                }
                if let Some(shade) = field::read(ui, "Shade, %", &square.shade_percent.to_string(), read_shade) {
                    self.change("Set the shade", |drawn| drawn.squares[index].shade_percent = shade);
                }
            });
        }
        if let Some(square) = removed {
            self.remove(square);
        }
        if ui.button("Add a square").on_hover_text("In the picture's middle; or double-click the picture").clicked() {
            let picture = self.photograph.whole();
            let [width, height] = picture.map(f64::from);
            self.change("Add a square", |drawn| drawn.add_at(kurbo::Point::new(0.5 * width, 0.5 * height), picture));
            turned = self.history.now.squares.len().checked_sub(1);
        }
        turned
    }

    fn change(&mut self, label: &str, change: impl FnOnce(&mut Drawn)) {
        self.history.change(label, change);
    }
}

fn read_shade(text: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches('%').trim_end().replace(',', ".");
    number
        .parse()
        .map_err(|_reason: std::num::ParseFloatError| format!("Not a shade: \"{text}\"; give % of the dry cloth such as 4"))
}

/// A square's colour and how even it is.
fn told(SquareColour { srgb, spread, .. }: &SquareColour, ui: &mut Ui) {
    let words = RichText::new(format!("{srgb}, spread {spread:.1}"));
    let words = if *spread > UNEVEN { words.color(Palette::of(ui.ctx()).warn) } else { words.weak() };
    let more = "How far its parts stray from its colour; more than 4 is uneven cloth, or more than one thing";
    ui.label(words).on_hover_text(more);
}

/// A patch in a square's colour, which turns to it in the picture.
fn patch(colour: Option<SquareColour>, is_chosen: bool, name: &str, ui: &mut Ui) -> Response {
    let (rect, button) = ui.allocate_exact_size(vec2(40.0, 26.0), Sense::click());
    button.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Go to {name}")));
    let edge = if is_chosen { Palette::of(ui.ctx()).accent } else { ui.style().interact(&button).fg_stroke.color };
    let stroke = Stroke::new(if is_chosen { 2.0 } else { 1.0 }, edge);
    let fill = colour.map_or(egui::Color32::TRANSPARENT, |colour| tone(colour.srgb));
    ui.painter().rect(rect, CornerRadius::same(4), fill, stroke, StrokeKind::Inside);
    button.on_hover_text("Choose it, to move it by arrow keys")
}
