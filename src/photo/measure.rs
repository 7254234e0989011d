//! A photograph measured: every step in its order, each refusal where it is found.

use super::light::Light;
use super::neck::check_side;
use super::off_point::off_point;
use super::outline::SeenOutline;
use super::points::pairs;
use super::registration::{Registration, RegistrationOptions};
use super::rings::{Rings, found_of_all, rings};
use super::sections::{Colours, LooseColour, colours, loose};
use super::{Marks, PhotoError, Photograph, Plan, Sheet};
use crate::geometry::Panel;
use crate::layout::Layout;
use crate::reveal::Cancel;
use kurbo::Point;
use std::cmp::Ordering;

/// Most that a pixel of the picture may cover, mm. At 1.2 rings are found as well as at 0.3 (measured on drawn photographs); above, thin lines
/// run together.
const MOST_PIXEL_MM: f64 = 1.5;
/// How much of the outline has to be found; a garment of another kind or size shows far less (our own judgement).
const LEAST_OUTLINE: f64 = 0.55;
/// Where less is found a mark that does not go with the others is to blame rather than how the garment lies (our own judgement).
const DOUBTFUL_OUTLINE: f64 = 0.85;
/// How many sectors of rings have to be found where there are rings at all. Own choice: chance finds about a fifth.
const LEAST_RINGS: f64 = 0.35;
/// Where fewer are found the other side is looked at, which has to show so many more (our own judgement: a letter's mirrored lines meet by chance
/// on 0.45 of its sectors).
const CLEAR_RINGS: f64 = 0.7;
const CLEARER: f64 = 0.25;
/// Where less of the outline is found the other side is looked at too, which has to show so much more of it and hardly fewer rings: of a garment
/// that lies with its other side up nearly all of that side's outline is there (drawn photographs: 0.90 to 0.95, and 0.99). Its rings are nearly
/// those of this side where both lay folded together.
const CLEAR_OUTLINE: f64 = 0.97;
const MORE_OUTLINE: f64 = 0.03;
const FEWER_RINGS: f64 = 0.1;
/// How unequal opposite sides of a flat sheet come out at most, as a share: half a sheet's width beyond the marks, a map of four is off by 4 %
/// (our own judgement).
const MOST_BENT: f64 = 0.10;
/// How far the sheet may be from its paper's size, as a share. A size of tee is 4 to 5 %.
const MOST_OFF_SIZE: f64 = 0.15;
/// How far off the scale is: 1.6 % (measured on drawn photographs).
const SCALE_SD: f64 = 0.016;

/// What a photograph shows beside its plan.
#[derive(Debug, Clone)]
pub struct PhotoMeasure {
    /// The side.
    pub side: Panel,
    /// Where each point of the plan is seen.
    pub registration: Registration,
    /// What it shows of each tie, in the order in which they are tied; there is one at least.
    ties: Vec<TieMeasure>,
    /// The light; none without a sheet.
    pub light: Option<Light>,
    /// The colour of the loose cloth about several ties; none without a sheet, of one tie, or where too little of it shows.
    pub loose: Option<LooseColour>,
    /// How large the garment is beside its plan, by the sheet; none without one.
    pub scale: Option<Scale>,
    /// A pixel of the whole picture on the cloth, mm.
    pub pixel_mm: f64,
}

/// What a photograph shows of a tie.
#[derive(Debug, Clone)]
pub struct TieMeasure {
    /// What the tie is called; nothing where it is the only one.
    pub name: Option<String>,
    /// The rings.
    pub rings: Rings,
    /// The colours; none without a sheet.
    pub colours: Option<Colours>,
    /// The colours held against the plan of the other side; none without a sheet or another side.
    pub other_side: Option<Colours>,
}

impl PhotoMeasure {
    /// Every tie, in the order in which they are tied.
    #[must_use]
    pub fn ties(&self) -> &[TieMeasure] {
        &self.ties
    }

    /// The only tie; of several the first.
    #[must_use]
    pub fn tie(&self) -> &TieMeasure {
        &self.ties[0]
    }

    /// Whether it is of several ties.
    #[must_use]
    pub fn is_of_several(&self) -> bool {
        self.ties.len() > 1
    }

    /// How much of the rings of all ties was found: `, 98 % of the rings`; nothing where there are none.
    #[must_use]
    pub fn found_words(&self) -> String {
        let has_rings = self.ties.iter().any(|tie| !tie.rings.rings.is_empty());
        if has_rings { format!(", {:.0} % of the rings", 100.0 * self.rings_found()) } else { String::new() }
    }

    /// Share of the sectors of all ties' rings that was found.
    #[must_use]
    pub fn rings_found(&self) -> f64 {
        found_of_all(self.ties.iter().map(|tie| &tie.rings))
    }
}

/// How large the garment is beside its plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// mm of the garment for each of the plan.
    pub share: f64,
    /// How far off that may be: too far to tell shrinkage by; a tape does better.
    pub sd: f64,
}

/// Finds where the plan is seen, without looking at the plan's picture: fast enough to follow a hand that drags a mark.
///
/// # Errors
/// [`PhotoError`] for marks that can't be used, a garment too small in the picture, an outline that is not there, the neck of
/// another side, a sheet that is bent or of another size; [`PhotoError::Reveal`] where it is stopped.
pub fn register(
    photograph: &Photograph,
    layout: &Layout,
    marks: &Marks,
    options: &RegistrationOptions,
    cancel: &Cancel,
) -> Result<Registration, PhotoError> {
    let (outline, found) = registered(photograph, layout, marks, options, cancel)?;
    let pixel_mm = pixel_mm(&found, &outline)?;
    if pixel_mm > MOST_PIXEL_MM {
        return Err(PhotoError::Small { pixel_mm, most_mm: MOST_PIXEL_MM });
    }
    if found.outline_found() < DOUBTFUL_OUTLINE
        && let Some((name, off_mm)) = off_point(layout, marks, photograph.whole())
    {
        return Err(PhotoError::MarkOff { name, off_mm });
    }
    if found.outline_found() < LEAST_OUTLINE {
        let [found_percent, least_percent] = [found.outline_found(), LEAST_OUTLINE].map(|share| 100.0 * share);
        return Err(PhotoError::Outline { found_percent, least_percent });
    }
    check_side(photograph, layout, marks, &found)?;
    if let Some(sheet) = &marks.sheet {
        scale(&found, sheet)?;
    }
    Ok(found)
}

fn registered(
    photograph: &Photograph,
    layout: &Layout,
    marks: &Marks,
    options: &RegistrationOptions,
    cancel: &Cancel,
) -> Result<(SeenOutline, Registration), PhotoError> {
    let pairs = pairs(layout, marks)?;
    marks.check_within(photograph.whole())?;
    let unsettled = || PhotoError::Unsettled { points: pairs.len() };
    let panel = layout.panels().panel(marks.side).ok_or_else(unsettled)?;
    let outline = SeenOutline::of(panel, marks.side);
    let found = Registration::of(photograph, &outline, &pairs, marks.sheet.as_ref(), options, cancel)?;
    Ok((outline, found))
}

/// Measures a photograph against its plan, where `registration` is what [`register`] found for these marks.
///
/// # Errors
/// [`PhotoError`] for a sheet that is burnt out, too little table, rings that are not there or are another side's; [`PhotoError::Reveal`] where it
/// is stopped.
pub fn measure(
    photograph: &Photograph,
    plan: &Plan,
    marks: &Marks,
    registration: Registration,
    cancel: &Cancel,
) -> Result<PhotoMeasure, PhotoError> {
    cancel.check()?;
    let panel = plan.layout().panels().panel(marks.side);
    let outline = panel.map(|panel| SeenOutline::of(panel, marks.side));
    let outline = outline.ok_or(PhotoError::Unsettled { points: marks.points.len() })?;
    let plans = plan.ties();
    let found = rings_of_all(photograph, &plans, &registration, cancel)?;
    check_rings(photograph, plan, marks, (found_of_all(found.iter()), registration.outline_found()), cancel)?;
    cancel.check()?;
    let light = marks.sheet.as_ref().map(|sheet| Light::of(photograph, &registration, &outline, sheet)).transpose()?;
    cancel.check()?;
    let mut ties = Vec::with_capacity(plans.len());
    for (plan, rings) in plans.iter().zip(found) {
        let of = |plan: &Plan| light.as_ref().map(|light| colours(photograph, plan, &registration, light, &rings));
        let (colours, other_side) = (of(plan), plan.other_side().and_then(of));
        ties.push(TieMeasure { name: plan.layout().tie_name().map(str::to_owned), rings, colours, other_side });
        cancel.check()?;
    }
    let light_of_several = light.as_ref().filter(|_| plan.layout().is_of_several());
    let loose = light_of_several.and_then(|light| loose(photograph, plan, &registration, light));
    let scale = marks.sheet.as_ref().map(|sheet| scale(&registration, sheet)).transpose()?;
    let pixel_mm = pixel_mm(&registration, &outline)?;
    Ok(PhotoMeasure { side: marks.side, registration, ties, light, loose, scale, pixel_mm })
}

/// The rings of each tie's plan.
fn rings_of_all(
    photograph: &Photograph,
    plans: &[Plan],
    registration: &Registration,
    cancel: &Cancel,
) -> Result<Vec<Rings>, PhotoError> {
    let of = |plan: &Plan| -> Result<Rings, PhotoError> {
        cancel.check()?;
        Ok(rings(photograph, plan, registration))
    };
    plans.iter().map(of).collect()
}

/// Refuses rings that are not there, or are clearly the other side's; what comes with the photograph is how much of both was found.
fn check_rings(
    photograph: &Photograph,
    plan: &Plan,
    marks: &Marks,
    (found, outline): (f64, f64),
    cancel: &Cancel,
) -> Result<(), PhotoError> {
    if plan.layout().binds().binds.is_empty() || (found >= CLEAR_RINGS && outline >= CLEAR_OUTLINE) {
        return Ok(());
    }
    if let Some(other) = plan.other_side() {
        let marks = Marks { side: other.side(), ..marks.clone() };
        let registered = registered(photograph, plan.layout(), &marks, &RegistrationOptions::default(), cancel);
        cancel.check()?;
        let of_other = registered.and_then(|(_, other_map)| {
            let rings = rings_of_all(photograph, &other.ties(), &other_map, cancel)?;
            Ok((found_of_all(rings.iter()), other_map.outline_found()))
        });
        let is_clearly = |(of_other, other_outline): (f64, f64)| {
            let by_rings = found < CLEAR_RINGS && of_other >= LEAST_RINGS.max(found + CLEARER);
            by_rings || (other_outline >= outline + MORE_OUTLINE && of_other >= LEAST_RINGS.max(found - FEWER_RINGS))
        };
        if of_other.is_ok_and(is_clearly) {
            return Err(PhotoError::OtherSideRings { marked: plan.side(), seen: other.side() });
        }
    }
    if found >= LEAST_RINGS {
        return Ok(());
    }
    let [found_percent, least_percent] = [found, LEAST_RINGS].map(|share| 100.0 * share);
    Err(PhotoError::NoRings { found_percent, least_percent })
}

fn pixel_mm(found: &Registration, outline: &SeenOutline) -> Result<f64, PhotoError> {
    let px_per_mm = found.lens().px_per_mm(outline.middle).filter(|px| *px > 0.0);
    px_per_mm.map(|px| 1.0 / px).ok_or(PhotoError::Unsettled { points: 0 })
}

/// The sheet's sides beside the plan.
fn scale(found: &Registration, sheet: &Sheet) -> Result<Scale, PhotoError> {
    let bent = |sides_mm| PhotoError::SheetBent { sides_mm };
    let on_plan: Vec<Point> = sheet.corners.iter().filter_map(|corner| found.back(*corner)).collect();
    let [a, b, c, d] = on_plan[..] else { return Err(bent([0.0; 4])) };
    let sides_mm = [a.distance(b), b.distance(c), c.distance(d), d.distance(a)];
    let opposite = [[sides_mm[0], sides_mm[2]], [sides_mm[1], sides_mm[3]]];
    let mut means = opposite.map(|[one, other]| f64::midpoint(one, other));
    if opposite
        .iter()
        .zip(means)
        .any(|([one, other], mean)| (one - other).abs().partial_cmp(&(MOST_BENT * mean)).is_none_or(Ordering::is_gt))
    {
        return Err(bent(sides_mm));
    }
    means.sort_by(f64::total_cmp);
    let paper_mm = sheet.paper.sides_mm();
    let shares = [paper_mm[0] / means[0], paper_mm[1] / means[1]];
    if shares.iter().any(|share| (share - 1.0).abs() > MOST_OFF_SIZE) {
        return Err(PhotoError::SheetSize { found_mm: means, paper_mm });
    }
    Ok(Scale { share: f64::midpoint(shares[0], shares[1]), sd: SCALE_SD })
}
