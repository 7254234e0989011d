//! What of the run is still to come: what can be done already, what can't yet and why, and everything at the times to be expected.

use super::RunAsk;
use super::job::named;
use super::run::Live;
use crate::app::theme::Palette;
use crate::plan::{Ahead, Mark, NowView, Replan};
use crate::telling::capitalised;
use egui::{Button, Color32, FontId, Grid, RichText, Ui};
use jiff::civil::DateTime;

/// Most steps that can't begin yet that are told with their reasons.
const MOST_TOLD: usize = 6;
/// Room between two columns of the table of all steps to come, points.
const BETWEEN: f32 = 18.0;
/// Size of its letters, points.
const LETTERS: f32 = 16.0;

impl Live {
    /// What comes next: with a way to do it now where that can be, else why not and until when.
    pub(super) fn coming(&mut self, view: &NowView, ahead: Option<&Replan>, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        let at = view.at;
        let expected = |number: u32| ahead?.steps.iter().find(|step| step.step == number).map(|step| step.from);
        if view.ahead.is_empty() && view.blocked.is_empty() && view.next.is_empty() {
            return;
        }
        ui.separator();
        ui.label(RichText::new("Next").size(20.0).strong());
        for job in &view.ahead {
            let from = expected(job.step).unwrap_or(job.planned);
            let title = self.title(job.step);
            ui.label(format!("{title} from {}; can start now", clock(from)));
            ui.horizontal_wrapped(|ui| {
                let start = named(ui, Button::new("Start now"), &format!("Start {title} now"));
                if self.presses.of(&start, ui) {
                    asks.push(RunAsk::Tick(job.step, Mark::Begun));
                }
                self.done_already(job.step, "Done already…", &format!("{title} is done already"), ui);
            });
            self.done_then(job.step, at, asks, ui);
        }
        for blocked in &view.blocked {
            ui.label(format!("{}: {}", self.title(blocked.job.step), blocked.full));
        }
        for coming in view.next.iter().take(MOST_TOLD) {
            let held: Vec<String> = self.run.held(coming.step, at).iter().map(ToString::to_string).collect();
            let from = clock(expected(coming.step).unwrap_or(coming.not_before));
            ui.label(format!("{}, expected {from}: {}", self.title(coming.step), held.join("; ")));
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
        if ui.available_width() < self.table_width(ahead, ui) {
            ahead.steps.iter().for_each(|step| self.expected_lines(step, ui));
            return;
        }
        Grid::new("ahead").num_columns(4).striped(true).spacing([BETWEEN, 6.0]).show(ui, |ui| {
            for title in ["Step", "Expected", "Then wait until", "Planned"] {
                ui.label(RichText::new(title).weak());
            }
            ui.end_row();
            for step in &ahead.steps {
                ui.label(RichText::new(self.title(step.step)).size(LETTERS));
                ui.label(expected_time(step, ui));
                ui.label(RichText::new(step.wait_words()).size(LETTERS));
                ui.label(RichText::new(step.planned_words()).size(LETTERS).weak());
                ui.end_row();
            }
        });
    }

    /// How broad the table is: where there is less room, each step has lines of its own.
    fn table_width(&self, ahead: &Replan, ui: &Ui) -> f32 {
        let font = FontId::proportional(LETTERS);
        let long = |words: String| ui.painter().layout_no_wrap(words, font.clone(), Color32::PLACEHOLDER).size().x;
        let mut columns = [0.0_f32; 4];
        for step in &ahead.steps {
            let words = [self.title(step.step), clock(step.from), step.wait_words(), step.planned_words()];
            for (column, words) in columns.iter_mut().zip(words) {
                *column = column.max(long(words));
            }
        }
        columns.iter().sum::<f32>() + 3.0 * BETWEEN
    }

    /// The same of one step where there is no room for a table.
    fn expected_lines(&self, step: &Ahead, ui: &mut Ui) {
        ui.add_space(4.0);
        ui.label(RichText::new(self.title(step.step)).size(LETTERS));
        ui.label(expected_time(step, ui));
        let wait = step.wait_words();
        let wait = if wait.is_empty() { wait } else { format!("Then wait until {wait}. ") };
        ui.label(RichText::new(planned(&wait, step)).weak());
    }
}

/// Whether and how a step moved from its plan, after how long it waits.
fn planned(wait: &str, step: &Ahead) -> String {
    let words = step.planned_words();
    if step.moved_min == 0 { format!("{wait}{}.", capitalised(&words)) } else { format!("{wait}Planned: {words}.") }
}

fn expected_time(step: &Ahead, ui: &Ui) -> RichText {
    let palette = Palette::of(ui.ctx());
    let tone = if step.moved_min > 0 { palette.warn } else { palette.ink };
    RichText::new(clock(step.from)).size(LETTERS).strong().color(tone)
}

fn clock(time: DateTime) -> String {
    time.strftime("%a %-d %b %H:%M").to_string()
}
