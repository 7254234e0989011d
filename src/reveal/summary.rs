//! What the reveal tells besides the picture: how far each section is dyed, how evenly, and what to do about it.

use super::RodDoses;
use super::grid::RodGrid;
use super::solver::Fields;
use crate::geometry::{Bundle, BundlePoint, Panel};
use crate::layout::{DyeFields, Process};

/// One section as it comes out.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionReveal {
    /// Its number, 1 at the centre.
    pub number: usize,
    /// Index of its dye in the rotation; none on a section left without.
    pub dye: Option<usize>,
    /// Share of its cloth where its dye's dose is at least the calibration's reached dose, 0 to 1.
    pub reached: f64,
    /// Mean dose of its dye over its cloth.
    pub mean_dose: f64,
    /// Dose of its dye in the middle of its thickest part.
    pub middle_dose: f64,
    /// Mean dose on the front over that on the back, the smaller over the greater: 1 is even. 1 where there is but one panel.
    pub even_front_back: f64,
    /// The same for the wearer's left and right.
    pub even_left_right: f64,
    /// What a maker would try, most useful first.
    pub fixes: Vec<Fix>,
}

/// What a maker would try for a section that comes out pale inside or uneven.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fix {
    /// Shallower pleats, so that the middle lies nearer to the faces.
    ShallowerPleats,
    /// Turning the rod over half-way.
    TurnTheRod,
    /// A second layer of ice.
    SecondIce,
    /// Dyeing the underside too.
    DyeTheOtherSide,
}

impl Fix {
    /// Every one, the most useful first.
    pub const ALL: [Self; 4] = [Self::TurnTheRod, Self::DyeTheOtherSide, Self::SecondIce, Self::ShallowerPleats];

    /// What the handbook calls its entry.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::ShallowerPleats => "shallower-pleats",
            Self::TurnTheRod => "turn-the-rod",
            Self::SecondIce => "second-ice",
            Self::DyeTheOtherSide => "dye-the-other-side",
        }
    }

    /// The advice in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::ShallowerPleats => "fold shallower pleats, so that the middle lies nearer to the dye",
            Self::TurnTheRod => "turn the rod over when half the ice has melted, so both creased edges take the same dye",
            Self::SecondIce => "put on a second layer of ice when the first has melted, to wash more dye inward",
            Self::DyeTheOtherSide => "sprinkle the underside too, once the top has cured",
        }
    }
}

/// Below this share of reached cloth a section counts as pale inside (our own judgement).
const PALE_BELOW: f64 = 0.6;
/// Below this ratio two sides count as uneven (our own judgement): about what the eye sees side by side.
pub(super) const UNEVEN_BELOW: f64 = 0.7;

/// Doses of dyes, mixtures as a whole.
struct Dosed<'a> {
    fields: &'a Fields,
    of: &'a DyeFields,
}

impl Dosed<'_> {
    /// The dose of a dye in a cell.
    fn value(&self, dye: usize, slab: usize, place: usize, across: usize) -> f64 {
        self.of.dose(dye, |field| f64::from(self.fields.value(field, slab, place, across)))
    }
}

/// Sums over a section's cloth, each cell counted by its area.
#[derive(Debug, Clone, Copy, Default)]
struct Sums {
    area: f64,
    dose: f64,
    reached: f64,
    /// Area and dose by panel (front, back) and by side (left, right).
    parts: [(f64, f64); 4],
}

pub(super) fn summarise(
    fold: &dyn Bundle,
    rod: &RodDoses,
    process: &Process,
    section_dyes: &[Option<usize>],
    of: &DyeFields,
) -> Vec<SectionReveal> {
    let Some(fields) = rod.dyes.as_ref().map(super::dose::DoseField::fields) else { return Vec::new() };
    let fields = &Dosed { fields, of };
    let mut sums = vec![Sums::default(); section_dyes.len()];
    for slab in 0..rod.grid.shape().slabs() {
        let index = rod.grid.section_at(rod.grid.along_mm(slab));
        if let (Some(sums), Some(Some(dye))) = (sums.get_mut(index), section_dyes.get(index)) {
            add_slab(fold, &rod.grid, fields, process, slab, *dye, sums);
        }
    }
    (0..).zip(&sums).zip(section_dyes).map(|((index, sums), &dye)| section(rod, fields, process, index, sums, dye)).collect()
}

fn add_slab(fold: &dyn Bundle, grid: &RodGrid, fields: &Dosed<'_>, process: &Process, slab: usize, dye: usize, sums: &mut Sums) {
    let shape = grid.shape();
    for place in 0..shape.places() {
        // The middle of what cloth there is: a bundle's outline may leave out the middle of its box.
        let present: Vec<usize> = (0..shape.across()).filter(|&across| grid.is_cloth(slab, place, across)).collect();
        let Some(&held) = present.get(present.len() / 2) else { continue };
        let across = (held as f64 + 0.5) / shape.across() as f64;
        let Some(cloth) = fold.to_cloth(BundlePoint { along_mm: grid.along_mm(slab), across, place: place as f64 }) else {
            continue;
        };
        let panel = usize::from(cloth.panel == Panel::Back);
        let side = 2 + usize::from(cloth.x_mm.is_sign_negative());
        for across in 0..shape.across() {
            // Cloth under blocks is meant to stay as it is.
            let area = grid.cloth_mm2(slab, place, across) * (1.0 - grid.column(slab, across).covered);
            let dose = fields.value(dye, slab, place, across);
            sums.area += area;
            sums.dose += area * dose;
            sums.reached += if dose >= process.calibration.reached_dose { area } else { 0.0 };
            for part in [panel, side] {
                sums.parts[part].0 += area;
                sums.parts[part].1 += area * dose;
            }
        }
    }
}

fn section(
    rod: &RodDoses,
    fields: &Dosed<'_>,
    process: &Process,
    index: usize,
    sums: &Sums,
    dye: Option<usize>,
) -> SectionReveal {
    let mean = |(area, dose): (f64, f64)| if area > 0.0 { dose / area } else { 0.0 };
    let even = |a: (f64, f64), b: (f64, f64)| {
        let (low, high) = (mean(a).min(mean(b)), mean(a).max(mean(b)));
        if a.0 > 0.0 && b.0 > 0.0 && high > 0.0 { low / high } else { 1.0 }
    };
    let reached = mean((sums.area, sums.reached));
    let [front, back, left, right] = sums.parts;
    let (even_front_back, even_left_right) = (even(front, back), even(left, right));
    let mut reveal = SectionReveal {
        number: index + 1,
        dye,
        reached,
        mean_dose: mean((sums.area, sums.dose)),
        middle_dose: dye.map_or(0.0, |dye| middle_dose(rod, fields, index, dye)),
        even_front_back,
        even_left_right,
        fixes: Vec::new(),
    };
    if dye.is_some() && sums.area > 0.0 {
        reveal.fixes = fixes(process, &reveal);
    }
    reveal
}

/// Dose in the middle of the rod where the section is thickest.
fn middle_dose(rod: &RodDoses, fields: &Dosed<'_>, index: usize, dye: usize) -> f64 {
    let grid = &rod.grid;
    let slabs = (0..grid.shape().slabs()).filter(|&slab| grid.section_at(grid.along_mm(slab)) == index);
    let thickness = |&slab: &usize| grid.section(slab).height_mm.min(grid.section(slab).width_mm);
    let Some(slab) = slabs.max_by(|a, b| thickness(a).total_cmp(&thickness(b))) else { return 0.0 };
    let layers = |across: usize| (0..grid.shape().places()).filter(move |&place| grid.is_cloth(slab, place, across));
    // In the middle of its breadth, or where the outline leaves that out, as near to it as there is cloth.
    let held = (0..grid.shape().across()).filter(|&across| layers(across).next().is_some());
    let Some(across) = held.min_by_key(|across| across.abs_diff(grid.shape().across() / 2)) else { return 0.0 };
    let present: Vec<usize> = layers(across).collect();
    present.get(present.len() / 2).map_or(0.0, |&place| fields.value(dye, slab, place, across))
}

fn fixes(process: &Process, section: &SectionReveal) -> Vec<Fix> {
    use crate::layout::{DyeBy, Rest};
    let mut fixes = Vec::new();
    let powder = process.dye == DyeBy::PowderUnderIce;
    let uneven = section.even_front_back < UNEVEN_BELOW || section.even_left_right < UNEVEN_BELOW;
    let pale = section.reached < PALE_BELOW;
    if powder && process.rest != Rest::TurnedHalfWay && (uneven || pale) {
        fixes.push(if process.rest == Rest::OnItsFlat { Fix::DyeTheOtherSide } else { Fix::TurnTheRod });
    }
    if pale {
        if powder && process.ice_layers.0 < 2 {
            fixes.push(Fix::SecondIce);
        }
        fixes.push(Fix::ShallowerPleats);
    }
    fixes
}
