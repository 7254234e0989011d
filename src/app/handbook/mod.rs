//! The handbook beside the work: a page of it, all its pages, or what was looked for. The pages are filled and their pictures drawn on other
//! threads.

mod blocks;
mod pictures;

use self::blocks::Reader;
use self::pictures::Pictures;
use super::step::Step;
use super::theme::Palette;
use crate::handbook::{Chapter, Link, page_of_step, pages, search, warning_entry};
use crate::layout::{FoldKind, Layout};
use egui::{Button, Key, Panel, RichText, ScrollArea, TextEdit, Ui};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// What of the handbook shows.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Place {
    /// All pages by their titles.
    Contents,
    /// A page, from one of its headings on.
    Page {
        /// Its name.
        name: String,
        /// The heading; none for its beginning.
        anchor: Option<String>,
    },
}

/// What a page is wanted about.
#[derive(Debug, Clone, Copy)]
enum Wanted {
    /// A view, or what is done in it: by the page's name.
    Page(&'static str),
    /// A warning, by its name.
    Warning(&'static str),
}

impl Wanted {
    /// Where the handbook tells of it.
    fn place(self) -> Place {
        let found = match self {
            Self::Page(name) => page_of_step(name).map(|page| (page.name(), None)),
            Self::Warning(name) => warning_entry(name).map(|entry| (entry.page.name(), Some(entry.anchor.to_owned()))),
        };
        found.map_or(Place::Contents, |(name, anchor)| Place::Page { name: name.to_owned(), anchor })
    }
}

/// The handbook in the window.
#[derive(Debug, Default)]
pub(crate) struct HandbookView {
    /// What shows last, after what showed before; nothing while it is closed.
    way: Vec<Place>,
    /// What is to show as soon as the pages are there.
    wanted: Option<Wanted>,
    /// The page about the step that is being worked at.
    about: Option<&'static str>,
    /// What is looked for.
    words: String,
    /// Whether the place that shows has not been brought into sight yet.
    is_new: bool,
    is_read: bool,
    reading: Option<Receiver<()>>,
    pictures: Pictures,
}

/// The page about a step; of folding, about the fold that there is.
fn about(step: Step, layout: Option<&Layout>) -> &'static str {
    match layout.map(|layout| layout.raw().fold.kind()) {
        Some(FoldKind::Flat(_)) if step == Step::Fold => "flat",
        Some(FoldKind::Spiral) if step == Step::Fold => "spiral",
        _ => step.name(),
    }
}

/// Breadth of the handbook beside the work, points: about seventy letters.
const BREADTH: f32 = 400.0;
/// Least breadth of the window, points, for the handbook beside work that can still be done; else it stands in its place.
const ROOM_BESIDE: f32 = 1000.0;

impl HandbookView {
    pub(crate) fn is_open(&self) -> bool {
        !self.way.is_empty() || self.wanted.is_some()
    }

    /// Opens it at the page about a step, of folding about the fold that there is; where that shows already, closes it.
    pub(crate) fn turn_to(&mut self, step: Step, layout: Option<&Layout>) {
        let about = about(step, layout);
        if self.shows(about) {
            self.close();
        } else {
            self.wanted = Some(Wanted::Page(about));
        }
    }

    /// Whether the page about a step is the one that shows.
    fn shows(&self, about: &str) -> bool {
        let name = about.to_lowercase();
        self.words.is_empty() && matches!(self.way.last(), Some(Place::Page { name: shown, .. }) if *shown == name)
    }

    /// Goes with the maker from step to step, as long as the page that shows is that of the step that was left.
    fn keep_up(&mut self, step: Step, layout: Option<&Layout>) {
        let about = about(step, layout);
        if let Some(before) = self.about.replace(about)
            && before != about
            && self.shows(before)
        {
            self.wanted = Some(Wanted::Page(about));
        }
    }

    /// Opens it at what it tells of a warning.
    pub(crate) fn read_about(&mut self, warning: &'static str) {
        self.wanted = Some(Wanted::Warning(warning));
    }

    fn close(&mut self) {
        (self.way, self.wanted, self.words) = (Vec::new(), None, String::new());
    }

    fn go(&mut self, place: Place) {
        self.words.clear();
        self.is_new = true;
        if self.way.last() != Some(&place) {
            self.way.push(place);
        }
    }

    /// Shows it beside the work of a step, if it is open; whether there is room left for that.
    pub(crate) fn show(&mut self, step: Step, layout: Option<&Layout>, ui: &mut Ui) -> bool {
        self.keep_up(step, layout);
        if !self.is_open() {
            return true;
        }
        self.read(ui);
        let is_beside = ui.available_width() >= ROOM_BESIDE;
        if is_beside {
            let most = 0.5 * ui.available_width();
            Panel::right("handbook").default_size(BREADTH).min_size(300.0).max_size(most).show(ui, |ui| self.within(ui));
        } else {
            egui::CentralPanel::default().show(ui, |ui| self.within(ui));
        }
        is_beside
    }

    /// Has the pages filled on a thread of their own: they are computed from the examples.
    fn read(&mut self, ui: &Ui) {
        if let Some(reading) = &self.reading {
            match reading.try_recv() {
                Err(TryRecvError::Empty) => return,
                Ok(()) | Err(TryRecvError::Disconnected) => (self.is_read, self.reading) = (true, None),
            }
        }
        if !self.is_read {
            let (sender, receiver) = channel();
            let ctx = ui.ctx().clone();
            let spawned = std::thread::Builder::new().name("handbook".to_owned()).spawn(move || {
                let _filled = pages().len();
                let _gone = sender.send(());
                ctx.request_repaint();
            });
            match spawned {
                Ok(_) => self.reading = Some(receiver),
                // Without threads the window waits.
                Err(_) => self.is_read = true,
            }
        }
        if self.is_read
            && let Some(wanted) = self.wanted.take()
        {
            self.go(wanted.place());
        }
    }

    fn within(&mut self, ui: &mut Ui) {
        self.head(ui);
        ui.separator();
        if !self.is_read || self.way.is_empty() {
            ui.horizontal(|ui| {
                ui.spinner();
                ui.label("Opening the handbook…");
            });
            return;
        }
        let place = self.way.last().cloned().unwrap_or(Place::Contents);
        let id = if self.words.trim().is_empty() { format!("{place:?}") } else { "found".to_owned() };
        let next = ScrollArea::vertical().id_salt(id).auto_shrink(false).show(ui, |ui| {
            // The bar must not lie on the words.
            ui.set_max_width(ui.available_width() - 10.0);
            match &place {
                _ if !self.words.trim().is_empty() => found(&self.words, ui),
                Place::Contents => contents(ui),
                Place::Page { name, anchor } => {
                    let anchor = if std::mem::take(&mut self.is_new) { anchor.as_deref() } else { None };
                    Reader { pictures: &mut self.pictures, anchor }.page(name, ui)
                }
            }
        });
        match next.inner {
            Some(Link::Page { name, anchor }) => self.go(Place::Page { name, anchor }),
            Some(Link::Web(address)) => ui.ctx().open_url(egui::OpenUrl::new_tab(address)),
            None => {}
        }
    }

    /// Back, the contents, what is looked for, and away with it.
    fn head(&mut self, ui: &mut Ui) {
        ui.horizontal(|ui| {
            if ui.add_enabled(self.way.len() > 1, Button::new("Back")).clicked() {
                self.way.pop();
                self.words.clear();
                self.is_new = true;
            }
            if ui.button("Contents").clicked() {
                self.go(Place::Contents);
            }
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if ui.button("Close").on_hover_text("Close the handbook").clicked() {
                    self.close();
                }
            });
        });
        let field = TextEdit::singleline(&mut self.words).desired_width(f32::INFINITY).hint_text("Search the handbook");
        let field = ui.add(field);
        field.widget_info(|| egui::WidgetInfo::labeled(egui::Role::TextInput, true, "Search the handbook"));
        if field.lost_focus() && ui.input(|input| input.key_pressed(Key::Escape)) {
            self.words.clear();
        }
    }
}

/// All pages by their titles, chapter by chapter; the one chosen.
fn contents(ui: &mut Ui) -> Option<Link> {
    let mut chosen = None;
    for chapter in Chapter::ALL {
        ui.add_space(6.0);
        ui.label(RichText::new(chapter.title()).strong().size(17.0));
        for page in pages().iter().filter(|page| page.chapter() == chapter) {
            if ui.link(page.title()).clicked() {
                chosen = Some(Link::Page { name: page.name().to_owned(), anchor: None });
            }
        }
    }
    chosen
}

/// The pages that have some words, each with where they stand; the one chosen.
fn found(words: &str, ui: &mut Ui) -> Option<Link> {
    let hits = search(words);
    if hits.is_empty() {
        ui.label(RichText::new(format!("No page has \"{}\".", words.trim())).color(Palette::of(ui.ctx()).faint));
    }
    let mut chosen = None;
    for hit in hits {
        ui.add_space(4.0);
        if ui.link(RichText::new(hit.page.title()).strong()).clicked() {
            chosen = Some(Link::Page { name: hit.page.name().to_owned(), anchor: hit.anchor.map(str::to_owned) });
        }
        ui.add(egui::Label::new(RichText::new(&hit.excerpt).weak()).wrap());
    }
    chosen
}
