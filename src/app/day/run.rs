//! The run: what to do now, in type to be read from the tub, with timers that go on while the program is closed.

use super::RunAsk;
use super::press::Presses;
use crate::app::theme::Palette;
use crate::plan::{Late, Mark, NowView, Replan, Run, Tick, WaitState, Waiting, duration};
use crate::store::{ReadError, SaveError, read_run, save_run};
use crate::telling::{AnyRefusal, Voice, Warned as _};
use egui::{RichText, Ui};
use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use std::path::{Path, PathBuf};

/// A run under way, and its file.
#[derive(Debug)]
pub(super) struct Live {
    pub(super) run: Run,
    path: Option<PathBuf>,
    /// A note being written, and on which step.
    pub(super) note: Option<(u32, String)>,
    /// The steps to come, timed anew: made once a minute and at every tick.
    ahead: Option<(AheadKey, Option<Replan>)>,
    /// Whether the maker is being asked if it is to end before its last step.
    ending: bool,
    pub(super) presses: Presses,
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
        Self { run, path, note: None, ahead: None, ending: false, presses: Presses::default() }
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
        self.presses.frame(ui);
        let view = self.run.now(at);
        let palette = Palette::of(ui.ctx());
        self.head(&view, at, asks, ui);
        let ahead = self.ahead(at).cloned();
        for endangered in ahead.iter().flat_map(|ahead| &ahead.endangered) {
            ui.label(RichText::new(format!("Conflict: {endangered}.")).size(17.0).color(palette.refused));
        }
        for late in &view.late {
            ui.label(RichText::new(self.late(late)).size(17.0).color(palette.refused));
        }
        if view.over {
            ui.label(RichText::new("Everything is done.").size(26.0).strong());
        }
        let is_idle = !view.over && view.doing.is_empty() && view.now.is_empty();
        if is_idle {
            let until = view.idle_until.map_or_else(String::new, |time| format!(" until {}", time.strftime("%A %-d %B, %H:%M")));
            ui.label(RichText::new(format!("Nothing to do{until}.")).size(26.0).strong());
            self.coming(&view, at, asks, ui);
        }
        for (jobs, begun) in [(&view.doing, true), (&view.now, false)] {
            for job in jobs {
                ui.separator();
                self.job(job, begun, asks, ui);
            }
        }
        self.waits(&view, ui);
        if !is_idle {
            self.coming(&view, at, asks, ui);
        }
        if let Some(ahead) = &ahead {
            self.expected(ahead, ui);
        }
        judged(&view, ui);
    }

    /// The clock, how far the run is, and what ends it.
    fn head(&mut self, view: &NowView, at: DateTime, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(at.strftime("%H:%M").to_string()).size(40.0).strong());
            ui.label(RichText::new(self.run.name()).size(18.0));
        });
        ui.label(RichText::new(format!("{} of {} steps; {}", view.settled, view.steps, self.end_words(at))).weak());
        ui.horizontal_wrapped(|ui| {
            if self.presses.of(&ui.button("Undo last tick"), ui) {
                asks.push(RunAsk::Undo);
            }
            if view.over || self.ending {
                let words = if view.over { "End the run" } else { "End it before its last step" };
                let end = ui.button(words).on_hover_text("Close the run; its file is kept");
                if self.presses.of(&end, ui) {
                    asks.push(RunAsk::End);
                }
            }
            if self.ending && ui.button("Keep going").clicked() {
                self.ending = false;
            }
            if !view.over && !self.ending && self.presses.of(&ui.button("End the run"), ui) {
                self.ending = true;
            }
        });
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

    pub(super) fn title(&self, step: u32) -> String {
        self.run.step(step).map(|step| step.title()).unwrap_or_default()
    }

    fn late(&self, late: &Late) -> String {
        match late {
            Late::Wait { step, by_min } => format!("Late: {} has waited {} too long.", self.title(*step), duration(*by_min)),
            Late::Begin { step, by_min } => format!("Late: {} could have started {} ago.", self.title(*step), duration(*by_min)),
        }
    }

    fn waits(&self, view: &NowView, ui: &mut Ui) {
        if view.waiting.is_empty() {
            return;
        }
        ui.separator();
        ui.label(RichText::new("Waiting").size(20.0).strong());
        for waiting in &view.waiting {
            let title = self.title(waiting.step);
            ui.label(RichText::new(format!("{title}: {}", wait_words(waiting))).size(19.0).color(wait_tone(waiting, ui)));
            if let Some(reason) = &waiting.reason {
                ui.label(RichText::new(format!("This long because {reason}.")).weak());
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
    for judged in view.judged.iter().rev() {
        ui.label(judged.sentence());
    }
}
