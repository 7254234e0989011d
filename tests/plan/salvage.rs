//! A journal whose disk has damaged it: what was written comes back, what was lost is said, and one that can only be read is read.

use jiff::civil::date;
use pleatwright::store::EXAMPLE_LAYOUTS;
use pleatwright::store::journal::*;
use proptest::prelude::*;
use proptest::test_runner::{RngSeed, TestRunner};
use std::fs;
use std::path::{Path, PathBuf};

/// A journal of five entries, two of them amended, without photographs.
fn five(folder: &Path) -> Journal {
    let journal = Journal::at(folder.to_owned());
    for (day, example) in (1..=5).zip(EXAMPLE_LAYOUTS.iter().cycle()) {
        let draft = Draft { note: format!("number {day}"), ..Draft::new(date(2027, 5, day), example.text.to_owned()) };
        journal.add(&draft).unwrap();
    }
    for rating in [2, 4] {
        for place in [0, 2] {
            let id = journal.entries().unwrap()[place].raw().id.clone();
            journal.amend(&id, &Amendment { rating: Some(rating), ..Amendment::default() }).unwrap();
        }
    }
    journal
}

/// Everything that a journal says: its entries, and what they said before.
fn everything(journal: &Journal) -> Vec<(JournalEntry, Vec<JournalEntry>)> {
    let entries = journal.entries().unwrap().into_iter();
    entries.map(|entry| (entry.clone(), journal.earlier(&entry.raw().id).unwrap())).collect()
}

fn store(journal: &Journal) -> PathBuf {
    journal.folder().join("journal.redb")
}

fn copy(journal: &Journal) -> PathBuf {
    journal.folder().join("journal.copy")
}

/// How many journals are damaged: `MANGLED_JOURNALS`, or as many as take some seconds.
fn cases() -> u32 {
    std::env::var("MANGLED_JOURNALS").ok().and_then(|cases| cases.parse().ok()).unwrap_or(60)
}

/// The places of a file that hold something: a store is mostly room for more.
fn used(content: &[u8]) -> Vec<usize> {
    (0..content.len()).filter(|&at| content[at] != 0).collect()
}

/// Of a thousand journals with one flipped bit in the store, 719 could not be read, and nothing brought them back.
#[test]
fn one_flipped_bit_loses_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let whole = five(&folder.path().join("whole"));
    let said = everything(&whole);
    let files = [fs::read(store(&whole)).unwrap(), fs::read(copy(&whole)).unwrap()];
    let places = [used(&files[0]), used(&files[1])];
    let config =
        ProptestConfig { cases: cases(), rng_seed: RngSeed::Fixed(17), failure_persistence: None, ..ProptestConfig::default() };
    let unread = std::cell::Cell::new(0);
    // In the store three times of four, else in its copy.
    let flips = (0..4_usize, any::<prop::sample::Index>(), 0..8_u32);
    let outcome = TestRunner::new(config).run(&flips, |(which, at, bit)| {
        let which = which / 3;
        let damaged = tempfile::tempdir_in(folder.path()).unwrap();
        let journal = Journal::at(damaged.path().to_owned());
        let mut content = files.clone();
        content[which][places[which][at.index(places[which].len())]] ^= 1 << bit;
        fs::write(store(&journal), &content[0]).unwrap();
        fs::write(copy(&journal), &content[1]).unwrap();
        match journal.entries() {
            Ok(_) => {}
            Err(error) => {
                prop_assert!(error.is_damage() && which == 0, "{}", error);
                let done = journal.salvage().unwrap();
                prop_assert!(done.was_damaged && done.lost.is_empty() && done.unknown == 0, "{:?}", done);
                prop_assert_eq!(fs::read(done.kept.unwrap()).unwrap(), &content[0][..]);
                unread.set(unread.get() + 1);
            }
        }
        prop_assert_eq!(&everything(&journal), &said);
        prop_assert!(journal.add(&Draft::new(date(2027, 6, 1), EXAMPLE_LAYOUTS[0].text.to_owned())).is_ok());
        Ok(())
    });
    outcome.unwrap();
    let unread = unread.get();
    // Most of a store is out of use: what the pages of earlier writes left.
    assert!(unread > cases() / 20, "{unread} of {} were not read", cases());
}

/// Without the copy, at most the text with the flipped bit is lost, and it is named.
#[test]
fn one_flipped_bit_without_a_copy_loses_one_text_at_most() {
    let folder = tempfile::tempdir().unwrap();
    let whole = five(&folder.path().join("whole"));
    let said = everything(&whole);
    let content = fs::read(store(&whole)).unwrap();
    let places = used(&content);
    let config =
        ProptestConfig { cases: cases(), rng_seed: RngSeed::Fixed(18), failure_persistence: None, ..ProptestConfig::default() };
    let flips = (any::<prop::sample::Index>(), 0..8_u32);
    let outcome = TestRunner::new(config).run(&flips, |(at, bit)| {
        let damaged = tempfile::tempdir_in(folder.path()).unwrap();
        let journal = Journal::at(damaged.path().to_owned());
        let mut content = content.clone();
        content[places[at.index(places.len())]] ^= 1 << bit;
        fs::write(store(&journal), &content).unwrap();
        if journal.entries().is_ok() {
            return Ok(());
        }
        let done = journal.salvage().unwrap();
        prop_assert!(done.lost.len() <= 1, "{:?}", done);
        let now = everything(&journal);
        // What came back is what was said, and only what is said to be lost is not there.
        let texts = |all: &[(JournalEntry, Vec<JournalEntry>)]| -> Vec<JournalEntry> {
            all.iter().flat_map(|(entry, earlier)| earlier.iter().chain([entry]).cloned()).collect()
        };
        let (before, after) = (texts(&said), texts(&now));
        prop_assert!(after.iter().all(|entry| before.contains(entry)));
        prop_assert!(before.len() - after.len() <= 1, "{} of {}: {:?}", after.len(), before.len(), done);
        Ok(())
    });
    outcome.unwrap();
}

/// An older store in the place of a newer one, and none at all: both are told, and the copy has everything.
#[test]
fn a_store_that_went_back_or_away_is_brought_forward() {
    let folder = tempfile::tempdir().unwrap();
    let journal = five(folder.path());
    let (old, said) = (fs::read(store(&journal)).unwrap(), everything(&journal));
    let id = said[0].0.raw().id.clone();
    journal.amend(&id, &Amendment { change: Some("one wrap more".to_owned()), ..Amendment::default() }).unwrap();
    let said = everything(&journal);
    fs::write(store(&journal), &old).unwrap();
    let refused = journal.entries().unwrap_err().to_string();
    assert!(refused.contains("journal.redb: the journal has 9 texts, and its copy has 10; salvage recovers"), "{refused}");
    assert!(journal.salvage().unwrap().lost.is_empty());
    assert_eq!(everything(&journal), said);
    fs::remove_file(store(&journal)).unwrap();
    let refused = journal.add(&Draft::new(date(2027, 6, 1), EXAMPLE_LAYOUTS[0].text.to_owned())).unwrap_err().to_string();
    assert!(refused.contains("journal.redb: the journal is missing, and its copy has 10 texts"), "{refused}");
    let done = journal.salvage().unwrap();
    assert!(done.was_damaged && done.kept.is_none(), "{done:?}");
    assert_eq!(everything(&journal), said);
    // Once in order, it is left alone.
    assert_eq!(journal.salvage().unwrap().sentences(), ["the journal is in order: 5 entries"]);
}

/// Both damaged in the same text: what it said before stands in its place, and that is said.
#[test]
fn what_can_t_be_brought_back_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let journal = five(folder.path());
    let last = everything(&journal)[0].clone();
    let spoil = |path: &Path, all: bool| {
        let mut content = fs::read(path).unwrap();
        let needle = format!("turn 3, {} bytes", last.0.text().len());
        let id = format!(", {}\n", last.0.raw().id);
        let heads: Vec<usize> =
            (0..content.len() - needle.len()).filter(|&at| content[at..].starts_with(needle.as_bytes())).collect();
        let mut spoilt = 0;
        for at in heads {
            let line = &content[at..at + content[at..].iter().position(|&byte| byte == b'\n').unwrap() + 1];
            if line.ends_with(id.as_bytes()) {
                let in_text = at + line.len() + 40;
                content[in_text] ^= 1;
                spoilt += 1;
            }
        }
        assert!(spoilt > 0);
        if all {
            // And the store is none any more.
            content[..64].fill(0);
        }
        fs::write(path, content).unwrap();
    };
    spoil(&store(&journal), true);
    spoil(&copy(&journal), false);
    let done = journal.salvage().unwrap();
    assert_eq!(done.lost, [Lost { id: last.0.raw().id.clone(), what: LostText::Last }]);
    let sentences = done.sentences();
    assert_eq!(sentences[0], "recovered 5 entries, with 3 earlier texts");
    assert!(sentences[1].ends_with(": the last edit is lost; the earlier version is there"), "{sentences:?}");
    assert_eq!(journal.entries().unwrap()[0], last.1[1]);
    // Where nothing reads, nothing is put in its place.
    fs::write(store(&journal), "coffee").unwrap();
    fs::write(copy(&journal), "milk").unwrap();
    assert!(journal.salvage().unwrap_err().to_string().contains("no text of the journal can be read"), "nothing to bring back");
    assert_eq!(fs::read(store(&journal)).unwrap(), b"coffee");
}

/// Journals that can only be read, by one who may not write.
#[cfg(unix)]
mod read_only {
    use super::*;
    use std::os::unix::fs::PermissionsExt as _;
    use std::os::unix::process::CommandExt as _;
    use std::process::Command;

    fn set_mode(path: &Path, mode: u32) {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    }

    /// The program, run by one who can't write where only the owner can. Whoever may do everything runs it as nobody.
    fn said(journal: &Path, arguments: &[&str]) -> (Option<i32>, String) {
        // Where all may read it.
        let program = journal.parent().unwrap().join("program");
        if !program.exists() {
            fs::copy(env!("CARGO_BIN_EXE_pleatwright"), &program).unwrap();
            set_mode(&program, 0o755);
        }
        let may_do_everything = fs::write(journal.join("probe"), "").is_ok();
        let mut command = Command::new(&program);
        command.arg("journal").args(arguments).arg("--journal").arg(journal);
        if may_do_everything {
            fs::remove_file(journal.join("probe")).unwrap();
            command.uid(65_534).gid(65_534);
        }
        let output = command.output().unwrap();
        (output.status.code(), String::from_utf8([output.stdout, output.stderr].concat()).unwrap())
    }

    /// Listing used to be refused: the store was opened for writing.
    #[test]
    fn a_read_only_journal_is_listed_and_exported() {
        let folder = tempfile::tempdir().unwrap();
        set_mode(folder.path(), 0o755);
        let journal = five(&folder.path().join("journal"));
        let before = fs::read(store(&journal)).unwrap();
        let plain = folder.path().join("plain");
        fs::create_dir(&plain).unwrap();
        set_mode(&plain, 0o777);
        for file in [store(&journal), copy(&journal)] {
            set_mode(&file, 0o444);
        }
        set_mode(journal.folder(), 0o555);
        let (status, listed) = said(journal.folder(), &["list"]);
        assert!(status == Some(0) && listed.contains("5 entries in"), "{status:?} {listed}");
        let (status, exported) = said(journal.folder(), &["export", plain.to_str().unwrap()]);
        assert!(status == Some(0) && exported.ends_with(": 5 entries\n"), "{status:?} {exported}");
        let id = journal_id(&listed);
        let (status, refused) = said(journal.folder(), &["amend", &id, "--rating", "1"]);
        let words = "journal.redb: the journal can only be read here; export it, and import it into one that can be written";
        assert!(status == Some(1) && refused.contains(words), "{status:?} {refused}");
        set_mode(journal.folder(), 0o755);
        assert_eq!(fs::read(store(&journal)).unwrap(), before);
        let other = Journal::at(folder.path().join("other"));
        assert_eq!(other.import(&plain).unwrap().added.len(), 5);
    }

    fn journal_id(listed: &str) -> String {
        listed.split_once("  ").unwrap().0.to_owned()
    }
}
