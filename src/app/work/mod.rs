//! The program at work: what is open, what shows, and doing what panels ask for.

mod bundle;
mod busy;
mod day;
mod doing;
mod drawing;
mod files;
mod following;
mod foot;
mod journal;
mod keep;
mod learn;
mod photo;
mod projection;
mod stepping;
mod table;
mod wish;

use self::busy::Busy;
use self::drawing::Reading;
use self::following::Following;
use self::foot::Message;
use self::keep::Keep;
use self::photo::SQUARES_AT;
use self::stepping::Stepping;
use super::action::{Action, Possible};
use super::alarm::{Alarms, Ring, banner};
use super::canvas::Canvas;
use super::context::{Ask, Context};
use super::day::DayView;
use super::dialog::Dialog;
use super::echo::Echo;
use super::field;
use super::finder::Finder;
use super::handbook::HandbookView;
use super::journal::JournalView;
use super::menu::{Bar, is_low};
use super::panel::{Presets, Swatches};
use super::photo::{OutlineView, PhotoView, SquaresView};
use super::projection::Projection;
use super::reveal::RevealView;
use super::rod::RodView;
use super::settings::Settings;
use super::sheets::{Sheets, Wanted};
use super::step::Step;
use super::theme;
use super::tour::{Tour, Turn};
use super::welcome::Welcome;
use crate::edit::Document;
use crate::learn::Learned;
use crate::measure::{LengthStyle, Region, RuleMarks};
use crate::telling::Voice;
use egui::{Event, Panel, ScrollArea, Ui, ViewportCommand};
use jiff::Timestamp;
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
    /// A photograph that is held against its plan.
    photo: Option<PhotoView>,
    /// A photograph that the garment's outline is taken from.
    outlining: Option<OutlineView>,
    /// A photograph that swatches are taken from.
    squares: Option<SquaresView>,
    settings: Settings,
    /// What the maker's own file of learned values says, read when the program starts and when it is written or another is chosen.
    taught: Option<Learned>,
    step: Step,
    /// Whether a step's options show in place of its table, where there is no room for both.
    at_options: bool,
    /// What is done when a field that was being written in has given up its value.
    later: Option<Ask>,
    handbook: HandbookView,
    projection: Projection,
    dialog: Option<Dialog>,
    echo: Echo,
    finder: Option<Finder>,
    tour: Option<Tour>,
    message: Option<Message>,
    /// What waits for the answer about unsaved changes.
    held: Option<Ask>,
    /// Whether every question before closing is answered.
    leaving: bool,
    keep: Keep,
    stepping: Stepping,
    following: Following,
    busy: Option<Busy>,
    reading: Option<Reading>,
    /// The window's name as it was set last.
    titled: String,
    alarms: Alarms,
}

impl App {
    /// Sets up the program. `home` is the folder for settings, presets and unsaved work; without one, nothing is remembered.
    #[must_use]
    pub fn new(ctx: &egui::Context, home: Option<PathBuf>, layout: Option<PathBuf>) -> Self {
        theme::install(ctx);
        let swatches = Swatches::new(home.as_ref().map(|home| home.join("swatches.ron")));
        let presets = Presets::new(home.as_ref().map(|home| home.join("presets")));
        let projection = Projection::new(home.as_deref());
        let keep = Keep::new(home.clone());
        let day = DayView::new(home.as_deref(), &keep.run);
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
            photo: None,
            outlining: None,
            squares: None,
            settings,
            taught: None,
            step: Step::default(),
            at_options: false,
            later: None,
            handbook: HandbookView::default(),
            projection,
            dialog: None,
            echo: Echo::default(),
            finder: None,
            tour: None,
            message: None,
            held: None,
            leaving: false,
            keep,
            stepping: Stepping::default(),
            following: Following::default(),
            busy: None,
            reading: None,
            titled: String::new(),
            alarms: Alarms::default(),
        };
        app.journal.learning().set_own(app.settings.learned.clone());
        app.look_at_learned();
        app.sheets.wanted.take_up(app.settings.printer.as_ref(), None);
        if let Some(path) = layout {
            app.open(&path);
        }
        if let Some(words) = app.day.taken_up() {
            app.tell(Ok(words));
        }
        if let Some(words) = app.journal.take_refused() {
            app.refuse(words);
        }
        app.tell_of_left();
        app
    }

    /// The program for someone who lives there, as far as the system tells: the first paper and the first unit are those of the region.
    #[must_use]
    pub fn in_region(mut self, region: Option<Region>) -> Self {
        self.settings.region = region;
        self.sheets.wanted.take_up(self.settings.printer.as_ref(), region);
        self
    }

    /// Takes the maker on the tour if this is the first start, which the settings remember; a layout asked for comes first.
    #[must_use]
    pub fn with_first_tour(mut self, ctx: &egui::Context) -> Self {
        if self.keep.remembers() && !self.settings.toured && self.document.is_none() {
            self.settings.toured = true;
            self.keep.write_settings(&self.settings);
            self.begin_tour(ctx);
        }
        self
    }

    /// Rings the run's alarms by this; without, only the window's banner calls.
    #[must_use]
    pub fn ringing(self, ring: impl Ring + 'static, ctx: &egui::Context) -> Self {
        Self { alarms: Alarms::rung_by(ring, ctx), ..self }
    }

    /// Works every change of a drag out within its frame, however long that takes: what is looked at after a frame is what the hand did by then.
    #[must_use]
    pub fn following_at_once(mut self) -> Self {
        self.following.is_at_once = true;
        self
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
        self.followed(ui.ctx());
        self.keys(ui, &mut asks);
        self.events(ui, &mut asks);
        Panel::top("bar").show(ui, |ui| self.bar(&mut asks, ui));
        self.alarm_banner(&mut asks, ui);
        if !is_low(ui.ctx()) || self.message.is_some() || self.busy.is_some() {
            Panel::bottom("foot").show(ui, |ui| self.foot(&mut asks, ui));
        }
        let layout = self.document.as_ref().map(|document| &**document.layout());
        if self.handbook.show(self.step, layout, ui) && self.projection_panel(ui) {
            match self.step {
                _ if self.document.is_some() => self.table(ui, &mut asks),
                step if self.outlining.is_some() && step != Step::Journal => self.outlining_alone(ui, &mut asks),
                Step::Journal => self.journal_alone(ui, &mut asks),
                step => self.beginning(step, ui, &mut asks),
            }
        }
        let about = self.about_print(ui);
        let voice = self.voice();
        if let Some(dialog) = &mut self.dialog {
            dialog.show(about.as_deref(), voice, &mut asks, ui);
        }
        let possible = self.possible();
        if let Some(finder) = &mut self.finder
            && !finder.show(possible, &mut asks, ui)
        {
            self.finder = None;
        }
        self.tour(&mut asks, ui);
        self.projected(ui);
        self.echo.take(ui);
        let was_asking = self.dialog.is_some();
        for ask in asks.into_iter().chain(later) {
            self.ask(ask, ui.ctx());
        }
        if was_asking && self.dialog.is_none() {
            self.echo.closed(ui);
        }
        self.after(ui);
    }

    /// The tour, while it goes on; keys are its own where nothing stands before the window.
    fn tour(&mut self, asks: &mut Vec<Ask>, ui: &Ui) {
        let has_layout = self.document.is_some();
        let takes_keys = self.dialog.is_none() && self.finder.is_none();
        if let Some(tour) = &mut self.tour
            && tour.show(has_layout, takes_keys, asks, ui) == Turn::Ends
        {
            self.tour = None;
        }
    }

    /// What a dialog that asks where to print is to tell of it.
    fn about_print(&mut self, ui: &Ui) -> Option<String> {
        let what = self.dialog.as_ref()?.printed()?;
        let lengths = self.lengths();
        let document = self.document.as_ref()?;
        let ctx = Context::of(document, lengths, &self.settings);
        Some(self.sheets.about_print(&ctx, what, ui))
    }

    /// What calls, above every view but the run's, which shows it itself.
    fn alarm_banner(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let standing = self.day.standing_alarms();
        let is_run_shown = self.step == Step::Day && (self.document.is_none() || self.day.shows_run());
        if standing.is_empty() || is_run_shown {
            return;
        }
        let most = ALARM_SHARE * ui.ctx().content_rect().height();
        Panel::top("alarm").show(ui, |ui| {
            ScrollArea::vertical()
                .id_salt("alarm")
                .max_height(most)
                .min_scrolled_height(most)
                .show(ui, |ui| banner(&standing, false, asks, ui));
        });
    }

    fn possible(&self) -> Possible {
        let [undo, redo] = self.steps();
        Possible {
            document: self.document.is_some(),
            journal: self.document.is_some() || self.step == Step::Journal,
            photograph: self.photo.is_some(),
            run: self.document.is_some() || self.day.is_running(),
            order: self.document.is_some() && self.day.has_order(),
            undo: undo.is_some(),
            redo: redo.is_some(),
        }
    }

    /// What undo and redo would do: with the marks on a photograph that shows; in the Day view with what is written there, where that has steps;
    /// else with the layout.
    fn steps(&self) -> [Option<&str>; 2] {
        if let Some(photo) = self.photo.as_ref().filter(|photo| photo.home() == self.step) {
            return photo.steps();
        }
        if let Some(squares) = self.squares.as_ref().filter(|_| self.step == SQUARES_AT) {
            return squares.steps();
        }
        if let Some(outlining) = self.outlining.as_ref().filter(|_| self.is_outlining()) {
            return outlining.steps();
        }
        let of_day = self.day.steps();
        if self.is_at_day() && of_day.iter().any(Option::is_some) {
            return of_day;
        }
        let history = self.document.as_ref().map(Document::history);
        [history.and_then(|history| history.undo_label()), history.and_then(|history| history.redo_label())]
    }

    /// Whether the Day view shows, with a layout open.
    fn is_at_day(&self) -> bool {
        self.step == Step::Day && self.document.is_some()
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
        for action in actions {
            // Letters are taken back by the field that they are written in.
            if written_in && matches!(action, Action::Undo | Action::Redo) {
                continue;
            }
            let is_pressed = |keys| ui.input_mut(|input| take_keys(input, &keys));
            // What is refused came last, and is no step yet.
            if action == Action::Undo && field::has_refused(ui.ctx()) && action.shortcut().is_some_and(is_pressed) {
                field::take_back_refused(ui.ctx());
            } else if action.is_enabled(possible) && action.shortcut().is_some_and(is_pressed) {
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
        let [undo, redo] = self.steps();
        Bar {
            possible: self.possible(),
            settings: &self.settings,
            undo,
            redo,
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
        self.photo_done(ui.ctx());
        self.reading_done(ui.ctx());
        if ui.input(|input| input.viewport().close_requested()) && !self.leaving {
            let quit = Ask::Act(Action::Quit);
            if self.question(&quit).is_some() || ui.ctx().text_edit_focused() {
                ui.ctx().send_viewport_cmd(ViewportCommand::CancelClose);
                self.held = None;
                self.ask(quit, ui.ctx());
            }
        }
        if let Some(document) = &mut self.document {
            self.stepping.after(document, ui.ctx());
            let told = self.keep.unsaved(document, ui);
            told.into_iter().for_each(|words| self.refuse(words));
        }
        let open = self.document.as_ref().map(Document::layout);
        self.day.keep_unsaved(open, ui).into_iter().for_each(|words| self.refuse(words));
        self.journal.keep_unsaved(self.document.as_ref().map(Document::layout), ui);
        self.remember_printer();
        let title = self.title();
        if self.titled != title {
            ui.ctx().send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.titled = title;
        }
    }

    /// Remembers paper and printer when something else was said of them.
    fn remember_printer(&mut self) {
        let now = self.sheets.wanted.printer();
        let usual = || {
            let mut usual = Wanted::default();
            usual.take_up(None, self.settings.region);
            usual.printer()
        };
        if self.settings.printer.clone().unwrap_or_else(usual) != now {
            self.settings.printer = Some(now);
            self.keep.write_settings(&self.settings);
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

/// Takes an action's keys, if they are pressed: the letter or digit that the system sends with them is no text for a field.
fn take_keys(input: &mut egui::InputState, keys: &egui::KeyboardShortcut) -> bool {
    let is_taken = input.consume_shortcut(keys);
    if is_taken {
        input.events.retain(|event| !matches!(event, Event::Text(_)));
    }
    is_taken
}

/// Share of the window's height that alarms take at most beside another view.
const ALARM_SHARE: f32 = 0.3;

impl eframe::App for App {
    /// Also while the window is hidden.
    fn logic(&mut self, ctx: &egui::Context, _frame: &mut eframe::Frame) {
        let (all, standing) = (self.day.alarms(), self.day.standing_alarms());
        let is_silent = self.settings.alarm_silent;
        let none = &[][..];
        self.alarms.keep_up(if is_silent { none } else { &all }, if is_silent { none } else { &standing }, ctx);
        // The banner comes in time, whatever shows.
        let now = Timestamp::now();
        let ahead = all.iter().map(|alarm| now.duration_until(alarm.instant)).filter(|ahead| ahead.is_positive()).min();
        ahead.into_iter().for_each(|ahead| ctx.request_repaint_after(ahead.unsigned_abs()));
    }

    fn ui(&mut self, ui: &mut Ui, frame: &mut eframe::Frame) {
        self.projection.look_at_screens(frame);
        self.show(ui);
    }
}
