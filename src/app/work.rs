//! The program at work: what is open, what shows, and doing what panels ask for.

use super::action::{Action, Possible};
use super::canvas::{Canvas, Showing};
use super::context::{Ask, Context};
use super::dialog::{Dialog, FileDialog, Purpose};
use super::finder::Finder;
use super::menu::Bar;
use super::panel;
use super::rod;
use super::settings::{Look, Settings};
use super::sheets::Sheets;
use super::step::Step;
use super::theme::{self, Palette};
use super::welcome::Welcome;
use crate::edit::{Document, EditCommand, Recovered, RecoveryFolder};
use crate::geometry::SpacingPreset;
use crate::layout::{Layout, starter};
use crate::print::parts::{file_name, printed_files};
use crate::store::{EXAMPLE_LAYOUTS, parse_layout, preset_text, save, save_all};
use egui::{Panel, RichText, ScrollArea, Ui, ViewportCommand};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

/// The program in its window.
#[derive(Debug)]
pub struct App {
    document: Option<Document>,
    canvas: Canvas,
    sheets: Sheets,
    welcome: Welcome,
    settings: Settings,
    step: Step,
    dialog: Option<Dialog>,
    finder: Option<Finder>,
    message: Option<Message>,
    /// What waits for the answer about unsaved changes.
    held: Option<Ask>,
    keep: Keep,
    printing: Option<Receiver<Result<String, String>>>,
    /// The window's name as it was set last.
    titled: String,
}

/// What the bar at the foot says.
#[derive(Debug, Clone)]
struct Message {
    words: String,
    refused: bool,
}

/// Where settings and unsaved work are kept.
#[derive(Debug)]
struct Keep {
    settings: Option<PathBuf>,
    recovery: Option<RecoveryFolder>,
    run: String,
    recovered: Vec<Recovered>,
    /// The state that was kept last.
    kept: Option<String>,
    next: f64,
}

/// How often unsaved work is kept, seconds.
const KEEP_EVERY_S: f64 = 5.0;

impl App {
    /// Sets up the program. `home` is the folder for settings and unsaved work; without one, nothing is remembered.
    #[must_use]
    pub fn new(ctx: &egui::Context, home: Option<PathBuf>, layout: Option<PathBuf>) -> Self {
        theme::install(ctx);
        let settings_path = home.as_ref().map(|home| home.join("settings.ron"));
        let settings = settings_path.as_deref().map(Settings::read).unwrap_or_default();
        ctx.set_theme(settings.look.preference());
        let recovery = home.map(|home| RecoveryFolder::new(home.join("unsaved")));
        let recovered = recovery.as_ref().map(RecoveryFolder::kept).unwrap_or_default();
        let keep = Keep { settings: settings_path, recovery, run: run_name(), recovered, kept: None, next: 0.0 };
        let mut app = Self {
            document: None,
            canvas: Canvas::default(),
            sheets: Sheets::default(),
            welcome: Welcome::default(),
            settings,
            step: Step::default(),
            dialog: None,
            finder: None,
            message: None,
            held: None,
            keep,
            printing: None,
            titled: String::new(),
        };
        if let Some(path) = layout {
            app.open(&path);
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
        self.keys(ui, &mut asks);
        self.dropped(ui, &mut asks);
        Panel::top("bar").show(ui, |ui| self.bar(&mut asks, ui));
        Panel::bottom("foot").show(ui, |ui| self.foot(ui));
        if self.document.is_some() {
            self.table(ui, &mut asks);
        } else {
            egui::CentralPanel::default().show(ui, |ui| self.welcome.show(&self.settings, &self.keep.recovered, &mut asks, ui));
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
        self.after(ui);
    }

    fn possible(&self) -> Possible {
        let history = self.document.as_ref().map(Document::history);
        Possible {
            document: self.document.is_some(),
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
        let mut actions = Action::ALL;
        actions.sort_by_key(|action| action.shortcut().is_none_or(|keys| !keys.modifiers.shift));
        for action in actions.into_iter().filter(|action| action.is_enabled(possible)) {
            if action.shortcut().is_some_and(|keys| ui.input_mut(|input| input.consume_shortcut(&keys))) {
                asks.push(Ask::Act(action));
            }
        }
    }

    fn dropped(&self, ui: &Ui, asks: &mut Vec<Ask>) {
        let dropped = ui.input(|input| input.raw.dropped_files.first().map(|file| file.path().to_owned()));
        asks.extend(dropped.map(Ask::Open));
    }

    fn bar(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let history = self.document.as_ref().map(Document::history);
        Bar {
            possible: self.possible(),
            undo: history.and_then(|history| history.undo_label()),
            redo: history.and_then(|history| history.redo_label()),
            figures: self.document.as_ref().map(|document| &**document.figures()),
            step: self.step,
        }
        .show(asks, ui);
    }

    fn foot(&mut self, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let mut dismissed = false;
        match &self.message {
            Some(message) => {
                let tone = if message.refused { palette.refused } else { palette.ink };
                // The button first, from the right: a long message must not push it out of the window.
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    dismissed = message.refused && ui.button("Understood").clicked();
                    ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                        ui.add(egui::Label::new(RichText::new(&message.words).color(tone)).wrap());
                    });
                });
            }
            None => {
                let words = self.document.as_ref().map_or_else(String::new, |document| self.whereabouts(document));
                ui.label(RichText::new(words).weak());
            }
        }
        if dismissed {
            self.message = None;
        }
    }

    /// What is under the pointer, or the file's name.
    fn whereabouts(&self, document: &Document) -> String {
        let lengths = self.settings.lengths();
        let section = self.canvas.pointed.and_then(|point| {
            let number = crate::edit::section_at(document.layout(), document.figures(), point)?;
            let radius_mm = point.distance(document.layout().burst().centre_as_laid());
            let section = document.figures().sections.get(number as usize - 1)?;
            let colour = section.colour.as_deref().unwrap_or("no colour");
            Some(format!("{} from the centre: section {number}, {colour}, {:.1} g", lengths.format(radius_mm), section.mass_g))
        });
        section.unwrap_or_else(|| {
            let file = document.path().map_or_else(|| "not saved yet".to_owned(), |path| path.display().to_string());
            let unsaved = if document.is_unsaved() { " (changed)" } else { "" };
            format!("{}: {file}{unsaved}", document.layout().name())
        })
    }

    fn table(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let Some(document) = &self.document else { return };
        let ctx = Context { layout: document.layout(), figures: document.figures(), lengths: self.settings.lengths() };
        let (canvas, sheets, step) = (&mut self.canvas, &mut self.sheets, self.step);
        Panel::left("step").default_size(350.0).min_size(280.0).show(ui, |ui| {
            ScrollArea::vertical().auto_shrink(false).show(ui, |ui| match step {
                Step::Garment => panel::garment(&ctx, asks, ui),
                Step::Burst => panel::burst(&ctx, asks, ui),
                Step::Binds => panel::binds(&ctx, canvas, asks, ui),
                Step::Colours => panel::colours(&ctx, asks, ui),
                Step::Rod => panel::thread(&ctx, asks, ui),
                Step::Sheets => sheets.choices(&ctx, asks, ui),
            });
        });
        if step != Step::Sheets && ui.available_width() > 620.0 {
            Panel::right("numbers").default_size(330.0).min_size(220.0).show(ui, |ui| {
                ScrollArea::vertical().auto_shrink(false).show(ui, |ui| panel::numbers(&ctx, canvas, asks, ui));
            });
        }
        let palette = Palette::of(ui.ctx());
        egui::CentralPanel::no_frame().frame(egui::Frame::NONE.fill(palette.panel)).show(ui, |ui| match step {
            Step::Rod => rod::show(&ctx, ui),
            Step::Sheets => sheets.show(&ctx, ui),
            _ => {
                ui.horizontal(|ui| {
                    ui.add_space(10.0);
                    for showing in Showing::ALL {
                        ui.selectable_value(&mut canvas.showing, showing, showing.name());
                    }
                });
                canvas.show(&ctx, asks, ui);
            }
        });
    }

    /// What is done after a frame: keeping unsaved work, taking over what other threads have done, the window's name.
    fn after(&mut self, ui: &Ui) {
        if let Some(result) = self.printing.as_ref().and_then(|printing| printing.try_recv().ok()) {
            self.printing = None;
            self.tell(result);
        }
        if ui.input(|input| input.viewport().close_requested())
            && self.document.as_ref().is_some_and(Document::is_unsaved)
            && self.held.is_none()
        {
            ui.ctx().send_viewport_cmd(ViewportCommand::CancelClose);
            self.question(Ask::Act(Action::Quit));
        }
        self.keep_unsaved(ui);
        let title = self.title();
        if self.titled != title {
            ui.ctx().send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.titled = title;
        }
    }

    fn title(&self) -> String {
        match &self.document {
            Some(document) => {
                format!("{}{} – {}", document.layout().name(), if document.is_unsaved() { " *" } else { "" }, super::NAME)
            }
            None => super::NAME.to_owned(),
        }
    }

    fn keep_unsaved(&mut self, ui: &Ui) {
        let (Some(document), Some(recovery)) = (&self.document, &self.keep.recovery) else { return };
        let now = ui.input(|input| input.time);
        if !document.is_unsaved() || now < self.keep.next {
            return;
        }
        let text = document.text();
        if self.keep.kept.as_ref() != Some(&text) {
            self.keep.next = now + KEEP_EVERY_S;
            // A full disk is told about when the maker saves; until then there is nothing to be done about it.
            let _kept = recovery.keep(&self.keep.run, document);
            self.keep.kept = Some(text);
        }
        ui.ctx().request_repaint_after(Duration::from_secs_f64(KEEP_EVERY_S));
    }

    fn forget_unsaved(&mut self) {
        self.keep.kept = None;
        if let Some(recovery) = &self.keep.recovery {
            let _forgotten = recovery.forget(&self.keep.run);
        }
    }

    fn ask(&mut self, ask: Ask, ctx: &egui::Context) {
        let leaves = matches!(ask, Ask::Open(_) | Ask::OpenExample(_) | Ask::Begin(..) | Ask::Act(Action::New | Action::Quit));
        if leaves && self.held.is_none() && self.document.as_ref().is_some_and(Document::is_unsaved) {
            self.question(ask);
            return;
        }
        match ask {
            Ask::Edit(command) => self.edit(&command),
            Ask::BeginGesture(label) => self.document.iter_mut().for_each(|document| document.begin_gesture(&label)),
            Ask::EndGesture => self.document.iter_mut().for_each(Document::end_gesture),
            Ask::Act(action) => self.act(action, ctx),
            Ask::Go(step) => self.step = step,
            Ask::Open(path) => self.open(&path),
            Ask::OpenExample(index) => self.open_example(index),
            Ask::Begin(kind, size) => {
                match starter(kind, Some(&size), &crate::geometry::RawMeasures::default()).and_then(Layout::try_from) {
                    Ok(layout) => self.take(Document::new(layout), Step::Garment),
                    Err(error) => self.refuse(error.to_string()),
                }
            }
            Ask::Recover(path, take) => self.recover(&path, take),
            Ask::SaveTo(path) => self.save_to(&path),
            Ask::PrintTo(path) => self.print_to(path, ctx),
            Ask::SavePreset { name, path } => self.save_preset(&name, &path),
            Ask::CloseDialog => {
                self.dialog = None;
                self.held = None;
            }
            Ask::GoOn => self.go_on(ctx),
        }
    }

    fn edit(&mut self, command: &EditCommand) {
        let Some(document) = &mut self.document else { return };
        match document.perform(command) {
            Ok(()) => {
                if self.message.as_ref().is_some_and(|message| message.refused) {
                    self.message = None;
                }
            }
            // A drag that goes too far simply stops; a typed value is told about.
            Err(_) if document.history().is_in_gesture() => {}
            Err(error) => self.refuse(error.to_string()),
        }
    }

    fn act(&mut self, action: Action, ctx: &egui::Context) {
        match action {
            Action::New => {
                self.document = None;
                self.forget_unsaved();
                self.refresh_recovered();
            }
            Action::Open => self.name_file(Purpose::Open),
            Action::Save => match self.document.as_ref().and_then(Document::path).map(Path::to_owned) {
                Some(path) => self.save_to(&path),
                None => self.name_file(Purpose::Save),
            },
            Action::SaveAs => self.name_file(Purpose::Save),
            Action::SavePreset => self.name_file(Purpose::Preset),
            Action::Print => self.name_file(Purpose::Print),
            Action::Quit => {
                self.forget_unsaved();
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            Action::Undo => self.document.iter_mut().for_each(Document::undo),
            Action::Redo => self.document.iter_mut().for_each(Document::redo),
            Action::ReleaseBinds => self.edit(&EditCommand::ReleaseAllBinds),
            Action::Fit => self.canvas.fit(),
            Action::Closer => self.canvas.zoom(1.25),
            Action::Farther => self.canvas.zoom(0.8),
            Action::Show(showing) => self.canvas.showing = showing,
            Action::Metric => self.set(ctx, |settings| settings.inches = false),
            Action::Inches => self.set(ctx, |settings| settings.inches = true),
            Action::Dark => self.set(ctx, |settings| settings.look = Look::Dark),
            Action::Light => self.set(ctx, |settings| settings.look = Look::Light),
            Action::AsSystem => self.set(ctx, |settings| settings.look = Look::AsSystem),
            Action::Find => self.finder = Some(Finder::default()),
        }
    }

    fn set(&mut self, ctx: &egui::Context, change: impl FnOnce(&mut Settings)) {
        change(&mut self.settings);
        ctx.set_theme(self.settings.look.preference());
        self.write_settings();
    }

    fn write_settings(&self) {
        if let Some(path) = &self.keep.settings {
            self.settings.write(path);
        }
    }

    fn question(&mut self, held: Ask) {
        let name = self.document.as_ref().map(|document| document.layout().name().to_owned()).unwrap_or_default();
        self.dialog = Some(Dialog::Unsaved { name });
        self.held = Some(held);
    }

    fn go_on(&mut self, ctx: &egui::Context) {
        self.dialog = None;
        if let Some(held) = self.held.take() {
            self.document = None;
            self.forget_unsaved();
            self.ask(held, ctx);
        }
    }

    fn name_file(&mut self, purpose: Purpose) {
        let layout = self.document.as_ref().map(|document| document.layout().name().to_owned()).unwrap_or_default();
        let own = self
            .document
            .as_ref()
            .and_then(Document::path)
            .and_then(Path::file_stem)
            .map(|stem| stem.to_string_lossy().into_owned());
        let stem = own.unwrap_or_else(|| file_name(&layout));
        let name = match purpose {
            Purpose::Open => String::new(),
            Purpose::Save => format!("{stem}.ron"),
            Purpose::Print => format!("{stem}.pdf"),
            Purpose::Preset => format!("{stem}-spacing.ron"),
        };
        self.dialog = Some(Dialog::File(FileDialog::new(purpose, self.settings.folder.as_deref(), &name)));
    }

    fn open(&mut self, path: &Path) {
        match Document::open(path) {
            Ok(document) => {
                self.settings.remember(path);
                self.write_settings();
                self.take(document, Step::Burst);
            }
            Err(error) => self.refuse(error.to_string()),
        }
    }

    fn open_example(&mut self, index: usize) {
        let example = EXAMPLE_LAYOUTS.get(index).and_then(|example| parse_layout(example.text).ok());
        if let Some(layout) = example {
            self.take(Document::new(layout), Step::Burst);
        }
    }

    fn take(&mut self, document: Document, step: Step) {
        self.forget_unsaved();
        self.document = Some(document);
        self.canvas = Canvas::default();
        self.step = step;
        self.message = None;
    }

    fn recover(&mut self, path: &Path, take: bool) {
        let Some(work) = self.keep.recovered.iter().find(|work| work.path == path).cloned() else { return };
        if take {
            self.take(Document::new(work.layout.clone()), Step::Burst);
        }
        match work.forget() {
            Ok(()) => self.refresh_recovered(),
            Err(error) => self.refuse(format!("{} could not be removed: {error}", path.display())),
        }
    }

    fn refresh_recovered(&mut self) {
        self.keep.recovered = self.keep.recovery.as_ref().map(RecoveryFolder::kept).unwrap_or_default();
    }

    fn save_to(&mut self, path: &Path) {
        let Some(document) = &mut self.document else { return };
        match document.save(path) {
            Ok(()) => {
                self.settings.remember(path);
                self.write_settings();
                self.forget_unsaved();
                self.tell(Ok(format!("Saved {}", path.display())));
            }
            Err(error) => self.refuse(error.to_string()),
        }
    }

    fn save_preset(&mut self, name: &str, path: &Path) {
        let Some(document) = &self.document else { return };
        let layout = document.layout();
        let preset = SpacingPreset::of(name.to_owned(), String::new(), layout.burst().guide_radius_mm(), &layout.raw().binds);
        let saved = save(path, preset_text(&preset).as_bytes());
        self.tell(
            saved.map(|()| format!("Saved the spacing \"{name}\" in {}", path.display())).map_err(|error| error.to_string()),
        );
    }

    /// Makes and writes the sheets on another thread.
    fn print_to(&mut self, path: PathBuf, ctx: &egui::Context) {
        let Some(document) = &self.document else { return };
        let options = match self.sheets.wanted.options(self.settings.lengths()) {
            Ok(options) => options,
            Err(error) => return self.refuse(error.to_string()),
        };
        let (layout, figures, parts) = (document.layout().clone(), document.figures().clone(), self.sheets.wanted.parts.clone());
        let (sender, receiver) = channel();
        let egui = ctx.clone();
        let spawned = std::thread::Builder::new().name("printing".to_owned()).spawn(move || {
            let made = printed_files(&layout, &figures, &parts, &options, &path).map_err(|error| error.to_string());
            let written = made.and_then(|files| {
                let contents: Vec<(&Path, &[u8])> =
                    files.iter().map(|file| (file.path.as_path(), file.bytes.as_slice())).collect();
                save_all(&contents).map_err(|error| error.to_string())?;
                let words: Vec<_> = files.iter().map(|file| format!("{}: {}", file.path.display(), file.words)).collect();
                Ok(format!("Printed {}", words.join("; ")))
            });
            let _gone = sender.send(written);
            egui.request_repaint();
        });
        match spawned {
            Ok(_) => self.printing = Some(receiver),
            Err(error) => self.refuse(format!("the sheets could not be made: {error}")),
        }
    }

    fn tell(&mut self, result: Result<String, String>) {
        let refused = result.is_err();
        let words = result.unwrap_or_else(|words| words);
        self.message = Some(Message { words, refused });
    }

    fn refuse(&mut self, words: String) {
        self.tell(Err(words));
    }
}

/// A name for this run's unsaved work that no other run has at the same time.
fn run_name() -> String {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).map_or(0, |since| since.as_secs());
    format!("{since}-{}", std::process::id())
}

impl eframe::App for App {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
    }
}
