//! The journal's entries as the window holds them: read, written, taken in and given out on another thread, one work after the other.

use super::form::Form;
use crate::app::context::Ask;
use crate::store::journal::{Journal, JournalEntry, JournalError};
use crate::telling::{self, AnyRefusal};
use egui::Context;
use std::collections::VecDeque;
use std::path::Path;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// What a piece of work tells when it is done, and what can be done about it.
#[derive(Debug)]
pub(crate) struct Told {
    pub(crate) words: String,
    pub(crate) offer: Option<(&'static str, Ask)>,
}

impl Told {
    pub(super) fn plain(words: String) -> Self {
        Self { words, offer: None }
    }
}

/// What a piece of work is about.
#[derive(Debug, Clone)]
pub(super) enum About {
    /// Only reading.
    Reading,
    /// Writing down what the form of that number says.
    Adding(u64, Box<Form>),
    /// Amending this entry by what its form says.
    Amending(String, Box<Form>),
    /// Plain files going out or coming in.
    Files,
}

type Work = Box<dyn FnOnce(&Journal) -> Result<Option<Told>, JournalError> + Send>;
type Entries = Result<Vec<Arc<JournalEntry>>, NotRead>;

/// Why the entries are not there.
#[derive(Debug, Clone)]
pub(super) struct NotRead {
    pub(super) refusal: AnyRefusal,
    /// Whether a salvage may help.
    pub(super) is_damage: bool,
}

impl From<JournalError> for NotRead {
    fn from(error: JournalError) -> Self {
        let is_damage = error.is_damage();
        Self { refusal: error.into(), is_damage }
    }
}

struct Done {
    told: Result<Option<Told>, AnyRefusal>,
    entries: Entries,
}

/// A piece of work that is done.
#[derive(Debug)]
pub(super) struct Outcome {
    pub(super) about: About,
    pub(super) told: Result<Option<Told>, AnyRefusal>,
}

/// The entries, and the work on them.
pub(super) struct Shelf {
    journal: Option<Journal>,
    entries: Option<Entries>,
    /// Goes up whenever the entries are read anew.
    version: u64,
    waiting: VecDeque<(About, Work)>,
    under_way: Option<(About, Receiver<Done>)>,
}

impl std::fmt::Debug for Shelf {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Shelf").field("journal", &self.journal).field("version", &self.version).finish_non_exhaustive()
    }
}

impl Shelf {
    /// The journal in the program's folder; without one nothing can be kept.
    pub(super) fn new(home: Option<&Path>) -> Self {
        let journal = home.map(|home| Journal::at(home.join("journal")));
        Self { journal, entries: None, version: 0, waiting: VecDeque::new(), under_way: None }
    }

    pub(super) fn journal(&self) -> Option<&Journal> {
        self.journal.as_ref()
    }

    /// The entries, what was made last first, or why they can't be read; none before they are read.
    pub(super) fn entries(&self) -> Option<Result<&[Arc<JournalEntry>], &NotRead>> {
        self.entries.as_ref().map(|entries| entries.as_ref().map(Vec::as_slice))
    }

    /// The entry of that name.
    pub(super) fn entry(&self, id: &str) -> Option<&Arc<JournalEntry>> {
        self.entries()?.ok()?.iter().find(|entry| entry.raw().id == id)
    }

    pub(super) fn version(&self) -> u64 {
        self.version
    }

    /// Whether something is being written or waits for it.
    pub(super) fn is_writing(&self) -> bool {
        let under_way = self.under_way.as_ref().map(|(about, _)| about);
        self.waiting.iter().map(|(about, _)| about).chain(under_way).any(|about| !matches!(about, About::Reading))
    }

    /// Reads the entries anew, unless that will happen anyway.
    pub(super) fn read_again(&mut self, ctx: &Context) {
        if self.under_way.is_none() && self.waiting.is_empty() {
            self.begin(About::Reading, ctx, |_journal| Ok(None));
        }
    }

    /// Does a piece of work when those before it are done, then reads the entries anew.
    pub(super) fn begin(
        &mut self,
        about: About,
        ctx: &Context,
        work: impl FnOnce(&Journal) -> Result<Option<Told>, JournalError> + Send + 'static,
    ) {
        self.waiting.push_back((about, Box::new(work)));
        self.go_on(ctx);
    }

    fn go_on(&mut self, ctx: &Context) {
        if self.under_way.is_some() {
            return;
        }
        let (Some(journal), Some((about, work))) = (self.journal.clone(), self.waiting.pop_front()) else { return };
        let (sender, receiver) = channel();
        let egui = ctx.clone();
        // Where there is no thread to be had, the sender is gone, and that is told.
        let _spawned = std::thread::Builder::new().name("journal".to_owned()).spawn(move || {
            let told = work(&journal).map_err(AnyRefusal::from);
            let entries = journal.entries().map_err(NotRead::from);
            let _gone = sender.send(Done { told, entries: entries.map(|all| all.into_iter().map(Arc::new).collect()) });
            egui.request_repaint();
        });
        self.under_way = Some((about, receiver));
    }

    /// Takes over what is done.
    pub(super) fn take_done(&mut self, ctx: &Context) -> Option<Outcome> {
        let (about, receiver) = self.under_way.as_ref()?;
        let about = about.clone();
        let told = match receiver.try_recv() {
            Err(TryRecvError::Empty) => return None,
            Err(TryRecvError::Disconnected) => {
                let broke_off = "the journal stopped unexpectedly; confirmed entries are kept";
                let refusal = AnyRefusal::from(telling::Told::new(broke_off, "try again"));
                self.entries.get_or_insert_with(|| Err(NotRead { refusal: refusal.clone(), is_damage: false }));
                Err(refusal)
            }
            Ok(done) => {
                self.entries = Some(done.entries);
                self.version += 1;
                done.told
            }
        };
        self.under_way = None;
        self.go_on(ctx);
        Some(Outcome { about, told })
    }
}
