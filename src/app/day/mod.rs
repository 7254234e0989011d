//! The day: what is weighed, when what is done, and doing it.

mod ahead;
mod amounts;
mod ask;
mod chart;
mod choices;
mod chosen;
mod done;
mod editor;
mod figure_words;
mod hand;
mod hours;
mod job;
mod kept;
mod month;
mod order;
mod pinned;
mod press;
mod process;
mod question;
mod recipe;
mod run;
mod shelf;
mod tested;
mod wanted;
mod when;
mod work;
mod workshop;
mod writing;

pub(crate) use self::ask::{DayAsk, RunAsk};
pub(crate) use self::editor::word;
pub(crate) use self::writing::{OpenLayout, Outcome};

use self::chosen::OwnNames;
use self::editor::Editor;
use self::kept::Kept;
use self::month::Month;
use self::order::{Desk, Rows};
use self::question::Question;
use self::run::Live;
use self::shelf::ShelfView;
use self::tested::Tested;
use self::wanted::{Made, Planned, Planner, Wanted, Written};
use super::alarm::banner;
use super::context::{Ask, Context};
use super::menu::is_low;
use super::purpose::DayFile;
use super::run::Run as ProgramRun;
use super::screen::screen;
use super::settings::Settings;
use super::theme::Palette;
use super::today::today;
use crate::layout::Layout;
use crate::measure::LengthStyle;
use crate::plan::{Alarm, NowView, Order, Plan, Process, Recipe, Run, RunReport, calendar_text, plan_text};
use crate::print::parts::{PlanOptions, plan_pdf};
use crate::print::{Paper, TilingOptions};
use crate::store::{FileFault, FileWork, save};
use crate::telling::{AnyRefusal, Told, Voice};
use egui::{ProgressBar, RichText, ScrollArea, Ui};
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
    Shelf,
    Run,
    /// The recipe that is being written.
    Recipe,
    /// The process that is being written.
    Process,
}

/// A moment of the run.
struct AtHand {
    view: NowView,
    at: DateTime,
    /// Whose ticks show below the page.
    pinned: Option<u32>,
}

/// The day's view.
#[derive(Debug)]
pub(crate) struct DayView {
    wanted: Wanted,
    /// When work was to start, while a deadline is looked at.
    start: DateTime,
    /// The order that is being written, if one is.
    desk: Option<Desk>,
    rows: Rows,
    own_names: OwnNames,
    recipe: Option<Editor<Recipe>>,
    process: Option<Editor<Process>>,
    /// What could be meant by the time that was said last.
    question: Question,
    /// The month to click a day in, while it shows.
    month: Option<Month>,
    /// What the scrap was of.
    tested: Option<Tested>,
    planner: Planner,
    looking: Looking,
    formulas: bool,
    shelf: ShelfView,
    live: Option<Live>,
    /// Where the run is kept.
    run_path: Option<PathBuf>,
    /// Where the workshop is kept.
    workshop_path: Option<PathBuf>,
    /// What of it no file holds, kept where a crash can't take it.
    kept: Option<Kept>,
    /// Why a kept run could not be taken up.
    run_refused: Option<AnyRefusal>,
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

impl DayView {
    /// Takes up the run of steps that is kept in `home`, if there is one, and what an earlier run of the program could not save.
    pub(crate) fn new(home: Option<&Path>, program: &ProgramRun) -> Self {
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
            shelf: Arc::default(),
            scrap_tested: false,
            deadline: false,
            time: tomorrow(),
            doubtful: None,
            lengths: LengthStyle::default(),
        };
        let looking = if live.is_some() { Looking::Run } else { Looking::Amounts };
        let mut day = Self {
            start: wanted.time,
            wanted,
            desk: None,
            rows: Rows::default(),
            own_names: OwnNames::default(),
            recipe: None,
            process: None,
            question: Question::default(),
            month: None,
            tested: None,
            planner: Planner::default(),
            looking,
            formulas: false,
            shelf: ShelfView::new(home),
            live,
            run_path,
            workshop_path,
            kept: home.map(|home| Kept::new(&home.join("day"), program)),
            run_refused,
        };
        day.take_up(program);
        day
    }

    /// Whether a run is under way.
    pub(crate) fn is_running(&self) -> bool {
        self.live.is_some()
    }

    /// Whether the run is the view that is chosen.
    pub(crate) fn shows_run(&self) -> bool {
        self.looking == Looking::Run
    }

    /// The alarms of the run's waits, past and to come.
    pub(crate) fn alarms(&self) -> Vec<Alarm> {
        self.live.as_ref().map(Live::alarms).unwrap_or_default()
    }

    /// The alarms that call now.
    pub(crate) fn standing_alarms(&self) -> Vec<Alarm> {
        self.live.as_ref().map(Live::standing_alarms).unwrap_or_default()
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
            (RunAsk::Take(take), Some(live)) => {
                live.take = Some(*take);
                Ok(String::new())
            }
            (RunAsk::Show, _) => {
                self.looking = Looking::Run;
                Ok(String::new())
            }
            (ask, Some(live)) => live.perform(ask, live.now(), voice),
            (_, None) => Ok(String::new()),
        }
    }

    /// What the run tells for the journal.
    pub(crate) fn reports(&self) -> Vec<RunReport> {
        self.live.as_ref().map(|live| live.run.reports()).unwrap_or_default()
    }

    /// Puts the run away; its file gets another name.
    fn end(&mut self) -> Result<String, AnyRefusal> {
        let taken = self.take_from_shelf()?;
        self.live = None;
        let Some(path) = self.run_path.as_deref().filter(|path| path.is_file()) else { return Ok(String::new()) };
        let kept = path.with_file_name(format!("run-{}.ron", now().strftime("%Y-%m-%d-%H%M%S")));
        std::fs::rename(path, &kept).map_err(FileFault::of(path, FileWork::PutAway))?;
        Ok(format!("The run is kept as {}{taken}", kept.display()))
    }

    /// Takes what the run's plan used from the shelf, where the maker agreed; one step, which the shelf takes back.
    fn take_from_shelf(&mut self) -> Result<String, AnyRefusal> {
        let (Some(live), Some(journal)) = (&self.live, self.shelf.journal()) else { return Ok(String::new()) };
        if !live.takes_from_shelf() || live.takes.is_empty() {
            return Ok(String::new());
        }
        let raw = live.run.raw();
        journal.change_shelf(|shelf| *shelf = shelf.after(&raw.used, &raw.layouts).0)?;
        self.shelf.read_again();
        Ok("; what it used is taken from the shelf".to_owned())
    }

    /// The order of one garment of a layout, by the recipe, the process and the workshop chosen here.
    pub(crate) fn order_of_one(&self, layout: &Layout) -> Result<Order, AnyRefusal> {
        self.wanted.order_of_one(layout)
    }

    /// Plans anew when the layout or what is wanted has changed.
    fn keep_up(&mut self, ctx: &Context<'_>, ui: &Ui) {
        let layout = ctx.layout;
        self.forget_other_scraps(layout);
        self.wanted.lengths = ctx.lengths;
        self.read_shelf(ui);
        self.take_deadline();
        self.wanted.doubtful = self.doubtful_deadline();
        self.wanted.order = self.desk.as_ref().map(|desk| Written(desk.now().clone()));
        self.planner.keep_up(layout, &self.wanted, ui.ctx());
    }

    /// A test holds for the cloth and the dyes that it was made with: another layout's has to be made.
    fn forget_other_scraps(&mut self, layout: &Layout) {
        let cloth = Tested::of(layout);
        if self.tested.as_ref() != Some(&cloth) {
            self.wanted.scrap_tested = false;
            if let Some(desk) = self.desk.as_mut().filter(|desk| desk.now().follows_open_layout()) {
                desk.change("whether a scrap was tested", |sheet| sheet.spec.scrap_tested = false);
            }
            self.tested = Some(cloth);
        }
    }

    /// Takes over the shelf, which every plan reads.
    fn read_shelf(&mut self, ui: &Ui) {
        self.shelf.keep_up(ui.ctx());
        if !Arc::ptr_eq(&self.wanted.shelf, self.shelf.shelf()) {
            self.wanted.shelf = self.shelf.shelf().clone();
        }
    }

    /// The plan as it belongs on a layout's job card, with the plan's line that the layout is; none while it is being made.
    pub(crate) fn for_card(&mut self, ctx: &Context<'_>, ui: &Ui) -> Option<(Arc<Plan>, usize)> {
        self.keep_up(ctx, ui);
        let plan = self.plan()?;
        let line = plan.lines.iter().position(|line| line.name == ctx.layout.name())?;
        Some((plan.clone(), line))
    }

    /// The run alone, when no layout is open.
    pub(crate) fn show_run(&mut self, settings: &Settings, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let now = self.at_hand(asks, ui);
        ScrollArea::vertical().id_salt("run").auto_shrink(false).show(ui, |ui| self.run_page(now, settings, voice, asks, ui));
    }

    /// What lies on the table; the choices too, where they are not `beside` it.
    pub(crate) fn show(&mut self, ctx: &Context<'_>, settings: &Settings, beside: bool, asks: &mut Vec<Ask>, ui: &mut Ui) {
        if beside && self.looking == Looking::Choices {
            self.looking = Looking::Amounts;
        }
        self.keep_up(ctx, ui);
        self.views(beside, ui);
        let now = if self.looking == Looking::Run { self.at_hand(asks, ui) } else { None };
        egui::Frame::NONE.inner_margin(egui::Margin::symmetric(14, 6)).show(ui, |ui| {
            ScrollArea::vertical().id_salt(self.looking).auto_shrink(false).show(ui, |ui| {
                let voice = ctx.voice();
                if matches!(self.looking, Looking::Amounts | Looking::Times | Looking::Cautions) {
                    self.planned_instead(ctx.layout, asks, ui);
                }
                match self.looking {
                    Looking::Choices => self.choices(ctx, asks, ui),
                    Looking::Run => self.run_page(now, settings, voice, asks, ui),
                    _ => self.page(voice, asks, ui),
                }
            });
        });
    }

    /// Says which order is planned where the open layout is none of it, and offers to plan that instead.
    fn planned_instead(&self, layout: &Layout, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let (Some(desk), Some(plan)) = (&self.desk, self.plan()) else { return };
        if desk.now().follows_open_layout() || plan.lines.iter().any(|line| line.name == layout.name()) {
            return;
        }
        ui.horizontal_wrapped(|ui| {
            ui.label(format!("This plan is of the order {}; the open layout is not in it.", desk.now().spec.name));
            if ui.button("Plan the open layout").clicked() {
                asks.push(Ask::Day(DayAsk::Close(DayFile::Order)));
            }
        });
    }

    /// The views' names, to be chosen: in lines, or in one that scrolls where there is little height.
    fn views(&mut self, beside: bool, ui: &mut Ui) {
        if is_low(ui.ctx()) {
            let area = ScrollArea::horizontal().id_salt("views");
            area.show(ui, |ui| ui.horizontal(|ui| self.views_in_line(beside, ui)));
        } else {
            ui.horizontal_wrapped(|ui| self.views_in_line(beside, ui));
        }
    }

    fn views_in_line(&mut self, beside: bool, ui: &mut Ui) {
        ui.add_space(10.0);
        let views = [
            (!beside, Looking::Choices, "Plan for"),
            (true, Looking::Amounts, "To weigh"),
            (true, Looking::Times, "Times"),
            (true, Looking::Cautions, "Cautions"),
            (true, Looking::Shelf, "Shelf"),
            (true, Looking::Run, "Run"),
            (self.recipe.is_some(), Looking::Recipe, "Recipe being edited"),
            (self.process.is_some(), Looking::Process, "Process being edited"),
        ];
        for (_, looking, words) in views.into_iter().filter(|(shows, ..)| *shows) {
            ui.selectable_value(&mut self.looking, looking, words);
        }
        if self.looking == Looking::Amounts {
            ui.checkbox(&mut self.formulas, "Formulas");
        }
        self.progress(ui);
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
        if self.looking == Looking::Shelf {
            let plan = self.made().map(|made| made.plan.clone());
            return self.shelf.show(plan.as_deref(), voice, ui);
        }
        match (self.looking, &mut self.recipe, &mut self.process) {
            (Looking::Recipe, Some(recipe), _) => return recipe.show(voice, asks, ui),
            (Looking::Process, _, Some(process)) => return process.show(voice, asks, ui),
            _ => {}
        }
        self.untimely(ui);
        match self.planner.plan() {
            None => drop(ui.label("Planning…")),
            Some(Err(refusal)) => drop(ui.label(RichText::new(refusal.say(voice)).size(17.0).color(palette.refused))),
            Some(Ok(Made { plan, .. })) => match self.looking {
                Looking::Times => chart::show(plan, ui),
                Looking::Cautions => amounts::cautions(plan, ui),
                _ => amounts::show(plan, self.formulas, voice, ui),
            },
        }
    }

    /// What the run asks for now, with the time and the step whose ticks are pinned below the page.
    fn at_hand(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) -> Option<AtHand> {
        let live = self.live.as_mut()?;
        live.presses.frame(ui);
        let at = live.now();
        let view = live.run.now(at);
        let mut ticked = Vec::new();
        let pinned = live.pinned(&view, &mut ticked, ui);
        asks.extend(ticked.into_iter().map(Ask::Run));
        Some(AtHand { view, at, pinned })
    }

    fn run_page(&mut self, now: Option<AtHand>, settings: &Settings, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        if let Some(refused) = &self.run_refused {
            let words = format!("Couldn't reopen the earlier run: {}", refused.say(voice));
            ui.label(RichText::new(words).color(palette.refused));
        }
        self.read_shelf(ui);
        match self.live.as_mut().zip(now) {
            Some((live, AtHand { view, at, pinned })) => {
                live.takes = self.shelf.shelf().after(&live.run.raw().used, &live.run.raw().layouts).1;
                banner(&live.standing_alarms(), true, asks, ui);
                let mut run_asks = Vec::new();
                live.show((&view, at), pinned, settings, &mut run_asks, ui);
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
