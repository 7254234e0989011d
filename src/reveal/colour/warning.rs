//! What to know about the colours before dyeing, as data.

use super::neighbours::section_lab;
use super::{DyeSet, RotationOrder, Together, best_order, ciede2000, neighbours};
use crate::layout::{Layout, Swatch};
use crate::telling::{Told, Voice, Warned};
use serde::Serialize;

/// The CIEDE2000 under which two colours are hard to tell apart across a bind: 10.
///
/// Our own judgement, no source. Side by side on smooth cards 1 is seen; here a line of another colour lies between, the cloth is
/// ribbed, and a hand-dyed section varies by about 5 within itself, so twice that is asked for.
pub const TOLD_APART: f64 = 10.0;

/// Something about the colours that may disappoint.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum ColourWarning {
    /// Two neighbouring sections look alike.
    NeighboursAlike {
        /// Numbers of the sections where the two meet, the inner one of each pair, from the centre outward.
        inner_sections: Vec<u32>,
        /// The one colour.
        first: String,
        /// The other.
        second: String,
        /// CIEDE2000 between them on this ground.
        difference: f64,
        /// The limit.
        limit: f64,
        /// An order of the rotation that parts neighbours better, if there is one, and the smallest difference in it.
        better_order: Option<BetterOrder>,
    },
    /// The rings kept under the thread, in the garment's colour, hardly show beside this colour.
    RingsLost {
        /// The colour.
        colour: String,
        /// CIEDE2000 between it on this ground and the garment's colour.
        difference: f64,
        /// The limit.
        limit: f64,
    },
    /// The components of a mixture, as they are guessed, look unlike it together.
    MixtureUnlike {
        /// The mixture.
        colour: String,
        /// CIEDE2000 between the two on white cloth.
        difference: f64,
        /// The limit.
        limit: f64,
    },
    /// A colour hardly shows on this ground.
    LostOnGround {
        /// The colour.
        colour: String,
        /// CIEDE2000 between the ground with it and without.
        difference: f64,
        /// The limit.
        limit: f64,
    },
}

/// An order of the rotation that parts neighbours better than the present one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BetterOrder {
    /// The colours' names in that order.
    pub colours: Vec<String>,
    /// The smallest CIEDE2000 between neighbours then.
    pub least_difference: f64,
}

impl Warned for ColourWarning {
    fn name(&self) -> &'static str {
        match self {
            Self::NeighboursAlike { .. } => "neighbours-alike",
            Self::RingsLost { .. } => "rings-lost",
            Self::MixtureUnlike { .. } => "mixture-unlike",
            Self::LostOnGround { .. } => "lost-on-ground",
        }
    }

    fn told(&self, _voice: Voice) -> Told {
        match self {
            Self::NeighboursAlike { inner_sections, first, second, difference, limit, better_order } => {
                let places =
                    inner_sections.iter().map(|inner| format!("{inner} and {}", inner + 1)).collect::<Vec<_>>().join(", ");
                let cure = better_order.as_ref().map_or_else(
                    || "choose another colour for one of them".to_owned(),
                    |better| {
                        format!(
                            "in the order {} the smallest difference is {:.1}",
                            better.colours.join(", "),
                            better.least_difference
                        )
                    },
                );
                Told::new(
                    format!(
                        "side by side, {first} and {second} look alike (sections {places}): colour difference {difference:.1}; below \
                         {limit:.1} they are hard to tell apart"
                    ),
                    cure,
                )
            }
            Self::RingsLost { colour, difference, limit } => Told::new(
                format!(
                    "rings in the garment's colour hardly show beside {colour}: colour difference {difference:.1}; below {limit:.1} \
                     is hard to tell apart"
                ),
                "choose another colour where thread lies",
            ),
            Self::MixtureUnlike { colour, difference, limit } => Told::new(
                format!(
                    "the components of {colour} look unlike it together: colour difference {difference:.1}; above {limit:.1} they are \
                     bent far to give its colour"
                ),
                "correct a component's colour or share, or take the colour that they give",
            ),
            Self::LostOnGround { colour, difference, limit } => Told::new(
                format!(
                    "{colour} hardly shows on this ground: colour difference {difference:.1}; below {limit:.1} is hard to see"
                ),
                "choose a stronger colour",
            ),
        }
    }
}

/// As [`colour_warnings`] for each tie of a layout, with what it is called where there are several; `dyes` are those of all.
#[must_use]
pub fn colour_warnings_by_tie<'a>(
    layout: &'a Layout,
    dyes: &DyeSet,
    discharged: f64,
    limit: f64,
) -> Vec<(Option<&'a str>, ColourWarning)> {
    let of_tie = |tie: &'a Layout| {
        let (numbers, owners) = layout.fields_of_tie(tie);
        let warnings = colour_warnings(tie, &dyes.only(&numbers, owners), discharged, limit);
        warnings.into_iter().map(|warning| (tie.tie_name(), warning))
    };
    layout.ties().iter().flat_map(of_tie).collect()
}

/// The warnings for a layout's sections with these dyes, in the order of its rotation; `limit` is usually [`TOLD_APART`].
///
/// `discharged` is the share of the garment's colour that is gone in the sections, 0 to 1.
#[must_use]
pub fn colour_warnings(layout: &Layout, dyes: &DyeSet, discharged: f64, limit: f64) -> Vec<ColourWarning> {
    let colours = &layout.raw().colours;
    let sections = layout.section_colours();
    let mut alike: Vec<(usize, usize, f64, Vec<u32>)> = Vec::new();
    for pair in neighbours(dyes, &sections, discharged).iter().filter(|pair| pair.difference < limit) {
        let (Some(inner), Some(outer)) = (pair.inner, pair.outer) else { continue };
        let (first, second) = (inner.min(outer), inner.max(outer));
        match alike.iter_mut().find(|known| (known.0, known.1) == (first, second)) {
            Some(known) => known.3.push(pair.inner_section),
            None => alike.push((first, second, pair.difference, vec![pair.inner_section])),
        }
    }
    let better = (!alike.is_empty()).then(|| best_order(dyes, colours, sections.len(), discharged));
    let better_order = better.and_then(|order| better_order(order, &colours.rotation));
    let name = |dye: usize| colours.rotation[dye].name.clone();
    let mut warnings: Vec<ColourWarning> = alike
        .into_iter()
        .map(|(first, second, difference, inner_sections)| ColourWarning::NeighboursAlike {
            inner_sections,
            first: name(first),
            second: name(second),
            difference,
            limit,
            better_order: better_order.clone(),
        })
        .collect();
    warnings.extend(against_cloth(dyes, &colours.rotation, &sections, discharged, limit));
    warnings
}

fn better_order(found: RotationOrder, rotation: &[Swatch]) -> Option<BetterOrder> {
    let least_difference = found.least_difference.filter(|least| found.present_least.is_some_and(|present| *least > present))?;
    let colours = found.order.into_iter().map(|dye| rotation[dye].name.clone()).collect();
    Some(BetterOrder { colours, least_difference })
}

/// Each colour in use against the bare ground, and against the rings that keep the garment's colour where those can be seen at all.
fn against_cloth(
    dyes: &DyeSet,
    rotation: &[Swatch],
    sections: &[Option<usize>],
    discharged: f64,
    limit: f64,
) -> Vec<ColourWarning> {
    let (bare, kept) = (section_lab(dyes, None, discharged), section_lab(dyes, None, 0.0));
    let has_rings = ciede2000(bare, kept) >= limit;
    let mut warnings = Vec::new();
    for (dye, swatch) in rotation.iter().enumerate().filter(|(dye, _)| sections.contains(&Some(*dye))) {
        let dyed = section_lab(dyes, Some(dye), discharged);
        let (from_bare, from_kept) = (ciede2000(dyed, bare), ciede2000(dyed, kept));
        if from_bare < limit {
            warnings.push(ColourWarning::LostOnGround { colour: swatch.name.clone(), difference: from_bare, limit });
        }
        if let Some(together) = Together::of(swatch).filter(|together| !together.is_alike()) {
            let (colour, difference) = (swatch.name.clone(), together.difference);
            warnings.push(ColourWarning::MixtureUnlike { colour, difference, limit: Together::ALIKE });
        }
        if has_rings && from_kept < limit {
            warnings.push(ColourWarning::RingsLost { colour: swatch.name.clone(), difference: from_kept, limit });
        }
    }
    warnings
}
