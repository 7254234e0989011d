//! Doing what panels, menus and keys ask for.

use super::App;
use super::foot::Message;
use super::table::has_room_for_numbers;
use crate::app::action::{Action, Deed};
use crate::app::context::Ask;
use crate::app::day::{DayAsk, OpenLayout, RunAsk};
use crate::app::dialog::Dialog;
use crate::app::field;
use crate::app::finder::Finder;
use crate::app::journal::JournalAsk;
use crate::app::purpose::{DayFile, Purpose};
use crate::app::settings::Settings;
use crate::app::step::Step;
use crate::app::today::today;
use crate::app::tour::Tour;
use crate::edit::{Document, EditCommand};
use crate::geometry::GarmentKind;
use crate::layout::{FoldStart, GarmentSpec, Layout, LayoutError, Swatch, starter_on};
use crate::store::{allow_writing, is_write_protected};
use crate::telling::{Field, Refused as _, Voice, capitalised};
use egui::{Context, ViewportCommand};
use std::path::{Path, PathBuf};

impl App {
    pub(super) fn ask(&mut self, ask: Ask, ctx: &Context) {
        if waits(&ask) && ctx.text_edit_focused() {
            return self.put_off(ask, ctx);
        }
        if self.is_asked_first(&ask) {
            return;
        }
        if !matches!(ask, Ask::Drag(_)) {
            self.catch_up();
        }
        if ends_a_drag(&ask) {
            self.let_go();
        }
        self.fulfil(ask, ctx);
    }

    fn fulfil(&mut self, ask: Ask, ctx: &Context) {
        match ask {
            Ask::Edit(command) => self.edit(&command, ctx),
            Ask::Drag(command) => self.drag(&command, ctx),
            Ask::WorkOnTie(number) => self.work_on_tie(number),
            Ask::BeginGesture(label) => self.begin_gesture(&label),
            Ask::EndGesture => self.document.iter_mut().for_each(Document::end_gesture),
            Ask::DropGesture => self.document.iter_mut().for_each(Document::drop_gesture),
            Ask::Act(action) => self.act(action, ctx),
            Ask::Go(step) => self.step = step,
            Ask::Open(path) => self.open(&path),
            Ask::OpenExample(index) => self.open_example(index),
            Ask::Begin(kind, size, start) => self.begin(kind, size, start),
            Ask::Recover(path, take) => self.recover(&path, take),
            Ask::SaveTo(path) => self.save_to(&path, false, ctx),
            Ask::SaveOver(path) => self.save_to(&path, true, ctx),
            Ask::AllowWriting(path, ask) => self.allow_writing(&path, *ask, ctx),
            Ask::PrintTo(sheet, path) => self.print_to(sheet, path, ctx),
            Ask::SavePictureTo(path) => self.save_picture(path, ctx),
            Ask::SaveBundleTo(path) => self.save_bundle(path, ctx),
            Ask::KeepBrought(brought) => self.keep_brought(&brought),
            Ask::SaveHandoutTo(path) => self.save_handout(path, ctx),
            Ask::CompareWith(path) => self.compare_with(&path),
            Ask::ReadDrawing(drawn, path, unit) => self.read_drawing(drawn, path, unit, ctx),
            Ask::TakeDrawn(drawn, path, line) => self.take_drawn(drawn, &path, &line, ctx),
            Ask::UseForDay(file, path) => self.use_for_day(file, path),
            Ask::NameFile(purpose) => self.name_file(purpose),
            Ask::Day(ask) => self.do_day(ask, ctx),
            Ask::SavePlanTo(path) => self.save_plan(&path),
            Ask::KeepSwatch(swatch) => self.keep_swatch(&swatch),
            Ask::ImportSwatches(path) => self.import_swatches(&path),
            Ask::ExportSwatches(path) => self.tell(self.swatches.export(&path)),
            Ask::PrintOrderTo(folder) => self.print_order(folder, ctx),
            Ask::Run(ask) => self.run(&ask, ctx),
            Ask::Journal(ask) => self.journal(ask, ctx),
            Ask::Learn(ask) => self.learn(ask, ctx),
            Ask::Photo(ask) => self.do_photo(ask, ctx),
            Ask::Wish(ask) => self.do_wish(ask, ctx),
            Ask::StopBusy => self.stop_busy(),
            Ask::OpenOutside(path) => self.open_outside(&path),
            Ask::SavePreset { name, path } => self.save_preset(&name, &path),
            Ask::NamePreset { path, name } => self.dialog = Some(Dialog::Rename { path, name }),
            Ask::RenamePreset { path, name } => self.rename_preset(&path, &name),
            Ask::RemovePreset(path) => self.remove_preset(&path),
            Ask::ReadAbout(warning) => self.handbook.read_about(warning),
            Ask::CloseDialog => {
                self.dialog = None;
                self.held = None;
            }
            Ask::PutDialogAway => self.dialog = None,
            Ask::GoOn => self.leave_unsaved(ctx),
            Ask::LeaveTexts { kept } => self.leave_texts(kept, ctx),
        }
    }

    /// Leaves the layout as it is, and goes on with what the question about it held up.
    fn leave_unsaved(&mut self, ctx: &Context) {
        self.dialog = None;
        self.put_away();
        self.go_on(ctx);
    }

    /// Whether something waits for the answer to a question, which is put before the window.
    fn is_asked_first(&mut self, ask: &Ask) -> bool {
        if self.held.is_none()
            && let Some(question) = self.question(ask)
        {
            self.dialog = Some(question);
            self.held = Some(ask.clone());
            return true;
        }
        let protected = ask.written().filter(|path| is_write_protected(path));
        if let Some(path) = protected {
            self.dialog = Some(Dialog::Protected { path: path.to_owned(), ask: ask.clone() });
        }
        protected.is_some()
    }

    fn keep_swatch(&mut self, swatch: &Swatch) {
        let kept = self.swatches.keep(swatch);
        self.tell(kept);
    }

    fn import_swatches(&mut self, path: &Path) {
        let taken = self.swatches.import(path);
        self.tell(taken);
    }

    fn use_for_day(&mut self, file: DayFile, path: PathBuf) {
        if let Err(error) = self.day.use_file(file, path) {
            self.refuse(error);
        }
    }

    fn allow_writing(&mut self, path: &Path, then: Ask, ctx: &Context) {
        match allow_writing(path) {
            Ok(()) => self.ask(then, ctx),
            Err(error) => self.refuse(error),
        }
    }

    /// Does something when the field that is being written in has given up its value: without the focus it does, in one more frame.
    fn put_off(&mut self, ask: Ask, ctx: &Context) {
        if let Some(field) = ctx.memory(egui::Memory::focused) {
            ctx.memory_mut(|memory| memory.surrender_focus(field));
        }
        self.later = Some(ask);
        ctx.request_repaint();
    }

    fn begin(&mut self, kind: GarmentKind, size: String, start: FoldStart) {
        let garment = GarmentSpec { size: Some(size), ..GarmentSpec::of(kind) };
        self.begin_on(start, &garment);
    }

    /// Begins a layout for a garment, with what was learned where that is asked for; whether it can be.
    pub(super) fn begin_on(&mut self, start: FoldStart, garment: &GarmentSpec) -> bool {
        let (learned, refused) = match self.learned_to_begin_with() {
            Ok(learned) => (learned, None),
            Err(refused) => (None, Some(refused)),
        };
        let begun = starter_on(start, garment, self.settings.marks_to_begin_with()).and_then(|mut raw| {
            if let Some(learned) = learned {
                raw.tune(&learned.tuning_on(&raw, today()));
            }
            Layout::try_from(raw)
        });
        let is_begun = begun.is_ok();
        match begun {
            Ok(layout) => self.take(Document::new(layout), Step::Garment),
            Err(error) => self.refuse(error),
        }
        if let Some(refused) = refused.filter(|_| is_begun) {
            self.refuse(refused);
        }
        is_begun
    }

    fn begin_gesture(&mut self, label: &str) {
        if let Some(document) = &mut self.document {
            self.stepping.end(document);
            document.begin_gesture(label);
        }
    }

    /// The hand lets go of what it drags on the cloth or on the bundle.
    fn let_go(&mut self) {
        if self.canvas.let_go() | self.rod.let_go() {
            self.document.iter_mut().for_each(Document::end_gesture);
        }
    }

    fn work_on_tie(&mut self, number: usize) {
        if let Some(document) = &mut self.document {
            document.work_on_tie(number);
            self.canvas.selected = None;
        }
    }

    pub(super) fn edit(&mut self, command: &EditCommand, ctx: &Context) {
        let Some(document) = &mut self.document else { return };
        let before = document.layout().clone();
        let stepped = field::stepped(ctx);
        self.stepping.before(document, stepped, &command.label(&before), ctx);
        match document.perform(command) {
            // What was refused or told before is over with the next change.
            Ok(()) => {
                let lengths = self.settings.lengths(before.marks());
                self.message = command.told(&before, document.layout(), lengths).map(Message::told);
            }
            // A drag that goes too far simply stops; a typed value is told about.
            Err(_) if document.history().is_in_gesture() && stepped.is_none() => {}
            Err(error) => {
                let words = typed_first(command, &error, self.voice()).unwrap_or_else(|| error.say(self.voice()));
                if field::refuse(ctx, &words) {
                    self.message = None;
                } else {
                    self.refuse(error);
                }
            }
        }
    }

    fn act(&mut self, action: Action, ctx: &Context) {
        match action.entry().deed {
            Deed::Begin => {
                self.put_away();
                self.keep.look_again();
                self.step = Step::default();
            }
            Deed::Save => match self.document.as_ref().and_then(Document::path).map(Path::to_owned) {
                Some(path) => self.ask(Ask::SaveTo(path), ctx),
                None => self.name_file(Purpose::Save),
            },
            Deed::AskFile(purpose) => self.name_file(purpose),
            Deed::Day(ask) => self.ask(Ask::Day(ask()), ctx),
            Deed::Quit => {
                self.leaving = true;
                self.keep.forget();
                self.day.forget_unsaved();
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            Deed::Undo => self.step_back_or_forth(false),
            Deed::Redo => self.step_back_or_forth(true),
            Deed::Edit(command) => self.edit(&command(), ctx),
            Deed::Fit => self.fit(),
            Deed::Zoom(factor) => self.zoom(factor),
            Deed::Numbers => self.show_numbers(ctx),
            Deed::Set(change) | Deed::Choose(change) => self.set(ctx, change),
            Deed::Show(is_away) => self.set(ctx, |settings| {
                let is_away = is_away(settings);
                *is_away = !*is_away;
            }),
            Deed::Project => self.projection.turn(),
            Deed::Vary => self.vary(),
            Deed::Wish => self.wish(),
            Deed::Learn => self.show_learning(ctx),
            Deed::Find => self.finder = Some(Finder::default()),
            Deed::Handbook => self.handbook.turn_to(self.step, self.document.as_ref().map(|document| &**document.layout())),
            Deed::Tour => self.begin_tour(ctx),
            Deed::Keys => self.dialog = Some(Dialog::Keys),
            Deed::Go(step) => self.step = step,
        }
    }

    /// Shows the wall of variations, or puts it away where it shows.
    fn vary(&mut self) {
        if self.step == Step::Reveal || !self.reveal.shows_wall() {
            self.reveal.turn_wall();
        }
        self.step = Step::Reveal;
    }

    /// Begins the tour, at the layout that is open if one is.
    pub(super) fn begin_tour(&mut self, ctx: &Context) {
        let mut asks = Vec::new();
        let at = self.document.is_some().then_some(self.step);
        if at.is_none() {
            self.step = Step::default();
        }
        self.tour = Some(Tour::begin(at, &mut asks));
        asks.into_iter().for_each(|ask| self.ask(ask, ctx));
    }

    /// Shows the numbers beside the table, or puts them away; where there is no room for them, that is told.
    fn show_numbers(&mut self, ctx: &Context) {
        self.set(ctx, |settings| settings.numbers_hidden = !settings.numbers_hidden);
        if !self.settings.numbers_hidden && !has_room_for_numbers(ctx) {
            let words = "No room for the numbers; widen the window or choose smaller text";
            self.tell(Ok(words.to_owned()));
        }
    }

    fn set(&mut self, ctx: &Context, change: impl FnOnce(&mut Settings)) {
        change(&mut self.settings);
        self.canvas.showing = self.settings.showing;
        self.settings.apply(ctx);
        self.keep.write_settings(&self.settings);
    }

    fn run(&mut self, ask: &RunAsk, ctx: &Context) {
        match ask {
            RunAsk::Alarm(rings) => self.set(ctx, |settings| settings.alarm_silent = !rings),
            RunAsk::Show => self.step = Step::Day,
            _ => {}
        }
        let reports = if *ask == RunAsk::End { self.day.reports() } else { Vec::new() };
        match self.day.perform(ask, self.voice()) {
            Ok(words) if !reports.is_empty() => {
                self.journal.offer(&reports);
                let words = format!(
                    "{words}{}its notes, waits and times are ready for the journal",
                    if words.is_empty() { "" } else { "; " }
                );
                self.offer(capitalised(&words), "Open the journal", Ask::Go(Step::Journal));
            }
            Ok(words) if words.is_empty() => {}
            result => self.tell(result),
        }
    }

    /// What is to be asked before something is done that would lose something.
    pub(super) fn question(&self, ask: &Ask) -> Option<Dialog> {
        if let Some(question) = self.question_of_marks(ask) {
            return Some(question);
        }
        let quits = matches!(ask, Ask::Act(Action::Quit));
        let leaves = matches!(ask, Ask::Open(_) | Ask::OpenExample(_) | Ask::Begin(..) | Ask::Act(Action::New))
            || matches!(ask, Ask::Journal(JournalAsk::MakeAgain { .. }) | Ask::Recover(_, true));
        let unsaved = self.document.as_ref().filter(|document| document.is_unsaved());
        if let Some(document) = unsaved.filter(|_| quits || leaves) {
            return Some(Dialog::Unsaved { name: document.layout().name().to_owned() });
        }
        if let Some((file, name)) = self.day.unsaved(lost_of_day(ask)).filter(|_| !self.leaving) {
            return Some(Dialog::UnsavedOfDay { file, name });
        }
        let texts = if quits && !self.leaving { self.unfinished_texts() } else { Vec::new() };
        (!texts.is_empty()).then_some(Dialog::Texts { lines: texts })
    }

    /// What is written and not in the journal yet, a line each.
    pub(super) fn unfinished_texts(&self) -> Vec<String> {
        self.journal.unfinished(self.document.as_ref().map(Document::layout))
    }

    /// Puts the document away; what is written about it and not in the journal yet is set aside, and that is told.
    pub(super) fn put_away(&mut self) {
        self.message = None;
        if let Some(document) = &self.document {
            self.day.keep_open_layout(&OpenLayout { layout: document.layout(), path: document.path() });
        }
        if let Some(document) = self.document.take()
            && self.journal.set_aside(document.layout())
        {
            let words = format!("Your text about {} is waiting in the journal", document.layout().name());
            self.offer(words, "Open the journal", Ask::Go(Step::Journal));
        }
        self.projection.close();
        self.photo.take_if(|photo| photo.home() == Step::Reveal);
        self.keep.forget();
    }

    /// Does what a question held up.
    pub(super) fn go_on(&mut self, ctx: &Context) {
        if let Some(held) = self.held.take() {
            self.ask(held, ctx);
        }
    }

    fn leave_texts(&mut self, kept: bool, ctx: &Context) {
        self.dialog = None;
        if !kept {
            self.journal.throw_away();
        }
        match self.journal.keep(self.document.as_ref().map(Document::layout)) {
            Ok(()) => {
                self.leaving = true;
                self.go_on(ctx);
            }
            Err(words) => {
                self.held = None;
                self.refuse(words);
            }
        }
    }
}

/// What of the day's that is not saved would be lost by this.
fn lost_of_day(ask: &Ask) -> &'static [DayFile] {
    use DayAsk::{Close, ExampleOrder, NewOrder, Write};
    match ask {
        Ask::Act(Action::Quit) => &[DayFile::Order, DayFile::Recipe, DayFile::Process],
        Ask::UseForDay(DayFile::Order, _) | Ask::Day(NewOrder | ExampleOrder(_) | Close(DayFile::Order)) => &[DayFile::Order],
        Ask::Day(Write(DayFile::Recipe) | Close(DayFile::Recipe)) => &[DayFile::Recipe],
        Ask::Day(Write(DayFile::Process) | Close(DayFile::Process)) => &[DayFile::Process],
        _ => &[],
    }
}

/// Whether what is dragged is let go of before.
fn ends_a_drag(ask: &Ask) -> bool {
    match ask {
        Ask::Act(action) => matches!(
            action.entry().deed,
            Deed::Undo | Deed::Redo | Deed::Save | Deed::Go(_) | Deed::Begin | Deed::Quit | Deed::AskFile(_) | Deed::Edit(_)
        ),
        Ask::Go(_) | Ask::Open(_) | Ask::OpenExample(_) | Ask::SaveTo(_) | Ask::SaveOver(_) => true,
        _ => false,
    }
}

/// Whether a field that is being written in gives up its value before.
fn waits(ask: &Ask) -> bool {
    match ask {
        Ask::Act(action) => action.needs_values(),
        Ask::Go(_) => true,
        Ask::Day(ask) => !matches!(ask, DayAsk::GiveUp(_)),
        _ => false,
    }
}

/// What is wrong with other measurements because of one that was typed, which is then named first; none where it is itself to blame.
fn typed_first(command: &EditCommand, error: &LayoutError, voice: Voice) -> Option<String> {
    let EditCommand::SetMeasure(measure, Some(value_mm)) = command else { return None };
    let own = Field::from("garment.measures").then(measure.key());
    let is_other = error.field != own && error.field.to_string().starts_with("garment.measures.");
    let name = capitalised(measure.name());
    is_other.then(|| format!("{name} {} does not fit the rest. {}", voice.lengths.format(*value_mm), error.say(voice)))
}
