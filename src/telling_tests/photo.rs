//! Refusals of photographs and their marks.

use super::{every, refusals};
use crate::geometry::Panel;
use crate::photo::{MarksError, MarksProblem, PhotoError, SquaresError, SquaresProblem};
use crate::reveal::RevealError;

fn problems() -> Vec<MarksProblem> {
    let names = || vec!["neck left".to_owned(), "neck right".to_owned()];
    every!(MarksProblem:
        MarksProblem::Name { .. } => MarksProblem::Name { name: "elbow".to_owned(), known: names() },
        MarksProblem::NameTwice { .. } => MarksProblem::NameTwice { name: "neck left".to_owned() },
        MarksProblem::TooFew { .. } => MarksProblem::TooFew { count: 3, least: 4, best: names() },
        MarksProblem::TooMany { .. } => MarksProblem::TooMany { count: 200, most: 100 },
        MarksProblem::Outside { .. } => MarksProblem::Outside { at: [-3.0, 12.5], picture: [4000, 3000] },
        MarksProblem::Corners { .. } => MarksProblem::Corners { count: 3 },
        MarksProblem::Crossed { .. } => MarksProblem::Crossed { corner: 2 },
        MarksProblem::Paper { .. } => MarksProblem::Paper { name: "foolscap".to_owned(), known: vec!["A4", "Letter"] },
        MarksProblem::Side { .. } => MarksProblem::Side { side: Panel::Back },
    )
}

#[test]
fn marks() {
    let problems = problems();
    let field = || "points.2.name".into();
    let placed: Vec<MarksError> = problems.into_iter().map(|problem| MarksError { field: field(), problem }).collect();
    refusals(&placed);
}

#[test]
fn photographs() {
    let mark = MarksError { field: "points.2.name".into(), problem: MarksProblem::NameTwice { name: "hem left".to_owned() } };
    refusals(&every!(PhotoError:
        PhotoError::Marks(_) => PhotoError::Marks(mark),
        PhotoError::Unsettled { .. } => PhotoError::Unsettled { points: 4 },
        PhotoError::Mirrored { .. } => PhotoError::Mirrored { points: 4 },
        PhotoError::Small { .. } => PhotoError::Small { pixel_mm: 2.0, most_mm: 1.5 },
        PhotoError::Outline { .. } => PhotoError::Outline { found_percent: 31.0, least_percent: 55.0 },
        PhotoError::MarkOff { .. } => PhotoError::MarkOff { name: "hem left".to_owned(), off_mm: 63.0 },
        PhotoError::OtherSide { .. } => PhotoError::OtherSide { marked: Panel::Back, seen: Panel::Front },
        PhotoError::OtherSideRings { .. } => PhotoError::OtherSideRings { marked: Panel::Front, seen: Panel::Back },
        PhotoError::NoRings { .. } => PhotoError::NoRings { found_percent: 20.0, least_percent: 35.0 },
        PhotoError::BurntOut { .. } => PhotoError::BurntOut { percent: 40.0, most_percent: 2.0 },
        PhotoError::SheetBent { .. } => PhotoError::SheetBent { sides_mm: [210.0, 297.0, 180.0, 297.0] },
        PhotoError::SheetSize { .. } => PhotoError::SheetSize { found_mm: [150.0, 210.0], paper_mm: [210.0, 297.0] },
        PhotoError::Table { .. } => PhotoError::Table { places: 3, least: 30 },
        PhotoError::Puck { .. } => PhotoError::Puck { binds: 6 },
        PhotoError::Reveal(_) => PhotoError::Reveal(RevealError::TooManyPixels { width: 90_000, height: 80_000, most: 70_000_000, finest_mm: 0.1 }),
    ));
}

#[test]
fn squares() {
    let problems = every!(SquaresProblem:
        SquaresProblem::TooMany { .. } => SquaresProblem::TooMany { count: 80, most: 60 },
        SquaresProblem::Outside { .. } => SquaresProblem::Outside { sides: [-3.0, 12.5, 90.0, 80.0], picture: [4000, 3000] },
        SquaresProblem::Small { .. } => SquaresProblem::Small { side: 9.5, least: 16.0 },
        SquaresProblem::Over { .. } => SquaresProblem::Over { other: 2 },
        SquaresProblem::HalfOnSheet => SquaresProblem::HalfOnSheet,
        SquaresProblem::BurntOut { .. } => SquaresProblem::BurntOut { percent: 40.0, most_percent: 2.0 },
        SquaresProblem::BrighterThanPaper { .. } => SquaresProblem::BrighterThanPaper { percent: 240.0, most_percent: 115.0 },
        SquaresProblem::Picture(_) => SquaresProblem::Picture(PhotoError::Table { places: 3, least: 30 }),
    );
    let placed = problems.into_iter().map(|problem| SquaresError { field: Some("squares.3".into()), problem });
    refusals(&placed.collect::<Vec<_>>());
    refusals(&[SquaresError::from(PhotoError::BurntOut { percent: 40.0, most_percent: 2.0 })]);
}
