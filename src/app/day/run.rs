//! The run: what to do now, in type to be read from the tub, with timers that go on while the program is closed.

use super::RunAsk;
use super::press::Presses;
use crate::app::menu::is_low;
use crate::app::settings::Settings;
use crate::app::theme::Palette;
use crate::plan::{Alarm, Late, Mark, NowView, Replan, Run, RunWarning, Tick, WaitState, Waiting, duration};
use crate::store::{ReadError, SaveError, read_run, save_run};
use crate::telling::{AnyRefusal, Voice, Warned as _};
use egui::{Button, Label, RichText, Ui};
use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use std::cell::RefCell;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A run under way, and its file.
#[derive(Debug)]
pub(super) struct Live {
    pub(super) run: Run,
    path: Option<PathBuf>,
    /// A note being written, and on which step.
    pub(super) note: Option<(u32, String)>,
    /// Whether its field has still to take the keyboard.
    pub(super) note_is_new: bool,
    /// The steps to come, timed anew: made once a minute and at every tick.
    ahead: Option<(AheadKey, Option<Replan>)>,
    /// Whether the maker is being asked if it is to end before its last step.
    ending: bool,
    pub(super) presses: Presses,
    /// Of which step the maker chose which garment to fold and tie, or none.
    pub(super) opened: Option<(u32, Option<u32>)>,
    /// A step of which the maker is asked when it was done, and when that was; now, where it is not given.
    pub(super) done_then: Option<(u32, Option<DateTime>)>,
    /// Whether its field has still to take the keyboard.
    pub(super) done_is_new: bool,
    /// How often it was changed, and the alarms of its waits as they were made after the last change.
    changes: u64,
    alarms: RefCell<(u64, Arc<[Alarm]>)>,
    /// What would be taken from the shelf at its end, a line each.
    pub(super) takes: Vec<String>,
    /// Whether it is, as far as the maker said: unless said otherwise when everything is done.
    pub(super) take: Option<bool>,
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
        Self {
            run,
            path,
            note: None,
            note_is_new: false,
            ahead: None,
            ending: false,
            presses: Presses::default(),
            opened: None,
            done_then: None,
            done_is_new: false,
            changes: 1,
            alarms: RefCell::default(),
            takes: Vec::new(),
            take: None,
        }
    }

    /// What the run's clock shows now.
    pub(super) fn now(&self) -> DateTime {
        self.run.shown(Timestamp::now(), &TimeZone::system().into())
    }

    /// Whether what it used is taken from the shelf when it ends.
    pub(super) fn takes_from_shelf(&self) -> bool {
        self.take.unwrap_or_else(|| self.run.steps().all(|step| step.finished.is_some()))
    }

    /// The alarms of its waits by its own clock: they change with its ticks alone.
    fn own_alarms(&self) -> Arc<[Alarm]> {
        let mut made = self.alarms.borrow_mut();
        if made.0 != self.changes {
            *made = (self.changes, self.run.alarms().into());
        }
        made.1.clone()
    }

    /// The alarms of its waits, at the instants at which they call.
    pub(super) fn alarms(&self) -> Vec<Alarm> {
        let here = TimeZone::system().into();
        let alarms = self.own_alarms();
        alarms.iter().map(|alarm| Alarm { instant: self.run.calls_at(alarm, &here), ..alarm.clone() }).collect()
    }

    /// Those that call now.
    pub(super) fn standing_alarms(&self) -> Vec<Alarm> {
        self.run.standing_of(&self.own_alarms(), self.now())
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
        self.changes += 1;
        let said = match ask {
            RunAsk::Tick(step, mark) => self.tick(*step, *mark, at, voice)?,
            RunAsk::DoneAt(step, then) => warned(&self.run.done_already(*step, *then, at)?, voice),
            RunAsk::Part { step, garment, part, done: true } => warned(&self.run.part_done(*step, *garment, *part, at)?, voice),
            RunAsk::Part { step, garment, part, done: false } => {
                self.run.undo_part(*step, *garment, *part)?;
                String::new()
            }
            RunAsk::Undo => {
                let undone = self.run.undo();
                undone.map_or_else(String::new, |tick| format!("Undone: {}", self.run.tick_title(&tick)))
            }
            RunAsk::Note(step, text) => {
                self.run.note(*step, text)?;
                self.note = None;
                String::new()
            }
            RunAsk::Acknowledge(step, kind) => {
                self.run.acknowledge(*step, *kind)?;
                String::new()
            }
            RunAsk::Begin | RunAsk::End | RunAsk::Alarm(_) | RunAsk::Take(_) | RunAsk::Show => String::new(),
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
            Mark::Part { garment, part } => self.run.part_done(step, garment, part, at),
        };
        Ok(warned(&warnings?, voice))
    }

    /// Shows the run at a time. What ticks the step that is `pinned` shows elsewhere.
    pub(super) fn show(
        &mut self,
        (view, at): (&NowView, DateTime),
        pinned: Option<u32>,
        settings: &Settings,
        asks: &mut Vec<RunAsk>,
        ui: &mut Ui,
    ) {
        let palette = Palette::of(ui.ctx());
        let is_low = is_low(ui.ctx());
        self.clock(view, at, is_low, ui);
        if !is_low {
            self.ends(view, settings, asks, ui);
        }
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
            let until = idle_until(view, ahead.as_ref())
                .map_or_else(String::new, |time| format!(" until {}", time.strftime("%A %-d %B, %H:%M")));
            ui.label(RichText::new(format!("Nothing has to be done{until}.")).size(26.0).strong());
            self.coming(view, ahead.as_ref(), asks, ui);
        }
        for (jobs, begun) in [(&view.doing, true), (&view.now, false)] {
            for job in jobs {
                ui.separator();
                self.job((job, begun, at), pinned == Some(job.step), settings, asks, ui);
            }
        }
        self.waits(view, ui);
        if !is_idle {
            self.coming(view, ahead.as_ref(), asks, ui);
        }
        if let Some(ahead) = &ahead {
            self.expected(ahead, ui);
        }
        judged(view, ui);
        if is_low {
            ui.separator();
            self.ends(view, settings, asks, ui);
        }
    }

    /// The clock and how far the run is; where there is little height, in a line.
    fn clock(&mut self, view: &NowView, at: DateTime, is_low: bool, ui: &mut Ui) {
        let (clock, name) = if is_low { (24.0, 15.0) } else { (40.0, 18.0) };
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(at.strftime("%H:%M").to_string()).size(clock).strong());
            ui.label(RichText::new(self.run.name()).size(name));
        });
        ui.label(RichText::new(format!("{} of {} steps; {}", view.settled, view.steps, self.end_words(at))).weak());
    }

    /// What takes a tick back, what ends the run, and whether it calls.
    fn ends(&mut self, view: &NowView, settings: &Settings, asks: &mut Vec<RunAsk>, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            let is_ticked = !self.run.raw().ticks.is_empty();
            let undo = ui.add_enabled(is_ticked, Button::new("Undo last tick"));
            if self.presses.of(&undo, ui) {
                asks.push(RunAsk::Undo);
            }
            if view.over || self.ending {
                let words = if view.over { "End the run" } else { "End the run early" };
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
            let mut rings = !settings.alarm_silent;
            let about = "When a wait ends, and shortly before its limit";
            if ui.checkbox(&mut rings, "Alarm by sound and notification").on_hover_text(about).changed() {
                asks.push(RunAsk::Alarm(rings));
            }
        });
        if (view.over || self.ending) && !self.takes.is_empty() {
            let mut takes = self.takes_from_shelf();
            // Before its last step nobody knows how much of it was used.
            let words =
                if view.over { "Take what the plan used from the shelf" } else { "Take all that the plan needs from the shelf" };
            if ui.checkbox(&mut takes, words).changed() {
                asks.push(RunAsk::Take(takes));
            }
            ui.add(Label::new(RichText::new(self.takes.join("; ")).weak()).wrap());
        }
    }

    /// When everything is over as expected now, and as planned where that is another time.
    fn end_words(&mut self, at: DateTime) -> String {
        let clock = |time: DateTime| time.strftime("%A %-d %B, %H:%M").to_string();
        match self.ahead(at) {
            Some(ahead) if ahead.ends == ahead.planned_end => format!("ends {}, as planned", clock(ahead.ends)),
            Some(ahead) => format!("ends {}, planned {}", clock(ahead.ends), clock(ahead.planned_end)),
            None => "ends past the last calendar year".to_owned(),
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

/// What is amiss with a tick that was taken.
fn warned(warnings: &[RunWarning], voice: Voice) -> String {
    warnings.iter().map(|warning| warning.say(voice)).collect::<Vec<_>>().join(" ")
}

/// When there is something to do again: as the steps are timed anew, so that all of the view says the same.
fn idle_until(view: &NowView, ahead: Option<&Replan>) -> Option<DateTime> {
    let expected = ahead.into_iter().flat_map(|ahead| &ahead.steps).map(|step| step.from).filter(|&from| from > view.at).min();
    expected.or(view.idle_until)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{AlarmKind, OfGarments, Order, Plan, When};
    use crate::store::{EXAMPLE_LAYOUTS, EXAMPLE_PROCESSES, EXAMPLE_RECIPES, parse_layout, parse_process, parse_recipe};

    fn live() -> Live {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let recipe = EXAMPLE_RECIPES.iter().find(|example| example.short_name() == "powder-under-ice").unwrap();
        let process = EXAMPLE_PROCESSES.iter().find(|example| example.short_name() == "discharge-and-dye").unwrap();
        let (recipe, process) = (parse_recipe(recipe.text).unwrap(), parse_process(process.text).unwrap());
        let of = OfGarments { scrap_tested: true, ..OfGarments::default() };
        let order = Order::of_garments(layout, of, recipe, process).unwrap();
        let plan = Plan::new(&order, When::Start("2020-05-04T08:00".parse().unwrap())).unwrap();
        Live::new(Run::of(&plan).unwrap(), None)
    }

    /// All alarms were once made anew in every frame.
    #[test]
    fn alarms_are_made_when_something_is_ticked() {
        let mut live = live();
        let ticked: Vec<(u32, DateTime)> =
            live.run.steps().take_while(|step| step.name != "fold and tie").map(|step| (step.number, step.to)).collect();
        for (step, at) in ticked {
            live.perform(&RunAsk::Tick(step, Mark::Finished), at, Voice::FILE).unwrap();
        }
        let first = live.own_alarms();
        assert!(!first.is_empty() && Arc::ptr_eq(&first, &live.own_alarms()));
        assert_eq!(&first[..], live.run.alarms());
        let standing = live.standing_alarms();
        assert_eq!(standing, live.run.standing_alarms(live.now()));
        live.perform(&RunAsk::Acknowledge(standing[0].step, AlarmKind::Overdue), live.now(), Voice::FILE).unwrap();
        assert!(!Arc::ptr_eq(&first, &live.own_alarms()));
        assert_eq!(live.standing_alarms(), live.run.standing_alarms(live.now()));
    }
}
