//! Journal entries, whose only format is still written, and the layouts in them, which stay in the format of their day.

use crate::{folder, has_keys, text};
use pleatwright::store::form::EntryV1;
use pleatwright::store::journal::{Journal, JournalEntry};
use pleatwright::store::parse_layout;

const ID: &str = "2027-05-06-harbour-row-tee-m";

fn exported() -> String {
    text(&format!("journal-1/{ID}.ron"))
}

#[test]
fn the_keys_of_entries_are_those_of_their_format() {
    has_keys::<EntryV1>("entry-1.txt", 1);
}

#[test]
fn an_exported_entry_is_read_and_written_as_it_stands() {
    let own = exported();
    let entry = JournalEntry::parse(&own).unwrap();
    assert_eq!(entry.text(), own);
    // Its layout is kept letter for letter, and made again from.
    let of_its_day = text("layout-1-by-hand.ron");
    assert_eq!(entry.raw().layout, of_its_day);
    assert_eq!(entry.again().unwrap().raw(), parse_layout(&of_its_day).unwrap().raw());
}

#[test]
fn an_exported_journal_is_taken_in_once_and_leaves_as_it_came() {
    let place = tempfile::tempdir().unwrap();
    let journal = Journal::at(place.path().join("journal"));
    let old = folder().join("files/journal-1");
    assert_eq!(journal.import(&old).unwrap().added, [ID]);
    assert_eq!(journal.import(&old).unwrap().same, [ID]);
    let out = place.path().join("out");
    journal.export(&out).unwrap();
    assert_eq!(std::fs::read_to_string(out.join(ID).with_added_extension("ron")).unwrap(), exported());
}
