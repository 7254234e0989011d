//! The journal: what was made, how it came out, what to change.
//!
//! Everything that reads or writes the journal happens on the [`Shelf`]'s thread; the view shows what was read last.

mod ask;
mod cards;
mod compare;
mod entry;
mod finding;
mod form;
mod photos;
mod shelf;
mod words;

pub(crate) use ask::JournalAsk;
pub(crate) use shelf::Told;

use super::action::Action;
use super::context::{Ask, Context};
use super::panel::heading;
use super::theme::Palette;
use crate::layout::Layout;
use crate::store::journal::{Comparison, JournalEntry};
use crate::store::layout_text;
use egui::{Button, Event, Frame, Margin, RichText, ScrollArea, Ui};
use entry::{Kept, Opened};
use finding::Finding;
use form::Form;
use photos::Photos;
use shelf::{About, Outcome, Shelf};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What lies on the table.
#[derive(Debug)]
enum Page {
    /// All entries, to open one of them.
    All,
    /// All entries, to set one of them beside this.
    Choosing(String),
    /// An entry.
    Open(Opened),
    /// Two entries beside each other.
    Beside(Box<Comparison>),
}

/// The view's state.
#[derive(Debug)]
pub(crate) struct JournalView {
    shelf: Shelf,
    finding: Finding,
    /// What is being written down.
    form: Form,
    /// What entries are to say otherwise and do not yet.
    forms: BTreeMap<String, Form>,
    page: Page,
    photos: Photos,
    /// The frame in which it was shown last.
    shown: u64,
}

impl JournalView {
    /// A view of the journal in the program's folder; without one nothing can be kept.
    pub(crate) fn new(home: Option<&Path>) -> Self {
        Self {
            shelf: Shelf::new(home),
            finding: Finding::default(),
            form: Form::default(),
            forms: BTreeMap::new(),
            page: Page::All,
            photos: Photos::default(),
            shown: 0,
        }
    }

    /// Attaches photographs to what is being written: the open entry, or the new one.
    pub(crate) fn attach(&mut self, photos: Vec<PathBuf>) {
        match &self.page {
            Page::Open(opened) => {
                if let Some(entry) = self.shelf.entry(&opened.id) {
                    self.forms.entry(opened.id.clone()).or_insert_with(|| Form::of(entry.raw())).attach(photos);
                }
            }
            _ => self.form.attach(photos),
        }
    }

    /// The layout of an entry.
    ///
    /// # Errors
    /// A sentence when it is not there or can't be drawn.
    pub(crate) fn layout_of(&self, id: &str, with_changes: bool) -> Result<Layout, String> {
        let entry = self.shelf.entry(id).ok_or_else(|| format!("The journal has no entry {id} any more"))?;
        let layout = if with_changes { entry.again_with_changes() } else { entry.again() };
        layout.map_err(|error| error.to_string())
    }

    /// Writes everything into a folder.
    pub(crate) fn export(&mut self, folder: PathBuf, ctx: &egui::Context) {
        self.shelf.begin(About::Files, ctx, move |journal| {
            let words = format!("Wrote {} into {}", entries(journal.export(&folder)?), folder.display());
            Ok(Some(Told { words, offer: Some(("Open the folder", Ask::OpenOutside(folder))) }))
        });
    }

    /// Takes in the plain files of a folder.
    pub(crate) fn import(&mut self, folder: PathBuf, ctx: &egui::Context) {
        self.shelf.begin(About::Files, ctx, move |journal| {
            let done = journal.import(&folder)?;
            let mut words = format!("Took in {} from {}", entries(done.added.len() + done.beside.len()), folder.display());
            if !done.same.is_empty() {
                words += &format!("; {} there already", entries(done.same.len()));
            }
            for (wanted, id) in &done.beside {
                words += &format!("; another {wanted} was there, so it is kept beside it as {id}");
            }
            Ok(Some(Told::plain(words)))
        });
    }

    /// Takes over what another thread has done; what is to be told of it.
    pub(crate) fn take_done(&mut self, ctx: &egui::Context) -> Option<Result<Told, String>> {
        self.photos.take_done(ctx);
        let Outcome { about, told } = self.shelf.take_done(ctx)?;
        if told.is_ok() {
            // What was written meanwhile stays.
            match about {
                About::Adding(form) if *form == self.form => self.form = Form::default(),
                About::Amending(id, form) if self.forms.get(&id) == Some(&*form) => drop(self.forms.remove(&id)),
                _ => {}
            }
        }
        told.transpose()
    }

    /// The choices, in the panel beside the table.
    pub(crate) fn choices(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        if self.shelf.journal().is_none() {
            return;
        }
        if self.shelf.is_writing() {
            ui.label(RichText::new("The journal is being written …").weak());
        }
        match &self.page {
            Page::Open(opened) => {
                let (id, can) = (opened.id.clone(), opened.can_be_made());
                let next = open_choices(&id, can, asks, ui);
                opened.numbers(ctx.lengths, ui);
                if matches!(next, Some(Page::Choosing(_))) {
                    // What found the first is seldom what finds the second.
                    self.finding.clear();
                }
                self.page = next.unwrap_or_else(|| std::mem::replace(&mut self.page, Page::All));
            }
            Page::Beside(comparison) => {
                let both = [&comparison.first, &comparison.second].map(Clone::clone);
                if ui.button("Back to all entries").clicked() {
                    self.page = Page::All;
                }
                for entry in both {
                    if ui.button(format!("Open {}", words::title(&entry))).clicked() {
                        self.page = Page::Open(Opened::new(&entry));
                    }
                }
            }
            Page::All | Page::Choosing(_) => self.adding(ctx, asks, ui),
        }
    }

    fn adding(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        heading(ui, "Add what was made");
        let words = format!("{}, as the layout is now, is kept with it.", ctx.layout.name());
        ui.label(RichText::new(words).weak());
        self.form.show(false, asks, ui);
        if ui.add_enabled(!self.shelf.is_writing(), Button::new("Add to the journal")).clicked() {
            let draft = self.form.draft(layout_text(ctx.layout.raw()));
            let name = ctx.layout.name().to_owned();
            self.shelf.begin(About::Adding(Box::new(self.form.clone())), ui.ctx(), move |journal| {
                let made = journal.add(&draft)?.raw().made;
                Ok(Some(Told::plain(format!("Written down: {name}, made {made}"))))
            });
        }
        heading(ui, "As plain files");
        ui.horizontal_wrapped(|ui| {
            for action in [Action::ExportJournal, Action::ImportJournal] {
                if ui.button(action.label()).on_hover_text(action.tooltip()).clicked() {
                    asks.push(Ask::Act(action));
                }
            }
        });
    }

    /// What lies on the table.
    pub(crate) fn show(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let is_table = matches!(self.page, Page::All | Page::Choosing(_));
        ui.painter().rect_filled(ui.max_rect(), 0.0, if is_table { palette.table } else { palette.panel });
        if self.shelf.journal().is_none() {
            let words = "The system tells no folder to keep a journal in, so nothing can be kept here.";
            return sentence(&RichText::new(words).color(palette.refused), ui);
        }
        self.keep_up(ui);
        Frame::NONE.inner_margin(Margin::symmetric(16, 10)).show(ui, |ui| match self.page {
            Page::Open(_) => self.opened(asks, ui),
            Page::Beside(ref comparison) => {
                ScrollArea::vertical().id_salt("beside").auto_shrink(false).show(ui, |ui| compare::show(comparison, ui));
            }
            Page::All | Page::Choosing(_) => self.all(ctx, ui),
        });
    }

    /// Reads anew when one comes to the journal or back to the window: the command line may have written meanwhile.
    fn keep_up(&mut self, ui: &Ui) {
        let now = ui.ctx().cumulative_pass_nr();
        let comes = self.shown == 0 || now > self.shown + 1;
        self.shown = now;
        if comes || ui.input(|input| input.events.iter().any(|event| matches!(event, Event::WindowFocused(true)))) {
            self.shelf.read_again(ui.ctx());
        }
    }

    fn opened(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let Page::Open(opened) = &self.page else { return };
        let (Some(entry), Some(journal)) = (self.shelf.entry(&opened.id).cloned(), self.shelf.journal().cloned()) else {
            self.page = Page::All;
            return;
        };
        let id = &opened.id;
        let mut form = self.forms.remove(id).unwrap_or_else(|| Form::of(entry.raw()));
        let photos = &mut self.photos;
        let kept = ScrollArea::vertical()
            .id_salt(id)
            .auto_shrink(false)
            .show(ui, |ui| entry::show(&entry, &mut form, &journal, photos, asks, ui))
            .inner;
        if kept == Kept::Save {
            let (amendment, of, name) = (form.amendment(entry.raw()), id.clone(), words::title(&entry));
            self.shelf.begin(About::Amending(id.clone(), Box::new(form.clone())), ui.ctx(), move |journal| {
                journal.amend(&of, &amendment)?;
                Ok(Some(Told::plain(format!("Amended: {name}; what it said before is kept"))))
            });
        }
        if kept != Kept::Undo && form != Form::of(entry.raw()) {
            self.forms.insert(id.clone(), form);
        }
    }

    fn all(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let Some(journal) = self.shelf.journal().cloned() else { return };
        let entries = match self.shelf.entries() {
            None => return sentence(&RichText::new("Reading the journal …"), ui),
            Some(Err(words)) => {
                sentence(&RichText::new(format!("The journal can't be read: {words}")).color(palette.refused), ui);
                if ui.button("Try again").clicked() {
                    self.shelf.read_again(ui.ctx());
                }
                return;
            }
            Some(Ok([])) => {
                let words = "Nothing is written down yet: when a garment is opened and washed, say in the panel how it came out, \
                             and it is kept here with its layout as it is now.";
                return sentence(&RichText::new(words), ui);
            }
            Some(Ok(entries)) => entries,
        };
        if let Page::Choosing(first) = &self.page {
            let name = self.shelf.entry(first).map_or_else(|| first.clone(), |entry| words::title(entry));
            let words = format!("Choose what to set beside {name}.");
            let mut stop = false;
            ui.horizontal_wrapped(|ui| {
                ui.label(RichText::new(words).strong().size(17.0));
                stop = ui.button("Do not compare").clicked();
            });
            if stop {
                self.page = Page::All;
            }
        }
        let version = self.shelf.version();
        self.finding.show(version, entries, ui);
        let found = self.finding.found(version, entries);
        ui.label(count(found.len(), entries.len()));
        if found.is_empty() {
            return sentence(&RichText::new("Nothing in the journal fits; take away a word or a choice."), ui);
        }
        let photos = &mut self.photos;
        let cards = |ui: &mut Ui| cards::show(found, &journal, photos, ui);
        let chosen = ScrollArea::vertical().id_salt("cards").auto_shrink(false).show(ui, cards).inner;
        if let Some(entry) = chosen.and_then(|id| self.shelf.entry(&id).cloned()) {
            self.choose(&entry, ctx);
        }
    }

    fn choose(&mut self, entry: &Arc<JournalEntry>, ctx: &Context<'_>) {
        let first = match &self.page {
            Page::Choosing(first) => self.shelf.entry(first).cloned(),
            _ => None,
        };
        self.page = match first {
            Some(first) => Page::Beside(Box::new(Comparison::of((*first).clone(), (**entry).clone(), ctx.lengths))),
            None => Page::Open(Opened::new(entry)),
        };
    }
}

/// What can be done with an open entry; the page that is chosen.
fn open_choices(id: &str, can_be_made: bool, asks: &mut Vec<Ask>, ui: &mut Ui) -> Option<Page> {
    let mut next = None;
    if ui.button("Back to all entries").clicked() {
        next = Some(Page::All);
    }
    ui.add_space(6.0);
    for (words, about, with_changes) in [
        ("Make again", "Open its layout as it was, as a new one", false),
        ("Make again with changes", "The same, with what to change in the layout's note", true),
    ] {
        if ui.add_enabled(can_be_made, Button::new(words)).on_hover_text(about).clicked() {
            asks.push(Ask::Journal(JournalAsk::MakeAgain { id: id.to_owned(), with_changes }));
        }
    }
    if ui.button("Compare with…").on_hover_text("Set another entry beside it").clicked() {
        next = Some(Page::Choosing(id.to_owned()));
    }
    next
}

fn sentence(words: &RichText, ui: &mut Ui) {
    ui.add_space(20.0);
    ui.horizontal(|ui| {
        ui.add_space(12.0);
        ui.add(egui::Label::new(words.clone().size(17.0)).wrap());
    });
}

fn count(found: usize, all: usize) -> String {
    if found == all { entries(all) } else { format!("{found} of {}", entries(all)) }
}

fn entries(count: usize) -> String {
    if count == 1 { "1 entry".to_owned() } else { format!("{count} entries") }
}
