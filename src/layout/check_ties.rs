//! From several ties as the maker gives them to checked ones.

use super::check::{check_lists, check_name, check_one, check_single_colours};
use super::checked::{Layout, Tied};
use super::error::{LayoutError, LayoutProblem};
use super::mixture::check_components;
use super::tie_spec::{MOST_TIES, TiesSpec};
use super::{FoldKind, LayoutSpec, Swatch, TieProblem, fingerprint};
use crate::geometry::{Bundle as _, Taken, TiedFold};
use crate::telling::Field;

/// Less cloth than this is no tie, mm2: a square centimetre (own choice).
const LEAST_MM2: f64 = 100.0;

impl TryFrom<LayoutSpec> for Layout {
    type Error = LayoutError;

    fn try_from(raw: LayoutSpec) -> Result<Self, LayoutError> {
        match raw.ties.clone() {
            Some(ties) if ties.further.is_empty() => Err(LayoutError::new("ties.further", TieProblem::Alone)),
            Some(ties) => check_ties(raw, &ties),
            None => check_one(raw),
        }
    }
}

/// Checks a layout of several ties, each as a layout of it alone.
fn check_ties(raw: LayoutSpec, spec: &TiesSpec) -> Result<Layout, LayoutError> {
    check_whole(&raw, spec)?;
    let of = fingerprint(&raw);
    let mut ties: Vec<Layout> = Vec::with_capacity(raw.tie_count());
    let mut taken: Vec<Taken> = Vec::with_capacity(raw.tie_count());
    for (number, name) in raw.tie_names().enumerate() {
        let own = raw.tie(number);
        if !matches!(own.fold.kind(), FoldKind::Burst | FoldKind::Line) {
            return Err(LayoutError::new(field(number, "fold"), TieProblem::TakesAll { fold: own.fold.kind() }));
        }
        let mut tie = check_one(own).map_err(|error| within(number, error))?;
        let Some(last) = tie.binds.binds.last() else {
            return Err(LayoutError::new(field(number, "binds"), TieProblem::Unbound));
        };
        let fold = TiedFold::new(tie.folded.clone(), last.radius_mm, &taken);
        if fold.cut(fold.taken().until_mm()).map(|cut| cut.area_mm2).sum() < LEAST_MM2 {
            return Err(LayoutError::new(field(number, "binds"), TieProblem::NothingLeft));
        }
        taken.push(fold.taken().clone());
        tie.tied = Some(Tied { name: name.to_owned(), fold, of: of.clone() });
        check_single_colours(&tie.raw, tie.sections()).map_err(|error| within(number, error))?;
        ties.push(tie);
    }
    check_colours(&ties, spec)?;
    let first = ties[0].clone();
    Ok(Layout { raw, ties, ..first })
}

/// What is to be known before any of them is folded.
fn check_whole(raw: &LayoutSpec, spec: &TiesSpec) -> Result<(), LayoutError> {
    let count = raw.tie_count();
    if count > MOST_TIES {
        return Err(LayoutError::new("ties.further", LayoutProblem::TooMany { count: count - 1, most: MOST_TIES - 1 }));
    }
    for (number, name) in raw.tie_names().enumerate() {
        let field = if number == 0 { Field::from("ties.first") } else { Field::from("ties.further").item(number).then("name") };
        check_name(field.clone(), name)?;
        if raw.tie_names().take(number).any(|earlier| earlier == name) {
            return Err(LayoutError::new(field, TieProblem::Twice { name: name.to_owned() }));
        }
    }
    for (number, tie) in (1..).zip(&spec.further) {
        check_lists(&Field::from("ties.further").item(number), &tie.fold, &tie.colours)?;
    }
    Ok(())
}

/// Colours of one name are one dye, and the loose cloth's is one of them or its own.
fn check_colours(ties: &[Layout], spec: &TiesSpec) -> Result<(), LayoutError> {
    let mut known: Vec<&Swatch> = Vec::new();
    for (number, tie) in ties.iter().enumerate() {
        for (index, swatch) in tie.raw.colours.rotation.iter().enumerate() {
            match known.iter().find(|earlier| earlier.name == swatch.name) {
                Some(earlier) if *earlier != swatch => {
                    let field = field(number, "colours").then("rotation").item(index + 1);
                    let (name, other) = (swatch.name.clone(), earlier.srgb);
                    return Err(LayoutError::new(field, TieProblem::ColourDiffers { name, srgb: swatch.srgb, other }));
                }
                Some(_) => {}
                None => known.push(swatch),
            }
        }
    }
    if let Some(own) = &spec.loose_dye {
        let same = known.iter().find(|dye| dye.name == own.name);
        check_loose_dye(own, spec.loose.as_ref(), same.copied())?;
    }
    match &spec.loose {
        Some(name) if !known.iter().any(|swatch| swatch.name == *name) => {
            let known = known.into_iter().map(|swatch| swatch.name.clone()).collect();
            Err(LayoutError::new("ties.loose", TieProblem::UnknownLoose { name: name.clone(), known }))
        }
        _ => Ok(()),
    }
}

/// A dye of the loose cloth's own, beside the name of one that it may have as well, and what a tie has under its name.
fn check_loose_dye(own: &Swatch, named: Option<&String>, same: Option<&Swatch>) -> Result<(), LayoutError> {
    let field = Field::from("ties.loose_dye");
    if let Some(named) = named {
        return Err(LayoutError::new(field, TieProblem::LooseTwice { named: named.clone(), own: own.name.clone() }));
    }
    check_name(field.clone().then("name"), &own.name)?;
    check_components(&own.components).map_err(|(of, problem)| LayoutError::new(field.clone().then(of), problem))?;
    match same {
        Some(tied) if tied != own => {
            let (name, srgb, other) = (own.name.clone(), own.srgb, tied.srgb);
            Err(LayoutError::new(field, TieProblem::ColourDiffers { name, srgb, other }))
        }
        _ => Ok(()),
    }
}

/// A part of a tie, by its number from 0: the first one's stand in the layout itself.
fn field(number: usize, part: &'static str) -> Field {
    if number == 0 { Field::from(part) } else { Field::from("ties.further").item(number).then(part) }
}

/// An error in a layout of one tie alone, in the layout of all.
fn within(number: usize, error: LayoutError) -> LayoutError {
    let is_own = ["fold", "binds", "thread", "colours"].iter().any(|part| error.field.renamed(part, part).is_some());
    if number == 0 || !is_own {
        return error;
    }
    LayoutError { field: Field::from("ties.further").item(number).then(error.field), ..error }
}
