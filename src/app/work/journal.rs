//! The journal: attaching photographs, plain files, making something again.

use super::App;
use super::foot::Message;
use crate::app::context::Ask;
use crate::app::journal::JournalAsk;
use crate::app::step::Step;
use crate::edit::Document;
use egui::{Context, Ui};
use std::path::{Path, PathBuf};

impl App {
    pub(super) fn journal(&mut self, ask: JournalAsk, ctx: &Context) {
        match ask {
            JournalAsk::Attach(photos) => self.attach(photos),
            JournalAsk::Export(folder) => self.journal.export(folder, ctx),
            JournalAsk::Import(folder) => self.journal.import(folder, ctx),
            JournalAsk::MakeAgain { id, with_changes } => match self.journal.layout_of(&id, with_changes) {
                Ok(layout) => {
                    let name = layout.name().to_owned();
                    // As it was, the journal holds it; with a new note, nothing does yet.
                    let document = if with_changes { Document::unsaved(layout) } else { Document::new(layout) };
                    self.take(document, if with_changes { Step::Garment } else { Step::Burst });
                    self.tell(Ok(format!("Opened {name} as a new layout")));
                }
                Err(words) => self.refuse(words),
            },
        }
    }

    fn attach(&mut self, photos: Vec<PathBuf>) {
        self.step = Step::Journal;
        if let Err(words) = self.journal.attach(photos, self.document.is_some()) {
            self.refuse(words);
        }
    }

    /// What files dropped on the window ask for: photographs go to the journal while it shows, everything else is opened.
    pub(super) fn dropped(&self, ui: &Ui) -> Option<Ask> {
        let files: Vec<PathBuf> = ui.input(|input| input.raw.dropped_files.iter().map(|file| file.path().to_owned()).collect());
        let first = files.first()?;
        let is_layout = |file: &Path| file.extension().is_some_and(|ending| ending == "ron");
        let takes = self.step == Step::Journal && self.journal.takes_photographs(self.document.is_some());
        let to_journal = takes && !is_layout(first);
        Some(if to_journal { Ask::Journal(JournalAsk::Attach(files)) } else { Ask::Open(first.clone()) })
    }

    /// Takes over what the journal's threads have done, and tells it.
    pub(super) fn journal_done(&mut self, ctx: &Context) {
        match self.journal.take_done(ctx) {
            Some(Ok(told)) => self.message = Some(Message { words: told.words, refused: false, offer: told.offer }),
            Some(Err(words)) => self.refuse(words),
            None => {}
        }
    }
}
