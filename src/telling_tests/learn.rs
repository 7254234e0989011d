//! Refusals of pieces to learn from, and of what was learned.

use super::{every, refusals};
use crate::learn::{LearnError, LearnedError, LearnedProblem, LearnedValue};
use crate::photo::PhotoError;
use crate::plan::PlanError;
use crate::print::PrintError;
use crate::print::parts::OrderPrintError;
use crate::reveal::RevealError;
use crate::store::{FileFault, FileWork, ReadError, SaveError};
use crate::test_day::TestDayError;
use std::io;
use std::path::PathBuf;

#[test]
fn learning() {
    let photograph = || "front.jpg".to_owned();
    let piece = || "Test cloth A".to_owned();
    refusals(&every!(LearnError:
        LearnError::Photo { .. } => LearnError::Photo { photograph: photograph(), error: PhotoError::Table { places: 3, least: 30 } },
        LearnError::NoSheet { .. } => LearnError::NoSheet { photograph: photograph() },
        LearnError::SeveralTies { .. } => LearnError::SeveralTies { piece: piece(), ties: 4 },
        LearnError::NoPhotograph { .. } => LearnError::NoPhotograph { piece: piece() },
        LearnError::Bare { .. } => LearnError::Bare { piece: piece() },
        LearnError::Twice { .. } => LearnError::Twice { photograph: photograph(), piece: piece() },
        LearnError::Unsettled { .. } => LearnError::Unsettled { bins: 12 },
        LearnError::Reveal(_) => LearnError::Reveal(RevealError::TooManyPixels { width: 90_000, height: 80_000, most: 70_000_000, finest_mm: 0.1 }),
    ));
}

#[test]
fn what_was_learned() {
    let problems = every!(LearnedProblem:
        LearnedProblem::Name { .. } => LearnedProblem::Name { name: "reach".to_owned(), known: vec!["seeping", "underside"] },
        LearnedProblem::Twice { .. } => LearnedProblem::Twice { value: LearnedValue::Seeping },
        LearnedProblem::ComponentTwice { .. } => LearnedProblem::ComponentTwice { mixture: "slate grey".to_owned(), component: "blue".to_owned() },
        LearnedProblem::Nameless => LearnedProblem::Nameless,
        LearnedProblem::Range { .. } => LearnedProblem::Range { value: 900.0, least: 0.5, most: 500.0 },
        LearnedProblem::Covariances { .. } => LearnedProblem::Covariances { count: 3, expected: 2 },
        LearnedProblem::NotPositive { .. } => LearnedProblem::NotPositive { count: 18 },
    );
    let at = |problem| LearnedError { field: "learned.2.is".into(), problem };
    refusals(&problems.into_iter().map(at).collect::<Vec<_>>());
}

#[test]
fn the_day_of_the_test_cloth() {
    let (path, piece) = (|| PathBuf::from("test-cloth"), || "Test cloth A".to_owned());
    let source = || io::Error::from(io::ErrorKind::PermissionDenied);
    refusals(&every!(TestDayError:
        TestDayError::IsThere { .. } => TestDayError::IsThere { path: path() },
        TestDayError::Plan(_) => TestDayError::Plan(PlanError::Stopped),
        TestDayError::Print(_) => TestDayError::Print(OrderPrintError::Print { name: piece(), source: PrintError::NoPages { title: piece() } }),
        TestDayError::Read(_) => TestDayError::Read(ReadError::File { path: path(), source: source() }),
        TestDayError::Save(_) => TestDayError::Save(SaveError { path: path(), source: source() }),
        TestDayError::Staging(_) => TestDayError::Staging(FileFault::of(&path(), FileWork::Make)(source())),
    ));
}
