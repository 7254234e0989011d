//! The journal: nothing confirmed is lost, nothing here is overwritten, differences are told, all of it comes and goes as plain files.

use jiff::civil::{Date, date};
use pleatwright::form::{FileForm as _, WrittenForm as _};
use pleatwright::geometry::{GarmentKind, Progression, Span};
use pleatwright::layout::LayoutSpec;
use pleatwright::layout::form::LayoutV2;
use pleatwright::measure::LengthStyle;
use pleatwright::store::journal::*;
use pleatwright::store::*;
use proptest::prelude::*;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

fn example(name: &str) -> String {
    EXAMPLE_LAYOUTS.iter().find(|example| example.name == name).unwrap().text.to_owned()
}

fn draft(made: Date, layout: &str) -> Draft {
    Draft::new(made, example(layout))
}

fn journal(folder: &tempfile::TempDir) -> Journal {
    Journal::at(folder.path().join("journal"))
}

fn ids(entries: &[JournalEntry]) -> Vec<&str> {
    entries.iter().map(|entry| entry.raw().id.as_str()).collect()
}

/// Three entries: tee M, tote, tee S.
fn three(journal: &Journal) {
    let (tee, tote, small) = ("harbour-row-tee-m.ron", "harbour-row-tote.ron", "harbour-row-tee-s.ron");
    let first = Draft { rating: Some(3), change: "rest it two days".to_owned(), ..draft(date(2027, 5, 5), tee) };
    let second = Draft { rating: Some(5), note: "For the Boathouse shop".to_owned(), ..draft(date(2027, 6, 1), tote) };
    for draft in [first, second, draft(date(2027, 6, 1), small)] {
        journal.add(&draft).unwrap();
    }
}

#[test]
fn what_was_made_is_found_again() {
    let folder = tempfile::tempdir().unwrap();
    let journal = journal(&folder);
    assert!(journal.entries().unwrap().is_empty() && !journal.folder().exists());
    three(&journal);
    let [tote, small, tee] = ["2027-06-01-harbour-row-tote", "2027-06-01-harbour-row-tee-s", "2027-05-05-harbour-row-tee-m"];
    assert_eq!(ids(&journal.entries().unwrap()), [small, tote, tee]);
    let words = |words: &[&str]| Query { words: words.iter().map(|word| (*word).to_owned()).collect(), ..Query::default() };
    let colour = |name: &str| Query { colours: vec![name.to_owned()], ..Query::default() };
    let cases = [
        (Query::default(), vec![small, tote, tee]),
        (words(&["boathouse"]), vec![tote]),
        (words(&["REST", "days"]), vec![tee]),
        (words(&["boathouse", "rest"]), vec![]),
        (Query { kind: Some(GarmentKind::CrewTee), ..Query::default() }, vec![small, tee]),
        (Query { rating_from: Some(4), ..Query::default() }, vec![tote]),
        (Query { rating_to: Some(4), ..Query::default() }, vec![tee]),
        (Query { to: Some(date(2027, 5, 31)), ..Query::default() }, vec![tee]),
        (Query { from: Some(date(2027, 5, 6)), ..words(&["tee"]) }, vec![small]),
        (colour("Amber"), vec![small, tote, tee]),
        (colour("scarlet"), vec![]),
    ];
    for (query, expected) in cases {
        assert_eq!(ids(&journal.search(&query).unwrap()), expected, "{query:?}");
    }
    let said = journal.entry("harbour-row-tote").unwrap_err().to_string();
    assert!(said.ends_with("\"harbour-row-tote\" is not an entry of the journal; choose 2027-06-01-harbour-row-tote"), "{said}");
}

/// Two of one layout on one day are two entries.
#[test]
fn names_are_never_given_twice() {
    let folder = tempfile::tempdir().unwrap();
    let journal = journal(&folder);
    let draft = draft(date(2027, 5, 5), "harbour-row-tee-m.ron");
    let given: Vec<String> = (0..3).map(|_| journal.add(&draft).unwrap().raw().id.clone()).collect();
    let stem = "2027-05-05-harbour-row-tee-m";
    assert_eq!(given, [stem.to_owned(), format!("{stem}-2"), format!("{stem}-3")]);
}

#[test]
fn an_amendment_keeps_what_was_said_before() {
    let folder = tempfile::tempdir().unwrap();
    let journal = journal(&folder);
    three(&journal);
    let id = "2027-05-05-harbour-row-tee-m";
    let said = Amendment { rating: Some(4), change: Some("tighter round the heart".to_owned()), ..Amendment::default() };
    journal.amend(id, &said).unwrap();
    let entry = journal.entry(id).unwrap();
    assert_eq!((entry.raw().rating, entry.raw().change.as_str()), (Some(4), "tighter round the heart"));
    let earlier = journal.earlier(id).unwrap();
    assert_eq!(earlier.len(), 1);
    assert_eq!((earlier[0].raw().rating, earlier[0].raw().change.as_str()), (Some(3), "rest it two days"));
    assert!(matches!(journal.amend("no", &said), Err(JournalError::Missing { .. })));
    let wrong = Amendment { rating: Some(6), ..Amendment::default() };
    assert!(journal.amend(id, &wrong).unwrap_err().to_string().contains("rating 6 is out of range; give 1"));
    assert_eq!(journal.entry(id).unwrap(), entry);
}

#[test]
fn it_is_made_again_as_it_was_or_with_what_to_change() {
    let folder = tempfile::tempdir().unwrap();
    let journal = journal(&folder);
    three(&journal);
    let id = "2027-05-05-harbour-row-tee-m";
    let layout = parse_layout(&example("harbour-row-tee-m.ron")).unwrap();
    assert_eq!(journal.again(id).unwrap().raw(), layout.raw());
    let changed = journal.again_with_changes(id).unwrap();
    assert_eq!(changed.raw().note, "After the one of 2027-05-05, rated 3 of 5. To change: rest it two days");
    let same = LayoutSpec { note: layout.raw().note.clone(), ..changed.raw().clone() };
    assert_eq!(&same, layout.raw());
    // The layout's own comments are kept with it.
    assert!(journal.entry(id).unwrap().raw().layout.contains("// Each gap is 0.88 of the one before it"));
}

const JPEG: &[u8] = b"\xff\xd8\xff\xe0 a picture of a shirt";

fn photo(folder: &Path, name: &str, content: &[u8]) -> PathBuf {
    let path = folder.join(name);
    fs::write(&path, content).unwrap();
    path
}

#[test]
fn photographs_are_copied_and_named_by_their_content() {
    let folder = tempfile::tempdir().unwrap();
    let journal = journal(&folder);
    let (front, twin) = (photo(folder.path(), "front.jpeg", JPEG), photo(folder.path(), "copy.jpg", JPEG));
    let back = photo(folder.path(), "back.png", b"\x89PNG\r\n\x1a\n...");
    let draft = Draft { photos: vec![front.clone(), twin, back.clone()], ..draft(date(2027, 5, 5), "harbour-row-tee-m.ron") };
    let entry = journal.add(&draft).unwrap();
    fs::remove_file(front).unwrap();
    let photos = &entry.raw().photos;
    assert_eq!(photos.iter().map(|photo| photo.from.as_str()).collect::<Vec<_>>(), ["front.jpeg", "back.png"]);
    assert!(photos[0].file.len() == 64 + 4 && photos[0].file.ends_with(".jpg"));
    assert_eq!(fs::read(journal.photo_path(&photos[0])).unwrap(), JPEG);
    // What is no photograph is refused, and nothing is written.
    let page = photo(folder.path(), "page.jpg", b"%PDF-1.7");
    let refused = Amendment { photos: vec![back, page], note: Some("x".to_owned()), ..Amendment::default() };
    let said = journal.amend(&entry.raw().id, &refused).unwrap_err().to_string();
    assert!(said.contains("page.jpg: not a photograph; choose JPEG"), "{said}");
    assert_eq!(journal.entry(&entry.raw().id).unwrap(), entry);
    let fewer = Amendment { drop_photos: vec![photos[0].file.clone()], ..Amendment::default() };
    assert_eq!(journal.amend(&entry.raw().id, &fewer).unwrap().raw().photos.len(), 1);
    assert!(journal.photo_path(&photos[0]).exists());
    assert!(journal.amend(&entry.raw().id, &fewer).unwrap_err().to_string().contains("it has no photograph"));
}

/// Out, in, in again, and in beside another of the same name.
#[test]
fn plain_files_go_out_and_come_back_without_overwriting_anything() {
    let folder = tempfile::tempdir().unwrap();
    let (journal, plain) = (journal(&folder), folder.path().join("plain"));
    three(&journal);
    let front = photo(folder.path(), "front.jpg", JPEG);
    let tee = "2027-05-05-harbour-row-tee-m";
    journal.amend(tee, &Amendment { photos: vec![front], ..Amendment::default() }).unwrap();
    assert_eq!(journal.export(&plain).unwrap(), 3);
    let file = fs::read_to_string(plain.join(format!("{tee}.ron"))).unwrap();
    assert!(file.contains("\n    fold: Burst(\n"), "a layout of many lines is read by eye:\n{file}");
    let other = Journal::at(folder.path().join("other"));
    let done = other.import(&plain).unwrap();
    assert_eq!((done.added.len(), done.same.len(), done.beside.len()), (3, 0, 0));
    assert_eq!(other.entries().unwrap(), journal.entries().unwrap());
    assert_eq!(fs::read(other.photo_path(&other.entry(tee).unwrap().raw().photos[0])).unwrap(), JPEG);
    assert_eq!(other.import(&plain).unwrap().same.len(), 3);
    // Said otherwise there: both are kept, and a second import changes nothing more.
    other.amend(tee, &Amendment { rating: Some(1), ..Amendment::default() }).unwrap();
    let beside = vec![(tee.to_owned(), format!("{tee}-2"))];
    assert_eq!(other.import(&plain).unwrap().beside, beside);
    let again = other.import(&plain).unwrap();
    assert_eq!((again.same.len(), again.beside.len()), (3, 0));
    assert_eq!((other.entry(tee).unwrap().raw().rating, other.entry(&beside[0].1).unwrap().raw().rating), (Some(1), Some(3)));
    // A damaged photograph: refused by its name, nothing taken in.
    let photo = fs::read_dir(plain.join("photos")).unwrap().next().unwrap().unwrap().path();
    fs::write(&photo, b"\xff\xd8\xff\xe0 another").unwrap();
    let third = Journal::at(folder.path().join("third"));
    let said = third.import(&plain).unwrap_err().to_string();
    assert!(said.contains("its content is not what its name says"), "{said}");
    assert!(!third.folder().exists());
    fs::write(&photo, JPEG).unwrap();
    fs::write(plain.join("broken.ron"), "(format: 1, id: \"x\", maed: \"2027-05-05\")").unwrap();
    let said = third.import(&plain).unwrap_err().to_string();
    assert!(said.contains("broken.ron: line 1") && said.contains("maed"), "{said}");
    let empty = tempfile::tempdir().unwrap();
    assert!(third.import(empty.path()).unwrap_err().to_string().contains("no .ron file"));
}

#[test]
fn differences_are_told_in_the_makers_terms() {
    let folder = tempfile::tempdir().unwrap();
    let journal = journal(&folder);
    three(&journal);
    let comparison =
        journal.compare("2027-05-05-harbour-row-tee-m", "2027-06-01-harbour-row-tee-s", LengthStyle::default()).unwrap();
    let told = |differences: &[Difference]| -> Vec<String> {
        differences.iter().map(|d| format!("{}: {} | {}", d.what, d.first, d.second)).collect()
    };
    assert_eq!(told(&comparison.made)[..2], ["made: 2027-05-05 | 2027-06-01", "rating: 3 of 5 | not given"]);
    let layouts = told(&comparison.layouts);
    assert!(layouts.contains(&"size: M | S".to_owned()), "{layouts:#?}");
    assert!(layouts.iter().any(|line| line.starts_with("guide arc: 230 mm | ")), "{layouts:#?}");
    assert!(layouts.iter().all(|line| !line.contains("_mm") && !line.contains("srgb")), "{layouts:#?}");
    let mut raw = parse_layout(&example("harbour-row-tee-m.ron")).unwrap().raw().clone();
    let before = raw.clone();
    raw.colours.rotation.swap(0, 1);
    raw.binds.inward = Progression::Even { count: Some(9), gap_mm: None, span: Some(Span::ToEnd { leave_mm: 14.0 }) };
    let told = told(&layout_differences(&before, &raw, LengthStyle::default()));
    assert_eq!(
        told,
        [
            "gaps inward: ratio (first gap 34 mm, ratio 0.88, span to end (leave 14 mm)) | even (count 9, span to end (leave 14 \
            mm))",
            "colours: teal (#0f7c8a), amber (#d99a1e), plum (#7b2f63) | amber (#d99a1e), teal (#0f7c8a), plum (#7b2f63)",
        ]
    );
}

/// Whatever single value of a layout is changed, the comparison tells it: no field is passed over.
#[test]
fn no_field_is_passed_over() {
    fn leaves(path: &str, value: &serde_json::Value, all: &mut Vec<String>) {
        match value {
            serde_json::Value::Object(object) => {
                object.iter().for_each(|(key, value)| leaves(&format!("{path}/{key}"), value, all));
            }
            serde_json::Value::Array(items) => {
                items.iter().enumerate().for_each(|(index, value)| leaves(&format!("{path}/{index}"), value, all));
            }
            _ => all.push(path.to_owned()),
        }
    }
    let mut changed = 0;
    for example in EXAMPLE_LAYOUTS {
        let raw = parse_layout(example.text).unwrap().raw().clone();
        let value = serde_json::to_value(LayoutV2::of(raw.clone())).unwrap();
        let mut paths = Vec::new();
        leaves("", &value, &mut paths);
        for path in paths {
            let mut other = value.clone();
            let leaf = other.pointer_mut(&path).unwrap();
            *leaf = match &*leaf {
                serde_json::Value::Number(number) if number.is_f64() => serde_json::json!(number.as_f64().unwrap() + 1.25),
                serde_json::Value::Number(number) => serde_json::json!(number.as_u64().unwrap() + 1),
                serde_json::Value::String(text) => serde_json::json!(format!("{text}x")),
                _ => continue,
            };
            let Ok(other) = serde_json::from_value::<LayoutV2>(other) else { continue };
            let told = layout_differences(&raw, &other.live(), LengthStyle::default());
            assert_eq!(told.len(), 1, "{path}: {told:?}");
            assert!(told[0].first != told[0].second, "{path}: {told:?}");
            changed += 1;
        }
        assert_eq!(layout_differences(&raw, &raw, LengthStyle::default()), []);
    }
    assert!(changed > 300, "{changed} values");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, rng_seed: proptest::test_runner::RngSeed::Fixed(3), ..ProptestConfig::default() })]

    /// What a maker writes comes back letter for letter, from the store and from the plain file.
    #[test]
    fn texts_come_back_letter_for_letter(note in any::<String>(), change in "[ -~\"#\\\\\n\r\tü€🧵]{0,80}", rating in 1..=5_u8) {
        let folder = tempfile::tempdir().unwrap();
        let journal = journal(&folder);
        let draft = Draft { note, change, rating: Some(rating), ..draft(date(2027, 5, 5), "harbour-row-tote.ron") };
        let entry = journal.add(&draft).unwrap();
        prop_assert_eq!((&entry.raw().note, &entry.raw().change), (&draft.note, &draft.change));
        prop_assert_eq!(&journal.entries().unwrap()[0], &entry);
        prop_assert_eq!(&JournalEntry::parse(&entry.text()).unwrap(), &entry);
    }
}

/// The window and the command line keep it in one place.
#[test]
fn the_folder_is_the_windows_own() {
    assert_eq!(data_folder(), eframe::storage_dir("Pleatwright"));
}

fn program(journal: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_pleatwright"));
    command.arg("journal").args(arguments).arg("--journal").arg(journal);
    command
}

fn said(journal: &Path, arguments: &[&str]) -> (i32, String) {
    let output = program(journal, arguments).output().unwrap();
    let text = [output.stdout, output.stderr].concat();
    (output.status.code().unwrap(), String::from_utf8(text).unwrap())
}

fn layouts() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts")
}

#[test]
fn the_command_line_keeps_a_journal() {
    let folder = tempfile::tempdir().unwrap();
    let (journal, at) = (folder.path().join("journal"), |name: &str| folder.path().join(name).to_str().unwrap().to_owned());
    let tee = layouts().join("harbour-row-tee-m.ron").to_str().unwrap().to_owned();
    let front = photo(folder.path(), "front.jpg", JPEG).to_str().unwrap().to_owned();
    let add = ["add", &tee, "--made", "2027-05-05", "--rating", "4", "--note", "the plum ran", "--photo", &front];
    assert_eq!(said(&journal, &["list"]).1, format!("0 entries in {}\n", journal.display()));
    assert!(said(&journal, &add).1.starts_with("2027-05-05-harbour-row-tee-m: added in"));
    let id = "2027-05-05-harbour-row-tee-m";
    assert_eq!(said(&journal, &["amend", id, "--change", "less plum", "--rating", "5"]).0, 0);
    let (_, shown) = said(&journal, &["show", id, "--earlier", "--layout"]);
    for needle in ["5 of 5", "4 of 5", "to change: less plum", "the plum ran", "(was front.jpg)", "guide_radius_mm: 230.0"] {
        assert!(shown.contains(needle), "{needle} in {shown}");
    }
    said(&journal, &["add", layouts().join("harbour-row-tee-s.ron").to_str().unwrap(), "--made", "2027-05-06"]);
    let (_, found) = said(&journal, &["search", "plum", "ran", "--garment", "crew-tee", "--colour", "teal"]);
    assert!(found.starts_with(id) && found.contains("1 entry"), "{found}");
    let (_, compared) = said(&journal, &["compare", id, "2027-05-06-harbour-row-tee-s", "--units", "in"]);
    assert!(compared.contains("    size: M  |  S") && compared.contains(" in  |  "), "{compared}");
    assert_eq!(said(&journal, &["again", id, "-o", &at("again.ron")]).0, 0);
    assert_eq!(fs::read(at("again.ron")).unwrap(), fs::read(&tee).unwrap());
    assert!(said(&journal, &["again", id, "-o", &at("next.ron"), "--with-changes"]).1.contains("To change: less plum"));
    assert_eq!(said(&journal, &["export", &at("plain")]).1, format!("{}: 2 entries\n", at("plain")));
    let other = folder.path().join("other");
    assert!(said(&other, &["import", &at("plain")]).1.contains("imported"));
    let refusals: [(&[&str], i32, &str); 5] = [
        (&["show", "nothing"], 2, "\"nothing\" is not an entry of the journal"),
        (&["add", &tee, "--made", "soon"], 2, "2027-05-05"),
        (&["add", &tee, "--made", "2027-05-05", "--rating", "9"], 2, "9"),
        (&["amend", id], 2, "nothing to change; give --made"),
        (&["again", id, "-o", &at("no/folder/x.ron")], 1, "there is no such folder"),
    ];
    for (arguments, status, words) in refusals {
        let (code, text) = said(&journal, arguments);
        assert!(code == status && text.contains(words), "{arguments:?}: {code} {text}");
    }
    fs::write(other.join("journal.redb"), "no store of ours, whatever its name says").unwrap();
    let (code, text) = said(&other, &["list"]);
    assert!(code == 1 && text.contains("journal.redb: the journal is damaged; salvage recovers"), "{code} {text}");
}

/// The program itself is killed in the middle of its work, at whatever moment: every entry that it said was written down is there, with
/// its photograph.
#[test]
fn a_killed_program_loses_nothing_that_it_confirmed() {
    let folder = tempfile::tempdir().unwrap();
    let journal = folder.path().join("journal");
    let tee = layouts().join("harbour-row-tote.ron").to_str().unwrap().to_owned();
    let mut confirmed = Vec::new();
    let mut undisturbed = std::time::Duration::ZERO;
    for turn in 0..24_u32 {
        let content = [JPEG, &turn.to_le_bytes(), &vec![7; 200_000]].concat();
        let front = photo(folder.path(), "front.jpg", &content).to_str().unwrap().to_owned();
        let began = std::time::Instant::now();
        let mut child = program(&journal, &["add", &tee, "--made", "2027-05-05", "--photo", &front])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // The first is let be, to see how long it takes; the others die at every part of that time.
        if turn == 0 {
            assert!(child.wait().unwrap().success());
            undisturbed = began.elapsed();
        }
        std::thread::sleep(undisturbed * turn / 20);
        child.kill().unwrap();
        let output = String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap();
        confirmed.extend(output.split_once(": added").map(|(id, _)| id.to_owned()));
    }
    let journal = Journal::at(journal);
    let entries = journal.entries().unwrap();
    for id in &confirmed {
        assert!(entries.iter().any(|entry| entry.raw().id == *id), "{id} of {confirmed:?}");
    }
    assert!(entries.iter().flat_map(|entry| &entry.raw().photos).all(|photo| journal.photo_path(photo).exists()));
    assert!(!confirmed.is_empty() && journal.add(&draft(date(2027, 5, 5), "harbour-row-tote.ron")).is_ok());
}

/// A header that claims 10 000 million pixels used to be taken in, and asked for 80 GB whenever it was shown.
#[test]
fn a_photograph_that_claims_too_much_is_refused_on_adding_and_on_import() {
    let folder = tempfile::tempdir().unwrap();
    let (journal, plain) = (journal(&folder), folder.path().join("plain"));
    let mut bomb = Vec::new();
    drop(png::Encoder::new(&mut bomb, 100_000, 100_000).write_header().unwrap());
    let bomb = photo(folder.path(), "front.png", &bomb);
    let claims = "100000 x 100000 pixels are too many; choose a photograph of at most 250 million pixels";
    let with_photo = Draft { photos: vec![bomb.clone()], ..draft(date(2027, 5, 5), "harbour-row-tee-m.ron") };
    let said = journal.add(&with_photo).unwrap_err().to_string();
    assert!(said.ends_with(&format!("front.png: {claims}")), "{said}");
    three(&journal);
    let amendment = Amendment { photos: vec![bomb.clone()], ..Amendment::default() };
    assert!(journal.amend("2027-05-05-harbour-row-tee-m", &amendment).unwrap_err().to_string().ends_with(claims));
    assert!(!journal.folder().join("photos").exists());
    // Among plain files, under the name that its content gives.
    journal.export(&plain).unwrap();
    let digest = <sha2::Sha256 as sha2::Digest>::digest(fs::read(&bomb).unwrap());
    let name = digest.iter().map(|byte| format!("{byte:02x}")).collect::<String>() + ".png";
    fs::create_dir(plain.join("photos")).unwrap();
    fs::rename(&bomb, plain.join("photos").join(&name)).unwrap();
    let entry = plain.join("2027-05-05-harbour-row-tee-m.ron");
    let text = fs::read_to_string(&entry).unwrap();
    fs::write(&entry, text.replacen("layout:", &format!("photos: [(file: \"{name}\")],\n    layout:"), 1)).unwrap();
    let other = Journal::at(folder.path().join("other"));
    let said = other.import(&plain).unwrap_err().to_string();
    assert!(said.ends_with(claims) && !other.folder().exists(), "{said}");
}

/// A pipe as a photograph used to be waited for without end.
#[cfg(unix)]
#[test]
fn only_a_file_can_be_a_photograph() {
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("front.jpg");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let with_photo = Draft { photos: vec![pipe], ..draft(date(2027, 5, 5), "harbour-row-tee-m.ron") };
    let said = journal(&folder).add(&with_photo).unwrap_err().to_string();
    assert!(said.ends_with("front.jpg: could not be read: it is a pipe, not a file; name a file"), "{said}");
}
