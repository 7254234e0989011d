//! Figures of what is dipped.

use super::Figures;
use crate::geometry::{MM2_PER_M2, PanelPair};
use crate::layout::Layout;
use crate::measure::LengthStyle;
use crate::telling::Voice;
use serde::Serialize;

/// One dip of a flat bundle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DipFigures {
    /// Its number, in the order of the layout.
    pub number: u32,
    /// What is dipped, in plain words: `corner 2`.
    pub part: String,
    /// How deep, mm.
    pub depth_mm: f64,
    /// How long, minutes.
    pub minutes: f64,
    /// How far dye is drawn in during it, along the cloth, mm: an estimate.
    pub reach_mm: f64,
    /// Its colour.
    pub colour: String,
    /// Cloth of all layers that lies in dye, on each panel, mm2.
    pub area_mm2: PanelPair<f64>,
    /// Mass of that cloth, dry, g.
    pub mass_g: f64,
}

impl Figures {
    /// The dips in a sentence, in their order: `Dip corner 1, 35 mm deep for 5 min, into rose; then edge 2, ...`; nothing without.
    #[must_use]
    pub fn dip_words(&self, lengths: LengthStyle) -> Option<String> {
        let each = self.dips.iter().map(|dip| {
            let minutes = Voice::FILE.number(dip.minutes);
            format!("{}, {} deep for {minutes} min, into {}", dip.part, lengths.format(dip.depth_mm), dip.colour)
        });
        let each: Vec<String> = each.collect();
        (!each.is_empty()).then(|| format!("Dip {}.", each.join("; then ")))
    }
}

pub(super) fn dip_figures(layout: &Layout) -> Vec<DipFigures> {
    let Some(flat) = layout.flat() else { return Vec::new() };
    let dips = (1..).zip(layout.raw().dips.iter().zip(layout.dips()));
    let figures = dips.map(|(number, (spec, dip))| {
        let area_mm2 = flat.dipped_mm2(&dip.zone);
        DipFigures {
            number,
            part: spec.part.to_string(),
            depth_mm: spec.depth_mm,
            minutes: spec.minutes,
            reach_mm: layout.process().dip_reach(spec.minutes).along_mm,
            colour: spec.colour.clone(),
            area_mm2,
            mass_g: area_mm2.sum() * layout.cloth().grams_per_m2 / MM2_PER_M2,
        }
    });
    figures.collect()
}
