//! The cloth that none of several ties takes: it lies loose, and dye comes in over its faces alone.
//!
//! # Limits
//! It counts as the layers of the garment lying on each other, evenly fed; how it is crumpled, and how much thicker it lies round a tie
//! that is drawn up, is left out.

use super::RodBind;
use super::feed::loose_feed;
use crate::geometry::{ClothPoint, Taken};
use crate::layout::{DyeBy, Layout};

/// What the loose cloth about several ties has. An estimate, like the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LooseCloth {
    /// Index of its dye among all that the ties are dyed with; none where it gets none.
    pub dye: Option<usize>,
    /// Mean dose of it in a layer; 1 is the dose at a fully fed surface.
    pub dose: f64,
    /// Share of the garment's own colour that is left, 0 to 1.
    pub ground_left: f64,
}

/// Doses of the loose cloth about several ties.
#[derive(Debug, Clone)]
pub(super) struct LooseDoses {
    /// Index of its dye among all that the ties are dyed with; none where it gets none.
    pub(super) dye: Option<usize>,
    /// Mean dose of it in a layer, a mixture's by the weight of its components.
    pub(super) dose: f64,
    /// The fields that it has something of, by their numbers among those of all ties, with their mean doses.
    pub(super) fields: Vec<(usize, f64)>,
    /// Mean dose of the bath in a layer.
    pub(super) bath: f64,
    /// The last bind of each tie, half of whose thread lies on the cloth beyond it.
    binds: Vec<LastBind>,
}

#[derive(Debug, Clone)]
struct LastBind {
    taken: Taken,
    half_breadth_mm: f64,
    cover: f64,
}

impl LooseDoses {
    /// The doses about a layout's ties, each with its last bind; none where all of the garment is one tie.
    pub(super) fn of(layout: &Layout, last_binds: impl Iterator<Item = (Taken, RodBind)>) -> Option<Self> {
        let loose = layout.loose()?;
        let process = layout.process();
        let thickness_mm = f64::from(loose.layers) * layout.cloth().free_thickness_mm;
        let mean = |reach_mm: f64| mean_dose_of_slab(thickness_mm, reach_mm);
        let index = |name: &str| layout.swatches().iter().position(|swatch| swatch.name == name);
        let dye = loose.swatch.as_ref().filter(|_| process.dye != DyeBy::Dipped).and_then(|swatch| index(&swatch.name));
        let all = layout.dye_fields();
        let of_dye = dye.into_iter().flat_map(|dye| all.of_dye(dye));
        let field_dose = |factor: f64| loose_feed(process) * mean(factor * process.dye_reach().through_mm);
        let fields: Vec<(usize, f64)> = of_dye.map(|(number, field)| (number, field_dose(field.reach_factor))).collect();
        let dose = dye.map_or(0.0, |dye| {
            all.dose(dye, |number| fields.iter().find(|(field, _)| *field == number).map_or(0.0, |(_, dose)| *dose))
        });
        let bath = process.discharge.map_or(0.0, |_| mean(process.calibration.discharge_reach.through_mm));
        Some(Self { dye, dose, fields, bath, binds: last_binds.map(LastBind::of).collect() })
    }

    /// The share of a point's surface that thread leaves free, 0 to 1.
    pub(super) fn free(&self, at: ClothPoint) -> f64 {
        free(&self.binds, at)
    }

    /// The same where a point is another tie's cloth: what the last threads of those before it, by its number from 0, leave free.
    pub(super) fn free_of_earlier(&self, at: ClothPoint, tie: usize) -> f64 {
        free(self.binds.get(..tie).unwrap_or(&self.binds), at)
    }
}

/// The share of a point's surface that these threads leave free, 0 to 1.
fn free(binds: &[LastBind], at: ClothPoint) -> f64 {
    let covered = binds.iter().filter(|bind| bind.taken.beyond_mm(at) < bind.half_breadth_mm);
    1.0 - covered.map(|bind| bind.cover).fold(0.0, f64::max)
}

impl LastBind {
    fn of((taken, RodBind { breadth_mm, effect, .. }): (Taken, RodBind)) -> Self {
        Self { taken, half_breadth_mm: 0.5 * breadth_mm, cover: effect.cover }
    }
}

/// Mean dose of a slab of cloth that is fed over both faces, against 1 at a face: `tanh(x) / x` with `x = thickness / (2 reach)`, the
/// effectiveness of a plate (Thiele 1939, from memory; any textbook of chemical reaction engineering).
pub(super) fn mean_dose_of_slab(thickness_mm: f64, reach_mm: f64) -> f64 {
    let half = 0.5 * thickness_mm / reach_mm;
    // Of what is so thin the quotient is all rounding, and the dose the face's.
    if half < THIN { 1.0 } else { half.tanh() / half }
}

/// Half a thickness in reaches below which a slab is dyed right through: the quotient is 1 within 1e-9.
const THIN: f64 = 1e-5;
