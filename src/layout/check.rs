//! From a layout as the maker gives it to the checked one.

use super::dips::{MOST_DIPS, dips};
use super::fibre::{FIBRES_ROUND_PERCENT, FibreShare};
use super::mixture::{MixtureProblem, check_components};
use super::usual::LONGEST_NAME;
use super::{Colours, FoldSpec, GarmentSpec, Layout, LayoutError, LayoutProblem, LayoutSpec};
use crate::geometry::{
    BindEdit, Block, BlockError, BlocksSpec, Burst, BurstFold, FlatFold, Folded, Garment, LineFold, PanelSet, Panels, Placed,
    Progression, SpacingContext, SpacingError, Spiral, SpiralFold, Wash, Wrap, WrapError, WrapSpec, place_binds,
};
use crate::telling::Field;
use std::sync::Arc;

/// Longest note of a layout or a preset, characters: more than twice a journal's longest text, which can become one. Own choice.
const LONGEST_NOTE: usize = 50_000;
/// Most extra arcs to chalk: one a centimetre on the largest garment would be 150. Own choice.
const MOST_ARCS: usize = 200;
/// Most colours in rotation: four times those of the largest box of dyes that a table holds. Own choice.
const MOST_COLOURS: usize = 100;

/// Counts of what a tie is given as lists; `of` is where it stands.
pub(super) fn check_lists(of: &Field, fold: &FoldSpec, colours: &Colours) -> Result<(), LayoutError> {
    check_count(of.clone().then(further_field(fold)), fold.further_mm().len(), MOST_ARCS)?;
    check_count(of.clone().then("colours.rotation"), colours.rotation.len(), MOST_COLOURS)
}

/// Checks a layout of one tie.
pub(super) fn check_one(raw: LayoutSpec) -> Result<Layout, LayoutError> {
    check_name("name", &raw.name)?;
    check_note("note", &raw.note)?;
    check_lists(&Field::default(), &raw.fold, &raw.colours)?;
    check_count("dips", raw.dips.len(), MOST_DIPS)?;
    check_numbers(&raw)?;
    check_fibres(&raw.garment.fibres)?;
    check_colour_names(&raw)?;
    let garment = garment(&raw)?;
    let wash = &raw.garment.wash;
    let wash = Wash::new(wash.length_percent, wash.width_percent)
        .map_err(|error| LayoutError::new(Field::from("garment.wash").then(error.direction.key()), error))?;
    let panels = panel_set(&garment);
    check_first_bind(&raw)?;
    let folded = Arc::new(folded(&raw, panels)?);
    let binds = placed(&raw, &folded)?;
    let blocks = raw.blocks.as_ref().map(|blocks| put(blocks, &folded)).transpose()?;
    let wrap = raw.wrap.as_ref().map(|wrap| wound(wrap, &folded)).transpose()?;
    let dips = dips(&raw.dips, &raw.colours.rotation, &folded, raw.garment.cloth.free_thickness_mm)?;
    let sections = binds.binds.len() + usize::from(folded.spiral().is_none());
    check_single_colours(&raw, sections)?;
    Ok(Layout { raw, garment, wash, folded, binds, blocks, wrap, dips, tied: None, ties: Vec::new() })
}

/// The field with what is marked besides.
const fn further_field(fold: &FoldSpec) -> &'static str {
    match fold {
        FoldSpec::Burst(_) => "fold.further_arcs_mm",
        FoldSpec::Line(_) | FoldSpec::Flat(_) | FoldSpec::Spiral(_) => "fold.further_mm",
    }
}

fn folded(raw: &LayoutSpec, panels: PanelSet) -> Result<Folded, LayoutError> {
    let within = |field: Field| Field::from("fold").then(field);
    match &raw.fold {
        FoldSpec::Burst(burst) => {
            let burst = Burst::new(&burst.on_marks(raw.binds.marks), &panels);
            let burst = burst.map_err(|error| LayoutError::new(within(error.field()), error))?;
            Ok(Folded::Burst(Box::new(BurstFold::new(burst, panels))))
        }
        FoldSpec::Line(line) => {
            let fold = line.on(&panels).and_then(|line| LineFold::new(&line, panels));
            let fold = fold.map_err(|error| LayoutError::new(within(error.field()), error))?;
            Ok(Folded::Line(Box::new(fold)))
        }
        FoldSpec::Flat(flat) => {
            let fold = FlatFold::new(flat, panels, raw.garment.cloth.free_thickness_mm);
            Ok(Folded::Flat(Box::new(fold?)))
        }
        FoldSpec::Spiral(spiral) => {
            let spiral = Spiral::new(spiral, &panels, raw.garment.cloth.free_thickness_mm);
            let spiral = spiral.map_err(|error| LayoutError::new(within(error.field()), error))?;
            Ok(Folded::Spiral(Box::new(SpiralFold::new(spiral, panels))))
        }
    }
}

/// Places the binds: by the progressions and the edits; of a puck its bands, which leave nothing to those.
fn placed(raw: &LayoutSpec, folded: &Folded) -> Result<Placed, LayoutError> {
    let within_binds = |error: SpacingError| LayoutError::new(Field::from("binds").then(error.field()), error);
    if let Some(fold) = folded.spiral() {
        let is_empty = |side: &Progression| matches!(side, Progression::List { gaps_mm } if gaps_mm.is_empty());
        let (inward, outward) = (is_empty(&raw.binds.inward), is_empty(&raw.binds.outward));
        if let Some(field) = [("inward", inward), ("outward", outward), ("edits", raw.binds.edits.is_empty())]
            .into_iter()
            .find_map(|(field, is_empty)| (!is_empty).then_some(field))
        {
            return Err(within_binds(SpacingError::EvenBands { field }));
        }
        return Ok(fold.spiral().placed_bands());
    }
    let cloth_area = |along_mm: f64| folded.as_fold().cut(along_mm).map(|cut| cut.area_mm2).sum();
    let (guide_radius_mm, zero_mm) = (folded.first_bind_mm(), folded.zero_mm());
    let farthest_mm = folded.as_fold().length_mm();
    let context = SpacingContext { guide_radius_mm, zero_mm, farthest_mm, cloth_area: &cloth_area };
    place_binds(&raw.binds, &context).map_err(within_binds)
}

/// Refuses to take away the bind that pleats are laid along; a flat bundle has none.
fn check_first_bind(raw: &LayoutSpec) -> Result<(), LayoutError> {
    let takes_it = raw.binds.edits.contains(&BindEdit::Remove { bind: 0 });
    if takes_it && raw.fold.flat().is_none() {
        return Err(LayoutError::new("binds.edits", SpacingError::GuideEdited));
    }
    Ok(())
}

/// Puts blocks onto the bundle.
fn put(blocks: &BlocksSpec, folded: &Folded) -> Result<Block, LayoutError> {
    let block = folded.flat().ok_or(BlockError::NoFlatBundle).and_then(|fold| fold.blocks(blocks));
    block.map_err(|error| LayoutError::new(Field::from("blocks").then(error.field()), error))
}

/// Winds a thread round the bundle.
fn wound(wrap: &WrapSpec, folded: &Folded) -> Result<Wrap, LayoutError> {
    let wound = folded.flat().ok_or(WrapError::NoFlatBundle).and_then(|fold| fold.wrap(wrap));
    wound.map_err(|error| LayoutError::new(Field::from("wrap").then(error.field()), error))
}

fn garment(raw: &LayoutSpec) -> Result<Garment, LayoutError> {
    let size = raw.garment.size.as_deref().map(|size| raw.garment.kind.size_named(size)).transpose();
    let size = size.map_err(|error| LayoutError::new("garment.size", error))?;
    let GarmentSpec { kind, outline, measures, .. } = &raw.garment;
    let garment = Garment::of(*kind, size, outline.as_ref(), measures);
    garment.map_err(|error| LayoutError::new(Field::from("garment").then(error.field()), error))
}

/// The panels of a garment as it lies on the table.
pub(super) fn panel_set(garment: &Garment) -> PanelSet {
    let draft = garment.draft();
    let back = match garment.panels() {
        Panels::One => None,
        Panels::Two => Some(draft.back.clone()),
    };
    PanelSet { front: draft.front.clone(), back, top: garment.kind().top() }
}

/// Refuses a name that no sheet can show.
pub(crate) fn check_name(field: impl Into<Field>, name: &str) -> Result<(), LayoutError> {
    let length = name.chars().count();
    if (1..=LONGEST_NAME).contains(&length) && !name.trim().is_empty() && !name.contains(char::is_control) {
        Ok(())
    } else {
        Err(LayoutError::new(field, LayoutProblem::Name { length, most: LONGEST_NAME }))
    }
}

/// Refuses a note longer than one can be meant.
pub(crate) fn check_note(field: impl Into<Field>, note: &str) -> Result<(), LayoutError> {
    let (length, most) = (note.chars().count(), LONGEST_NOTE);
    if length > most { Err(LayoutError::new(field, LayoutProblem::LongText { length, most })) } else { Ok(()) }
}

fn check_count(field: impl Into<Field>, count: usize, most: usize) -> Result<(), LayoutError> {
    if count > most { Err(LayoutError::new(field, LayoutProblem::TooMany { count, most })) } else { Ok(()) }
}

/// Every plain number of a layout with its range. The ranges only keep out what can't be meant; what is unwise is warned about.
fn check_numbers(raw: &LayoutSpec) -> Result<(), LayoutError> {
    let (cloth, thread, limits) = (&raw.garment.cloth, &raw.thread, &raw.limits);
    let ranges = [
        ("garment.cloth.grams_per_m2", cloth.grams_per_m2, 20.0, 2000.0),
        ("garment.cloth.free_thickness_mm", cloth.free_thickness_mm, 0.02, 20.0),
        ("garment.cloth.pressed_thickness_mm", cloth.pressed_thickness_mm, 0.02, 20.0),
        ("garment.cloth.packing", cloth.packing, 0.1, 1.0),
        ("thread.diameter_mm", thread.diameter_mm, 0.1, 20.0),
        ("thread.wraps", f64::from(thread.wraps), 1.0, 100.0),
        ("thread.thin_extra_wraps", f64::from(thread.thin_extra_wraps), 0.0, 100.0),
        ("thread.thin_below", thread.thin_below, 0.0, 1.0),
        ("thread.tail_mm", thread.tail_mm, 0.0, 2000.0),
        ("limits.shallowest_pleat_mm", limits.shallowest_pleat_mm, 0.0, 1000.0),
        ("limits.deepest_pleat_mm", limits.deepest_pleat_mm, 0.0, 1000.0),
        ("limits.thickest_rod_mm", limits.thickest_rod_mm, 1.0, 1000.0),
        ("limits.least_guide_share", limits.least_guide_share, 0.0, 1.0),
        ("limits.smallest_gap_threads", limits.smallest_gap_threads, 0.0, 100.0),
    ];
    for (field, value, least, most) in ranges.into_iter().chain(raw.process.numbers()) {
        // Written so that a NaN is refused too.
        if !(least..=most).contains(&value) {
            return Err(LayoutError::new(field, LayoutProblem::Number { value, least, most }));
        }
    }
    let (free_mm, pressed_mm) = (cloth.free_thickness_mm, cloth.pressed_thickness_mm);
    if free_mm < pressed_mm {
        let problem = LayoutProblem::FreeBelowPressed { free_mm, pressed_mm };
        return Err(LayoutError::new("garment.cloth.free_thickness_mm", problem));
    }
    Ok(())
}

fn check_fibres(fibres: &[FibreShare]) -> Result<(), LayoutError> {
    for (index, share) in fibres.iter().enumerate() {
        if !(0.0..=100.0).contains(&share.percent) {
            let problem = LayoutProblem::Number { value: share.percent, least: 0.0, most: 100.0 };
            return Err(LayoutError::new(Field::from("garment.fibres").item(index + 1).then("percent"), problem));
        }
    }
    let percent: f64 = fibres.iter().map(|share| share.percent).sum();
    let twice = fibres.iter().enumerate().any(|(at, share)| fibres[..at].iter().any(|earlier| earlier.fibre == share.fibre));
    if !fibres.is_empty() && (twice || (percent - 100.0).abs() > FIBRES_ROUND_PERCENT) {
        return Err(LayoutError::new("garment.fibres", LayoutProblem::Fibres { percent }));
    }
    Ok(())
}

fn check_colour_names(raw: &LayoutSpec) -> Result<(), LayoutError> {
    let rotation = &raw.colours.rotation;
    for (index, swatch) in rotation.iter().enumerate() {
        let field = || Field::from("colours.rotation").item(index + 1).then("name");
        check_name(field(), &swatch.name)?;
        if rotation[..index].iter().any(|earlier| earlier.name == swatch.name) {
            return Err(LayoutError::new(field(), LayoutProblem::ColourTwice { name: swatch.name.clone() }));
        }
        let within = Field::from("colours.rotation").item(index + 1);
        check_components(&swatch.components).map_err(|(field, problem)| LayoutError::new(within.then(field), problem))?;
    }
    let cloth = [("garment.colour.name", &raw.garment.colour), ("garment.discharged.name", &raw.garment.discharged)];
    cloth.into_iter().filter_map(|(field, swatch)| Some((field, swatch.as_ref()?))).try_for_each(|(field, swatch)| {
        match swatch.components.len() {
            0 => check_name(field, &swatch.name),
            count => Err(LayoutError::new(field, MixtureProblem::OfCloth { count })),
        }
    })
}

pub(super) fn check_single_colours(raw: &LayoutSpec, sections: usize) -> Result<(), LayoutError> {
    for (&section, name) in &raw.colours.single {
        let field = Field::from("colours.single").item(section as usize);
        if section == 0 || section as usize > sections {
            return Err(LayoutError::new(field, LayoutProblem::UnknownSection { section, most: sections }));
        }
        if !raw.colours.rotation.iter().any(|swatch| swatch.name == *name) {
            let known = raw.colours.rotation.iter().map(|swatch| swatch.name.clone()).collect();
            return Err(LayoutError::new(field, LayoutProblem::UnknownColour { name: name.clone(), known }));
        }
    }
    for (index, &section) in raw.colours.bare.iter().enumerate() {
        let field = Field::from("colours.bare");
        if section == 0 || section as usize > sections {
            return Err(LayoutError::new(field, LayoutProblem::UnknownSection { section, most: sections }));
        }
        if let Some(colour) = raw.colours.single.get(&section) {
            return Err(LayoutError::new(
                field.item(index + 1),
                LayoutProblem::BareAndColoured { section, colour: colour.clone() },
            ));
        }
    }
    Ok(())
}
