//! The day's orders, recipes and processes: doing what is asked of them.

use super::App;
use super::photo::SQUARES_AT;
use crate::app::day::{DayAsk, OpenLayout, Outcome};
use crate::app::purpose::Purpose;
use crate::edit::Document;
use egui::Context;

impl App {
    /// Does what is asked; what waited for something to be saved or given up goes on then.
    pub(super) fn do_day(&mut self, ask: DayAsk, ctx: &Context) {
        let goes_on = matches!(ask, DayAsk::GiveUp(_));
        let document = self.document.as_ref();
        let open = document.map(|document| OpenLayout { layout: document.layout(), path: document.path() });
        if goes_on {
            self.dialog = None;
        }
        match self.day.do_ask(ask, open.as_ref()) {
            Ok(Outcome::Done) if goes_on => self.go_on(ctx),
            Ok(Outcome::Done) => {}
            Ok(Outcome::Saved(words)) => {
                self.tell(Ok(words));
                self.go_on(ctx);
            }
            Ok(Outcome::NameFile(file)) => self.name_file(Purpose::SaveDay(file)),
            Err(error) => {
                self.held = None;
                self.refuse(error);
            }
        }
    }

    /// Undoes or redoes a step of the marks on a photograph that shows, of what is written in the Day view, where it shows and has one, else of
    /// the layout.
    pub(super) fn step_back_or_forth(&mut self, forward: bool) {
        if let Some(photo) = self.photo.as_mut().filter(|photo| photo.home() == self.step) {
            return photo.step(forward);
        }
        if let Some(squares) = self.squares.as_mut().filter(|_| self.step == SQUARES_AT) {
            return squares.step(forward);
        }
        if self.is_outlining() {
            return self.outlining.iter_mut().for_each(|outlining| outlining.step(forward));
        }
        let of_day = self.is_at_day() && self.day.steps().iter().any(Option::is_some);
        if of_day {
            self.day.step(forward);
        } else if let Some(document) = &mut self.document {
            if forward { Document::redo(document) } else { Document::undo(document) }
        }
    }
}
