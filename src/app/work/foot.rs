//! The bar at the foot: what was done or refused, what is under the pointer.

use super::App;
use crate::app::context::Ask;
use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::edit::{Document, section_at};
use crate::telling::AnyRefusal;
use egui::{Align, Label, Layout, ProgressBar, RichText, Ui};

/// What the bar at the foot says.
#[derive(Debug, Clone)]
pub(super) struct Message {
    pub(super) words: String,
    pub(super) refused: bool,
    /// What can be done about it: a button's words and what it asks for.
    pub(super) offer: Option<(&'static str, Ask)>,
}

impl Message {
    /// How something went.
    pub(super) fn told(words: String) -> Self {
        Self { words, refused: false, offer: None }
    }
}

impl App {
    pub(super) fn foot(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let Some(message) = &self.message else {
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
                ui.add(Label::new(RichText::new(&message.words).color(tone)).wrap());
            });
        });
        if dismissed {
            self.message = None;
        }
    }

    /// What is under the pointer, or the file's name.
    fn whereabouts(&self, document: &Document) -> String {
        let lengths = self.lengths();
        let pointed = self.canvas.pointed.filter(|_| self.step.shows_cloth());
        let section = pointed.and_then(|point| {
            let number = section_at(document.layout(), document.figures(), point)?;
            let radius_mm = document.layout().fold().along_as_laid_mm(point);
            let section = document.figures().sections.get(number as usize - 1)?;
            let colour = section.colour.as_deref().unwrap_or("no colour");
            Some(format!("{} from the centre: section {number}, {colour}, {:.1} g", lengths.format(radius_mm), section.mass_g))
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
        self.message = Some(Message { words, refused, offer: None });
    }

    /// Says it, with something that can be done about it.
    pub(super) fn offer(&mut self, words: String, button: &'static str, ask: Ask) {
        self.message = Some(Message { words, refused: false, offer: Some((button, ask)) });
    }

    pub(super) fn refuse(&mut self, refusal: impl Into<AnyRefusal>) {
        self.tell(Err(refusal.into()));
    }
}
