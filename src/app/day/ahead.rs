//! What of the run is still to come: what can be done already, what can't yet and why, and everything at the times to be expected.

use super::RunAsk;
use super::job::named;
use super::run::Live;
use crate::app::theme::Palette;
use crate::plan::{Ahead, Mark, NowView, Replan};
use egui::{Button, Grid, RichText, Ui};
use jiff::civil::DateTime;

/// Most steps that can't begin yet that are told with their reasons.
const MOST_TOLD: usize = 6;
/// Least breadth of the table of all steps to come, points: below, each step has lines of its own.
const TABLE_WIDTH: f32 = 760.0;

impl Live {
    /// What comes next: with a way to do it now where that can be, else why not and until when.
    pub(super) fn coming(&mut self, view: &NowView, at: DateTime, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        if view.ahead.is_empty() && view.blocked.is_empty() && view.next.is_empty() {
            return;
        }
        ui.separator();
        ui.label(RichText::new("Next").size(20.0).strong());
        for job in &view.ahead {
            let Some(from) = self.run.step(job.step).map(|step| step.from) else { continue };
            let title = self.title(job.step);
            ui.label(format!("{title} from {}, possible already", from.strftime("%a %-d %b %H:%M")));
            ui.horizontal_wrapped(|ui| {
                for (words, name, mark) in [
                    ("Start now", format!("Start {title} now"), Mark::Begun),
                    ("Done already", format!("{title} is done already"), Mark::Finished),
                ] {
                    let button = named(ui, Button::new(words), &name);
                    if self.presses.of(&button, ui) {
                        asks.push(RunAsk::Tick(job.step, mark));
                    }
                }
            });
        }
        for blocked in &view.blocked {
            ui.label(format!("{}: the {} is full", self.title(blocked.job.step), blocked.place.name()));
        }
        for coming in view.next.iter().take(MOST_TOLD) {
            let held: Vec<String> = self.run.held(coming.step, at).iter().map(ToString::to_string).collect();
            let from = coming.not_before.strftime("%a %-d %b %H:%M");
            ui.label(format!("{}, not before {from}: {}", self.title(coming.step), held.join("; ")));
        }
        if view.next.len() > MOST_TOLD {
            ui.label(RichText::new(format!("And {} more.", view.next.len() - MOST_TOLD)).weak());
        }
    }

    /// Every step to come: when it is to be expected now, and what was planned beside it.
    pub(super) fn expected(&self, ahead: &Replan, ui: &mut Ui) {
        if ahead.steps.is_empty() {
            return;
        }
        ui.separator();
        ui.label(RichText::new("Still to do, retimed").size(20.0).strong());
        if ui.available_width() < TABLE_WIDTH {
            ahead.steps.iter().for_each(|step| self.expected_lines(step, ui));
            return;
        }
        Grid::new("ahead").num_columns(4).striped(true).spacing([18.0, 6.0]).show(ui, |ui| {
            for title in ["Step", "Expected", "Then wait until", "Planned"] {
                ui.label(RichText::new(title).weak());
            }
            ui.end_row();
            for step in &ahead.steps {
                ui.label(RichText::new(self.title(step.step)).size(16.0));
                ui.label(expected_time(step, ui));
                ui.label(RichText::new(step.wait_words()).size(16.0));
                ui.label(RichText::new(step.planned_words()).size(16.0).weak());
                ui.end_row();
            }
        });
    }

    /// The same of one step where there is no room for a table.
    fn expected_lines(&self, step: &Ahead, ui: &mut Ui) {
        ui.add_space(4.0);
        ui.label(RichText::new(self.title(step.step)).size(16.0));
        ui.label(expected_time(step, ui));
        let wait = step.wait_words();
        let wait = if wait.is_empty() { wait } else { format!("Then wait until {wait}. ") };
        ui.label(RichText::new(format!("{wait}Planned: {}.", step.planned_words())).weak());
    }
}

fn expected_time(step: &Ahead, ui: &Ui) -> RichText {
    let palette = Palette::of(ui.ctx());
    let tone = if step.moved_min > 0 { palette.warn } else { palette.ink };
    RichText::new(step.from.strftime("%a %-d %b %H:%M").to_string()).size(16.0).strong().color(tone)
}
