//! The journal: what was made, how it came out, what to change. It is there with a layout open and without.
//!
//! Everything that reads or writes the journal happens on the [`Shelf`]'s thread; the view shows what was read last. What is written
//! in its forms and not in the journal yet outlives the program: [`unsaved`].

mod ask;
mod beside;
mod cards;
mod compare;
mod entry;
mod finding;
mod form;
mod panel;
mod photos;
mod shelf;
mod table;
mod unsaved;
mod words;

pub(crate) use ask::JournalAsk;
pub(crate) use shelf::Told;

use super::context::Ask;
use super::learn::LearnView;
use super::pace::Pace;
use super::run::Run;
use crate::layout::Layout;
use crate::plan::RunReport;
use crate::store::journal::Comparison;
use crate::telling::{self, AnyRefusal};
use egui::Ui;
use entry::Opened;
use finding::Finding;
use form::Form;
use photos::Photos;
use shelf::{About, Outcome, Shelf};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use unsaved::{Aside, Unsaved, UnsavedFile};

/// What lies on the table.
#[derive(Debug)]
enum Page {
    /// All entries, to open one of them.
    All,
    /// All entries, to set one of them beside this.
    Choosing(String),
    /// An entry.
    Open(Opened),
    /// What was written about a layout that is not open any more, by its number.
    Writing(u64),
    /// Two entries beside each other.
    Beside(Box<Comparison>),
    /// What can be learned from.
    Learning,
}

/// What the file of unsaved texts holds.
#[derive(Debug, Default)]
struct InFile {
    form: Form,
    layout: Option<Arc<Layout>>,
    asides: Vec<Aside>,
    forms: BTreeMap<String, Form>,
}

/// The view's state.
#[derive(Debug)]
pub(crate) struct JournalView {
    shelf: Shelf,
    finding: Finding,
    /// What is being written down about the open layout, and its number.
    form: Form,
    number: u64,
    /// What was written about layouts that are not open any more.
    asides: Vec<Aside>,
    /// What was thrown away last.
    thrown: Option<Aside>,
    /// What entries are to say otherwise and do not yet.
    forms: BTreeMap<String, Form>,
    page: Page,
    photos: Photos,
    learn: LearnView,
    /// The frame in which it was shown last.
    shown: u64,
    unsaved: Option<UnsavedFile>,
    kept: InFile,
    pace: Pace,
    /// Why texts of earlier runs could not be taken up.
    refused: Vec<AnyRefusal>,
}

impl JournalView {
    /// A view of the journal in the program's folder; without one nothing can be kept. Texts that runs before this one have left are
    /// taken up.
    pub(crate) fn new(home: Option<&Path>, run: &Run) -> Self {
        let mut unsaved = home.map(|home| UnsavedFile::new(&home.join("unsaved-journal"), run));
        let (left, refused) = unsaved.as_mut().map(|file| file.take_up(run)).unwrap_or_default();
        let asides: Vec<Aside> = (1..).zip(left.new).map(|(number, aside)| Aside { number, ..aside }).collect();
        Self {
            shelf: Shelf::new(home),
            finding: Finding::default(),
            form: Form::default(),
            number: 0,
            asides,
            thrown: None,
            forms: left.amended,
            page: Page::All,
            photos: Photos::default(),
            learn: LearnView::default(),
            shown: 0,
            unsaved,
            kept: InFile::default(),
            pace: Pace::default(),
            refused,
        }
    }

    /// Why texts of earlier runs could not be taken up, once.
    pub(crate) fn take_refused(&mut self) -> Option<AnyRefusal> {
        self.refused.pop()
    }

    /// Attaches photographs to what is being written: the open entry, or the new one.
    ///
    /// # Errors
    /// A sentence when nothing is being written that they could belong to.
    pub(crate) fn attach(&mut self, photos: Vec<PathBuf>, has_layout: bool) -> Result<(), AnyRefusal> {
        let form = match &self.page {
            Page::Open(opened) => match self.shelf.entry(&opened.id) {
                Some(entry) => Some(self.forms.entry(opened.id.clone()).or_insert_with(|| Form::of(entry.raw()))),
                None => None,
            },
            Page::Writing(number) => self.asides.iter_mut().find(|aside| aside.number == *number).map(|aside| &mut aside.form),
            _ if has_layout => Some(&mut self.form),
            _ => None,
        };
        let nowhere = || telling::Told::new("no layout or entry is open for this photograph", "open one, then attach it there");
        Ok(form.map(|form| form.attach(photos)).ok_or_else(nowhere)?)
    }

    /// Learning from photographs.
    pub(crate) fn learning(&mut self) -> &mut LearnView {
        &mut self.learn
    }

    /// Turns to learning from photographs.
    pub(crate) fn turn_to_learning(&mut self) {
        self.page = Page::Learning;
    }

    /// Turns to the new entry of the open layout.
    pub(crate) fn begin_entry(&mut self) {
        self.page = Page::All;
    }

    /// The layout of an entry.
    ///
    /// # Errors
    /// A sentence when it is not there or can't be drawn.
    pub(crate) fn layout_of(&self, id: &str, with_changes: bool) -> Result<Layout, AnyRefusal> {
        let entry = self
            .shelf
            .entry(id)
            .ok_or_else(|| telling::Told::new(format!("entry \"{id}\" is no longer in the journal"), "choose another"))?;
        let layout = if with_changes { entry.again_with_changes() } else { entry.again() };
        layout.map_err(AnyRefusal::from)
    }

    /// Writes everything into a folder.
    pub(crate) fn export(&mut self, folder: PathBuf, ctx: &egui::Context) {
        self.shelf.begin(About::Files, ctx, move |journal| {
            let words = format!("Exported {} to {}", words::entries(journal.export(&folder)?), folder.display());
            Ok(Some(Told { words, offer: Some(("Open the folder", Ask::OpenOutside(folder))) }))
        });
    }

    /// Takes in the plain files of a folder.
    pub(crate) fn import(&mut self, folder: PathBuf, ctx: &egui::Context) {
        self.shelf.begin(About::Files, ctx, move |journal| {
            let done = journal.import(&folder)?;
            let mut words =
                format!("Imported {} from {}", words::entries(done.added.len() + done.beside.len()), folder.display());
            if !done.same.is_empty() {
                words += &format!("; {} already there", words::entries(done.same.len()));
            }
            for (wanted, id) in &done.beside {
                words += &format!("; another {wanted} was there, so this one is kept as {id}");
            }
            Ok(Some(Told::plain(words)))
        });
    }

    /// Brings back what still reads of a damaged journal.
    fn salvage(&mut self, ctx: &egui::Context) {
        self.shelf.begin(About::Files, ctx, |journal| {
            Ok(Some(Told::plain(format!("Salvaged the journal: {}", journal.salvage()?.sentences().join("; ")))))
        });
    }

    /// Takes over what another thread has done; what is to be told of it.
    pub(crate) fn take_done(&mut self, ctx: &egui::Context) -> Option<Result<Told, AnyRefusal>> {
        self.photos.take_done(ctx);
        let Outcome { about, told } = self.shelf.take_done(ctx)?;
        if told.is_ok() {
            // What is in the journal now is not to be offered again after a crash.
            self.pace = Pace::default();
            // What was written meanwhile stays.
            match about {
                About::Adding(number, form) if number == self.number && *form == self.form => self.form = Form::default(),
                About::Adding(number, form) => self.added(number, &form),
                About::Amending(id, form) if self.forms.get(&id) == Some(&*form) => drop(self.forms.remove(&id)),
                _ => {}
            }
        }
        // Another frame shows it: this one is drawn already.
        ctx.request_repaint();
        told.transpose()
    }

    /// What was written about a layout that is not open any more is in the journal: its page goes with it.
    fn added(&mut self, number: u64, form: &Form) {
        self.asides.retain(|aside| aside.number != number || *form != aside.form);
        let is_gone = |number: &u64| self.asides.iter().all(|aside| aside.number != *number);
        if matches!(&self.page, Page::Writing(number) if is_gone(number)) {
            self.page = Page::All;
        }
    }

    /// Sets aside what is written about a layout that is left; whether there was anything.
    pub(crate) fn set_aside(&mut self, layout: &Layout) -> bool {
        let form = std::mem::take(&mut self.form);
        let something = !form.is_empty();
        if something {
            self.asides.push(Aside::new(self.number, layout, form));
        }
        self.number = self.fresh_number();
        something
    }

    /// Offers what a run tells of its garments for new entries; where it is one, that entry is turned to.
    pub(crate) fn offer(&mut self, reports: &[RunReport]) {
        for report in reports {
            self.asides.push(Aside::of_run(self.fresh_number(), report));
        }
        self.page = match (reports, self.asides.last()) {
            ([_], Some(aside)) => Page::Writing(aside.number),
            _ => Page::All,
        };
    }

    /// A number that no form has.
    fn fresh_number(&self) -> u64 {
        self.asides.iter().map(|aside| aside.number).max().map_or(self.number, |most| most.max(self.number)) + 1
    }

    /// What is written and not in the journal yet, a line each.
    pub(crate) fn unfinished(&self, layout: Option<&Arc<Layout>>) -> Vec<String> {
        let now = layout.filter(|_| !self.form.is_empty()).map(|layout| (layout.name(), &self.form));
        let new = now.into_iter().chain(self.asides.iter().map(|aside| (aside.name.as_str(), &aside.form)));
        let new = new.map(|(name, form)| format!("{name}: {}", form.beginning()));
        let amended = self.forms.iter().map(|(id, form)| format!("changes to {}: {}", self.title_of(id), form.beginning()));
        new.chain(amended).collect()
    }

    /// What an entry is called; its id where it is not read.
    fn title_of(&self, id: &str) -> String {
        self.shelf.entry(id).map_or_else(|| id.to_owned(), |entry| words::title(entry))
    }

    /// Gives up everything that is written and not in the journal yet.
    pub(crate) fn throw_away(&mut self) {
        self.form = Form::default();
        self.asides.clear();
        self.forms.clear();
    }

    /// Keeps what is written and not in the journal yet, at most every few seconds.
    pub(crate) fn keep_unsaved(&mut self, layout: Option<&Arc<Layout>>, ui: &Ui) {
        if !self.is_kept(layout) && self.pace.is_due(ui) {
            // A full disk is told about when the program is closed; until then the texts are in their fields.
            let _kept = self.keep(layout);
        }
    }

    fn is_kept(&self, layout: Option<&Arc<Layout>>) -> bool {
        let same_layout = self.form.is_empty()
            || match (&self.kept.layout, layout) {
                (Some(kept), Some(now)) => Arc::ptr_eq(kept, now),
                (kept, now) => kept.is_none() && now.is_none(),
            };
        same_layout && self.kept.form == self.form && self.kept.asides == self.asides && self.kept.forms == self.forms
    }

    /// Keeps it now.
    ///
    /// # Errors
    /// A sentence when it can't be kept.
    pub(crate) fn keep(&mut self, layout: Option<&Arc<Layout>>) -> Result<(), AnyRefusal> {
        let Some(file) = &mut self.unsaved else { return Ok(()) };
        let now = layout.filter(|_| !self.form.is_empty()).map(|layout| Aside::new(self.number, layout, self.form.clone()));
        let new = self.asides.iter().cloned().chain(now).collect();
        file.keep(&Unsaved::new(new, self.forms.clone()))?;
        let (form, asides, forms) = (self.form.clone(), self.asides.clone(), self.forms.clone());
        self.kept = InFile { form, layout: layout.cloned(), asides, forms };
        Ok(())
    }
}
