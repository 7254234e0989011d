//! Refusals and warnings of reveals and colours.

use super::handbook::{named_by_variant, quoted, quotes};
use super::{every, refusals, warnings};
use crate::layout::MixtureProblem;
use crate::reveal::colour::{BetterOrder, ColourWarning, SwatchBookError, SwatchBookProblem};
use crate::reveal::solver::{SolverError, Values};
use crate::reveal::{Advice, Fix, RevealError, RevealLength};
use crate::telling::{Field, capitalised};

fn solver() -> Vec<SolverError> {
    let what = Values::Along;
    every!(SolverError:
        SolverError::Cancelled => SolverError::Cancelled,
        SolverError::Shape { .. } => SolverError::Shape { slabs: 0, places: 3, across: 5 },
        SolverError::Fields { .. } => SolverError::Fields { fields: 17 },
        SolverError::Unlike { .. } => SolverError::Unlike { what },
        SolverError::Length { .. } => SolverError::Length { what, found: 3, wanted: 8 },
        SolverError::Value { .. } => SolverError::Value { what, index: 3, value: f32::NAN },
        SolverError::Unclosed { .. } => SolverError::Unclosed { index: 3 },
        SolverError::Overflow { .. } => SolverError::Overflow { steps: 30 },
        SolverError::NotConverged { .. } => SolverError::NotConverged { steps: 30, residual: 0.1, wanted: 1e-4 },
    )
}

#[test]
fn reveals() {
    let length = |what| RevealError::Length { what, value_mm: 0.01, least_mm: 0.05, most_mm: 50.0 };
    refusals(&every!(RevealError:
        RevealError::Cancelled => RevealError::Cancelled,
        RevealError::NoCloth { .. } => RevealError::NoCloth { length_mm: 0.0, places: 0 },
        RevealError::TooManyCells { .. } => RevealError::TooManyCells { cells: 1_000_000_000, most: 60_000_000 },
        RevealError::TooManyDyes { .. } => RevealError::TooManyDyes { dyes: 20, most: 16 },
        RevealError::TooManyComponents { .. } => RevealError::TooManyComponents { dyes: 8, fields: 20, most: 16 },
        RevealError::TooManyPixels { .. } =>
            RevealError::TooManyPixels { width: 90_000, height: 90_000, most: 60_000_000, finest_mm: 0.3 },
        RevealError::Length { .. } => length(RevealLength::Cell),
        RevealError::Solver(_) => RevealError::Solver(SolverError::Fields { fields: 17 }),
    ));
    refusals(&[length(RevealLength::Pixel)]);
    let told: Vec<SolverError> = solver().into_iter().filter(|error| !matches!(error, SolverError::Unlike { .. })).collect();
    refusals(&told);
}

#[test]
fn swatch_books() {
    let name = || "teal".to_owned();
    let problems = every!(SwatchBookProblem:
        SwatchBookProblem::Name { .. } => SwatchBookProblem::Name { length: 0, most: 80 },
        SwatchBookProblem::LongNote { .. } => SwatchBookProblem::LongNote { length: 60_000, most: 50_000 },
        SwatchBookProblem::TooMany { .. } => SwatchBookProblem::TooMany { count: 2001, most: 2000 },
        SwatchBookProblem::NameTwice { .. } => SwatchBookProblem::NameTwice { name: name(), first: 1 },
        SwatchBookProblem::Mixture(_) => SwatchBookProblem::Mixture(MixtureProblem::Shares { percent: 90.0 }),
        SwatchBookProblem::Depth { .. } => SwatchBookProblem::Depth { name: name(), value: 0.0, least: 0.01, most: 50.0 },
    );
    let field = || Field::from("swatches").item(3).then("depth_percent");
    refusals(&problems.into_iter().map(|problem| SwatchBookError { field: field(), problem }).collect::<Vec<_>>());
}

#[test]
fn colours_and_advice() {
    let better = BetterOrder { colours: vec!["lake".to_owned(), "amber".to_owned()], least_difference: 53.6 };
    let alike = |better_order| ColourWarning::NeighboursAlike {
        inner_sections: vec![1, 5],
        first: "lake".to_owned(),
        second: "harbour".to_owned(),
        difference: 3.3,
        limit: 10.0,
        better_order,
    };
    let (colour, difference, limit) = (|| "straw".to_owned(), 4.2, 10.0);
    let all = every!(ColourWarning:
        ColourWarning::NeighboursAlike { .. } => alike(Some(better)),
        ColourWarning::RingsLost { .. } => ColourWarning::RingsLost { colour: colour(), difference, limit },
        ColourWarning::MixtureUnlike { .. } =>
            ColourWarning::MixtureUnlike { colour: "slate".to_owned(), difference: 14.2, limit: 5.0 },
        ColourWarning::LostOnGround { .. } => ColourWarning::LostOnGround { colour: colour(), difference, limit },
    );
    warnings(&all);
    quoted(&all);
    named_by_variant(&all);
    warnings(&[alike(None)]);
    let advice = |fixes: &[Fix]| Advice {
        tie: None,
        fixes: fixes.to_vec(),
        sections: vec![2, 3, 5],
        reached: (0.32, 0.59),
        least_even: 0.5,
    };
    warnings(&Fix::ALL.map(|fix| advice(&[fix])));
    warnings(&[advice(&Fix::ALL)]);
    for fix in Fix::ALL {
        let said = format!("{}.", capitalised(fix.words()));
        assert_eq!(quotes(fix.name()), Some(vec![said]), "{fix:?}");
    }
}
