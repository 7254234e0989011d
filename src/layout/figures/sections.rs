//! Figures of the sections and of the cloth that each colour dyes.

use super::DipFigures;
use crate::geometry::{PanelPair, sections};
use crate::layout::{Component, Layout, Swatch};
use crate::measure::{counted, total};
use serde::Serialize;

/// One section: the cloth between two neighbouring binds.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SectionFigures {
    /// Its number, 1 at the centre.
    pub number: u32,
    /// Where it begins along the rod, mm.
    pub inner_mm: f64,
    /// Where it ends, mm.
    pub outer_mm: f64,
    /// Its length along the rod, mm.
    pub length_mm: f64,
    /// Its cloth on each panel, mm2.
    pub area_mm2: PanelPair<f64>,
    /// Mass of its cloth, dry, g.
    pub mass_g: f64,
    /// Its colour.
    pub colour: Option<String>,
    /// Whether it is meant to get no dye.
    #[serde(skip_serializing_if = "is_not")]
    pub is_bare: bool,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "as serde asks")]
fn is_not(it: &bool) -> bool {
    !it
}

impl SectionFigures {
    /// Its colour, that it gets none, or nothing where nothing is said.
    #[must_use]
    pub fn colour_words(&self) -> &str {
        self.colour.as_deref().unwrap_or(if self.is_bare { "no dye" } else { "" })
    }
}

/// The cloth of one colour.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ColourFigures {
    /// The colour.
    pub name: String,
    /// Numbers of its sections.
    pub sections: Vec<u32>,
    /// Numbers of its dips.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub dips: Vec<u32>,
    /// Whether the cloth that none of several ties takes gets it.
    #[serde(skip_serializing_if = "is_not")]
    pub is_on_loose_cloth: bool,
    /// Its cloth, mm2: of its sections, what lies in dye in its dips, and the loose cloth that it dyes.
    pub area_mm2: f64,
    /// Mass of its cloth, dry, g.
    pub mass_g: f64,
    /// What it is mixed of; nothing of an unmixed one.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub components: Vec<ComponentFigures>,
}

/// A dye in a mixture.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ComponentFigures {
    /// What it is called.
    pub name: String,
    /// Its share of the mixture's powder by weight, percent.
    pub percent: f64,
    /// By how much farther than dyes do it reaches, percent; less far below 0.
    pub farther_percent: f64,
}

impl ComponentFigures {
    /// Those of a mixture.
    pub(super) fn of(components: &[Component]) -> Vec<Self> {
        let one = |component: &Component| Self {
            name: component.name.clone(),
            percent: component.percent,
            farther_percent: component.farther_percent(),
        };
        components.iter().map(one).collect()
    }
}

impl ColourFigures {
    /// A colour that is on nothing yet, mixed of these.
    pub(super) fn of_nothing(name: &str, components: &[ComponentFigures]) -> Self {
        Self { components: components.to_vec(), ..one_colour(name, &[], &[]) }
    }

    /// Adds the cloth of the same colour in another tie, whose sections count anew.
    pub(super) fn add(&mut self, other: &Self) {
        self.sections.extend(&other.sections);
        self.area_mm2 += other.area_mm2;
        self.mass_g += other.mass_g;
    }

    /// What it goes on, in words: `3 sections`, `2 dips`, `1 section and 2 dips`; `section` is what the parts between binds are called.
    #[must_use]
    pub fn goes_on(&self, section: &str) -> String {
        let (sections, dips) = (counted(self.sections.len(), section), counted(self.dips.len(), "dip"));
        match (self.sections.len(), self.dips.len()) {
            (0, 0) if self.is_on_loose_cloth => "the loose cloth".to_owned(),
            (_, 0) if self.is_on_loose_cloth => format!("{sections} and the loose cloth"),
            (_, 0) => sections,
            (0, _) => dips,
            _ => format!("{sections} and {dips}"),
        }
    }
}

pub(super) fn section_figures(layout: &Layout) -> Vec<SectionFigures> {
    let radii_mm: Vec<f64> = layout.binds().binds.iter().map(|bind| bind.radius_mm).collect();
    let grams_per_m2 = layout.cloth().grams_per_m2;
    let colours = &layout.raw().colours;
    (1..)
        .zip(sections(layout.fold(), &radii_mm).into_iter().zip(layout.section_colours()))
        .map(|(number, (section, colour))| SectionFigures {
            number,
            inner_mm: section.inner_mm,
            outer_mm: section.outer_mm,
            length_mm: section.length_mm(),
            area_mm2: section.area_mm2,
            mass_g: section.mass_g(grams_per_m2),
            colour: colour.map(|index| colours.rotation[index].name.clone()),
            is_bare: colours.bare.contains(&number),
        })
        .collect()
}

pub(super) fn colour_figures(layout: &Layout, sections: &[SectionFigures], dips: &[DipFigures]) -> Vec<ColourFigures> {
    let of = |swatch: &Swatch| ColourFigures {
        components: ComponentFigures::of(&swatch.components),
        ..one_colour(&swatch.name, sections, dips)
    };
    layout.raw().colours.rotation.iter().map(of).collect()
}

fn one_colour(name: &str, sections: &[SectionFigures], dips: &[DipFigures]) -> ColourFigures {
    let dyed: Vec<_> = sections.iter().filter(|section| section.colour.as_deref() == Some(name)).collect();
    let dips: Vec<_> = dips.iter().filter(|dip| dip.colour == name).collect();
    ColourFigures {
        name: name.to_owned(),
        sections: dyed.iter().map(|section| section.number).collect(),
        dips: dips.iter().map(|dip| dip.number).collect(),
        is_on_loose_cloth: false,
        area_mm2: total(dyed.iter().map(|section| section.area_mm2.sum()).chain(dips.iter().map(|dip| dip.area_mm2.sum()))),
        mass_g: total(dyed.iter().map(|section| section.mass_g).chain(dips.iter().map(|dip| dip.mass_g))),
        components: Vec::new(),
    }
}
