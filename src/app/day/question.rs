//! A time that was said and can be meant in several ways: its readings to click, or the only one that can be.

use super::DayView;
use super::job::named;
use super::when::written;
use crate::app::field;
use crate::app::theme::Palette;
use crate::plan::{SaidTimeError, said_time};
use crate::telling::{Refused as _, Voice};
use egui::{Button, RichText, Ui};
use jiff::civil::DateTime;
use std::cell::RefCell;

/// The name of the field that the time is written in.
const FIELD: &str = "Date and time";

/// What could be meant, and what became of it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Question {
    /// The times that could be meant; nothing where nothing is asked.
    readings: Vec<DateTime>,
    /// Which was taken, and why.
    took: Option<String>,
}

/// A reading as it is offered: what is today or in a week is said so.
fn offered(reading: DateTime, now: DateTime) -> String {
    let days = now.date().until(reading.date()).map_or(0, |span| span.get_days());
    let near = match days {
        0 => "today, ",
        1 => "tomorrow, ",
        7 => "in a week, ",
        _ => "",
    };
    format!("{near}{}", written(reading))
}

impl DayView {
    /// The field of the time, and what it asks.
    pub(super) fn said_when(&mut self, now: DateTime, ui: &mut Ui) {
        let usual = self.usual_time();
        let asked = RefCell::new(Vec::new());
        let read = |text: &str| {
            said_time(text, now, usual).map_err(|error: SaidTimeError| {
                asked.borrow_mut().extend_from_slice(error.readings());
                error.say(Voice::window(Default::default()))
            })
        };
        let time = field::read_wide(ui, FIELD, &written(self.wanted.time), read);
        let readings = asked.into_inner();
        if let Some(time) = time {
            self.question = Question::default();
            self.set_when(self.wanted.deadline, time);
        } else if !readings.is_empty() {
            self.question = Question { readings, took: None };
        }
        self.take_only(ui);
        self.ask(now, ui);
    }

    /// Of two readings of a deadline of which the plan meets only the later, takes that.
    fn take_only(&mut self, ui: &Ui) {
        let [earlier, later] = self.question.readings[..] else { return };
        let Some(ends) = self.planner.earliest_after(earlier).filter(|ends| self.wanted.deadline && *ends <= later) else {
            return;
        };
        let [taken, missed, ends] = [later, earlier, ends].map(written);
        self.set_when(true, later);
        field::forget(ui, FIELD);
        let took = Some(format!("Taken as {taken}: {missed} can't be met, the earliest finish is {ends}."));
        self.question = Question { readings: Vec::new(), took };
    }

    fn ask(&mut self, now: DateTime, ui: &mut Ui) {
        if let Some(took) = &self.question.took {
            ui.label(RichText::new(took).color(Palette::of(ui.ctx()).warn));
        }
        let mut chosen = None;
        ui.horizontal_wrapped(|ui| {
            for &reading in &self.question.readings {
                let words = offered(reading, now);
                if named(ui, Button::new(&words), &format!("Mean {words}")).clicked() {
                    chosen = Some(reading);
                }
            }
        });
        if let Some(time) = chosen {
            self.set_when(self.wanted.deadline, time);
            field::forget(ui, FIELD);
            self.question = Question::default();
        }
    }

    /// The earlier of two readings of a deadline, for the plan to try.
    pub(super) fn doubtful_deadline(&self) -> Option<DateTime> {
        if let [earlier, _] = self.question.readings[..] { Some(earlier).filter(|_| self.wanted.deadline) } else { None }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_says_how_far_it_is() {
        let now = "2026-11-27T10:00".parse().unwrap();
        for (at, words) in [
            ("2026-11-27T17:00", "today, Fri 27 Nov 2026 17:00"),
            ("2026-11-28T05:00", "tomorrow, Sat 28 Nov 2026 05:00"),
            ("2026-12-04T17:00", "in a week, Fri 4 Dec 2026 17:00"),
            ("2026-12-11T17:00", "Fri 11 Dec 2026 17:00"),
        ] {
            assert_eq!(offered(at.parse().unwrap(), now), words);
        }
    }
}
