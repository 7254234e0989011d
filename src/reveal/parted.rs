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

use super::dose::{DoseField, RodDoses, dip_system_reaching, dye_system, dye_system_reaching};
use super::grid::RodGrid;
use super::solver::{MOST_FIELDS, SolveOptions};
use super::{Cancel, RevealError};
use crate::layout::{Dip, DyeBy, DyeFields, Layout, Process};

/// An earlier solution, and the one field by which what is solved now differs from it; without one, any may.
type Earlier<'a> = (&'a RodDoses, Option<usize>);

/// Solves dyes and dips of a rod, kept as these fields: the doses of each field, dips among them, and what each dip brings.
pub(super) fn solve_all_dyes(
    grid: &RodGrid,
    layout: &Layout,
    fields: &DyeFields,
    earlier: Option<Earlier<'_>>,
    options: &SolveOptions,
    cancel: &Cancel,
) -> Result<(Option<DoseField>, Vec<DoseField>), RevealError> {
    let process = layout.process();
    let dips = solve_dips((grid, layout), fields, earlier, options, cancel)?;
    let (rod, changed) = earlier.map_or((None, None), |(rod, changed)| (rod.dyes.as_ref(), changed));
    let sections = || layout.section_colours();
    let (mut dyes, lacks) = match (fields.len(), rod.zip(changed)) {
        (0, _) => return Ok((None, dips)),
        (count, _) if process.dye == DyeBy::Dipped => (DoseField::bare(grid, count)?, None),
        // What stands has its dips.
        (_, Some((rod, number))) => {
            let solved = solve_field((grid, process), &sections(), fields, (rod, number), options, cancel)?;
            (solved, Some(number))
        }
        (_, None) => (solve_dyes((grid, process), &sections(), fields, rod, options, cancel)?, None),
    };
    for ((_, field), brought) in dipped(layout, fields).zip(&dips) {
        if lacks.is_none_or(|number| number == field) {
            dyes.add(field, brought);
        }
    }
    Ok((Some(dyes), dips))
}

/// Solves what lies on a rod's sections in one of the fields; of the others the earlier solution's doses stand.
fn solve_field(
    (grid, process): (&RodGrid, &Process),
    section_dyes: &[Option<usize>],
    fields: &DyeFields,
    (earlier, number): (&DoseField, usize),
    options: &SolveOptions,
    cancel: &Cancel,
) -> Result<DoseField, RevealError> {
    let field = &fields.all()[number];
    let sections: Vec<Option<usize>> = section_dyes.iter().map(|dye| dye.filter(|dye| *dye == field.dye).map(|_| 0)).collect();
    let system = dye_system_reaching(grid, process, field.reach_factor, &sections, 1)?;
    let found = DoseField::solve(system, earlier.picked(&[number]).as_ref(), options, cancel)?;
    let others: Vec<usize> = (0..fields.len()).filter(|other| *other != number).collect();
    match earlier.picked(&others) {
        Some(standing) => DoseField::merged(grid, fields.len(), &[(others, standing), (vec![number], found)]),
        None => solve_dyes((grid, process), section_dyes, fields, None, options, cancel),
    }
}

/// Solves what lies on a rod's sections: for each section from the tip outward its dye, whose fields these are.
fn solve_dyes(
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
fn dipped<'a>(layout: &'a Layout, fields: &'a DyeFields) -> impl Iterator<Item = (&'a Dip, usize)> {
    layout.dips().iter().flat_map(|dip| fields.of_dye(dip.colour).map(move |(number, _)| (dip, number)))
}

/// Solves what each dip brings to each field, in the order of [`dipped`].
fn solve_dips(
    (grid, layout): (&RodGrid, &Layout),
    fields: &DyeFields,
    earlier: Option<Earlier<'_>>,
    options: &SolveOptions,
    cancel: &Cancel,
) -> Result<Vec<DoseField>, RevealError> {
    let solve = |(number, (dip, field)): (usize, (&Dip, usize))| {
        let before = earlier.and_then(|(rod, changed)| Some((rod.dips.get(number)?, changed)));
        if let Some((before, Some(changed))) = before
            && changed != field
        {
            return Ok(before.clone());
        }
        let system = dip_system_reaching(grid, layout.process(), fields.all()[field].reach_factor, dip)?;
        DoseField::solve(system, before.map(|(before, _)| before), options, cancel)
    };
    dipped(layout, fields).enumerate().map(solve).collect()
}
