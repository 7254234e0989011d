//! The day: what is weighed, when what is done, and doing it.

mod ahead;
mod amounts;
mod ask;
mod chart;
mod choices;
mod job;
mod press;
mod run;
mod wanted;
mod workshop;

pub(crate) use self::ask::RunAsk;

use self::run::Live;
use self::wanted::{Made, Planned, Planner, Wanted};
use super::context::{Ask, Context};
use super::purpose::DayFile;
use super::screen::screen;
use super::theme::Palette;
use super::today::today;
use crate::layout::{FibreShare, Layout, Swatch};
use crate::plan::{Plan, Run, Untimely, calendar_text, plan_text};
use crate::print::parts::{PlanOptions, plan_pdf};
use crate::print::{Paper, TilingOptions};
use crate::store::{FileFault, FileWork, save};
use crate::telling::{AnyRefusal, Told, Voice};
use egui::{Label, ProgressBar, RichText, ScrollArea, Ui};
use jiff::civil::{DateTime, Time};
use jiff::{ToSpan as _, ZonedDateTime};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What of the day is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Looking {
    /// The choices, where there is no room for them beside the table.
    Choices,
    Amounts,
    Times,
    Cautions,
    Run,
}

/// Height of the day's view, points, below which its views' names scroll with them.
const LOW: f32 = 240.0;

/// The day's view.
#[derive(Debug)]
pub(crate) struct DayView {
    wanted: Wanted,
    /// What the scrap was of.
    tested: Option<Tested>,
    planner: Planner,
    looking: Looking,
    formulas: bool,
    live: Option<Live>,
    /// Where the run is kept.
    run_path: Option<PathBuf>,
    /// Where the workshop is kept.
    workshop_path: Option<PathBuf>,
    /// Why a kept run could not be taken up.
    run_refused: Option<AnyRefusal>,
}

/// That a plan can't be over by its deadline, or begins in the past: said before all else.
fn untimely(plan: &Plan, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    for sentence in plan.untimely.iter().flat_map(Untimely::sentences) {
        ui.add(Label::new(RichText::new(sentence).size(17.0).strong().color(palette.refused)).wrap());
    }
}

fn no_plan() -> Told {
    Told::new("no plan yet", "open the Day view first")
}

/// What the clock on the wall shows.
fn now() -> DateTime {
    ZonedDateTime::now().datetime()
}

/// Tomorrow at eight in the morning.
fn tomorrow() -> DateTime {
    let today = today();
    today.checked_add(1.day()).unwrap_or(today).to_datetime(Time::constant(8, 0, 0, 0))
}

/// What a scrap stands for: the cloth and the dyes.
#[derive(Debug, Clone, PartialEq)]
struct Tested {
    colour: Option<Swatch>,
    fibres: Vec<FibreShare>,
    dyes: Vec<Swatch>,
}

impl Tested {
    fn of(layout: &Layout) -> Self {
        let raw = layout.raw();
        Self { colour: raw.garment.colour.clone(), fibres: raw.garment.fibres.clone(), dyes: raw.colours.rotation.clone() }
    }
}

impl DayView {
    /// Takes up the run that is kept in `home`, if there is one.
    pub(crate) fn new(home: Option<&Path>) -> Self {
        let run_path = home.map(|home| home.join("run.ron"));
        let (live, run_refused) = match run_path.as_deref().and_then(Live::read) {
            Some(Ok(live)) => (Some(live), None),
            Some(Err(error)) => (None, Some(error.into())),
            None => (None, None),
        };
        let workshop_path = home.map(|home| home.join("workshop.ron"));
        let wanted = Wanted {
            order: None,
            count: 1,
            recipe: None,
            process: None,
            workshop: workshop_path.as_deref().map(workshop::read).unwrap_or_default(),
            scrap_tested: false,
            deadline: false,
            time: tomorrow(),
        };
        let looking = if live.is_some() { Looking::Run } else { Looking::Amounts };
        Self {
            wanted,
            tested: None,
            planner: Planner::default(),
            looking,
            formulas: false,
            live,
            run_path,
            workshop_path,
            run_refused,
        }
    }

    /// Whether a run is under way.
    pub(crate) fn is_running(&self) -> bool {
        self.live.is_some()
    }

    /// Takes a file into use.
    pub(crate) fn use_file(&mut self, file: DayFile, path: PathBuf) {
        match file {
            DayFile::Order => self.wanted.order = Some(path),
            DayFile::Recipe => self.wanted.recipe = Some(path),
            DayFile::Process => self.wanted.process = Some(path),
        }
        self.planner.look_again();
    }

    /// Writes the plan to a file whose ending says its form; `paper` is for PDF.
    pub(crate) fn save_plan(&self, path: &Path, paper: &Paper) -> Result<String, AnyRefusal> {
        let plan = self.plan().ok_or_else(no_plan)?;
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        let bytes = match ending.as_deref() {
            Some("ics") => calendar_text(plan, None).into_bytes(),
            Some("txt") => plan_text(plan, self.formulas).into_bytes(),
            Some("pdf") => plan_pdf(plan, PlanOptions { formulas: self.formulas }, paper, &TilingOptions::default())?,
            _ => {
                let told = Told::new("unknown file extension", "end its name in .pdf, .ics or .txt");
                return Err(told.into());
            }
        };
        save(path, &bytes)?;
        Ok(format!("Saved {}: {} steps", path.display(), plan.timeline.entries.len()))
    }

    /// The order and its plan, if they are made.
    pub(crate) fn made(&self) -> Option<&Made> {
        self.planner.plan().and_then(|planned: &Planned| planned.as_ref().ok())
    }

    fn plan(&self) -> Option<&Arc<Plan>> {
        self.made().map(|made| &made.plan)
    }

    /// Does what was asked of the run.
    pub(crate) fn perform(&mut self, ask: &RunAsk, voice: Voice) -> Result<String, AnyRefusal> {
        match (ask, &mut self.live) {
            (RunAsk::Begin, _) => {
                let plan = self.plan().ok_or_else(no_plan)?;
                let run = Run::of(plan)?;
                self.live = Some(Live::begin(run, self.run_path.clone())?);
                self.run_refused = None;
                self.looking = Looking::Run;
                Ok(String::new())
            }
            (RunAsk::End, _) => self.end(),
            (ask, Some(live)) => live.perform(ask, live.now(), voice),
            (_, None) => Ok(String::new()),
        }
    }

    /// Puts the run away; its file gets another name.
    fn end(&mut self) -> Result<String, AnyRefusal> {
        self.live = None;
        let Some(path) = self.run_path.as_deref().filter(|path| path.is_file()) else { return Ok(String::new()) };
        let kept = path.with_file_name(format!("run-{}.ron", now().strftime("%Y-%m-%d-%H%M%S")));
        std::fs::rename(path, &kept).map_err(FileFault::of(path, FileWork::PutAway))?;
        Ok(format!("The run is kept as {}", kept.display()))
    }

    /// A test holds for the cloth and the dyes that it was made with: another layout's has to be made.
    fn forget_other_scraps(&mut self, layout: &Layout) {
        let cloth = Tested::of(layout);
        if self.tested.as_ref() != Some(&cloth) {
            self.wanted.scrap_tested = false;
            self.tested = Some(cloth);
        }
    }

    /// The plan as it belongs on a layout's job card, with the plan's line that the layout is; none while it is being made.
    pub(crate) fn for_card(&mut self, ctx: &Context<'_>, ui: &Ui) -> Option<(Arc<Plan>, usize)> {
        self.forget_other_scraps(ctx.layout);
        self.planner.keep_up(ctx.layout, &self.wanted, ui.ctx());
        let plan = self.plan()?;
        let line = plan.lines.iter().position(|line| line.name == ctx.layout.name())?;
        Some((plan.clone(), line))
    }

    /// The run alone, when no layout is open.
    pub(crate) fn show_run(&mut self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ScrollArea::vertical().id_salt("run").auto_shrink(false).show(ui, |ui| self.run_page(voice, asks, ui));
    }

    /// What lies on the table; the choices too, where they are not `beside` it.
    pub(crate) fn show(&mut self, ctx: &Context<'_>, beside: bool, asks: &mut Vec<Ask>, ui: &mut Ui) {
        if beside && self.looking == Looking::Choices {
            self.looking = Looking::Amounts;
        }
        self.forget_other_scraps(ctx.layout);
        self.planner.keep_up(ctx.layout, &self.wanted, ui.ctx());
        // Where there is little height, the views' names scroll with them.
        let is_low = ui.available_height() < LOW;
        if !is_low {
            self.views(beside, ui);
        }
        egui::Frame::NONE.inner_margin(egui::Margin::symmetric(14, 6)).show(ui, |ui| {
            ScrollArea::vertical().id_salt(self.looking).auto_shrink(false).show(ui, |ui| {
                if is_low {
                    self.views(beside, ui);
                }
                match self.looking {
                    Looking::Choices => self.choices(asks, ui),
                    _ => self.page(ctx.voice(), asks, ui),
                }
            });
        });
    }

    /// The views' names, to be chosen.
    fn views(&mut self, beside: bool, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            ui.add_space(10.0);
            if !beside {
                ui.selectable_value(&mut self.looking, Looking::Choices, "What for");
            }
            for (looking, words) in [
                (Looking::Amounts, "To weigh"),
                (Looking::Times, "Times"),
                (Looking::Cautions, "Cautions"),
                (Looking::Run, "Run"),
            ] {
                ui.selectable_value(&mut self.looking, looking, words);
            }
            if self.looking == Looking::Amounts {
                ui.checkbox(&mut self.formulas, "Formulas");
            }
            self.progress(ui);
        });
    }

    /// How far a plan is that takes its time, and a way to stop it; once it is stopped, a way to begin again.
    fn progress(&mut self, ui: &mut Ui) {
        if let Some(done) = self.planner.progress() {
            ui.add(ProgressBar::new(screen(done)).desired_width(120.0).text("Planning"));
            if ui.button("Stop").clicked() {
                self.planner.stop();
            }
        } else if self.planner.is_stopped() && ui.button("Plan again").clicked() {
            self.planner.look_again();
        }
    }

    fn page(&mut self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        if self.looking == Looking::Run {
            return self.run_page(voice, asks, ui);
        }
        match self.planner.plan() {
            None => drop(ui.label("Planning…")),
            Some(Err(refusal)) => drop(ui.label(RichText::new(refusal.say(voice)).size(17.0).color(palette.refused))),
            Some(Ok(Made { plan, .. })) => {
                untimely(plan, ui);
                match self.looking {
                    Looking::Times => chart::show(plan, ui),
                    Looking::Cautions => amounts::cautions(plan, ui),
                    _ => amounts::show(plan, self.formulas, voice, ui),
                }
            }
        }
    }

    fn run_page(&mut self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        if let Some(refused) = &self.run_refused {
            let words = format!("Couldn't reopen the earlier run: {}", refused.say(voice));
            ui.label(RichText::new(words).color(palette.refused));
        }
        match &mut self.live {
            Some(live) => {
                let mut run_asks = Vec::new();
                live.show(live.now(), &mut run_asks, ui);
                asks.extend(run_asks.into_iter().map(Ask::Run));
                // The clock moves on by itself.
                ui.ctx().request_repaint_after(std::time::Duration::from_secs(1));
            }
            None => {
                ui.label(RichText::new("No run in progress.").size(20.0));
                ui.label(
                    "Plan the day, then press \"Start the run\" to see each step in large type, its timer and what comes next. \
                    A run continues while the program is closed.",
                );
            }
        }
    }
}
