//! Dyes solved, mixtures as what they are made of.
//!
//! A component that reaches farther than dyes do is fixed more slowly: with `lambda = sqrt(D / k)` and the same water to carry it, its rate is
//! that of the others over the square of its factor. So it obeys the same balance with a loss of its own, and is a field with equations of its
//! own; fields that reach equally far share theirs, as all dyes do where nothing is mixed. At a fully fed surface every field has the dose 1, so
//! there the mixture looks as its swatch, and deeper in its farthest-reaching components are left.
//!
//! # Limits
//! How far a component goes does not depend on the others, nor does the surface lose what goes in deep: as of any dye, more of one that
//! reaches farther is fixed in all.

use super::dose::{DoseField, dip_system_reaching, dye_system, dye_system_reaching};
use super::grid::RodGrid;
use super::solver::{MOST_FIELDS, SolveOptions};
use super::{Cancel, RevealError};
use crate::layout::{Dip, DyeFields, Layout, Process};

/// Solves what lies on a rod's sections: for each section from the tip outward its dye, whose fields these are.
pub(super) fn solve_dyes(
    (grid, process): (&RodGrid, &Process),
    section_dyes: &[Option<usize>],
    fields: &DyeFields,
    earlier: Option<&DoseField>,
    options: &SolveOptions,
    cancel: &Cancel,
) -> Result<DoseField, RevealError> {
    if fields.is_plain() {
        return DoseField::solve(dye_system(grid, process, section_dyes, fields.len())?, earlier, options, cancel);
    }
    check_count(fields)?;
    let mut solved = Vec::new();
    for (factor, numbers) in fields.by_reach().into_iter().filter(|(_, numbers)| !numbers.is_empty()) {
        let on_section = |dye: &Option<usize>| numbers.iter().position(|number| Some(fields.all()[*number].dye) == *dye);
        let sections: Vec<Option<usize>> = section_dyes.iter().map(on_section).collect();
        let system = dye_system_reaching(grid, process, factor, &sections, numbers.len())?;
        let earlier = earlier.and_then(|earlier| earlier.picked(&numbers));
        let found = DoseField::solve(system, earlier.as_ref(), options, cancel)?;
        solved.push((numbers, found));
    }
    DoseField::merged(grid, fields.len(), &solved)
}

/// Refuses more fields than are computed at once.
pub(super) fn check_count(fields: &DyeFields) -> Result<(), RevealError> {
    let (dyes, count, most) = (fields.dyes(), fields.len(), MOST_FIELDS);
    match count {
        _ if dyes > most => Err(RevealError::TooManyDyes { dyes, most }),
        _ if count > most => Err(RevealError::TooManyComponents { dyes, fields: count, most }),
        _ => Ok(()),
    }
}

/// What is dipped, and the fields of the dye that each dip is of, dip by dip.
pub(super) fn dipped<'a>(layout: &'a Layout, fields: &'a DyeFields) -> impl Iterator<Item = (&'a Dip, usize)> {
    layout.dips().iter().flat_map(|dip| fields.of_dye(dip.colour).map(move |(number, _)| (dip, number)))
}

/// Solves what each dip brings to each field, in the order of [`dipped`]; `earlier` in the same.
pub(super) fn solve_dips(
    (grid, layout): (&RodGrid, &Layout),
    fields: &DyeFields,
    earlier: Option<&[DoseField]>,
    options: &SolveOptions,
    cancel: &Cancel,
) -> Result<Vec<DoseField>, RevealError> {
    let solve = |(number, (dip, field)): (usize, (&Dip, usize))| {
        let system = dip_system_reaching(grid, layout.process(), fields.all()[field].reach_factor, dip)?;
        DoseField::solve(system, earlier.and_then(|dips| dips.get(number)), options, cancel)
    };
    dipped(layout, fields).enumerate().map(solve).collect()
}
