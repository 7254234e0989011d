//! One entry: as it is written down, amended, read and checked.

use super::photo::{Photo, is_name};
use super::raw::{EntryPhoto, RawEntry};
use super::{EntryPlace, EntryProblem, JournalError};
use crate::form::WrittenForm as _;
use crate::layout::{Layout, LayoutSpec};
use crate::store::form::EntryV1;
use crate::store::formats::{Known, Unread, read};
use crate::store::layout_file::{not_read, parse_spec};
use crate::store::{TextError, parse_layout};
use jiff::civil::Date;
use ron::extensions::Extensions;
use std::path::PathBuf;

/// Ratings: 1 (not again) to 5 (just so).
pub const RATINGS: std::ops::RangeInclusive<u8> = 1..=5;
/// Longest text of the maker's own, characters.
const LONGEST_TEXT: usize = 20_000;
/// Longest layout, characters.
const LONGEST_LAYOUT: usize = 1_000_000;
/// Longest name of an entry, characters: with a number after it still a file's name.
const LONGEST_ID: usize = 96;

/// Every format that an entry has ever had.
const ENTRY_FORMATS: [Known<RawEntry>; 1] = [Known::by::<EntryV1>()];

/// What is to be written down.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// The day on which it was made.
    pub made: Date,
    /// The text of the layout's file.
    pub layout: String,
    /// Which of several equal garments of that day it is, such as `2 of 3`; nothing for an only one.
    pub garment: String,
    /// How it came out, 1 to 5.
    pub rating: Option<u8>,
    /// What was done otherwise than the layout says.
    pub differently: String,
    /// What to change next time.
    pub change: String,
    /// Anything else.
    pub note: String,
    /// How the waits of the day came out: the sentences of a run's verdicts.
    pub waits: Vec<String>,
    /// When each step of the day was done, as a run tells it.
    pub times: Vec<String>,
    /// Files of photographs.
    pub photos: Vec<PathBuf>,
}

impl Draft {
    /// A draft that says only what was made, and when.
    #[must_use]
    pub const fn new(made: Date, layout: String) -> Self {
        Self {
            made,
            layout,
            garment: String::new(),
            rating: None,
            differently: String::new(),
            change: String::new(),
            note: String::new(),
            waits: Vec::new(),
            times: Vec::new(),
            photos: Vec::new(),
        }
    }
}

/// What is to be said otherwise; what is none stays.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Amendment {
    /// The day on which it was made.
    pub made: Option<Date>,
    /// How it came out, 1 to 5.
    pub rating: Option<u8>,
    /// What was done otherwise than the layout says.
    pub differently: Option<String>,
    /// What to change next time.
    pub change: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// How the waits of the day came out.
    pub waits: Option<Vec<String>>,
    /// Files of more photographs.
    pub photos: Vec<PathBuf>,
    /// Photographs to take from the entry, by their [`EntryPhoto::file`]; their files stay in the journal.
    pub drop_photos: Vec<String>,
}

/// A checked entry. Its layout can be read; whether this program can still draw it is seen when it is made again.
#[derive(Debug, Clone, PartialEq)]
pub struct JournalEntry {
    raw: RawEntry,
    layout: LayoutSpec,
}

impl JournalEntry {
    /// The entry as it is stored.
    #[must_use]
    pub const fn raw(&self) -> &RawEntry {
        &self.raw
    }

    /// The layout that it was made from.
    #[must_use]
    pub const fn layout(&self) -> &LayoutSpec {
        &self.layout
    }

    /// What was made: the layout's name, and which of several garments it is: `Harbour Row tee, M, 2 of 3`.
    #[must_use]
    pub fn name(&self) -> String {
        let (name, garment) = (&self.layout.name, &self.raw.garment);
        if garment.is_empty() { name.clone() } else { format!("{name}, {garment}") }
    }

    /// The colours of the design, in rotation.
    pub fn colours(&self) -> impl Iterator<Item = &str> {
        self.layout.swatches().into_iter().map(|swatch| swatch.name.as_str())
    }

    /// The layout that it was made from, to make it again.
    ///
    /// # Errors
    /// [`EntryProblem::Layout`] if this program can't use that layout any more.
    pub fn again(&self) -> Result<Layout, JournalError> {
        parse_layout(&self.raw.layout).map_err(|(_, problem)| self.wrong_layout(problem))
    }

    /// The same with what to change as the layout's note, to be changed by.
    ///
    /// # Errors
    /// As for [`JournalEntry::again`].
    pub fn again_with_changes(&self) -> Result<Layout, JournalError> {
        let mut raw = self.again()?.raw().clone();
        raw.note = self.change_note();
        Layout::try_from(raw).map_err(|error| self.wrong_layout(TextError::Value(Box::new(error))))
    }

    fn place(&self) -> EntryPlace {
        EntryPlace::Named(self.raw.id.clone())
    }

    fn wrong_layout(&self, problem: TextError) -> JournalError {
        JournalError::Entry { place: self.place(), problem: EntryProblem::Layout(Box::new(problem)) }
    }

    /// The text of its plain file.
    #[must_use]
    pub fn text(&self) -> String {
        entry_text(&self.raw)
    }

    /// Reads the text of a plain file.
    ///
    /// # Errors
    /// [`EntryProblem`].
    pub fn parse(text: &str) -> Result<Self, EntryProblem> {
        let (raw, _) = read(text, &ENTRY_FORMATS).map_err(|unread| match unread {
            Unread::Form(error) => {
                let (place, problem) = not_read(error);
                EntryProblem::Form { place, problem: Box::new(problem) }
            }
            Unread::Format { found, newest } => EntryProblem::Format { found, known: newest },
        })?;
        Self::check(raw)
    }

    /// Checks an entry.
    fn check(raw: RawEntry) -> Result<Self, EntryProblem> {
        let is_id = |c: char| c == '-' || (c.is_alphanumeric() && !c.is_uppercase());
        // A number may have been put after the name.
        if raw.id.is_empty() || raw.id.chars().count() > LONGEST_ID + 8 || !raw.id.chars().all(is_id) {
            return Err(EntryProblem::Id { id: raw.id, most: LONGEST_ID });
        }
        if let Some(rating) = raw.rating.filter(|rating| !RATINGS.contains(rating)) {
            return Err(EntryProblem::Rating { rating });
        }
        let texts = [("differently", &raw.differently), ("change", &raw.change), ("note", &raw.note)];
        let waits = raw.waits.iter().map(|wait| ("waits", wait));
        let times = raw.times.iter().map(|time| ("times", time));
        for (field, text) in texts.into_iter().chain(waits).chain(times) {
            check_length(field, text, LONGEST_TEXT)?;
        }
        check_length("layout", &raw.layout, LONGEST_LAYOUT)?;
        if let Some(photo) = raw.photos.iter().find(|photo| !is_name(&photo.file)) {
            return Err(EntryProblem::PhotoName { file: photo.file.clone() });
        }
        let (layout, _) = parse_spec(&raw.layout).map_err(|(_, problem)| EntryProblem::Layout(Box::new(problem)))?;
        Ok(Self { raw, layout })
    }

    /// An entry for a draft, under a name that may be taken.
    pub(super) fn of_draft(draft: &Draft, photos: &[Photo]) -> Result<Self, JournalError> {
        let wrong = |problem| JournalError::Entry { place: EntryPlace::New, problem };
        // What can't be drawn today will not be drawn again.
        let layout = parse_layout(&draft.layout).map_err(|(_, problem)| wrong(EntryProblem::Layout(Box::new(problem))))?;
        let entry = RawEntry {
            id: id(draft.made, layout.name()),
            made: draft.made,
            garment: draft.garment.clone(),
            rating: draft.rating,
            differently: draft.differently.clone(),
            change: draft.change.clone(),
            note: draft.note.clone(),
            waits: draft.waits.clone(),
            times: draft.times.clone(),
            photos: named(photos),
            layout: draft.layout.clone(),
        };
        Self::check(entry).map_err(wrong)
    }

    /// The entry with an amendment.
    pub(super) fn amended(&self, amendment: &Amendment, photos: &[Photo]) -> Result<Self, JournalError> {
        let wrong = |problem| JournalError::Entry { place: self.place(), problem };
        let mut raw = self.raw.clone();
        if let Some(file) = amendment.drop_photos.iter().find(|&file| raw.photos.iter().all(|photo| photo.file != *file)) {
            return Err(wrong(EntryProblem::NoPhoto { file: file.clone() }));
        }
        raw.photos.retain(|photo| !amendment.drop_photos.contains(&photo.file));
        for photo in named(photos) {
            if raw.photos.iter().all(|known| known.file != photo.file) {
                raw.photos.push(photo);
            }
        }
        raw.made = amendment.made.unwrap_or(raw.made);
        raw.rating = amendment.rating.or(raw.rating);
        for (text, new) in [
            (&mut raw.differently, &amendment.differently),
            (&mut raw.change, &amendment.change),
            (&mut raw.note, &amendment.note),
        ] {
            if let Some(new) = new {
                text.clone_from(new);
            }
        }
        raw.waits = amendment.waits.clone().unwrap_or(raw.waits);
        Self::check(raw).map_err(wrong)
    }

    pub(super) fn with_id(self, id: String) -> Self {
        Self { raw: RawEntry { id, ..self.raw }, ..self }
    }

    /// The name that it would like to have.
    pub(super) fn wanted_id(&self) -> String {
        self.raw.id.clone()
    }

    /// What to change, as the note of a layout that is to be changed.
    fn change_note(&self) -> String {
        let rated = self.raw.rating.map_or_else(String::new, |rating| format!(", rated {rating} of 5"));
        let mut note = format!("After the one of {}{rated}.", self.raw.made);
        for (lead, text) in [("To change", &self.raw.change), ("Done differently", &self.raw.differently)] {
            if !text.is_empty() {
                note += &format!(" {lead}: {}", text.split_whitespace().collect::<Vec<_>>().join(" "));
            }
        }
        note
    }
}

fn check_length(field: &'static str, text: &str, most: usize) -> Result<(), EntryProblem> {
    let length = text.chars().count();
    if length > most { Err(EntryProblem::Long { field, length, most }) } else { Ok(()) }
}

fn named(photos: &[Photo]) -> Vec<EntryPhoto> {
    photos.iter().map(|photo| EntryPhoto { file: photo.name.clone(), from: photo.from.clone() }).collect()
}

/// Day and layout as a name: small letters, digits and hyphens.
fn id(made: Date, name: &str) -> String {
    let plain: String = name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let words: Vec<&str> = plain.split_whitespace().collect();
    let id: String = format!("{made}-{}", words.join("-")).chars().take(LONGEST_ID).collect();
    id.trim_end_matches('-').to_owned()
}

/// The text of an entry; texts of several lines stand as they are, to be read by eye.
pub(super) fn entry_text(entry: &RawEntry) -> String {
    let pretty =
        ron::ser::PrettyConfig::new().new_line("\n").depth_limit(2).escape_strings(false).extensions(Extensions::IMPLICIT_SOME);
    let text = ron::Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .to_string_pretty(&EntryV1::of(entry.clone()), pretty);
    // Strings, numbers and lists: all that RON can write.
    text.map(|text| text + "\n").unwrap_or_default()
}
