//! The journal in the window.

use crate::harness::{TEE, Window, click, fill, layout, name_file, press, wait, window, window_with, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use pleatwright::store::journal::{Draft, Journal, JournalEntry};
use pleatwright::store::{EXAMPLE_LAYOUTS, layout_text, parse_layout};
use std::path::{Path, PathBuf};

pub(crate) fn name_folder(window: &mut Window, path: &Path) {
    fill(window, "Folder", path.to_str().unwrap());
    press(window, Modifiers::NONE, Key::Enter);
}

pub(crate) fn journal(home: &Path) -> Journal {
    Journal::at(home.join("journal"))
}

/// The only entry of a journal.
pub(crate) fn only_entry(home: &Path) -> JournalEntry {
    let mut entries = journal(home).entries().unwrap();
    assert_eq!(entries.len(), 1);
    entries.swap_remove(0)
}

/// The window at the journal, the first example open.
pub(crate) fn at_journal(home: &Path) -> Window {
    let mut window = window(home);
    click(&mut window, TEE);
    click(&mut window, "View Journal");
    window
}

pub(crate) fn is_there(label: &str) -> impl Fn(&Window) -> bool {
    move |window| window.query_by_label_contains(label).is_some()
}

/// A photograph of 600 by 400 pixels, made here.
pub(crate) fn photograph(folder: &Path) -> PathBuf {
    let path = folder.join("drying.jpg");
    let tone = |at: u32| u8::try_from(at % 256).unwrap();
    let pixel = |x: u32, y: u32| image::Rgb([tone(x), tone(y), 90]);
    image::RgbImage::from_fn(600, 400, pixel).save(&path).unwrap();
    path
}

/// Two entries: the tee on the third of May, rated 4; a tote on the tenth, rated 2.
pub(crate) fn two(home: &Path) {
    let (tee, tote) = (parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap(), the_tote());
    let draft = |day: &str, layout: String, rating: u8, change: &str, note: &str| Draft {
        rating: Some(rating),
        change: change.to_owned(),
        note: note.to_owned(),
        ..Draft::new(day.parse().unwrap(), layout)
    };
    let text = layout_text(tee.raw());
    journal(home).add(&draft("2027-05-03", text, 4, "one wrap more", "rings crisp")).unwrap();
    journal(home).add(&draft("2027-05-10", tote, 2, "", "muddy")).unwrap();
}

fn the_tote() -> String {
    let tote = EXAMPLE_LAYOUTS.iter().find(|example| parse_layout(example.text).unwrap().name() == "Harbour Row tote");
    tote.unwrap().text.to_owned()
}

pub(crate) const TEE_CARD: &str = "Harbour Row tee, M, 3 May 2027, crew-neck tee, M, 4, good";
const TOTE_CARD: &str = "Harbour Row tote, 10 May 2027";

#[test]
fn what_was_made_is_added_with_its_photograph() {
    let home = tempfile::tempdir().unwrap();
    let photo = photograph(home.path());
    let mut window = at_journal(home.path());
    wait(&mut window, "that nothing is there", is_there("No entries yet"));
    write(&mut window, "Made on", "2027-05-03");
    click(&mut window, "4, good");
    fill(&mut window, "Done differently", "bound it damp");
    fill(&mut window, "How it came out", "rings crisp, centre pale");
    fill(&mut window, "What to change", "one wrap more");
    click(&mut window, "Attach a photograph…");
    name_file(&mut window, &photo);
    assert!(window.query_by_label("Remove drying.jpg").is_some());
    click(&mut window, "Add to the journal");
    wait(&mut window, "the confirmation", is_there("Added Harbour Row tee, M, made 3 May 2027"));
    let entry = only_entry(home.path());
    let raw = entry.raw();
    assert_eq!((raw.made.to_string().as_str(), raw.rating), ("2027-05-03", Some(4)));
    let said = [raw.differently.as_str(), raw.note.as_str(), raw.change.as_str()];
    assert_eq!(said, ["bound it damp", "rings crisp, centre pale", "one wrap more"]);
    assert_eq!(Some(&raw.layout), window.state().layout_text().as_ref());
    let kept = std::fs::read(journal(home.path()).photo_path(&raw.photos[0])).unwrap();
    assert_eq!((raw.photos[0].from.as_str(), kept), ("drying.jpg", std::fs::read(photo).unwrap()));
    // The form is ready for the next one, and the entry opens with its photograph and its numbers.
    assert!(window.query_by_label("Remove drying.jpg").is_none());
    click(&mut window, TEE_CARD);
    let ties = layout(&window).bound_with();
    for label in ["Photograph drying.jpg", &ties, "230 mm"] {
        assert!(window.query_by_label(label).is_some(), "{label}");
    }
}

#[test]
fn entries_are_found_by_word_garment_and_rating() {
    let home = tempfile::tempdir().unwrap();
    two(home.path());
    let mut window = at_journal(home.path());
    wait(&mut window, "both", is_there("2 entries"));
    // What was made last comes first.
    let top = |window: &Window, label: &str| window.get_by_label_contains(label).rect().top();
    assert!(top(&window, TOTE_CARD) < top(&window, TEE_CARD));
    let only_tee = |window: &Window| {
        window.query_by_label("1 of 2 entries").is_some()
            && window.query_by_label(TEE_CARD).is_some()
            && window.query_by_label_contains(TOTE_CARD).is_none()
    };
    fill(&mut window, "Search", "CRISP wrap");
    assert!(only_tee(&window));
    fill(&mut window, "Search", "no such word");
    assert!(window.query_by_label_contains("No entry matches").is_some());
    click(&mut window, "Show all");
    for (choice, chosen) in [("Rating from", "3, fair"), ("Garment", "crew-neck tee")] {
        window.get_by_role_and_label(Role::ComboBox, choice).click();
        window.run_ok();
        window.get_by_role_and_label(Role::Button, chosen).click();
        window.run_ok();
        assert!(only_tee(&window), "{choice}");
        click(&mut window, "Show all");
        assert!(window.query_by_label("2 entries").is_some());
    }
    fill(&mut window, "Made to", "2027-05-09");
    assert!(only_tee(&window));
}

#[test]
fn an_entry_is_amended_in_place_and_what_it_said_is_kept() {
    let home = tempfile::tempdir().unwrap();
    two(home.path());
    let mut window = at_journal(home.path());
    wait(&mut window, "both", is_there("2 entries"));
    click(&mut window, TEE_CARD);
    fill(&mut window, "What to change", "two wraps more");
    click(&mut window, "5, just right");
    // Going elsewhere and coming back loses nothing that was written.
    click(&mut window, "View Rod");
    click(&mut window, "View Journal");
    assert!(window.query_by_label("Not saved yet").is_some());
    click(&mut window, "Save changes");
    wait(&mut window, "the confirmation", is_there("Saved Harbour Row tee, M, 3 May 2027"));
    wait(&mut window, "rest", |window| window.query_by_label("Not saved yet").is_none());
    let id = "2027-05-03-harbour-row-tee-m";
    let now = journal(home.path()).entry(id).unwrap();
    assert_eq!(
        (now.raw().rating, now.raw().change.as_str(), now.raw().note.as_str()),
        (Some(5), "two wraps more", "rings crisp")
    );
    assert_eq!(journal(home.path()).earlier(id).unwrap()[0].raw().change, "one wrap more");
}

#[test]
fn two_entries_are_compared_in_the_makers_terms() {
    let home = tempfile::tempdir().unwrap();
    two(home.path());
    let mut window = at_journal(home.path());
    wait(&mut window, "both", is_there("2 entries"));
    click(&mut window, TEE_CARD);
    click(&mut window, "Compare with…");
    window.get_by_label_contains(TOTE_CARD).click();
    window.run_ok();
    for words in ["rating", "4 of 5", "2 of 5", "guide arc", "note", "rings crisp", "muddy"] {
        assert!(window.query_all_by_label(words).next().is_some(), "{words}");
    }
}

/// Unsaved work is asked about; what is opened is the layout as it was, or the same with what to change as its note.
#[test]
fn something_is_made_again() {
    let home = tempfile::tempdir().unwrap();
    two(home.path());
    let frozen = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let mut window = at_journal(home.path());
    click(&mut window, "View Fold");
    write(&mut window, "Guide arc", "210");
    let changed = window.state().layout_text();
    click(&mut window, "View Journal");
    wait(&mut window, "both", is_there("2 entries"));
    click(&mut window, TEE_CARD);
    click(&mut window, "Make again");
    assert!(window.query_by_label("Save changes?").is_some());
    click(&mut window, "Cancel");
    assert_eq!(window.state().layout_text(), changed);
    click(&mut window, "Make again");
    click(&mut window, "Don't save");
    assert_eq!(layout(&window).raw(), frozen.raw());
    click(&mut window, "View Journal");
    click(&mut window, "Make again with changes");
    let note = layout(&window).raw().note.clone();
    assert_eq!(note, "After the one of 2027-05-03, rated 4 of 5. To change: one wrap more");
    assert_eq!(layout(&window).raw().fold, frozen.raw().fold);
}

#[test]
fn a_journal_goes_out_as_plain_files_and_into_another_home() {
    let (home, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    two(home.path());
    let folder = home.path().join("plain");
    let mut first = at_journal(home.path());
    click(&mut first, "Export the journal…");
    name_folder(&mut first, &folder);
    wait(&mut first, "the export", is_there("Exported 2 entries to"));
    let mut second = at_journal(other.path());
    click(&mut second, "Import a journal…");
    name_folder(&mut second, &folder);
    wait(&mut second, "the import", is_there("Imported 2 entries from"));
    assert!(second.query_by_label(TEE_CARD).is_some());
    assert_eq!(journal(home.path()).entries().unwrap(), journal(other.path()).entries().unwrap());
}

/// The rest of the window works on, and a store that is put right is read at the next try.
#[test]
fn a_damaged_journal_says_so_and_nothing_else_suffers() {
    let home = tempfile::tempdir().unwrap();
    let store = home.path().join("journal").join("journal.redb");
    std::fs::create_dir_all(store.parent().unwrap()).unwrap();
    std::fs::write(&store, "coffee ".repeat(2000)).unwrap();
    let mut window = window_with(home.path(), None, vec2(1024.0, 700.0));
    click(&mut window, TEE);
    click(&mut window, "View Journal");
    wait(&mut window, "the sentence", is_there("the journal is damaged; "));
    assert!(window.query_by_label_contains("journal.redb").is_some());
    fill(&mut window, "What to change", "what is written here stays");
    click(&mut window, "Add to the journal");
    wait(&mut window, "the refusal", |window| window.get_all_by_label_contains("journal.redb").count() == 2);
    click(&mut window, "OK");
    std::fs::remove_file(&store).unwrap();
    click(&mut window, "Try again");
    wait(&mut window, "an empty journal", is_there("No entries yet"));
    click(&mut window, "Add to the journal");
    wait(&mut window, "the confirmation", is_there("Added"));
    assert_eq!(only_entry(home.path()).raw().change, "what is written here stays");
    click(&mut window, "View Fold");
    write(&mut window, "Guide arc", "210");
    assert!((layout(&window).guide_mm() - 210.0).abs() < 1e-9);
}

/// A damaged store used to make the whole journal unreadable. What was written is brought back from its copy, and the file is kept.
#[test]
fn a_damaged_journal_is_salvaged() {
    let home = tempfile::tempdir().unwrap();
    two(home.path());
    let store = home.path().join("journal").join("journal.redb");
    std::fs::write(&store, "coffee ".repeat(2000)).unwrap();
    let mut window = at_journal(home.path());
    wait(&mut window, "the sentence", is_there("the journal is damaged; salvage recovers"));
    click(&mut window, "Salvage");
    wait(&mut window, "what was done", is_there("Salvaged the journal: recovered 2 entries; nothing known is lost"));
    assert!(window.query_by_label(TEE_CARD).is_some());
    assert_eq!(journal(home.path()).entries().unwrap().len(), 2);
    assert!(store.with_added_extension("damaged").exists());
}

/// A photograph of 74 bytes used to end the window at every opening. An entry from before says why it is not shown.
#[test]
fn a_photograph_that_claims_too_much_is_refused_and_never_ends_the_window() {
    let home = tempfile::tempdir().unwrap();
    let bomb = home.path().join("front.png");
    // A header and no picture.
    drop(png::Encoder::new(std::fs::File::create(&bomb).unwrap(), 100_000, 100_000).write_header().unwrap());
    let mut window = at_journal(home.path());
    click(&mut window, "Attach a photograph…");
    name_file(&mut window, &bomb);
    click(&mut window, "Add to the journal");
    wait(
        &mut window,
        "the refusal",
        is_there("100000 x 100000 pixels are too many; choose a photograph of at most 250 million pixels"),
    );
    assert!(journal(home.path()).entries().unwrap().is_empty());
    // As an earlier program wrote it down: the entry by another photograph, whose file is then the claiming one.
    let entry = {
        let draft = Draft { photos: vec![photograph(home.path())], ..Draft::new("2027-05-03".parse().unwrap(), the_tote()) };
        journal(home.path()).add(&draft).unwrap()
    };
    std::fs::copy(&bomb, journal(home.path()).photo_path(&entry.raw().photos[0])).unwrap();
    let mut window = at_journal(home.path());
    wait(&mut window, "the entry", is_there("Harbour Row tote, 3 May 2027"));
    window.get_by_label_contains("Harbour Row tote, 3 May 2027").click();
    window.run_ok();
    let why = "Not shown here: 100000 x 100000 pixels are too many; choose a photograph of at most 250 million pixels";
    wait(&mut window, "why", is_there(why));
}
