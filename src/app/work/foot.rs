//! The bar at the foot: what was done or refused, what is under the pointer.

use super::App;
use crate::app::context::Ask;
use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::edit::{Document, section_at};
use crate::measure::{grams_number, held_together};
use crate::telling::AnyRefusal;
use egui::{Align, Label, Layout, ProgressBar, RichText, Role, Ui, WidgetInfo};
use std::time::Duration;

/// What the bar at the foot says.
#[derive(Debug, Clone)]
pub(super) struct Message {
    pub(super) words: String,
    pub(super) refused: bool,
    /// What can be done about it: a button's words and what it asks for.
    pub(super) offer: Option<(&'static str, Ask)>,
    /// When it leaves by itself, by the window's clock, s; known once it shows.
    pub(super) leaves_at_s: Option<f64>,
    /// Whether it stays until it is answered.
    pub(super) stays: bool,
}

/// How long a notice shows, and one with something that can be done about it, s (practice: twice as long as it takes to read).
const SHOWN_S: f64 = 12.0;
const OFFERED_S: f64 = 40.0;

impl Message {
    /// How something went.
    pub(super) fn told(words: String) -> Self {
        Self { words, refused: false, offer: None, leaves_at_s: None, stays: false }
    }

    /// Whether its time is over at a time of the window's clock; while the pointer rests on it, it begins anew.
    fn is_over(&mut self, is_rested_on: bool, ui: &Ui) -> bool {
        if self.refused || self.stays {
            return false;
        }
        let now_s = ui.input(|input| input.time);
        let shown_s = if self.offer.is_some() { OFFERED_S } else { SHOWN_S };
        let leaves_at_s = *self.leaves_at_s.get_or_insert(now_s + shown_s);
        if is_rested_on {
            self.leaves_at_s = Some(now_s + shown_s);
        }
        // Another frame comes when it leaves, whatever happens until then.
        ui.ctx().request_repaint_after(Duration::from_secs_f64((leaves_at_s - now_s).clamp(0.0, shown_s)));
        !is_rested_on && now_s >= leaves_at_s
    }
}

impl App {
    pub(super) fn foot(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let Some(message) = &mut self.message else {
            ui.horizontal(|ui| {
                if let Some(busy) = &self.busy {
                    ui.spinner();
                    ui.label(&busy.words);
                    ui.add(ProgressBar::new(screen(busy.handle.done())).desired_width(140.0));
                    if ui.button("Stop").clicked() {
                        asks.push(Ask::StopBusy);
                    }
                } else {
                    let words = self.document.as_ref().map_or_else(String::new, |document| self.whereabouts(document));
                    ui.add(Label::new(RichText::new(words).weak()).truncate());
                }
            });
            return;
        };
        let palette = Palette::of(ui.ctx());
        let tone = if message.refused { palette.refused } else { palette.ink };
        let mut dismissed = false;
        // The buttons first, from the right: a long message must not push them out of the window.
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            dismissed = ui.button("OK").clicked();
            if let Some((words, ask)) = &message.offer
                && ui.button(*words).clicked()
            {
                asks.push(ask.clone());
                // Where one goes to see it, there is nothing left to tell.
                dismissed |= matches!(ask, Ask::Go(_));
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let label = ui.add(Label::new(RichText::new(held_together(&message.words)).color(tone)).wrap());
                label.widget_info(|| WidgetInfo::labeled(Role::Label, true, &message.words));
            });
        });
        let is_rested_on = ui.rect_contains_pointer(ui.min_rect());
        if dismissed || message.is_over(is_rested_on, ui) {
            self.message = None;
        }
    }

    /// What is under the pointer, or the file's name.
    fn whereabouts(&self, document: &Document) -> String {
        let lengths = self.lengths();
        let pointed = self.canvas.pointed.filter(|_| self.step.shows_cloth());
        let section = pointed.and_then(|point| {
            let layout = document.tie();
            let number = section_at(layout, document.tie_figures(), point)?;
            let radius_mm = layout.fold().along_as_laid_mm(point);
            let section = document.tie_figures().sections.get(number as usize - 1)?;
            let colour = match section.colour_words() {
                "" => "no colour",
                words => words,
            };
            let place = layout.words().place(layout.from_zero_mm(radius_mm), lengths);
            Some(format!("{place}: {} {number}, {colour}, {} g", layout.words().section, grams_number(section.mass_g, 1)))
        });
        section.unwrap_or_else(|| {
            let name = document.layout().name();
            match (document.path(), document.is_unsaved()) {
                (None, _) => format!("{name}: not saved yet"),
                (Some(path), false) => format!("{name}: {}", path.display()),
                (Some(path), true) => format!("{name}: {}, changed since it was saved", path.display()),
            }
        })
    }

    /// Says how something went.
    pub(super) fn tell(&mut self, result: Result<String, AnyRefusal>) {
        let refused = result.is_err();
        let words = result.unwrap_or_else(|refusal| refusal.say(self.voice()));
        self.message = Some(Message { refused, ..Message::told(words) });
    }

    /// Says it, with something that can be done about it.
    pub(super) fn offer(&mut self, words: String, button: &'static str, ask: Ask) {
        self.message = Some(Message { offer: Some((button, ask)), ..Message::told(words) });
    }

    /// Says what calls for an answer, which stays until there is one.
    pub(super) fn call_for(&mut self, words: String, button: &'static str, ask: Ask) {
        self.message = Some(Message { offer: Some((button, ask)), stays: true, ..Message::told(words) });
    }

    pub(super) fn refuse(&mut self, refusal: impl Into<AnyRefusal>) {
        self.tell(Err(refusal.into()));
    }
}
