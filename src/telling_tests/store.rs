//! Refusals of files, shelves, documents and the journal.

use super::{every, refusals};
use crate::edit::DocumentError;
use crate::import::ImportError;
use crate::layout::{LayoutError, LayoutProblem};
use crate::learn::{LearnedError, LearnedProblem};
use crate::photo::{MarksError, MarksProblem};
use crate::plan::{PlanFileError, PlanProblem};
use crate::projection::{ProjectorError, ProjectorProblem};
use crate::reveal::colour::{SwatchBookError, SwatchBookProblem};
use crate::store::journal::{Damage, EntryPlace, EntryProblem, JournalError, PhotoProblem};
use crate::store::system::OwnFault;
use crate::store::{
    BundleProblem, DrawingError, FileFault, FileKind, FileWork, NotRead, OrderError, OtherKind, PhotographError,
    PhotographProblem, Place, ReadError, SaveError, ShelfError, Shipped, SwatchShelfError, TextError, parse_layout,
};
use crate::wish::{WishError, WishProblem};
use std::io::{self, ErrorKind};
use std::path::PathBuf;

fn path() -> PathBuf {
    PathBuf::from("some_folder/tee_m.ron")
}

fn full() -> io::Error {
    io::Error::from(ErrorKind::StorageFull)
}

fn save_error() -> SaveError {
    SaveError { path: path(), source: full() }
}

fn read_error() -> ReadError {
    ReadError::File { path: path(), source: OwnFault::Folder.into() }
}

fn other_kind(holds: Option<FileKind>) -> OtherKind {
    OtherKind { path: path(), holds, written: FileKind::Layout }
}

fn place() -> Option<Place> {
    Some(Place { line: 9, column: 60 })
}

fn wrong_layout() -> LayoutError {
    LayoutError { field: "thread.tail_mm".into(), problem: LayoutProblem::Number { value: 1e4, least: 0.0, most: 2000.0 } }
}

fn wrong_order() -> PlanFileError {
    PlanFileError { field: "workshop.tub_l".into(), problem: PlanProblem::Number { value: 0.0, least: 0.5, most: 10_000.0 } }
}

fn wrong_swatches() -> SwatchBookError {
    SwatchBookError { field: "name".into(), problem: SwatchBookProblem::Name { length: 0, most: 80 } }
}

fn wrong_wish() -> WishError {
    WishError { field: "wished.2.from_mm".into(), problem: WishProblem::Overlap { from_mm: 90.0, other: 1, to_mm: 110.0 } }
}

fn wrong_learned() -> LearnedError {
    LearnedError { field: "learned.2.is".into(), problem: LearnedProblem::Range { value: 900.0, least: 0.5, most: 500.0 } }
}

fn wrong_projector() -> ProjectorError {
    ProjectorError {
        field: "projectors.1.scale".into(),
        problem: ProjectorProblem::Number { value: 3.0, least: 0.8, most: 1.25 },
    }
}

fn form_of(text: &str) -> TextError {
    parse_layout(text).unwrap_err().1
}

fn texts() -> Vec<TextError> {
    every!(TextError:
        TextError::Form(_) => form_of("(format: 1, guide_radios_mm: 3)"),
        TextError::Missing(_) => TextError::Missing(vec!["name".into(), "lines".into()]),
        TextError::Value(_) => TextError::Value(Box::new(wrong_layout())),
        TextError::Swatches(_) => TextError::Swatches(wrong_swatches()),
        TextError::SwatchForm { .. } => TextError::SwatchForm { found: 9, known: 1 },
        TextError::Plan(_) => TextError::Plan(Box::new(wrong_order())),
        TextError::Marks(_) => TextError::Marks(Box::new(wrong_marks())),
        TextError::MarksForm { .. } => TextError::MarksForm { found: 9, known: 1 },
        TextError::Learned(_) => TextError::Learned(Box::new(wrong_learned())),
        TextError::LearnedForm { .. } => TextError::LearnedForm { found: 9, known: 1 },
        TextError::Wish(_) => TextError::Wish(Box::new(wrong_wish())),
        TextError::WishForm { .. } => TextError::WishForm { found: 9, known: 1 },
        TextError::Projectors(_) => TextError::Projectors(Box::new(wrong_projector())),
        TextError::ProjectorForm { .. } => TextError::ProjectorForm { found: 9, known: 1 },
    )
}

#[test]
fn files() {
    refusals(&OwnFault::ALL.map(|fault| ReadError::File { path: path(), source: fault.into() }));
    use ErrorKind::{
        InvalidData, InvalidFilename, IsADirectory, NotADirectory, NotFound, PermissionDenied, QuotaExceeded, ReadOnlyFilesystem,
        StorageFull, TimedOut,
    };
    let kinds = [
        NotFound,
        PermissionDenied,
        IsADirectory,
        NotADirectory,
        ReadOnlyFilesystem,
        StorageFull,
        QuotaExceeded,
        InvalidFilename,
        InvalidData,
        TimedOut,
    ];
    refusals(&kinds.map(|kind| SaveError { path: path(), source: kind.into() }));
    use FileWork::{List, Make, OpenOutside, PutAway, Remove};
    refusals(&[List, Make, OpenOutside, PutAway, Remove].map(|work| FileFault { path: path(), work, source: full() }));
    refusals(
        &every!(ReadError:
            ReadError::File { .. } => read_error(),
            ReadError::TooLarge { .. } => ReadError::TooLarge { path: path(), bytes: 9 << 20, most: 4 << 20 },
            ReadError::Text { .. } => ReadError::Text { path: path(), place: None, problem: TextError::Value(Box::new(wrong_layout())) },
            ReadError::OtherKind { .. } => ReadError::OtherKind { path: path(), holds: FileKind::Layout, wanted: FileKind::Wish },
            ReadError::NoSuch { .. } => ReadError::NoSuch { path: path(), what: Shipped::Recipes, known: vec!["powder-under-ice"] },
            ReadError::Bundle(_) => BundleProblem::NoArchive.of(&path()).into(),
            ReadError::Several(_) => ReadError::Several(vec![read_error(), read_error()]),
        )[..6],
    );
    refusals(&texts().into_iter().map(|problem| ReadError::Text { path: path(), place: place(), problem }).collect::<Vec<_>>());
    refusals(&[ReadError::NoSuch { path: path(), what: Shipped::Processes, known: vec!["plain-dye", "plain-paint"] }]);
    refusals(&every!(NotRead:
        NotRead::System(_) => NotRead::System(io::Error::other("it broke at 3")),
        NotRead::TooLarge { .. } => NotRead::TooLarge { bytes: 101, most: 100 },
    ));
    refusals(&every!(DrawingError:
        DrawingError::File(_) => DrawingError::File(NotRead::TooLarge { bytes: 101, most: 100 }),
        DrawingError::Drawing(_) => DrawingError::Drawing(ImportError::TooLarge { bytes: 101, most: 100 }),
    ));
}

#[test]
fn bundles() {
    let name = "layout.ron";
    let problems = every!(BundleProblem:
        BundleProblem::NoArchive => BundleProblem::NoArchive,
        BundleProblem::OtherArchive => BundleProblem::OtherArchive,
        BundleProblem::TooMany { .. } => BundleProblem::TooMany { entries: 900, most: 37 },
        BundleProblem::Twice => BundleProblem::Twice,
        BundleProblem::Name { .. } => BundleProblem::Name { name: "../layout.ron".to_owned() },
        BundleProblem::Locked { .. } => BundleProblem::Locked { name },
        BundleProblem::Bomb { .. } => BundleProblem::Bomb { most: 9 << 20 },
        BundleProblem::Damaged { .. } => BundleProblem::Damaged { name },
        BundleProblem::Missing { .. } => BundleProblem::Missing { name: name.to_owned() },
        BundleProblem::Contents { .. } => BundleProblem::Contents { name: "preset-2.ron".to_owned() },
        BundleProblem::Picture => BundleProblem::Picture,
        BundleProblem::PresetTwice { .. } => BundleProblem::PresetTwice { name: "Tight heart".to_owned() },
        BundleProblem::TooManyPresets { .. } => BundleProblem::TooManyPresets { count: 33 },
        BundleProblem::TooLarge { .. } => BundleProblem::TooLarge { bytes: 64 << 20 },
        BundleProblem::NotPacked => BundleProblem::NotPacked,
    );
    refusals(&problems.into_iter().map(|problem| problem.of(&path())).collect::<Vec<_>>());
}

/// What the parser says of a text that is no layout.
#[test]
fn forms() {
    let texts = [
        "",
        "(",
        "(format: 1",
        "(format: x)",
        "(format: 1.5)",
        "(format: -1)",
        "(format: 1, format: 1)",
        "(format: 1) x",
        "(format: 1, name: 3)",
        "(format: 1, name: \"x)",
        "(format: 1 /* x",
        "(format: 1, name: \"\\q\")",
        "(format: 1, garment: (kind: Cape))",
        "(name: \"x\")",
        "[1]",
    ];
    refusals(&texts.map(|text| ReadError::Text { path: path(), place: place(), problem: form_of(text) }));
}

#[test]
fn shelves_and_documents() {
    refusals(&every!(SwatchShelfError:
        SwatchShelfError::Read(_) => read_error().into(),
        SwatchShelfError::Save(_) => save_error().into(),
        SwatchShelfError::OtherKind(_) => other_kind(Some(FileKind::Recipe)).into(),
        SwatchShelfError::Swatch(_) => wrong_swatches().into(),
    ));
    refusals(&every!(ShelfError:
        ShelfError::Read(_) => read_error().into(),
        ShelfError::Save(_) => save_error().into(),
        ShelfError::Name(_) => ShelfError::Name(Box::new(wrong_layout())),
        ShelfError::Remove { .. } => ShelfError::Remove { path: path(), source: full() },
    ));
    refusals(&every!(OrderError:
        OrderError::Read(_) => read_error().into(),
        OrderError::Order(_) => wrong_order().into(),
    ));
    refusals(&every!(DocumentError:
        DocumentError::Read(_) => read_error().into(),
        DocumentError::Save(_) => save_error().into(),
        DocumentError::OtherKind(_) => other_kind(Some(FileKind::Order)).into(),
        DocumentError::ChangedOnDisk { .. } => DocumentError::ChangedOnDisk { path: path() },
    ));
    refusals(&[other_kind(None)]);
}

fn entries() -> Vec<EntryProblem> {
    let photo = || "front.jpg".to_owned();
    every!(EntryProblem:
        EntryProblem::Form { .. } => EntryProblem::Form { place: place(), problem: Box::new(form_of("(format: 1,")) },
        EntryProblem::NoFile => EntryProblem::NoFile,
        EntryProblem::Format { .. } => EntryProblem::Format { found: 7, known: 1 },
        EntryProblem::Rating { .. } => EntryProblem::Rating { rating: 9 },
        EntryProblem::Long { .. } => EntryProblem::Long { field: "change", length: 20_001, most: 20_000 },
        EntryProblem::Id { .. } => EntryProblem::Id { id: "Tee!".to_owned(), most: 80 },
        EntryProblem::Layout(_) => EntryProblem::Layout(Box::new(TextError::Value(Box::new(wrong_layout())))),
        EntryProblem::PhotoName { .. } => EntryProblem::PhotoName { file: photo() },
        EntryProblem::NoPhoto { .. } => EntryProblem::NoPhoto { file: photo() },
    )
}

fn wrong_marks() -> MarksError {
    MarksError { field: "points".into(), problem: MarksProblem::TooMany { count: 200, most: 100 } }
}

fn photographs() -> Vec<PhotographProblem> {
    every!(PhotographProblem:
        PhotographProblem::Photo(_) => PhotographProblem::Photo(PhotoProblem::Outside),
        PhotographProblem::Heic => PhotographProblem::Heic,
        PhotographProblem::Kind => PhotographProblem::Kind,
        PhotographProblem::Profile { .. } => PhotographProblem::Profile { bytes: 300 },
    )
}

#[test]
fn photographs_to_be_measured() {
    let placed = |problem| PhotographError { path: path(), problem };
    refusals(&photographs().into_iter().map(placed).collect::<Vec<_>>());
}

fn photos() -> Vec<PhotoProblem> {
    every!(PhotoProblem:
        PhotoProblem::File(_) => full().into(),
        PhotoProblem::TooLarge { .. } => PhotoProblem::TooLarge { bytes: 9 << 30, most: 4 << 20 },
        PhotoProblem::Kind => PhotoProblem::Kind,
        PhotoProblem::Content => PhotoProblem::Content,
        PhotoProblem::Changed => PhotoProblem::Changed,
        PhotoProblem::Pixels { .. } => PhotoProblem::Pixels { width: 90_000, height: 90_000, most: 250_000_000 },
        PhotoProblem::Memory { .. } => PhotoProblem::Memory { width: 9000, height: 9000, bytes: 1 << 30, most: 600 << 20 },
        PhotoProblem::Damaged => PhotoProblem::Damaged,
        PhotoProblem::Outside => PhotoProblem::Outside,
    )
}

#[test]
fn the_journal() {
    let photo = |problem| JournalError::Photo { path: path(), problem };
    let entry = |problem| JournalError::Entry { place: EntryPlace::Named("2027-05-05-tee".to_owned()), problem };
    let missing = |near| JournalError::Missing { folder: path(), id: "tee".to_owned(), near };
    let damaged = |damage| JournalError::Damaged { path: path(), damage };
    refusals(&every!(JournalError:
        JournalError::Busy { .. } => JournalError::Busy { path: path() },
        JournalError::Store { .. } => JournalError::Store { path: path(), source: NotRead::System(full()) },
        JournalError::Damaged { .. } => damaged(Damage::Content),
        JournalError::ReadOnly { .. } => JournalError::ReadOnly { path: path() },
        JournalError::Nothing { .. } => JournalError::Nothing { folder: path() },
        JournalError::Format { .. } => JournalError::Format { path: path(), found: 9, known: 2 },
        JournalError::Missing { .. } => missing(Vec::new()),
        JournalError::Entry { .. } => JournalError::Entry { place: EntryPlace::New, problem: EntryProblem::Rating { rating: 0 } },
        JournalError::Photo { .. } => photo(PhotoProblem::Kind),
        JournalError::Read(_) => read_error().into(),
        JournalError::Save(_) => save_error().into(),
    ));
    refusals(&[
        missing(vec!["2027-05-05-tee".to_owned()]),
        damaged(Damage::Missing { copied: 9 }),
        damaged(Damage::Fewer { found: 3, copied: 9 }),
        JournalError::Entry { place: EntryPlace::File(path()), problem: EntryProblem::NoFile },
    ]);
    refusals(&entries().into_iter().map(entry).collect::<Vec<_>>());
    refusals(&photos().into_iter().map(photo).collect::<Vec<_>>());
}
