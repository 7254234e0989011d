//! The journal: attaching photographs, plain files, making something again.

use super::App;
use super::foot::Message;
use crate::app::context::Ask;
use crate::app::journal::JournalAsk;
use crate::app::step::Step;
use crate::edit::Document;
use crate::import::DrawingFormat;
use crate::store::journal::is_photograph;
use crate::store::{BUNDLE_ENDING, LAYOUT_ENDING, file_said};
use crate::telling::Told;
use egui::{Context, Ui};
use std::path::{Path, PathBuf};

impl App {
    pub(super) fn journal(&mut self, ask: JournalAsk, ctx: &Context) {
        match ask {
            JournalAsk::Attach(photos) => self.attach(photos),
            JournalAsk::Drop(photos) => self.attach_dropped(photos),
            JournalAsk::Export(folder) => self.journal.export(folder, ctx),
            JournalAsk::Import(folder) => self.journal.import(folder, ctx),
            JournalAsk::MakeAgain { id, with_changes } => match self.journal.layout_of(&id, with_changes) {
                Ok(layout) => {
                    let name = layout.name().to_owned();
                    // As it was, the journal holds it; with a new note, nothing does yet.
                    let document = if with_changes { Document::unsaved(layout) } else { Document::new(layout) };
                    self.take(document, if with_changes { Step::Garment } else { Step::Fold });
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

    /// What files dropped on the window ask for: photographs go to the journal, a layout is opened, a line is taken from a drawing. What nothing
    /// here reads is refused.
    pub(super) fn dropped(&mut self, ui: &Ui) -> Option<Ask> {
        let files: Vec<PathBuf> = ui.input(|input| input.raw.dropped_files.iter().map(|file| file.path().to_owned()).collect());
        let first = files.first()?.clone();
        let (photos, others): (Vec<PathBuf>, Vec<PathBuf>) = files.into_iter().partition(|file| is_photograph(file));
        let is_layout = |file: &&PathBuf| ["ron", LAYOUT_ENDING, BUNDLE_ENDING].contains(&ending(file).as_str());
        let layout = others.iter().find(is_layout);
        let is_drawing = |file: &&PathBuf| !file.is_dir() && DrawingFormat::of(file).is_ok();
        if let Some(drawing) = others.first().filter(|file| others.len() == 1 && is_drawing(file)) {
            return self.dropped_drawing(drawing);
        }
        if let Some(other) = others.iter().find(|file| !is_layout(file)) {
            self.refuse(unreadable(other).at(file_said(other, self.voice())));
            return None;
        }
        match layout {
            Some(layout) => Some(Ask::Open(layout.clone())),
            None if self.step == Step::Journal || self.document.is_some() => Some(Ask::Journal(JournalAsk::Drop(photos))),
            None => {
                let told =
                    Told::new("no layout is open for this photograph", "open its layout or its journal entry, then drop it");
                self.refuse(told.at(file_said(&first, self.voice())));
                None
            }
        }
    }

    /// Attaches photographs that were dropped: beside the journal they are meant for a new entry of the open layout.
    fn attach_dropped(&mut self, photos: Vec<PathBuf>) {
        if self.step != Step::Journal {
            self.journal.begin_entry();
            if let Some(document) = &self.document {
                let (name, many) = (document.layout().name(), if photos.len() == 1 { "photograph" } else { "photographs" });
                let words = format!("Attached the {many} to the new journal entry of {name}; the entry is not added yet");
                self.message = Some(Message::told(words));
            }
        }
        self.attach(photos);
    }

    /// Takes over what the journal's threads have done, and tells it.
    pub(super) fn journal_done(&mut self, ctx: &Context) {
        match self.journal.take_done(ctx) {
            Some(Ok(told)) => self.message = Some(Message { offer: told.offer, ..Message::told(told.words) }),
            Some(Err(words)) => self.refuse(words),
            None => {}
        }
    }
}

/// The ending of a file's name, in small letters.
fn ending(file: &Path) -> String {
    file.extension().map_or_else(String::new, |ending| ending.to_string_lossy().to_lowercase())
}

/// Why a file that was dropped does nothing.
fn unreadable(file: &Path) -> Told {
    let what = match ending(file).as_str() {
        _ if file.is_dir() => "a folder can't be dropped here".to_owned(),
        "" => "files of this kind can't be opened here".to_owned(),
        ending => format!("{} files can't be opened here", ending.to_uppercase()),
    };
    Told::new(what, "drop a layout (.ron), a drawing (.svg, .dxf) or photographs (JPEG, PNG, WebP, GIF, TIFF, HEIC, AVIF)")
}
