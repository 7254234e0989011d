//! What lies on the journal's table: all entries, one that is open, two beside each other, a text that was set aside.

use super::entry::{self, Kept, Opened, TEXT_WIDTH};
use super::form::Form;
use super::panel::ADD;
use super::shelf::{About, Shelf, Told};
use super::{JournalView, Page, cards, compare, words};
use crate::app::context::Ask;
use crate::app::theme::Palette;
use crate::measure::LengthStyle;
use crate::store::journal::{Comparison, EntryPhoto, JournalEntry};
use crate::telling::Voice;
use egui::{Button, Event, Frame, Margin, RichText, ScrollArea, Ui};
use std::path::PathBuf;
use std::sync::Arc;

impl JournalView {
    /// What lies on the table.
    pub(crate) fn show(&mut self, lengths: LengthStyle, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let is_table = matches!(self.page, Page::All | Page::Choosing(_));
        ui.painter().rect_filled(ui.max_rect(), 0.0, if is_table { palette.table } else { palette.panel });
        if self.shelf.journal().is_none() {
            let words = "This system names no data folder, so nothing can be saved here.";
            return sentence(&RichText::new(words).color(palette.refused), ui);
        }
        self.keep_up(ui);
        Frame::NONE.inner_margin(Margin::symmetric(16, 10)).show(ui, |ui| match self.page {
            Page::Open(_) => self.opened(asks, ui),
            Page::Writing(number) => self.writing(number, asks, ui),
            Page::Beside(ref comparison) => {
                let (Some(journal), photos) = (self.shelf.journal(), &mut self.photos) else { return };
                let show = |ui: &mut Ui| compare::show(comparison, journal, photos, ui);
                ScrollArea::vertical().id_salt("beside").auto_shrink(false).show(ui, show);
            }
            Page::Learning => {
                let (shelf, version) = (&self.shelf, self.shelf.version());
                self.learn.show(|| photographed(shelf), version, asks, ui);
            }
            Page::All | Page::Choosing(_) => self.all(lengths, ui),
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
                Ok(Some(Told::plain(format!("Saved {name}; the earlier version is kept"))))
            });
        }
        if kept != Kept::Undo && form != Form::of(entry.raw()) {
            self.forms.insert(id.clone(), form);
        }
    }

    fn writing(&mut self, number: u64, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let is_writing = self.shelf.is_writing();
        let Some(aside) = self.asides.iter_mut().find(|aside| aside.number == number) else {
            self.page = Page::All;
            return;
        };
        let add = ScrollArea::vertical().id_salt(("writing", number)).auto_shrink(false).show(ui, |ui| {
            ui.set_max_width(ui.available_width().min(TEXT_WIDTH));
            ui.label(RichText::new(&aside.name).size(24.0).strong());
            let words = "Not in the journal yet. The entry keeps the layout as it was when you wrote this.";
            ui.label(RichText::new(words).color(Palette::of(ui.ctx()).warn));
            aside.form.show(false, asks, ui);
            ui.add_space(6.0);
            ui.add_enabled(!is_writing, Button::new(ADD)).clicked()
        });
        if add.inner {
            let aside = aside.clone();
            self.add(aside, ui.ctx());
        }
    }

    fn all(&mut self, lengths: LengthStyle, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let Some(journal) = self.shelf.journal().cloned() else { return };
        let entries = match self.shelf.entries() {
            None => return sentence(&RichText::new("Reading the journal…"), ui),
            Some(Err(refused)) => {
                sentence(&RichText::new(refused.refusal.say(Voice::window(lengths))).color(palette.refused), ui);
                let (mut again, mut salvage) = (false, false);
                ui.horizontal(|ui| {
                    again = ui.button("Try again").clicked();
                    salvage = refused.is_damage && ui.button("Salvage").on_hover_text(SALVAGE_ABOUT).clicked();
                });
                if salvage {
                    self.salvage(ui.ctx());
                } else if again {
                    self.shelf.read_again(ui.ctx());
                }
                return;
            }
            Some(Ok([])) => {
                let words = "No entries yet. When a garment is opened and washed, open its layout and write in the panel how it \
                    came out; both are kept here.";
                return sentence(&RichText::new(words), ui);
            }
            Some(Ok(entries)) => entries,
        };
        if let Page::Choosing(first) = &self.page {
            let words = format!("Choose an entry to compare with {}.", self.title_of(first));
            let mut stop = false;
            ui.horizontal_wrapped(|ui| {
                ui.label(RichText::new(words).strong().size(17.0));
                stop = ui.button("Cancel").clicked();
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
            return sentence(&RichText::new("No entry matches; remove a word or a choice."), ui);
        }
        let photos = &mut self.photos;
        let cards = |ui: &mut Ui| cards::show(found, &journal, photos, ui);
        let chosen = ScrollArea::vertical().id_salt("cards").auto_shrink(false).show(ui, cards).inner;
        if let Some(entry) = chosen.and_then(|id| self.shelf.entry(&id).cloned()) {
            self.choose(&entry, lengths);
        }
    }

    fn choose(&mut self, entry: &Arc<JournalEntry>, lengths: LengthStyle) {
        let first = match &self.page {
            Page::Choosing(first) => self.shelf.entry(first).cloned(),
            _ => None,
        };
        self.page = match first {
            Some(first) => Page::Beside(Box::new(Comparison::of((*first).clone(), (**entry).clone(), lengths))),
            None => Page::Open(Opened::new(entry)),
        };
    }
}

/// What the button is for.
const SALVAGE_ABOUT: &str = "Recover every text that can still be read; the damaged file is kept";

fn sentence(words: &RichText, ui: &mut Ui) {
    ui.add_space(20.0);
    ui.horizontal(|ui| {
        ui.add_space(12.0);
        ui.add(egui::Label::new(words.clone().size(17.0)).wrap());
    });
}

fn count(found: usize, all: usize) -> String {
    if found == all { words::entries(all) } else { format!("{found} of {}", words::entries(all)) }
}

/// The entries that have photographs, each with its title and the photographs by what they are called; none before the journal is read.
fn photographed(shelf: &Shelf) -> Option<Vec<Photographed>> {
    let (journal, entries) = (shelf.journal()?, shelf.entries()?.unwrap_or_default());
    let photo = |photo: &EntryPhoto| {
        let name = if photo.from.is_empty() { &photo.file } else { &photo.from };
        (name.clone(), journal.photo_path(photo))
    };
    let of = |entry: &Arc<JournalEntry>| (entry.clone(), words::title(entry), entry.raw().photos.iter().map(photo).collect());
    Some(entries.iter().filter(|entry| !entry.raw().photos.is_empty()).map(of).collect())
}

/// An entry, its title, and its photographs by what they are called.
type Photographed = (Arc<JournalEntry>, String, Vec<(String, PathBuf)>);
