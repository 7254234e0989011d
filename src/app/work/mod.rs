//! The program at work: what is open, what shows, and doing what panels ask for.

mod busy;
mod doing;
mod files;
mod foot;
mod journal;
mod keep;
mod table;

use self::busy::Busy;
use self::foot::Message;
use self::keep::Keep;
use super::action::{Action, Possible};
use super::canvas::Canvas;
use super::context::Ask;
use super::day::DayView;
use super::dialog::Dialog;
use super::field;
use super::finder::Finder;
use super::journal::JournalView;
use super::menu::Bar;
use super::panel::{Presets, Swatches};
use super::reveal::RevealView;
use super::rod::RodView;
use super::settings::Settings;
use super::sheets::Sheets;
use super::step::Step;
use super::theme;
use super::welcome::Welcome;
use crate::edit::Document;
use crate::measure::{LengthStyle, RuleMarks};
use crate::telling::Voice;
use egui::{Event, Panel, Ui, ViewportCommand};
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
    /// What is done when a field that was being written in has given up its value.
    later: Option<Ask>,
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
            later: None,
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

    /// How lengths are written: as asked, or as the layout's marks are.
    fn lengths(&self) -> LengthStyle {
        let marks = self.document.as_ref().map_or_else(RuleMarks::default, |document| document.layout().marks());
        self.settings.lengths(marks)
    }

    /// How refusals and warnings are said.
    fn voice(&self) -> Voice {
        Voice::window(self.lengths())
    }

    /// Draws everything and does what was asked for.
    pub fn show(&mut self, ui: &mut Ui) {
        let mut asks = Vec::new();
        let later = self.later.take();
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
        for ask in asks.into_iter().chain(later) {
            self.ask(ask, ui.ctx());
        }
        self.after(ui);
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
        let written_in = field::is_written_in(ui.ctx());
        // Those with Shift first: without it they would match the plain ones.
        let mut actions = Action::all();
        actions.sort_by_key(|action| action.shortcut().is_none_or(|keys| !keys.modifiers.shift));
        for action in actions.into_iter().filter(|action| action.is_enabled(possible)) {
            // Letters are taken back by the field that they are written in.
            if written_in && matches!(action, Action::Undo | Action::Redo) {
                continue;
            }
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

    /// What is done after a frame: keeping unsaved work, taking over what other threads have done, the window's name.
    fn after(&mut self, ui: &Ui) {
        self.busy_done(ui.ctx());
        self.journal_done(ui.ctx());
        if ui.input(|input| input.viewport().close_requested()) && !self.leaving {
            let quit = Ask::Act(Action::Quit);
            if self.question(&quit).is_some() || ui.ctx().text_edit_focused() {
                ui.ctx().send_viewport_cmd(ViewportCommand::CancelClose);
                self.held = None;
                self.ask(quit, ui.ctx());
            }
        }
        if let Some(document) = &self.document {
            let told = self.keep.unsaved(document, ui);
            told.into_iter().for_each(|words| self.refuse(words));
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

impl eframe::App for App {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
    }
}
