//! Refusals of projectors and their alignment.

use super::{every, refusals};
use crate::projection::{ProjectorError, ProjectorProblem};

fn problems() -> Vec<ProjectorProblem> {
    every!(ProjectorProblem:
        ProjectorProblem::Name { .. } => ProjectorProblem::Name { length: 0, most: 80 },
        ProjectorProblem::NameTwice { .. } => ProjectorProblem::NameTwice { name: "over the table".to_owned(), first: 1 },
        ProjectorProblem::TooMany { .. } => ProjectorProblem::TooMany { count: 101, most: 100 },
        ProjectorProblem::Length { .. } => ProjectorProblem::Length { value_mm: 30.0, least_mm: 80.0, most_mm: 5000.0 },
        ProjectorProblem::Number { .. } => ProjectorProblem::Number { value: 3.0, least: 0.8, most: 1.25 },
        ProjectorProblem::Marks { .. } => ProjectorProblem::Marks { count: 5 },
        ProjectorProblem::Outside { .. } =>
            ProjectorProblem::Outside { mark: 2, at: [-40.0, 12.5], picture: [1920, 1080] },
        ProjectorProblem::Near { .. } => ProjectorProblem::Near { corners: [1, 2], apart_px: 20.0, least_px: 54.0 },
        ProjectorProblem::InLine { .. } => ProjectorProblem::InLine { corners: [1, 2, 4] },
        ProjectorProblem::Crossed { .. } => ProjectorProblem::Crossed { one: [1, 2], other: [3, 4] },
        ProjectorProblem::Inside { .. } => ProjectorProblem::Inside { corner: 3 },
        ProjectorProblem::Horizon { .. } => ProjectorProblem::Horizon { corner: 2 },
        ProjectorProblem::Unsettled { .. } => ProjectorProblem::Unsettled { marks: 4 },
        ProjectorProblem::Bar { .. } => ProjectorProblem::Bar { measured_mm: 300.0, drawn_mm: 500.0 },
        ProjectorProblem::OtherPicture { .. } =>
            ProjectorProblem::OtherPicture { aligned: [1920, 1080], now: [1280, 720] },
    )
}

#[test]
fn alignments() {
    let problems = problems();
    refusals(&problems);
    let field = || "projectors.2.marks".into();
    let placed: Vec<ProjectorError> = problems.into_iter().map(|problem| ProjectorError { field: field(), problem }).collect();
    refusals(&placed);
}
