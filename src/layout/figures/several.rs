//! Figures of a layout of several ties.

use super::Figures;
use super::sections::{ColourFigures, ComponentFigures};
use crate::geometry::{Bundle as _, ClothPoint, MM2_PER_M2, Panel, PanelPair, TiedFold, crowding};
use crate::layout::{Layout, Warning};
use crate::measure::total;
use serde::Serialize;

/// The ties and what lies about them.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeveralFigures {
    /// Each tie, in the order in which they are tied.
    pub ties: Vec<TieFigures>,
    /// The cloth that none of them takes.
    pub loose: LooseFigures,
}

/// One of several ties.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TieFigures {
    /// What it is called.
    pub name: String,
    /// Its cloth on each panel, mm2.
    pub area_mm2: PanelPair<f64>,
    /// Mass of its cloth, dry, g.
    pub mass_g: f64,
    /// Its own figures: of thread and colours they say what is this tie's alone.
    pub figures: Figures,
}

/// The cloth about several ties.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LooseFigures {
    /// How much of it each panel has, mm2.
    pub area_mm2: PanelPair<f64>,
    /// Its mass, dry, g.
    pub mass_g: f64,
    /// How many layers of it lie on each other.
    pub layers: u32,
    /// Its colour; none where it gets no dye.
    pub colour: Option<String>,
    /// What its colour is mixed of; nothing of an unmixed one.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub components: Vec<ComponentFigures>,
}

/// How many times as much cloth as lies flat may lie where a tie is folded beside one that is drawn up: twice (our own judgement).
const MOST_CROWDED: f64 = 2.0;
/// Cloth of one tie in another's from which it is told, mm2: 2 cm2 (own choice).
const SHARED_MM2: f64 = 200.0;

/// Figures of each tie, and of the cloth about them; none of a layout that is one tie alone.
pub(super) fn several_figures(layout: &Layout) -> Option<SeveralFigures> {
    let loose = layout.loose()?;
    let grams_per_m2 = layout.cloth().grams_per_m2;
    let tie = |tie: &Layout| {
        let taken_mm2 = |fold: &TiedFold| fold.cut(fold.taken().until_mm()).map(|cut| cut.area_mm2);
        let area_mm2 = tie.tied_fold().map(taken_mm2).unwrap_or_default();
        let mass_g = area_mm2.sum() * grams_per_m2 / MM2_PER_M2;
        TieFigures { name: tie.tie_name().unwrap_or_default().to_owned(), area_mm2, mass_g, figures: Figures::of(tie) }
    };
    let ties = layout.ties().iter().map(tie).collect();
    let (mass_g, layers, area_mm2) = (loose.mass_g(grams_per_m2), loose.layers, loose.area_mm2);
    let components = loose.swatch.iter().flat_map(|swatch| ComponentFigures::of(&swatch.components)).collect();
    let colour = loose.swatch.map(|swatch| swatch.name);
    let loose = LooseFigures { area_mm2, mass_g, layers, colour, components };
    Some(SeveralFigures { ties, loose })
}

impl SeveralFigures {
    /// Cloth by colour over all ties and the loose cloth, each colour once, in the order of the ties and their rotations; a dye of the
    /// loose cloth's own comes last.
    pub(super) fn colours(&self) -> Vec<ColourFigures> {
        let mut colours: Vec<ColourFigures> = Vec::new();
        for own in self.ties.iter().flat_map(|tie| &tie.figures.colours) {
            match colours.iter_mut().find(|known| known.name == own.name) {
                Some(known) => known.add(own),
                None => colours.push(own.clone()),
            }
        }
        if let Some(name) = &self.loose.colour {
            let at = colours.iter().position(|colour| colour.name == *name).unwrap_or_else(|| {
                // A dye that no tie has.
                colours.push(ColourFigures::of_nothing(name, &self.loose.components));
                colours.len() - 1
            });
            let colour = &mut colours[at];
            colour.is_on_loose_cloth = true;
            colour.area_mm2 += self.loose.area_mm2.sum();
            colour.mass_g += self.loose.mass_g;
        }
        colours
    }

    /// Thread to cut for all of them, mm.
    pub(super) fn thread_mm(&self) -> f64 {
        total(self.ties.iter().map(|tie| tie.figures.thread_mm))
    }

    /// What to know of all of them: of the garment once, then tie by tie, with what one does to the next.
    pub(super) fn warnings(&self, layout: &Layout) -> Vec<Warning> {
        let mut warnings: Vec<Warning> = Vec::new();
        for (number, (tie, figures)) in layout.ties().iter().zip(&self.ties).enumerate() {
            for warning in &figures.figures.warnings {
                let of_garment = warning.is_of_garment();
                if !of_garment {
                    warnings.push(Warning::InTie { tie: figures.name.clone(), warning: Box::new(warning.clone()) });
                } else if number == 0 {
                    warnings.push(warning.clone());
                }
            }
            let earlier = layout.ties()[..number].iter().zip(&self.ties);
            warnings.extend(earlier.filter_map(|(other, name)| crowded(tie, &figures.name, other, &name.name)));
            let shared_mm2 = tie.tied_fold().map_or(0.0, |fold| fold.shared_mm2().sum());
            if shared_mm2 >= SHARED_MM2 {
                warnings.push(Warning::TiesShareCloth { tie: figures.name.clone(), area_mm2: shared_mm2 });
            }
        }
        warnings
    }
}

/// That a tie is folded where an earlier one has drawn the cloth together.
fn crowded(tie: &Layout, name: &str, other: &Layout, by: &str) -> Option<Warning> {
    let (middle, taken) = (tie.middle()?, other.tied_fold()?.taken());
    let times = crowding(taken, ClothPoint { panel: Panel::Front, x_mm: middle.x, y_mm: middle.y });
    // Within the other's cloth the sharing of it is told.
    let is_told = times.is_finite() && times > MOST_CROWDED;
    is_told.then(|| Warning::TieCrowded { tie: name.to_owned(), by: by.to_owned(), times, most: MOST_CROWDED })
}
