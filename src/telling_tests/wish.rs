//! Refusals of wishes, and of their parts.

use super::{every, refusals};
use crate::layout::{LayoutError, LayoutProblem, MixtureProblem, Srgb};
use crate::reveal::RevealError;
use crate::wish::{Cause, FulfilError, NearestWith, NotReached, WishError, WishProblem};

#[test]
fn wishes() {
    let problems = every!(WishProblem:
        WishProblem::Name(_) => WishProblem::Name(LayoutProblem::Name { length: 0, most: 80 }),
        WishProblem::NoLayout => WishProblem::NoLayout,
        WishProblem::Binds { .. } => WishProblem::Binds { count: 0, most: 400 },
        WishProblem::Dyes { .. } => WishProblem::Dyes { count: 20, most: 15 },
        WishProblem::DyeTwice { .. } => WishProblem::DyeTwice { name: "teal".to_owned() },
        WishProblem::Mixture(_) => WishProblem::Mixture(MixtureProblem::Shares { percent: 90.0 }),
        WishProblem::UnknownDye { .. } => WishProblem::UnknownDye { name: "leaf".to_owned(), known: vec!["teal".to_owned(), "amber".to_owned()] },
        WishProblem::Parts { .. } => WishProblem::Parts { count: 0, most: 200 },
        WishProblem::Length { .. } => WishProblem::Length { value_mm: 9000.0, least_mm: -5000.0, most_mm: 5000.0 },
        WishProblem::NoBreadth { .. } => WishProblem::NoBreadth { from_mm: 90.0, to_mm: 80.0, least_mm: 1.0 },
        WishProblem::Overlap { .. } => WishProblem::Overlap { from_mm: 90.0, other: 1, to_mm: 110.0 },
        WishProblem::Weight { .. } => WishProblem::Weight { value: 0.0, least: 0.01, most: 10.0 },
        WishProblem::Lab { .. } => WishProblem::Lab { value: 120.0, least: 0.0, most: 100.0 },
        WishProblem::OffCloth { .. } => WishProblem::OffCloth { from_mm: 800.0, to_mm: 850.0, least_mm: 0.0, most_mm: 494.0 },
        WishProblem::Fold { .. } => WishProblem::Fold { fold: "spiral" },
        WishProblem::SeveralTies { .. } => WishProblem::SeveralTies { ties: 4 },
        WishProblem::Dipped => WishProblem::Dipped,
    );
    let at = |problem| WishError { field: "wished.2.from_mm".into(), problem };
    refusals(&problems.into_iter().map(at).collect::<Vec<_>>());
    let fold = || WishError { field: "layout".into(), problem: WishProblem::Fold { fold: "spiral" } };
    refusals(&every!(FulfilError:
        FulfilError::Wish(_) => FulfilError::Wish(fold()),
        FulfilError::NoWay { .. } => FulfilError::NoWay { marks: 0 },
        FulfilError::Layout(_) => FulfilError::Layout(Box::new(LayoutError { field: "name".into(), problem: LayoutProblem::Name { length: 0, most: 80 } })),
        FulfilError::Reveal(_) => FulfilError::Reveal(RevealError::TooManyPixels { width: 90_000, height: 80_000, most: 70_000_000, finest_mm: 0.1 }),
    ));
}

#[test]
fn parts_out_of_reach() {
    let ground = Srgb { red: 226, green: 196, blue: 160 };
    let causes = every!(Cause:
        Cause::Ground { .. } => Cause::Ground { ground, is_discharged: true, is_lighter: true },
        Cause::OutsideDyes => Cause::OutsideDyes,
        Cause::Deeper { .. } => Cause::Deeper { turned: Some(6.5) },
        Cause::Paler => Cause::Paler,
        Cause::Narrow { .. } => Cause::Narrow { breadth_mm: 4.0, least_mm: 8.0, line_mm: 4.4 },
        Cause::Kept { .. } => Cause::Kept { line_mm: 5.5 },
        Cause::FewBinds { .. } => Cause::FewBinds { most: 3 },
        Cause::Crowded { .. } => Cause::Crowded { line_mm: 4.4 },
    );
    let ground_again = [Cause::Ground { ground, is_discharged: false, is_lighter: false }, Cause::Deeper { turned: None }];
    let part = |cause| NotReached {
        part: 2,
        wished_mm: [150.0, 190.0],
        wished: [Srgb { red: 255, green: 255, blue: 255 }; 2],
        nearest: ground,
        with: NearestWith::Dye("teal".to_owned()),
        difference: 28.0,
        cause,
    };
    refusals(&causes.into_iter().chain(ground_again).map(part).collect::<Vec<_>>());
}
