//! A step of the run in large type, with what it needs, what to mind, and what is ticked.

use super::RunAsk;
use super::run::Live;
use crate::app::settings::Settings;
use crate::app::theme::Palette;
use crate::plan::{Hazard, Job, Mark, RunStep};
use egui::{Button, Response, RichText, Role, TextEdit, Ui, WidgetInfo, vec2};
use jiff::civil::DateTime;

/// Breadth of the field for a note, points, where there is room.
const NOTE_WIDTH: f32 = 240.0;

impl Live {
    /// A step in large type, with what it needs and what to mind; what ticks it, unless that is pinned below.
    pub(super) fn job(
        &mut self,
        (job, begun, now): (&Job, bool, DateTime),
        is_pinned: bool,
        settings: &Settings,
        asks: &mut Vec<RunAsk>,
        ui: &mut Ui,
    ) {
        let Some(step) = self.run.step(job.step) else { return };
        let palette = Palette::of(ui.ctx());
        let title = step.title();
        ui.label(RichText::new(&title).size(28.0).strong().color(if job.pressing { palette.warn } else { palette.ink }));
        if let Some(marks) = step.marks() {
            ui.label(RichText::new(marks).size(17.0).strong().color(palette.warn));
        }
        ui.label(RichText::new(step.what).size(19.0));
        needs(&step, ui);
        if let Some(before) = job.before {
            ui.label(RichText::new(format!("No later than {}", before.strftime("%A %-d %B, %H:%M"))).size(17.0));
        }
        for caution in step.cautions.iter().filter(|caution| caution.hazard != Hazard::Defer) {
            ui.label(RichText::new(&caution.text).size(16.0).color(palette.warn));
        }
        if let Some(deferring) = step.cautions.iter().find(|caution| caution.hazard == Hazard::Defer) {
            ui.label(RichText::new(&deferring.text).weak());
        }
        let note = step.note.to_owned();
        ui.horizontal_wrapped(|ui| {
            if !is_pinned {
                self.ticks(job.step, begun, asks, ui);
            }
            self.done_already(job.step, "Done earlier…", &format!("{title} was done earlier"), ui);
            self.note(job.step, &title, &note, asks, ui);
        });
        self.done_then(job.step, now, asks, ui);
        self.hands(job.step, settings, asks, ui);
    }

    /// What ticks a step.
    pub(super) fn ticks(&mut self, step: u32, begun: bool, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        let title = self.title(step);
        // Where it is begun, "Done" stays where it was.
        let begin = ui.add_enabled_ui(!begun, |ui| large(ui, if begun { "Started" } else { "Start" }, &title)).inner;
        let done = large(ui, "Done", &title);
        let leave = named(ui, Button::new("Skip"), &format!("Skip {title}"));
        for (pressed, mark) in [(begin, Mark::Begun), (done, Mark::Finished), (leave, Mark::LeftOut)] {
            if self.presses.of(&pressed, ui) {
                // A note that is being written goes with its step.
                asks.extend(self.note.take_if(|(of, _)| *of == step).map(written));
                asks.push(RunAsk::Tick(step, mark));
            }
        }
    }

    fn note(&mut self, step: u32, title: &str, note: &str, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        match &mut self.note {
            Some((of, text)) if *of == step => {
                let width = NOTE_WIDTH.min(ui.max_rect().width());
                let field = ui.add(TextEdit::singleline(text).desired_width(width).hint_text("something to remember"));
                field.widget_info(|| WidgetInfo::labeled(Role::TextInput, true, format!("Note on {title}")));
                if std::mem::take(&mut self.note_is_new) {
                    field.request_focus();
                }
                if field.lost_focus() {
                    asks.push(written((step, text.clone())));
                }
            }
            _ => {
                let words = if note.is_empty() { "Note…".to_owned() } else { format!("Note: {note}") };
                if named(ui, Button::new(words).wrap(), &format!("Write a note on {title}")).clicked() {
                    self.note = Some((step, note.to_owned()));
                    self.note_is_new = true;
                }
            }
        }
    }
}

/// What was written as a step's note.
fn written((step, text): (u32, String)) -> RunAsk {
    RunAsk::Note(step, text.trim().to_owned())
}

/// What to have ready: every garment's own in large type, then their sum as a sum.
fn needs(step: &RunStep<'_>, ui: &mut Ui) {
    let portions = step.portions();
    if portions.is_empty() {
        for needs in step.needs_words() {
            ui.label(RichText::new(needs).size(19.0).strong());
        }
        return;
    }
    for portion in portions {
        ui.label(RichText::new(portion).size(19.0).strong());
    }
    if let Some(sum) = step.sum_words() {
        ui.label(RichText::new(sum).size(17.0).weak());
    }
}

/// A large button whose name says what it acts on.
pub(super) fn large(ui: &mut Ui, words: &str, of: &str) -> Response {
    named(ui, Button::new(RichText::new(words).size(22.0)).min_size(vec2(110.0, 44.0)), &format!("{words}: {of}"))
}

pub(super) fn named(ui: &mut Ui, button: Button<'_>, name: &str) -> Response {
    let response = ui.add(button);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, ui.is_enabled(), name));
    response
}
