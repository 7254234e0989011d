//! What is looked for in the journal.

use super::JournalEntry;
use crate::geometry::GarmentKind;
use jiff::civil::Date;

/// A query: everything that is given has to hold.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Query {
    /// Words that all occur in the entry's texts, its layout's name and note, or the names of garment and colours; capitals do not
    /// matter.
    pub words: Vec<String>,
    /// The kind of garment.
    pub kind: Option<GarmentKind>,
    /// Colours that all occur in the design or are the garment's own.
    pub colours: Vec<String>,
    /// Rated at least so.
    pub rating_from: Option<u8>,
    /// Rated at most so.
    pub rating_to: Option<u8>,
    /// Made on this day or later.
    pub from: Option<Date>,
    /// Made on this day or before.
    pub to: Option<Date>,
}

impl Query {
    /// Whether an entry is looked for. One that is not rated is found by no rating.
    #[must_use]
    pub fn matches(&self, entry: &JournalEntry) -> bool {
        let (raw, garment) = (entry.raw(), &entry.layout().garment);
        let rated = |holds: &dyn Fn(u8) -> bool| raw.rating.is_some_and(holds);
        self.kind.is_none_or(|kind| kind == garment.kind)
            && self.rating_from.is_none_or(|least| rated(&|rating| rating >= least))
            && self.rating_to.is_none_or(|most| rated(&|rating| rating <= most))
            && self.from.is_none_or(|from| raw.made >= from)
            && self.to.is_none_or(|to| raw.made <= to)
            && self.has_colours(entry)
            && self.has_words(entry)
    }

    fn has_colours(&self, entry: &JournalEntry) -> bool {
        let ground = entry.layout().garment.colour.as_ref().map(|swatch| swatch.name.as_str());
        let known: Vec<String> = entry.colours().chain(ground).map(str::to_lowercase).collect();
        self.colours.iter().all(|colour| known.contains(&colour.to_lowercase()))
    }

    fn has_words(&self, entry: &JournalEntry) -> bool {
        let (raw, layout) = (entry.raw(), entry.layout());
        let garment = &layout.garment;
        let ground = garment.colour.as_ref().map(|swatch| swatch.name.as_str());
        let own = [&raw.id, &raw.differently, &raw.change, &raw.note, &layout.name, &layout.note].map(String::as_str);
        let rest = ground.into_iter().chain(garment.size.as_deref()).chain([garment.kind.name()]);
        let from = raw.photos.iter().map(|photo| photo.from.as_str()).chain(raw.waits.iter().map(String::as_str));
        let all: Vec<&str> = own.into_iter().chain(rest).chain(entry.colours()).chain(from).collect();
        let all = all.join("\n").to_lowercase();
        self.words.iter().all(|word| all.contains(&word.to_lowercase()))
    }
}
