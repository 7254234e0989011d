//! A step that was done before it is ticked: asked when.

use super::RunAsk;
use super::job::named;
use super::run::Live;
use super::when::written;
use crate::app::field;
use crate::plan::said_past;
use crate::telling::{Refused as _, Voice};
use egui::{Button, Ui};
use jiff::civil::DateTime;
use jiff::{SignedDuration, Unit};

/// By how much a press moves the time, min. Own choice.
const STEP_MIN: i64 = 5;

/// A time of the clock, with its day where that is not today.
fn clock(time: DateTime, now: DateTime) -> String {
    if time.date() == now.date() { time.strftime("%H:%M").to_string() } else { written(time) }
}

impl Live {
    /// A button that asks when a step was done.
    pub(super) fn done_already(&mut self, step: u32, words: &str, name: &str, ui: &mut Ui) {
        let button = named(ui, Button::new(words), name);
        if self.presses.of(&button, ui) {
            self.done_then = Some((step, None));
            self.done_is_new = true;
        }
    }

    /// When a step was done, if that is being asked, and what says so.
    pub(super) fn done_then(&mut self, step: u32, now: DateTime, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        let Some((_, mut done)) = self.done_then.filter(|(of, _)| *of == step) else { return };
        let title = self.title(step);
        let voice = Voice::window(Default::default());
        let run = &self.run;
        let read = |text: &str| {
            let at = said_past(text, now).map_err(|error| error.say(voice))?;
            run.check_done(step, at, now).map(|()| at).map_err(|error| error.say(voice))
        };
        let is_new = std::mem::take(&mut self.done_is_new);
        let shown = done.map_or_else(|| "now".to_owned(), |at| clock(at, now));
        let (at, is_refused) = field::read_firmly(ui, "Done at", &shown, is_new, read);
        done = at.or(done);
        let mut is_open = true;
        ui.horizontal_wrapped(|ui| {
            for (words, by_min) in [("earlier", -STEP_MIN), ("later", STEP_MIN)] {
                let to = done.unwrap_or(now).checked_add(SignedDuration::from_mins(by_min));
                let to = to.ok().and_then(|to| to.round(Unit::Minute).ok());
                let to = to.filter(|to| run.check_done(step, *to, now).is_ok());
                let button = ui.add_enabled(to.is_some(), Button::new(format!("{STEP_MIN} min {words}")));
                if button.clicked() {
                    done = to;
                }
            }
            // What is refused is not taken for another time.
            let words = done.map_or_else(|| "Done now".to_owned(), |at| format!("Done {}", clock(at, now)));
            let confirm = |ui: &mut Ui| named(ui, Button::new(words), &format!("Done then: {title}"));
            let confirm = ui.add_enabled_ui(!is_refused, confirm).inner;
            if self.presses.of(&confirm, ui) {
                asks.push(RunAsk::DoneAt(step, done.unwrap_or(now)));
                is_open = false;
            }
            is_open &= !ui.button("Cancel").clicked();
        });
        self.done_then = is_open.then_some((step, done));
    }
}
