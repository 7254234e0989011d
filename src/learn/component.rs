//! How far the components of mixtures reach: which a piece shows, and what is believed of them.
//!
//! A component is known by its name and its mixture's, wherever the mixture lies. Before any photograph its factor on the reach of dyes is what
//! the layout of the first piece that shows it has, its maker's guess: later pieces may be laid out with what was learned since.

use crate::layout::{ComponentReach, DyeFields, Layout, REACH_FACTORS};
use crate::reveal::solver::MOST_FIELDS;

/// What is believed of a component's factor and of how it is learned, as a logarithm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ComponentFacts {
    /// How far off a maker's guess may be: a standard deviation (own judgement, as of the reach of dyes itself).
    pub prior_sd: f64,
    /// What the fit's own error has to be multiplied by: found on twelve drawn white squares with waxed thread, a mixture of two in turn with a dye on
    /// each, whose factors were off by 5.0 of it (root of the mean square). On twelve with the mixture alone they were off by 2.4: there the fit's own
    /// error holds what can't be told apart from the reach of dyes.
    pub factor: f64,
    /// The same of a component that none but discharged pieces show (own judgement, after the reach of dyes).
    pub bathed_factor: f64,
    /// How far it differs from piece to piece: twice as far as reaches, after thirteen drawn cloths with the mixture in one ring alone, which shows little
    /// of how its parts lie beside each other: with 0.10 factors were off by 1.67 of what was told.
    pub scatter: f64,
    /// What does not average out over many pieces (own judgement, as of reaches).
    pub floor: f64,
}

/// What is believed of every component alike.
pub const COMPONENT_FACTS: ComponentFacts =
    ComponentFacts { prior_sd: 0.4, factor: 5.0, bathed_factor: 10.0, scatter: 0.20, floor: 0.05 };

/// The components that a piece made from this layout shows, with the factors that it has: those of the mixtures that lie on it, as powder or by a
/// dip. None of a layout with so many dyes that they can't each be computed by themselves.
#[must_use]
pub fn shown_components(layout: &Layout) -> Vec<ComponentReach> {
    let rotation = &layout.raw().colours.rotation;
    if DyeFields::of_components(rotation).len() > MOST_FIELDS {
        return Vec::new();
    }
    let (sections, dips) = (layout.section_colours(), layout.dips());
    let lies = |dye: usize| sections.contains(&Some(dye)) || dips.iter().any(|dip| dip.colour == dye);
    ComponentReach::of(rotation.iter().enumerate().filter(|(dye, _)| lies(*dye)).map(|(_, swatch)| swatch))
}

/// The fields that the doses of a piece's dyes are kept as while it is learned from: which there are stays as it is however far components reach.
pub(super) fn fields_of(layout: &Layout) -> DyeFields {
    let rotation = &layout.raw().colours.rotation;
    let each = DyeFields::of_components(rotation);
    if each.len() > MOST_FIELDS { DyeFields::of(rotation) } else { each }
}

/// A factor on its scale, the natural logarithm.
pub(super) fn place_of(factor: f64) -> f64 {
    factor.ln()
}

/// The factor at a place of the scale, held within what a layout may have.
pub(super) fn factor_at(place: f64) -> f64 {
    let [least, most] = REACH_FACTORS;
    place.exp().clamp(least, most)
}

/// Among components the one of these names.
pub(super) fn position(among: &[ComponentReach], of: &ComponentReach) -> Option<usize> {
    among.iter().position(|other| other.is_of(&of.mixture, &of.component))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{Swatch, first_components};
    use crate::learn::TEST_CLOTH;

    fn shown(change: impl FnOnce(&mut crate::layout::LayoutSpec)) -> Vec<String> {
        let mut spec = TEST_CLOTH[1].layout();
        for dye in &mut spec.colours.rotation {
            dye.components = first_components(dye.srgb);
        }
        change(&mut spec);
        let of = |reach: ComponentReach| format!("{} of {}", reach.component, reach.mixture);
        shown_components(&Layout::try_from(spec).unwrap()).into_iter().map(of).collect()
    }

    /// Only what lies on the cloth shows.
    #[test]
    fn a_piece_shows_the_components_of_what_lies_on_it() {
        let both = ["component 1 of teal", "component 2 of teal", "component 1 of amber", "component 2 of amber"];
        assert_eq!(shown(|_| {}), both);
        assert_eq!(shown(|spec| spec.colours.bare = (1..=10).filter(|section| section % 2 == 0).collect()), both[..2]);
        assert!(shown(|spec| spec.colours.rotation.iter_mut().for_each(|dye| dye.components.clear())).is_empty());
    }

    /// More than are computed at once are held where they were guessed, and the piece teaches all else.
    #[test]
    fn more_components_than_are_computed_at_once_are_held() {
        let many = |count: usize| {
            move |spec: &mut crate::layout::LayoutSpec| {
                let teal = spec.colours.rotation[0].clone();
                spec.colours.rotation = (0..count).map(|at| Swatch { name: format!("teal {at}"), ..teal.clone() }).collect();
            }
        };
        assert_eq!((shown(many(8)).len(), shown(many(9)).len()), (16, 0));
    }
}
