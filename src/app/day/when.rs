//! When: start or deadline, written as people say it or clicked in a month; and what begins the run.

use super::month::{Days, Month};
use super::{DayView, RunAsk};
use crate::app::context::Ask;
use crate::app::day::job::named;
use crate::app::heading::heading;
use crate::app::theme::Palette;
use crate::plan::{Hours, WaitLimit};
use crate::store::planning_time;
use egui::{Button, CollapsingHeader, Label, RichText, TextStyle, Ui, vec2};
use jiff::civil::{DateTime, Time};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, ToSpan as _};

/// How much later than the earliest finish a deadline is offered, min: the time to read it and press. Own choice.
const SLACK_MIN: i64 = 10;
/// Lines of text that the shortest limit and its heading take in the panel.
const LIMITS_LINES: f32 = 3.0;
/// What an offered deadline is rounded up to, min. Own choice.
const OFFERED_MIN: i64 = 15;

/// A time as it stands in the field; it is read back as it was.
pub(super) fn written(time: DateTime) -> String {
    time.strftime("%a %-d %b %Y %H:%M").to_string()
}

/// What the clock on the wall shows, for what is planned.
fn now() -> DateTime {
    planning_time(&TimeZone::system().into())
}

impl DayView {
    /// When it is done, and what begins the run.
    pub(super) fn when(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        heading(ui, "When");
        ui.horizontal(|ui| {
            for (is_deadline, words) in [(false, "Start at"), (true, "Finish by")] {
                if ui.radio(self.wanted.deadline == is_deadline, words).clicked() {
                    self.set_when(is_deadline, self.wanted.time);
                }
            }
        });
        self.said_when(now(), ui);
        ui.horizontal_wrapped(|ui| {
            let words = if self.month.is_some() { "Hide the calendar" } else { "Calendar" };
            if ui.button(words).on_hover_text("Pick a day").clicked() {
                self.month = if self.month.is_some() { None } else { Some(Month::of(self.wanted.time.date())) };
            }
            let begin = ui.add_enabled(self.live.is_none() && self.plan().is_some(), Button::new("Start the run"));
            if begin.on_hover_text("Work through the plan step by step, with timers").clicked() {
                asks.push(Ask::Run(RunAsk::Begin));
            }
        });
        self.calendar(ui);
        self.limits(ui);
    }

    fn calendar(&mut self, ui: &mut Ui) {
        let off = self.workshop().days_off.clone();
        let Some(month) = &mut self.month else { return };
        let days = Days { chosen: self.wanted.time.date(), today: now().date(), off: &off };
        if let Some(day) = month.show(&days, ui) {
            self.set_when(self.wanted.deadline, day.to_datetime(self.wanted.time.time()));
            self.month = None;
        }
    }

    /// Sets a start or a deadline. A deadline is the order's, where one is being written: a step of it, and saved with it.
    pub(super) fn set_when(&mut self, is_deadline: bool, time: DateTime) {
        (self.wanted.deadline, self.wanted.time) = (is_deadline, time);
        if !is_deadline {
            self.start = time;
        }
        if let Some(desk) = &mut self.desk {
            desk.change("the deadline", |sheet| sheet.spec.deadline = is_deadline.then_some(time));
        }
    }

    /// Takes over the deadline of the order that is being written: it may have been opened, or gone a step back.
    pub(super) fn take_deadline(&mut self) {
        let Some(desk) = &self.desk else { return };
        let of_order = desk.now().spec.deadline;
        if of_order != self.wanted.deadline.then_some(self.wanted.time) {
            (self.wanted.deadline, self.wanted.time) = of_order.map_or((false, self.start), |deadline| (true, deadline));
        }
    }

    /// The hour that is meant where none is said: work begins with the first of the working hours and ends with the last.
    pub(super) fn usual_time(&self) -> Time {
        let hours = &self.workshop().hours;
        let time = |text: &str| if text == "24:00" { Some(Time::constant(23, 59, 0, 0)) } else { text.parse().ok() };
        let of = |hours: Option<&Hours>| hours.and_then(|hours| time(if self.wanted.deadline { &hours.to } else { &hours.from }));
        let usual = of(if self.wanted.deadline { hours.last() } else { hours.first() });
        usual.unwrap_or(Time::constant(8, 0, 0, 0))
    }

    /// What may not wait longer once the run is begun.
    fn limits(&self, ui: &mut Ui) {
        if self.live.is_some() {
            return;
        }
        ui.add_space(4.0);
        // The room that they usually take is theirs from the first: what lies below must not move under a hand when a plan comes.
        let line = ui.text_style_height(&TextStyle::Body) + ui.spacing().item_spacing.y;
        let room = vec2(ui.available_width(), LIMITS_LINES * line + ui.spacing().interact_size.y);
        ui.allocate_ui_with_layout(room, egui::Layout::top_down(egui::Align::Min), |ui| {
            ui.set_min_size(room);
            self.limits_of_plan(ui);
        });
    }

    fn limits_of_plan(&self, ui: &mut Ui) {
        let limits = self.plan().map(|plan| plan.limits()).unwrap_or_default();
        if limits.is_empty() {
            return;
        }
        let palette = Palette::of(ui.ctx());
        let say = |limit: &WaitLimit, ui: &mut Ui| drop(ui.label(RichText::new(format!("{limit}.")).color(palette.warn)));
        ui.label(RichText::new("Once you start:").strong());
        // The one that leaves least time is always in sight; what else is to be done here stays so too.
        if let Some(shortest) = limits.iter().min_by_key(|limit| limit.wait.most_min) {
            say(shortest, ui);
        }
        if limits.len() > 1 {
            let all = CollapsingHeader::new(format!("All {} limits, in order", limits.len())).id_salt("limits");
            all.show_unindented(ui, |ui| limits.iter().for_each(|limit| say(limit, ui)));
        }
    }

    /// That a plan can't be over by its deadline, or begins in the past: said before all else, with the earliest time that can be.
    pub(super) fn untimely(&mut self, ui: &mut Ui) {
        let Some(untimely) = self.plan().and_then(|plan| plan.untimely.clone()) else { return };
        let palette = Palette::of(ui.ctx());
        for sentence in untimely.sentences() {
            ui.add(Label::new(RichText::new(sentence).size(17.0).strong().color(palette.refused)).wrap());
        }
        let missed = untimely.missed.is_some();
        let time = if missed { offered(untimely.ends) } else { untimely.from };
        let words = if missed { "Finish by" } else { "Start at" };
        let button = Button::new(RichText::new(format!("{words} {}", written(time))).size(16.0));
        let name = if missed { "Take the earliest finish" } else { "Take the earliest start" };
        let hint = format!("{name}, with at least {SLACK_MIN} minutes to get started");
        let response = named(ui, button, &format!("{name}, {}", written(time)));
        if response.on_hover_text(if missed { hint } else { name.to_owned() }).clicked() {
            self.set_when(missed, time);
        }
        ui.add_space(6.0);
    }
}

/// The deadline that is offered where everything is over at the earliest at `ends`.
fn offered(ends: DateTime) -> DateTime {
    let later = ends.checked_add(SignedDuration::from_mins(SLACK_MIN)).unwrap_or(ends);
    let over = (i64::from(later.minute()) % OFFERED_MIN, i64::from(later.second()));
    let up = if over == (0, 0) { 0 } else { OFFERED_MIN - over.0 };
    let round = later.with().second(0).subsec_nanosecond(0).build().unwrap_or(later);
    round.checked_add(up.minutes()).unwrap_or(round)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_deadline_is_offered_at_a_round_time_that_leaves_time() {
        for (ends, by) in [("2026-11-27T17:00", "17:15"), ("2026-11-27T17:05", "17:15"), ("2026-11-27T17:06", "17:30")] {
            assert_eq!(offered(ends.parse().unwrap()).strftime("%H:%M").to_string(), by, "{ends}");
        }
        let midnight: DateTime = "2026-11-27T23:55".parse().unwrap();
        assert_eq!(offered(midnight), "2026-11-28T00:15".parse().unwrap());
    }
}
