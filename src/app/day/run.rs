//! The run: what to do now, in type to be read from the tub, with timers that go on while the program is closed.

use super::RunAsk;
use crate::app::theme::Palette;
use crate::plan::{Hazard, Job, Late, Mark, NowView, Replan, Run, RunStep, Tick, WaitState, Waiting, duration};
use crate::store::{ReadError, SaveError, read_run, save_run};
use crate::telling::{AnyRefusal, Voice, Warned as _};
use egui::{Button, Grid, Response, RichText, Role, TextEdit, Ui, WidgetInfo};
use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use std::path::{Path, PathBuf};

/// A run under way, and its file.
#[derive(Debug)]
pub(super) struct Live {
    run: Run,
    path: Option<PathBuf>,
    /// A note being written, and on which step.
    note: Option<(u32, String)>,
    /// The steps to come, timed anew: made once a minute and at every tick.
    ahead: Option<(AheadKey, Option<Replan>)>,
    /// Whether the maker is being asked if it is to end before its last step.
    ending: bool,
}

/// From which ticks, in which minute.
type AheadKey = (Vec<Tick>, DateTime);

impl Live {
    /// Takes up the run in a file, if there is one.
    pub(super) fn read(path: &Path) -> Option<Result<Self, ReadError>> {
        path.is_file().then(|| read_run(path).map(|run| Self::new(run, Some(path.to_owned()))))
    }

    /// Begins a run; its file is written at once.
    pub(super) fn begin(run: Run, path: Option<PathBuf>) -> Result<Self, SaveError> {
        let live = Self::new(run, path);
        live.save().map(|()| live)
    }

    fn new(run: Run, path: Option<PathBuf>) -> Self {
        Self { run, path, note: None, ahead: None, ending: false }
    }

    /// What the run's clock shows now.
    pub(super) fn now(&self) -> DateTime {
        self.run.shown(Timestamp::now(), &TimeZone::system().into())
    }

    /// The steps to come at the times to be expected now.
    fn ahead(&mut self, at: DateTime) -> Option<&Replan> {
        let minute = at.with().second(0).subsec_nanosecond(0).build().unwrap_or(at);
        let is_of = |(ticks, made_at): &AheadKey| *ticks == self.run.raw().ticks && *made_at == minute;
        if !self.ahead.as_ref().is_some_and(|(key, _)| is_of(key)) {
            self.ahead = Some(((self.run.raw().ticks.clone(), minute), self.run.replan(at)));
        }
        self.ahead.as_ref().and_then(|(_, replan)| replan.as_ref())
    }

    fn save(&self) -> Result<(), SaveError> {
        self.path.as_deref().map_or(Ok(()), |path| {
            if let Some(folder) = path.parent() {
                std::fs::create_dir_all(folder).map_err(|source| SaveError { path: path.to_owned(), source })?;
            }
            save_run(path, &self.run)
        })
    }

    /// Does what was asked at a time: what there is to say of it. What can't be kept in the file is not done.
    pub(super) fn perform(&mut self, ask: &RunAsk, at: DateTime, voice: Voice) -> Result<String, AnyRefusal> {
        let before = self.run.clone();
        let said = match ask {
            RunAsk::Tick(step, mark) => self.tick(*step, *mark, at, voice)?,
            RunAsk::Undo => self.run.undo().map_or_else(String::new, |tick| format!("Undone: step {}", tick.step)),
            RunAsk::Note(step, text) => {
                self.run.note(*step, text)?;
                self.note = None;
                String::new()
            }
            RunAsk::Begin | RunAsk::End => String::new(),
        };
        self.save().map(|()| said).map_err(|error| {
            self.run = before;
            error.into()
        })
    }

    fn tick(&mut self, step: u32, mark: Mark, at: DateTime, voice: Voice) -> Result<String, AnyRefusal> {
        let warnings = match mark {
            Mark::Begun => self.run.begin(step, at),
            Mark::Finished => self.run.finish(step, at),
            Mark::LeftOut => self.run.leave_out(step, at).map(|()| Vec::new()),
        };
        let warnings = warnings?;
        Ok(warnings.iter().map(|warning| warning.say(voice)).collect::<Vec<_>>().join(" "))
    }

    /// Shows the run at a time.
    pub(super) fn show(&mut self, at: DateTime, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        let view = self.run.now(at);
        let palette = Palette::of(ui.ctx());
        ui.horizontal(|ui| {
            ui.label(RichText::new(at.strftime("%H:%M").to_string()).size(40.0).strong());
            ui.vertical(|ui| {
                ui.label(RichText::new(self.run.name()).size(18.0));
                ui.label(RichText::new(format!("{} of {} steps; {}", view.settled, view.steps, self.end_words(at))).weak());
            });
            ui.add_space(20.0);
            if ui.button("Undo last tick").clicked() {
                asks.push(RunAsk::Undo);
            }
            if view.over || self.ending {
                let words = if view.over { "End the run" } else { "End it before its last step" };
                if ui.button(words).on_hover_text("Close the run; its file is kept").clicked() {
                    asks.push(RunAsk::End);
                }
            }
            if self.ending && ui.button("Keep going").clicked() {
                self.ending = false;
            }
            if !view.over && !self.ending && ui.button("End the run").clicked() {
                self.ending = true;
            }
        });
        for late in &view.late {
            ui.label(RichText::new(self.late(late)).size(17.0).color(palette.refused));
        }
        let ahead = self.ahead(at).cloned();
        for endangered in ahead.iter().flat_map(|ahead| &ahead.endangered) {
            ui.label(RichText::new(format!("Conflict: {endangered}.")).size(17.0).color(palette.refused));
        }
        if view.over {
            ui.label(RichText::new("Everything is done.").size(26.0).strong());
        }
        self.jobs(&view, asks, ui);
        self.waits(&view, ui);
        self.coming(&view, asks, ui);
        if let Some(ahead) = &ahead {
            self.expected(ahead, ui);
        }
        judged(&view, ui);
    }

    /// When everything is over as expected now, and as planned where that is another time.
    fn end_words(&mut self, at: DateTime) -> String {
        let clock = |time: DateTime| time.strftime("%A %-d %B, %H:%M").to_string();
        match self.ahead(at) {
            Some(ahead) if ahead.ends == ahead.planned_end => format!("over {}, as planned", clock(ahead.ends)),
            Some(ahead) => format!("over {}, planned {}", clock(ahead.ends), clock(ahead.planned_end)),
            None => "beyond the years that a calendar knows".to_owned(),
        }
    }

    /// Every step to come: when it is to be expected now, and what was planned beside it.
    fn expected(&self, ahead: &Replan, ui: &mut Ui) {
        if ahead.steps.is_empty() {
            return;
        }
        let palette = Palette::of(ui.ctx());
        ui.separator();
        ui.label(RichText::new("Still to do, retimed").size(20.0).strong());
        Grid::new("ahead").num_columns(4).striped(true).spacing([18.0, 6.0]).show(ui, |ui| {
            for title in ["Change per gap", "Expected", "Then wait until", "Planned"] {
                ui.label(RichText::new(title).weak());
            }
            ui.end_row();
            for step in &ahead.steps {
                let title = self.run.step(step.step).map(|step| step.title()).unwrap_or_default();
                ui.label(RichText::new(title).size(16.0));
                let tone = if step.moved_min > 0 { palette.warn } else { palette.ink };
                ui.label(RichText::new(step.from.strftime("%a %-d %b %H:%M").to_string()).size(16.0).strong().color(tone));
                ui.label(RichText::new(step.wait_words()).size(16.0));
                ui.label(RichText::new(step.planned_words()).size(16.0).weak());
                ui.end_row();
            }
        });
    }

    fn late(&self, late: &Late) -> String {
        let name = |step: u32| self.run.step(step).map(|step| step.title()).unwrap_or_default();
        match late {
            Late::Wait { step, by_min } => format!("Late: {} has waited {} too long.", name(*step), duration(*by_min)),
            Late::Begin { step, by_min } => format!("Late: {} could have started {} ago.", name(*step), duration(*by_min)),
        }
    }

    fn jobs(&mut self, view: &NowView, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        let jobs: Vec<(Job, bool)> =
            view.doing.iter().map(|job| (job.clone(), true)).chain(view.now.iter().map(|job| (job.clone(), false))).collect();
        if jobs.is_empty() && !view.over {
            let until = view.idle_until.map_or_else(String::new, |time| format!(" until {}", time.strftime("%A %-d %B, %H:%M")));
            ui.label(RichText::new(format!("Nothing to do{until}.")).size(26.0).strong());
        }
        for (job, begun) in jobs {
            ui.separator();
            self.job(&job, begun, asks, ui);
        }
    }

    /// A step in large type, with what it needs and what to mind.
    fn job(&mut self, job: &Job, begun: bool, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let Some(step) = self.run.step(job.step) else { return };
        let title = step.title();
        ui.label(RichText::new(&title).size(28.0).strong().color(if job.pressing { palette.warn } else { palette.ink }));
        if let Some(marks) = step.marks() {
            ui.label(RichText::new(marks).size(17.0).strong().color(palette.warn));
        }
        ui.label(RichText::new(step.what).size(19.0));
        for needs in step.needs_words() {
            ui.label(RichText::new(needs).size(19.0).strong());
        }
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
        ui.horizontal(|ui| {
            if !begun && large(ui, "Start", &title).clicked() {
                asks.push(RunAsk::Tick(job.step, Mark::Begun));
            }
            if large(ui, "Done", &title).clicked() {
                asks.push(RunAsk::Tick(job.step, Mark::Finished));
            }
            if named(ui, Button::new("Leave out"), &format!("Skip {title}")).clicked() {
                asks.push(RunAsk::Tick(job.step, Mark::LeftOut));
            }
            self.note(job.step, &title, &note, asks, ui);
        });
    }

    fn note(&mut self, step: u32, title: &str, note: &str, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        match &mut self.note {
            Some((of, text)) if *of == step => {
                let field = ui.add(TextEdit::singleline(text).desired_width(240.0).hint_text("something to remember"));
                field.widget_info(|| WidgetInfo::labeled(Role::TextInput, true, format!("Note on {title}")));
                if field.lost_focus() {
                    asks.push(RunAsk::Note(step, text.trim().to_owned()));
                }
            }
            _ => {
                let words = if note.is_empty() { "Note…".to_owned() } else { format!("Note: {note}") };
                if named(ui, Button::new(words), &format!("Write a note on {title}")).clicked() {
                    self.note = Some((step, note.to_owned()));
                }
            }
        }
    }

    fn waits(&self, view: &NowView, ui: &mut Ui) {
        if view.waiting.is_empty() {
            return;
        }
        ui.separator();
        ui.label(RichText::new("Waiting").size(20.0).strong());
        for waiting in &view.waiting {
            let title = self.run.step(waiting.step).map(|step| step.title()).unwrap_or_default();
            ui.label(RichText::new(format!("{title}: {}", wait_words(waiting))).size(19.0).color(wait_tone(waiting, ui)));
            if let Some(reason) = &waiting.reason {
                ui.label(RichText::new(format!("This long because {reason}.")).weak());
            }
        }
    }

    fn coming(&self, view: &NowView, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        if view.ahead.is_empty() && view.blocked.is_empty() {
            return;
        }
        let step = |number: u32| self.run.step(number);
        ui.separator();
        ui.label(RichText::new("Next").size(20.0).strong());
        let title = |step: &RunStep<'_>| step.title();
        for job in &view.ahead {
            let Some(step) = step(job.step) else { continue };
            ui.horizontal(|ui| {
                ui.label(format!("{} from {}; can start now", title(&step), step.from.strftime("%a %-d %b %H:%M")));
                if named(ui, Button::new("Start now").small(), &format!("Start {} now", title(&step))).clicked() {
                    asks.push(RunAsk::Tick(job.step, Mark::Begun));
                }
            });
        }
        for blocked in &view.blocked {
            if let Some(step) = step(blocked.job.step) {
                ui.label(format!("{}: the {} is full", title(&step), blocked.place.name()));
            }
        }
    }
}

fn wait_words(waiting: &Waiting) -> String {
    let until = |seconds: i64| {
        // Under an hour by the second, as on a kitchen timer.
        if seconds.abs() < 3600 {
            format!("{}:{:02}", seconds.abs() / 60, seconds.abs() % 60)
        } else {
            duration(seconds.abs() / 60)
        }
    };
    let clock = |time: DateTime| time.strftime("%a %-d %b %H:%M").to_string();
    match (waiting.state, waiting.latest.zip(waiting.to_latest_s)) {
        (WaitState::Closed, _) => format!("{} more, until {}", until(waiting.to_earliest_s), clock(waiting.earliest)),
        (WaitState::Open, Some((latest, left_s))) => format!("ready; start within {}, by {}", until(left_s), clock(latest)),
        (WaitState::Open, None) => "ready; waiting longer does no harm".to_owned(),
        (WaitState::Over, Some((latest, left_s))) => format!("overdue by {}, since {}", until(left_s), clock(latest)),
        (WaitState::Over, None) => "over".to_owned(),
    }
}

fn wait_tone(waiting: &Waiting, ui: &Ui) -> egui::Color32 {
    let palette = Palette::of(ui.ctx());
    match waiting.state {
        WaitState::Closed => palette.ink,
        WaitState::Open => palette.accent,
        WaitState::Over => palette.refused,
    }
}

fn judged(view: &NowView, ui: &mut Ui) {
    if view.judged.is_empty() {
        return;
    }
    ui.separator();
    ui.label(RichText::new("Finished waits").size(17.0).strong());
    Grid::new("judged").num_columns(1).striped(true).show(ui, |ui| {
        for judged in view.judged.iter().rev() {
            ui.label(judged.sentence());
            ui.end_row();
        }
    });
}

/// A large button whose name says what it acts on.
fn large(ui: &mut Ui, words: &str, of: &str) -> Response {
    named(ui, Button::new(RichText::new(words).size(22.0)).min_size(egui::vec2(110.0, 44.0)), &format!("{words}: {of}"))
}

fn named(ui: &mut Ui, button: Button<'_>, name: &str) -> Response {
    let response = ui.add(button);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
    response
}
