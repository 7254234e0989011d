//! Figures of the garment.

use crate::geometry::{MM2_PER_M2, PanelPair};
use crate::layout::Layout;
use crate::measure::{LengthStyle, RuleMarks};
use serde::Serialize;

/// The garment.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GarmentFigures {
    /// The kind, in plain words.
    pub kind: String,
    /// The size it was named by.
    pub size: Option<String>,
    /// Every measurement.
    pub measures: Vec<MeasureFigures>,
    /// The cloth.
    pub cloth: ClothFigures,
}

/// One measurement.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MeasureFigures {
    /// Its name as in a layout file.
    pub name: &'static str,
    /// Now, mm.
    pub now_mm: f64,
    /// After a wash, mm.
    pub washed_mm: f64,
    /// Where it comes from: `given`, `size table` or `derived`.
    pub origin: &'static str,
    /// How far it can be trusted, if it was not measured.
    pub status: Option<&'static str>,
}

impl MeasureFigures {
    /// How its lengths are written where others are in `lengths`: one that somebody took as it was taken, unless `lengths` are not those of
    /// the layout's marks but were asked for.
    #[must_use]
    pub fn lengths(&self, marks: RuleMarks, lengths: LengthStyle) -> LengthStyle {
        if self.status.is_none() && lengths == marks.lengths() { lengths.of_measured() } else { lengths }
    }
}

/// The garment's cloth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ClothFigures {
    /// Area of each panel, mm2.
    pub area_mm2: PanelPair<f64>,
    /// Mass of all of it, dry, g: outlines times g/m2, without seams, ribs and hems.
    pub mass_g: f64,
}

pub(super) fn garment_figures(layout: &Layout) -> GarmentFigures {
    let garment = layout.garment();
    let washed = layout.wash().measurements_after(garment);
    let measures = garment
        .measurements()
        .iter()
        .map(|m| MeasureFigures {
            name: m.measure.key(),
            now_mm: m.value_mm,
            washed_mm: washed.value(m.measure).unwrap_or(m.value_mm),
            origin: m.origin.words(),
            status: m.status.map(|status| status.words()),
        })
        .collect();
    GarmentFigures {
        kind: garment.kind().to_string(),
        size: garment.size().map(|size| size.to_string()),
        measures,
        cloth: cloth_figures(layout),
    }
}

fn cloth_figures(layout: &Layout) -> ClothFigures {
    let panels = layout.panels();
    let area_mm2 = PanelPair::from_fn(|panel| panels.panel(panel).map_or(0.0, |outline| outline.whole().area_mm2()));
    ClothFigures { area_mm2, mass_g: area_mm2.sum() * layout.cloth().grams_per_m2 / MM2_PER_M2 }
}
