//! What is said of something made: the same fields for a new entry and for one that is amended.

use super::words;
use crate::app::action::Action;
use crate::app::context::Ask;
use crate::app::field;
use crate::app::today::today;
use crate::plan::{RunReport, day_words, said_past_day};
use crate::store::journal::{Amendment, Draft, RATINGS, RawEntry};
use crate::telling::{Refused as _, Voice};
use egui::{Label, RichText, TextEdit, Ui};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use std::path::PathBuf;

/// What the fields say.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Form {
    /// The day on which it was made; today where none is given.
    made: Option<Date>,
    rating: Option<u8>,
    differently: String,
    outcome: String,
    change: String,
    /// Files of photographs to attach.
    photos: Vec<PathBuf>,
    /// Photographs to take away, by their names in the journal.
    dropped: Vec<String>,
    /// Which of several garments of a run it is; kept with a new entry.
    garment: String,
    /// How the waits of a run came out, and when its steps were done; kept with a new entry unless they are left out.
    waits: Vec<String>,
    times: Vec<String>,
}

impl Form {
    /// What an entry says.
    pub(super) fn of(entry: &RawEntry) -> Self {
        Self {
            made: Some(entry.made),
            rating: entry.rating,
            differently: entry.differently.clone(),
            outcome: entry.note.clone(),
            change: entry.change.clone(),
            photos: Vec::new(),
            dropped: Vec::new(),
            garment: String::new(),
            // What an entry says of the day is not changed by hand.
            waits: Vec::new(),
            times: Vec::new(),
        }
    }

    /// What a run tells of the garments of a layout.
    pub(super) fn of_run(report: &RunReport) -> Self {
        let RunReport { garment, made, notes, waits, times, .. } = report;
        Self {
            made: *made,
            garment: garment.clone(),
            outcome: notes.join("\n"),
            waits: waits.clone(),
            times: times.clone(),
            ..Self::default()
        }
    }

    /// A new entry for a layout.
    pub(super) fn draft(&self, layout: String) -> Draft {
        Draft {
            garment: self.garment.clone(),
            rating: self.rating,
            differently: self.differently.trim().to_owned(),
            change: self.change.trim().to_owned(),
            note: self.outcome.trim().to_owned(),
            waits: self.waits.clone(),
            times: self.times.clone(),
            photos: self.photos.clone(),
            ..Draft::new(self.made.unwrap_or_else(today), layout)
        }
    }

    /// What an entry is to say otherwise.
    pub(super) fn amendment(&self, entry: &RawEntry) -> Amendment {
        let text = |now: &str, before: &str| (now.trim() != before).then(|| now.trim().to_owned());
        Amendment {
            made: self.made.filter(|made| *made != entry.made),
            rating: self.rating.filter(|rating| Some(*rating) != entry.rating),
            differently: text(&self.differently, &entry.differently),
            change: text(&self.change, &entry.change),
            note: text(&self.outcome, &entry.note),
            waits: None,
            photos: self.photos.clone(),
            drop_photos: self.dropped.clone(),
        }
    }

    /// Whether nothing is written in it.
    pub(super) fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// How it begins, so that it can be told from others.
    pub(super) fn beginning(&self) -> String {
        let texts = [&self.outcome, &self.change, &self.differently];
        if let Some(line) = texts.into_iter().flat_map(|text| text.lines()).map(str::trim).find(|line| !line.is_empty()) {
            let cut: String = line.chars().take(LONGEST_BEGINNING).collect();
            if cut.len() == line.len() {
                return format!("\"{line}\"");
            }
            let whole_words = cut.rsplit_once(' ').map_or(cut.as_str(), |(before, _)| before);
            return format!("\"{whole_words} …\"");
        }
        match (self.rating, self.photos.len()) {
            (Some(rating), _) => format!("rated {}", words::rating(Some(rating))),
            (None, 0) if !self.times.is_empty() => "the times of a run".to_owned(),
            (None, 0) => "a date".to_owned(),
            (None, 1) => "a photograph".to_owned(),
            (None, count) => format!("{count} photographs"),
        }
    }

    /// Attaches photographs, each file once.
    pub(super) fn attach(&mut self, photos: Vec<PathBuf>) {
        for photo in photos {
            if !self.photos.contains(&photo) {
                self.photos.push(photo);
            }
        }
    }

    /// Takes a photograph of the entry away, or lets it stay after all.
    pub(super) fn toggle_photo(&mut self, file: &str) {
        if self.is_dropped(file) {
            self.dropped.retain(|dropped| dropped != file);
        } else {
            self.dropped.push(file.to_owned());
        }
    }

    pub(super) fn is_dropped(&self, file: &str) -> bool {
        self.dropped.iter().any(|dropped| dropped == file)
    }

    /// The fields. A rating that was given once can be changed, and not taken back.
    pub(super) fn show(&mut self, rated: bool, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let written = day_words(self.made.unwrap_or_else(today));
        if let Some(made) = field::read_wide(ui, "Made on", &written, |text| date(text).map(Some)) {
            self.made = made;
        }
        ui.label("Rating");
        let none = (!rated).then_some(None);
        ui.horizontal_wrapped(|ui| {
            for one in none.into_iter().chain(RATINGS.map(Some)) {
                ui.radio_value(&mut self.rating, one, words::rating(one));
            }
        });
        for (label, text) in [
            ("Done differently", &mut self.differently),
            ("How it came out", &mut self.outcome),
            ("What to change", &mut self.change),
        ] {
            let name = ui.label(label);
            let edit = TextEdit::multiline(text).id_salt(label).desired_width(f32::INFINITY).desired_rows(2);
            ui.add(edit).labelled_by(name.id);
        }
        self.of_the_day(ui);
        let mut removed = None;
        for (place, photo) in self.photos.iter().enumerate() {
            let name = photo.file_name().unwrap_or_default().to_string_lossy();
            ui.horizontal(|ui| {
                let leave = ui.button("Leave out").on_hover_text(format!("Don't attach {name}"));
                leave.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, format!("Remove {name}")));
                if leave.clicked() {
                    removed = Some(place);
                }
                ui.add(Label::new(&*name).truncate()).on_hover_text(photo.display().to_string());
            });
        }
        if let Some(place) = removed {
            self.photos.remove(place);
        }
        let action = Action::AttachPhotograph;
        if ui.button(action.label()).on_hover_text(action.tooltip()).clicked() {
            asks.push(Ask::Act(action));
        }
        ui.label(RichText::new("Or drop photographs on the window.").weak());
    }
}

impl Form {
    /// What a run told, and a way to leave it out.
    fn of_the_day(&mut self, ui: &mut Ui) {
        if self.waits.is_empty() && self.times.is_empty() {
            return;
        }
        ui.add_space(4.0);
        ui.label(RichText::new("From the run").strong());
        for line in self.waits.iter().chain(&self.times) {
            ui.add(Label::new(RichText::new(line).weak()).wrap());
        }
        if ui.button("Leave out the run's times").on_hover_text("The run's own file keeps them").clicked() {
            self.waits.clear();
            self.times.clear();
        }
    }
}

/// Letters of a text that are shown of it at most, where it is only named.
const LONGEST_BEGINNING: usize = 60;

/// A date as it is written here.
pub(super) fn date(text: &str) -> Result<Date, String> {
    said_past_day(text, today()).map_err(|error| error.say(Voice::FILE))
}
