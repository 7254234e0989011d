//! The program at work: what is open, what shows, and doing what panels ask for.

mod busy;
mod doing;
mod files;
mod foot;
mod journal;
mod keep;

use self::busy::Busy;
use self::foot::Message;
use self::keep::Keep;
use super::action::{Action, Possible};
use super::canvas::{Canvas, Showing};
use super::context::{Ask, Context};
use super::day::DayView;
use super::dialog::Dialog;
use super::finder::Finder;
use super::journal::JournalView;
use super::menu::Bar;
use super::panel::{self, Presets, Swatches};
use super::reveal::RevealView;
use super::rod::RodView;
use super::settings::Settings;
use super::sheets::Sheets;
use super::step::Step;
use super::theme::{self, Palette};
use super::welcome::{Left, Welcome};
use crate::edit::Document;
use egui::{Event, Panel, ScrollArea, Ui, ViewportCommand};
use std::path::PathBuf;

/// The program in its window.
#[derive(Debug)]
pub struct App {
    document: Option<Document>,
    canvas: Canvas,
    sheets: Sheets,
    /// Made when it first shows: its pictures are no work for a start with a layout.
    welcome: Option<Welcome>,
    presets: Presets,
    swatches: Swatches,
    rod: RodView,
    reveal: RevealView,
    day: DayView,
    journal: JournalView,
    settings: Settings,
    step: Step,
    /// The step that is gone to when a field that was being written in has given up its value.
    going: Option<Step>,
    dialog: Option<Dialog>,
    finder: Option<Finder>,
    message: Option<Message>,
    /// What waits for the answer about unsaved changes.
    held: Option<Ask>,
    /// Whether every question before closing is answered.
    leaving: bool,
    keep: Keep,
    busy: Option<Busy>,
    /// The window's name as it was set last.
    titled: String,
}

impl App {
    /// Sets up the program. `home` is the folder for settings, presets and unsaved work; without one, nothing is remembered.
    #[must_use]
    pub fn new(ctx: &egui::Context, home: Option<PathBuf>, layout: Option<PathBuf>) -> Self {
        theme::install(ctx);
        let swatches = Swatches::new(home.as_ref().map(|home| home.join("swatches.ron")));
        let presets = Presets::new(home.as_ref().map(|home| home.join("presets")));
        let day = DayView::new(home.as_deref());
        let keep = Keep::new(home.clone());
        let journal = JournalView::new(home.as_deref(), &keep.run);
        let settings = keep.read_settings();
        settings.apply(ctx);
        let mut app = Self {
            document: None,
            canvas: Canvas::new(settings.showing),
            sheets: Sheets::default(),
            welcome: None,
            presets,
            swatches,
            rod: RodView::default(),
            reveal: RevealView::default(),
            day,
            journal,
            settings,
            step: Step::default(),
            going: None,
            dialog: None,
            finder: None,
            message: None,
            held: None,
            leaving: false,
            keep,
            busy: None,
            titled: String::new(),
        };
        if let Some(path) = layout {
            app.open(&path);
        }
        if let Some(words) = app.journal.take_refused() {
            app.refuse(words);
        }
        app
    }

    /// The layout's text as its file would hold it; none when nothing is open.
    #[must_use]
    pub fn layout_text(&self) -> Option<String> {
        self.document.as_ref().map(Document::text)
    }

    /// Draws everything and does what was asked for.
    pub fn show(&mut self, ui: &mut Ui) {
        let mut asks = Vec::new();
        let going = self.going.take();
        self.keys(ui, &mut asks);
        self.events(ui, &mut asks);
        Panel::top("bar").show(ui, |ui| self.bar(&mut asks, ui));
        Panel::bottom("foot").show(ui, |ui| self.foot(&mut asks, ui));
        match self.step {
            _ if self.document.is_some() => self.table(ui, &mut asks),
            Step::Journal => self.journal_alone(ui, &mut asks),
            step => self.beginning(step, ui, &mut asks),
        }
        if let Some(dialog) = &mut self.dialog {
            dialog.show(&mut asks, ui);
        }
        let possible = self.possible();
        if let Some(finder) = &mut self.finder
            && !finder.show(possible, &mut asks, ui)
        {
            self.finder = None;
        }
        for ask in asks {
            self.ask(ask, ui.ctx());
        }
        self.step = going.unwrap_or(self.step);
        self.after(ui);
    }

    /// What shows when nothing is open: a run that is under way, or the welcome.
    fn beginning(&mut self, step: Step, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let (running, texts) = (self.day.is_running(), self.unfinished_texts());
        egui::CentralPanel::default().show(ui, |ui| {
            if running && step == Step::Day {
                self.day.show_run(asks, ui);
            } else {
                let left = Left { recovered: &self.keep.recovered, texts: &texts, running };
                let welcome = self.welcome.get_or_insert_with(Welcome::default);
                welcome.show(&self.settings, &left, asks, ui);
            }
        });
    }

    /// The journal when no layout is open.
    fn journal_alone(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let lengths = self.settings.lengths();
        side_panel(Step::Journal, ui, |ui| self.journal.choices(None, lengths, asks, ui));
        egui::CentralPanel::no_frame().show(ui, |ui| self.journal.show(lengths, asks, ui));
    }

    fn possible(&self) -> Possible {
        let history = self.document.as_ref().map(Document::history);
        Possible {
            document: self.document.is_some(),
            journal: self.document.is_some() || self.step == Step::Journal,
            run: self.document.is_some() || self.day.is_running(),
            undo: history.is_some_and(|history| history.undo_label().is_some()),
            redo: history.is_some_and(|history| history.redo_label().is_some()),
        }
    }

    fn keys(&self, ui: &Ui, asks: &mut Vec<Ask>) {
        if self.dialog.is_some() || self.finder.is_some() {
            return;
        }
        let possible = self.possible();
        // Those with Shift first: without it they would match the plain ones.
        let mut actions = Action::all();
        actions.sort_by_key(|action| action.shortcut().is_none_or(|keys| !keys.modifiers.shift));
        for action in actions.into_iter().filter(|action| action.is_enabled(possible)) {
            if action.shortcut().is_some_and(|keys| ui.input_mut(|input| input.consume_shortcut(&keys))) {
                asks.push(Ask::Act(action));
            }
        }
    }

    /// Files dropped on the window; coming back to it.
    fn events(&mut self, ui: &Ui, asks: &mut Vec<Ask>) {
        asks.extend(self.dropped(ui));
        if ui.input(|input| input.events.iter().any(|event| matches!(event, Event::WindowFocused(true)))) {
            self.look_at_disk();
        }
    }

    fn bar(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let history = self.document.as_ref().map(Document::history);
        Bar {
            possible: self.possible(),
            undo: history.and_then(|history| history.undo_label()),
            redo: history.and_then(|history| history.redo_label()),
            layout: self.document.as_ref().map(|document| (&**document.layout(), &**document.figures())),
            step: self.step,
            running: self.day.is_running(),
        }
        .show(asks, ui);
    }

    fn table(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let Some(document) = &self.document else { return };
        let ctx = Context { layout: document.layout(), figures: document.figures(), lengths: self.settings.lengths() };
        let (canvas, sheets, presets, reveal) = (&mut self.canvas, &mut self.sheets, &mut self.presets, &mut self.reveal);
        let (rod, day, journal, swatches, step) = (&mut self.rod, &mut self.day, &mut self.journal, &self.swatches, self.step);
        canvas.tinted = step == Step::Colours;
        sheets.plan = if sheets.wanted.day { day.for_card(&ctx, ui) } else { None };
        let narrow = ui.available_width() < NARROW;
        side_panel(step, ui, |ui| match step {
            Step::Garment => panel::garment(&ctx, asks, ui),
            Step::Burst => panel::burst(&ctx, asks, ui),
            Step::Binds => panel::binds(&ctx, canvas, presets, asks, ui),
            Step::Colours => panel::colours(&ctx, swatches, asks, ui),
            Step::Rod => panel::thread(&ctx, asks, ui),
            Step::Reveal => {
                reveal.choices(&ctx, asks, ui);
                reveal.telling(&ctx, ui);
                panel::process(&ctx, asks, ui);
            }
            Step::Sheets => sheets.choices(&ctx, asks, ui),
            Step::Day => day.choices(asks, ui),
            Step::Journal => journal.choices(Some(ctx.layout), ctx.lengths, asks, ui),
        });
        if step.is_about_cloth() && !self.settings.numbers_hidden {
            Panel::right("numbers").default_size(if narrow { 290.0 } else { 330.0 }).min_size(220.0).show(ui, |ui| {
                ScrollArea::vertical()
                    .id_salt("numbers")
                    .auto_shrink(false)
                    .show(ui, |ui| panel::numbers(&ctx, canvas, asks, ui));
            });
        }
        if step == Step::Reveal && ui.available_width() > ROOM_FOR_BOTH {
            let width = LAYOUT_SHARE * ui.available_width();
            let frame = egui::Frame::NONE.fill(Palette::of(ui.ctx()).panel);
            Panel::left("layout").frame(frame).default_size(width).min_size(240.0).show(ui, |ui| cloth(&ctx, canvas, asks, ui));
        }
        let frame = egui::Frame::NONE.fill(Palette::of(ui.ctx()).panel);
        egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| match step {
            Step::Rod => rod.show(&ctx, ui),
            Step::Sheets => sheets.show(&ctx, ui),
            Step::Reveal => reveal.show(&ctx, canvas, ui),
            Step::Day => day.show(&ctx, asks, ui),
            Step::Journal => journal.show(ctx.lengths, asks, ui),
            _ => cloth(&ctx, canvas, asks, ui),
        });
    }

    /// What is done after a frame: keeping unsaved work, taking over what other threads have done, the window's name.
    fn after(&mut self, ui: &Ui) {
        self.busy_done(ui.ctx());
        self.journal_done(ui.ctx());
        if ui.input(|input| input.viewport().close_requested())
            && !self.leaving
            && let Some(question) = self.question(&Ask::Act(Action::Quit))
        {
            ui.ctx().send_viewport_cmd(ViewportCommand::CancelClose);
            self.dialog = Some(question);
            self.held = Some(Ask::Act(Action::Quit));
        }
        if let Some(document) = &self.document {
            self.keep.unsaved(document, ui);
        }
        self.journal.keep_unsaved(self.document.as_ref().map(Document::layout), ui);
        let title = self.title();
        if self.titled != title {
            ui.ctx().send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.titled = title;
        }
    }

    fn title(&self) -> String {
        match &self.document {
            Some(document) => {
                let mark = if document.is_unsaved() { " *" } else { "" };
                format!("{}{mark} – {}", document.layout().name(), super::NAME)
            }
            None => super::NAME.to_owned(),
        }
    }
}

/// The panel beside the table.
fn side_panel(step: Step, ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let narrow = ui.available_width() < NARROW;
    let side = if narrow { 322.0 } else { 350.0 };
    let most = if narrow { side } else { 560.0 };
    Panel::left("step").default_size(side).min_size(280.0).max_size(most).show(ui, |ui| {
        ScrollArea::vertical().id_salt(step).auto_shrink(false).show(ui, |ui| {
            ui.add_space(4.0);
            add(ui);
        });
    });
}

/// The cloth on the table, with the ways to show it.
fn cloth(ctx: &Context<'_>, canvas: &mut Canvas, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.horizontal(|ui| {
        ui.add_space(10.0);
        for showing in Showing::ALL {
            if ui.selectable_label(canvas.showing == showing, showing.name()).clicked() {
                asks.push(Ask::Act(Action::Show(showing)));
            }
        }
    });
    canvas.show(ctx, asks, ui);
}

/// Share of the table that the layout takes beside its reveal.
const LAYOUT_SHARE: f32 = 0.4;
/// Windows narrower than this get narrower panels, points.
const NARROW: f32 = 1200.0;
/// Room in which layout and reveal stand beside each other, points.
const ROOM_FOR_BOTH: f32 = 760.0;

impl eframe::App for App {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
    }
}
