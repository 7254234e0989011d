//! The store on a disk whose power fails after every operation.

use super::*;
use redb::StorageBackend;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard};

/// A disk that stops working after so many operations, and remembers what reached it and what was only handed over.
#[derive(Debug, Default)]
struct Disk {
    /// What a sync has confirmed.
    safe: Vec<u8>,
    /// What reads see.
    seen: Vec<u8>,
    /// Handed over since the last sync.
    pending: Vec<Change>,
    /// Operations until the power goes.
    left: usize,
    /// Operations done.
    done: usize,
}

#[derive(Debug, Clone)]
enum Change {
    Length(usize),
    Write(usize, Vec<u8>),
}

impl Change {
    fn apply(&self, image: &mut Vec<u8>) {
        match self {
            Self::Length(length) => image.resize(*length, 0),
            Self::Write(at, bytes) => {
                if image.len() < at + bytes.len() {
                    image.resize(at + bytes.len(), 0);
                }
                image[*at..at + bytes.len()].copy_from_slice(bytes);
            }
        }
    }

    /// What is left of it if the power goes in the middle of it.
    fn torn(&self) -> Self {
        match self {
            Self::Length(length) => Self::Length(*length),
            Self::Write(at, bytes) => Self::Write(*at, bytes[..bytes.len() / 2].to_vec()),
        }
    }
}

impl Disk {
    fn step(&mut self) -> io::Result<()> {
        if self.left == 0 {
            return Err(io::Error::other("the power is gone"));
        }
        self.left -= 1;
        self.done += 1;
        Ok(())
    }

    fn change(&mut self, change: Change) -> io::Result<()> {
        if self.left == 0 {
            return Err(io::Error::other("the power is gone"));
        }
        // The last operation is handed over, and may reach the disk in part.
        change.apply(&mut self.seen);
        self.pending.push(change);
        self.step()
    }

    /// What the disk may hold when the power comes back: changes since the last sync in any selection, the last one torn.
    fn images(&self) -> Vec<Vec<u8>> {
        let image = |keep: &dyn Fn(usize) -> bool, torn: bool| {
            let mut image = self.safe.clone();
            for (index, change) in self.pending.iter().enumerate().filter(|(index, _)| keep(*index)) {
                if torn && index + 1 == self.pending.len() {
                    change.torn().apply(&mut image);
                } else {
                    change.apply(&mut image);
                }
            }
            image
        };
        vec![
            image(&|_| false, false),
            image(&|_| true, false),
            image(&|_| true, true),
            image(&|index| index % 2 == 0, false),
            image(&|index| index % 2 == 1, true),
            image(&|index| index + 1 == self.pending.len(), false),
        ]
    }
}

#[derive(Debug, Clone, Default)]
struct Storage(Arc<Mutex<Disk>>);

impl Storage {
    fn with_power(image: Vec<u8>, left: usize) -> Self {
        Self(Arc::new(Mutex::new(Disk { safe: image.clone(), seen: image, left, ..Disk::default() })))
    }

    fn disk(&self) -> MutexGuard<'_, Disk> {
        self.0.lock().unwrap()
    }
}

fn place(at: u64) -> usize {
    usize::try_from(at).unwrap()
}

impl StorageBackend for Storage {
    fn len(&self) -> io::Result<u64> {
        Ok(self.disk().seen.len() as u64)
    }

    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        let disk = self.disk();
        let from = place(offset);
        let Some(bytes) = disk.seen.get(from..from + out.len()) else { return Err(io::ErrorKind::UnexpectedEof.into()) };
        out.copy_from_slice(bytes);
        Ok(())
    }

    fn set_len(&self, length: u64) -> io::Result<()> {
        self.disk().change(Change::Length(place(length)))
    }

    fn sync_data(&self) -> io::Result<()> {
        let mut disk = self.disk();
        disk.step()?;
        disk.safe = disk.seen.clone();
        disk.pending.clear();
        Ok(())
    }

    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        self.disk().change(Change::Write(place(offset), data.to_vec()))
    }
}

/// What is done to the store: new entries, amendments, several at once, large ones.
fn work() -> Vec<Vec<(&'static str, String)>> {
    let text = |what: &str, length: usize| format!("{what} {}", "x".repeat(length));
    vec![
        vec![("one", text("first", 100))],
        vec![("two", text("first", 20_000))],
        vec![("one", text("second", 5000))],
        vec![("three", text("first", 10)), ("four", text("first", 3000)), ("two", text("second", 10))],
        vec![("one", text("third", 50))],
    ]
}

type State = BTreeMap<String, String>;

/// Does the work until the power goes. The states of entries that may be found: the last confirmed, and the one in hand.
fn run(storage: &Storage, before: &State) -> (State, State) {
    let mut confirmed = before.clone();
    let mut in_hand = before.clone();
    let Ok(book) = Book::on(storage.clone()) else { return (confirmed, in_hand) };
    for entries in work() {
        in_hand.extend(entries.iter().map(|(id, text)| ((*id).to_owned(), text.clone())));
        if book.write(&entries).is_err() {
            return (confirmed, in_hand);
        }
        confirmed.clone_from(&in_hand);
    }
    (confirmed, in_hand)
}

/// An empty store, as [`make`] leaves it.
fn empty() -> Vec<u8> {
    let storage = Storage::with_power(Vec::new(), usize::MAX);
    drop(Book::on(storage.clone()).unwrap());
    storage.disk().seen.clone()
}

fn state(book: &Book) -> State {
    book.all().unwrap().into_iter().map(|record| (record.id, record.text)).collect()
}

#[test]
fn a_journal_killed_at_every_step_loses_nothing_that_was_confirmed() {
    let empty = empty();
    let whole = Storage::with_power(empty.clone(), usize::MAX);
    let (all, _) = run(&whole, &State::new());
    let steps = whole.disk().done;
    assert!(steps > 40, "{steps} steps");
    let mut confirmed_counts = Vec::new();
    for left in 0..=steps {
        let storage = Storage::with_power(empty.clone(), left);
        let (confirmed, in_hand) = run(&storage, &State::new());
        confirmed_counts.push(confirmed.len());
        for (which, image) in storage.disk().images().into_iter().enumerate() {
            let again = Storage::with_power(image, usize::MAX);
            let book = Book::on(again.clone()).unwrap_or_else(|error| panic!("step {left}, image {which}: {error:?}"));
            let found = state(&book);
            assert!(found == confirmed || found == in_hand, "step {left}, image {which}: {:?}", found.keys());
            // And it goes on from there.
            drop(book);
            assert_eq!(run(&again, &found).0, all, "step {left}, image {which}");
        }
    }
    assert!(confirmed_counts.is_sorted() && confirmed_counts.last() == Some(&4));
}

/// The power goes again while the store puts itself right.
#[test]
fn a_crash_while_recovering_loses_nothing_either() {
    let empty = empty();
    let whole = Storage::with_power(empty.clone(), usize::MAX);
    run(&whole, &State::new());
    let steps = whole.disk().done;
    for left in (0..=steps).step_by(7) {
        let storage = Storage::with_power(empty.clone(), left);
        let (confirmed, in_hand) = run(&storage, &State::new());
        let image = storage.disk().images().swap_remove(2);
        for more in 0..12 {
            let second = Storage::with_power(image.clone(), more);
            drop(Book::on(second.clone()));
            for image in second.disk().images() {
                let found = state(&Book::on(Storage::with_power(image, usize::MAX)).unwrap());
                assert!(found == confirmed || found == in_hand, "step {left}, then {more}");
            }
        }
    }
}

#[test]
fn what_an_entry_said_before_is_kept_in_order() {
    let empty = empty();
    let book = Book::on(Storage::with_power(empty.clone(), usize::MAX)).unwrap();
    for text in ["a", "b", "b", "c"] {
        book.write(&[("one", text.to_owned())]).unwrap();
    }
    book.write(&[("one-2", "z".to_owned())]).unwrap();
    let earlier: Vec<(u32, String)> = book.earlier("one").unwrap().into_iter().map(|record| (record.turn, record.text)).collect();
    assert_eq!(earlier, [(1, "a".to_owned()), (2, "b".to_owned())]);
    assert_eq!((book.all().unwrap()[0].turn, book.count().unwrap()), (3, 4));
    assert_eq!((book.free_id("one").unwrap(), book.free_id("two").unwrap()), ("one-3".to_owned(), "two".to_owned()));
}

/// Damage from outside is told; whatever the bytes are, nothing panics.
#[test]
fn a_damaged_file_is_an_error() {
    let empty = empty();
    let whole = Storage::with_power(empty.clone(), usize::MAX);
    run(&whole, &State::new());
    let image = whole.disk().seen.clone();
    for at in (0..image.len()).step_by(image.len() / 200) {
        let mut damaged = image.clone();
        for byte in damaged.iter_mut().skip(at).take(64) {
            *byte ^= 0x5a;
        }
        if let Ok(book) = Book::on(Storage::with_power(damaged, usize::MAX)) {
            drop(book.all());
        }
    }
    assert!(Book::on(Storage::with_power(vec![7; 5000], usize::MAX)).is_err());
}

/// What a program before this one wrote, bare texts without turns, reads as it did, and is sealed as it is amended.
#[test]
fn a_store_of_the_first_form_is_read_and_goes_on() {
    let storage = Storage::with_power(empty(), usize::MAX);
    {
        let book = Book::on(storage.clone()).unwrap();
        let write = book.database.begin_write().unwrap();
        write.open_table(ABOUT).unwrap().insert("format", 1).unwrap();
        write.open_table(ENTRIES).unwrap().insert("one", "b").unwrap();
        write.open_table(EARLIER).unwrap().insert(("one", 1), "a").unwrap();
        write.commit().unwrap();
    }
    let book = Book::on(storage.clone()).unwrap();
    let texts = |book: &Book| -> Vec<String> { book.records().unwrap().into_iter().map(|record| record.text).collect() };
    assert_eq!((book.get("one").unwrap().unwrap(), texts(&book)), ("b".to_owned(), vec!["a".to_owned(), "b".to_owned()]));
    book.write(&[("one", "b".to_owned())]).unwrap();
    book.write(&[("one", "c".to_owned())]).unwrap();
    assert_eq!((texts(&book), book.format().unwrap()), (["a", "b", "c"].map(str::to_owned).to_vec(), Some(3)));
    assert_eq!(super::super::record::find(&storage.disk().seen).whole.iter().filter(|record| record.text == "c").count(), 1);
}
