//! What is looked for in the journal: words, and what narrows them.

use super::form::date;
use super::words;
use crate::app::theme::Palette;
use crate::geometry::GarmentKind;
use crate::store::journal::{JournalEntry, Query, RATINGS};
use egui::{ComboBox, RichText, TextEdit, Ui};
use std::sync::Arc;

/// What is looked for, as it is written.
#[derive(Debug, Default)]
pub(super) struct Finding {
    words: String,
    kind: Option<GarmentKind>,
    colour: Option<String>,
    at_least: Option<u8>,
    at_most: Option<u8>,
    since: String,
    until: String,
    /// What was found last, in which version of the entries, and for what.
    found: Option<(u64, Query, Vec<Arc<JournalEntry>>)>,
    /// The colours that occur in that version of the entries.
    colours: Option<(u64, Vec<String>)>,
}

impl Finding {
    /// The entries that fit; looked for again only when they or the query are others.
    pub(super) fn found(&mut self, version: u64, entries: &[Arc<JournalEntry>]) -> &[Arc<JournalEntry>] {
        let query = self.query();
        if !self.found.as_ref().is_some_and(|(of, for_query, _)| *of == version && *for_query == query) {
            let fitting = entries.iter().filter(|entry| query.matches(entry)).cloned().collect();
            self.found = Some((version, query, fitting));
        }
        self.found.as_ref().map(|(_, _, found)| found.as_slice()).unwrap_or_default()
    }

    fn query(&self) -> Query {
        Query {
            words: self.words.split_whitespace().map(str::to_owned).collect(),
            kind: self.kind,
            colours: self.colour.iter().cloned().collect(),
            rating_from: self.at_least,
            rating_to: self.at_most,
            from: date(&self.since).ok(),
            to: date(&self.until).ok(),
        }
    }

    /// Everything is looked for.
    pub(super) fn clear(&mut self) {
        let (found, colours) = (self.found.take(), self.colours.take());
        *self = Self { found, colours, ..Self::default() };
    }

    fn known_colours(&mut self, version: u64, entries: &[Arc<JournalEntry>]) -> Vec<String> {
        if self.colours.as_ref().is_none_or(|(of, _)| *of != version) {
            let own = |entry: &JournalEntry| entry.layout().garment.colour.as_ref().map(|swatch| swatch.name.to_lowercase());
            let mut names: Vec<String> =
                entries.iter().flat_map(|entry| entry.colours().map(str::to_lowercase).chain(own(entry))).collect();
            names.sort();
            names.dedup();
            self.colours = Some((version, names));
        }
        self.colours.as_ref().map(|(_, names)| names.clone()).unwrap_or_default()
    }

    /// The fields, above the entries.
    pub(super) fn show(&mut self, version: u64, entries: &[Arc<JournalEntry>], ui: &mut Ui) {
        let colours = self.known_colours(version, entries);
        ui.horizontal(|ui| {
            let name = ui.label("Search");
            let room = (ui.available_width() - 120.0).max(120.0);
            let field = TextEdit::singleline(&mut self.words).desired_width(room).hint_text("name, note, colour, size ...");
            ui.add(field).labelled_by(name.id);
            if ui.add_enabled(self.query() != Query::default(), egui::Button::new("Show all")).clicked() {
                self.clear();
            }
        });
        ui.horizontal_wrapped(|ui| {
            let kinds: Vec<_> = GarmentKind::every().map(|kind| (Some(kind), kind.name().to_owned())).collect();
            pick(ui, "Garment", &mut self.kind, "any garment", &kinds);
            let colours: Vec<_> = colours.into_iter().map(|name| (Some(name.clone()), name)).collect();
            pick(ui, "Colour", &mut self.colour, "any colour", &colours);
            let ratings: Vec<_> = RATINGS.map(|one| (Some(one), words::rating(Some(one)).to_owned())).collect();
            pick(ui, "Rating from", &mut self.at_least, "any", &ratings);
            pick(ui, "Rating to", &mut self.at_most, "any", &ratings);
            day(ui, "Made from", &mut self.since);
            day(ui, "Made to", &mut self.until);
        });
    }
}

/// A choice that narrows, or none.
fn pick<T: Clone + PartialEq>(ui: &mut Ui, label: &str, chosen: &mut Option<T>, any: &str, all: &[(Option<T>, String)]) {
    // Name and box are one piece that is not torn apart at the end of a line.
    ui.allocate_ui_with_layout(egui::vec2(PIECE_WIDTH, PIECE_HEIGHT), egui::Layout::left_to_right(egui::Align::Center), |ui| {
        ui.set_min_size(egui::vec2(PIECE_WIDTH, PIECE_HEIGHT));
        let name = ui.label(label);
        let now = all.iter().find(|(one, _)| one == chosen).map_or(any, |(_, words)| words);
        let room = ui.available_width();
        let combo = ComboBox::from_id_salt(label).width(room).selected_text(now).truncate().show_ui(ui, |ui| {
            ui.selectable_value(chosen, None, any);
            for (one, words) in all {
                ui.selectable_value(chosen, one.clone(), words);
            }
        });
        combo.response.labelled_by(name.id);
    });
}

/// Room for a name and what is chosen, points.
const PIECE_WIDTH: f32 = 216.0;
const PIECE_HEIGHT: f32 = 28.0;

fn day(ui: &mut Ui, label: &str, text: &mut String) {
    ui.allocate_ui_with_layout(egui::vec2(PIECE_WIDTH, PIECE_HEIGHT), egui::Layout::left_to_right(egui::Align::Center), |ui| {
        ui.set_min_size(egui::vec2(PIECE_WIDTH, PIECE_HEIGHT));
        let name = ui.label(label);
        let wrong = if text.trim().is_empty() { None } else { date(text).err() };
        let room = ui.available_width() - if wrong.is_some() { 20.0 } else { 0.0 };
        let field = TextEdit::singleline(text).id_salt(label).desired_width(room).hint_text("any day");
        ui.add(field).labelled_by(name.id);
        if let Some(wrong) = wrong {
            ui.label(RichText::new("!").strong().color(Palette::of(ui.ctx()).refused)).on_hover_text(wrong);
        }
    });
}
