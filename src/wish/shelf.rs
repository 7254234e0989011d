//! The dyes to choose among.

use super::error::{WishError, WishProblem};
use crate::layout::{COMPONENTS, Component, DyeFields, Layout, Swatch};
use crate::reveal::colour::{DyeSet, Ground, Lab};
use crate::reveal::solver::MOST_FIELDS;

/// The number of what stands for no dye, and its name among the others: white on white, which adds nothing. In a layout such sections are left bare.
pub(super) const NOTHING: usize = 0;
const NO_DYE: &str = "no dye";

/// The ground, and the dyes by their numbers: first none, then those of the shelf.
#[derive(Debug, Clone)]
pub(super) struct Shelf {
    pub(super) ground: Ground,
    pub(super) is_discharged: bool,
    pub(super) swatches: Vec<Swatch>,
    /// The same as they are searched with: reaches that lie nearest to each other are taken for one where there are too many.
    searched: Vec<Swatch>,
    /// Factors on how far dyes reach, each that there is once: 1 alone where nothing is mixed.
    reach_factors: Vec<f64>,
}

impl Shelf {
    /// These dyes, or where there are none the layout's own.
    pub(super) fn of(dyes: &[Swatch], layout: &Layout) -> Result<Self, WishError> {
        let dyes = if dyes.is_empty() { &layout.raw().colours.rotation } else { dyes };
        let none = Swatch::plain(NO_DYE, Ground::WHITE);
        let dyes: Vec<Swatch> = dyes.iter().filter(|dye| dye.name != NO_DYE).cloned().collect();
        // One of the fields that are solved at once is kept for no dye.
        if !(1..MOST_FIELDS).contains(&dyes.len()) {
            let problem = WishProblem::Dyes { count: dyes.len(), most: MOST_FIELDS - 1 };
            return Err(WishError { field: "dyes".into(), problem });
        }
        let is_discharged = layout.process().discharge.is_some();
        let ground = Ground::of_layout(layout);
        let ground = if is_discharged { ground } else { Ground::plain(ground.garment) };
        let mut searched = dyes.clone();
        let [_, most] = COMPONENTS;
        while reach_factors(&searched).len() > most {
            take_nearest_for_one(&mut searched);
        }
        let reach_factors = reach_factors(&searched);
        let [swatches, searched] = [dyes, searched].map(|dyes| std::iter::once(none.clone()).chain(dyes).collect());
        Ok(Self { ground, is_discharged, swatches, searched, reach_factors })
    }

    /// What stands for any of the dyes where doses are solved, by a name: something of each reach that there is, in their order.
    pub(super) fn any(&self, name: &str) -> Swatch {
        let (srgb, count) = (Ground::WHITE, self.reach_factors.len());
        let plain = Swatch::plain(name, srgb);
        if let [only] = self.reach_factors[..]
            && only.total_cmp(&1.0).is_eq()
        {
            return plain;
        }
        // A mixture has two components at least.
        let factors = self.reach_factors.iter().cycle().take(count.max(COMPONENTS[0]));
        let component = |(number, &reach_factor): (usize, &f64)| Component {
            name: format!("{name} {number}"),
            srgb,
            percent: 100.0 / count.max(COMPONENTS[0]) as f64,
            reach_factor,
        };
        Swatch { components: factors.enumerate().map(component).collect(), ..plain }
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.swatches.iter().skip(1).any(|swatch| swatch.name == name)
    }

    pub(super) fn names(&self) -> Vec<String> {
        self.swatches.iter().skip(1).map(|swatch| swatch.name.clone()).collect()
    }

    /// A single dye on the ground, by its doses of each reach that there is.
    pub(super) fn alone(&self, dye: usize) -> DyeSet {
        DyeSet::spread(self.ground, &self.searched[dye], &self.reach_factors)
    }

    /// Shares of a full dose that what reaches differently of a dye may have beside each other: all alike, and of a mixture what goes farther
    /// with half of the rest, and by itself.
    pub(super) fn parted(&self, dye: usize) -> Vec<Vec<f64>> {
        let mut parted = vec![vec![1.0; self.reach_factors.len()]];
        let mut own: Vec<f64> = self.searched[dye].components.iter().map(|one| one.reach_factor).collect();
        own.sort_by(f64::total_cmp);
        own.dedup();
        for &nearer in own.split_last().map_or(&[][..], |(_farthest, nearer)| nearer) {
            let of = |share: f64| self.reach_factors.iter().map(|factor| if *factor <= nearer { share } else { 1.0 }).collect();
            parted.extend([0.5, 0.0].map(of));
        }
        parted
    }

    /// The garment's own colour.
    pub(super) fn garment(&self) -> Lab {
        Lab::from(self.ground.garment)
    }

    /// The ground that dye goes onto.
    pub(super) fn bare(&self) -> Lab {
        Lab::from(self.ground.discharged)
    }

    /// A dye at its swatch's strength on that ground; the ground itself for one that is not there.
    pub(super) fn dyed(&self, name: &str) -> Lab {
        let dye = self.swatches.iter().position(|swatch| swatch.name == name).unwrap_or_default();
        self.alone(dye).lab(&vec![1.0; self.reach_factors.len()], 1.0)
    }

    /// The same dyes on white cloth.
    pub(super) fn on_white(&self) -> Self {
        Self { ground: Ground::plain(Ground::WHITE), is_discharged: false, ..self.clone() }
    }
}

/// Factors on how far these dyes reach, each that there is once: 1 alone where nothing is mixed.
fn reach_factors(dyes: &[Swatch]) -> Vec<f64> {
    DyeFields::of(dyes).by_reach().into_iter().filter(|(_, of)| !of.is_empty()).map(|(factor, _)| factor).collect()
}

/// Takes the two reaches whose ratio is the least for one between them, or for that of unmixed dyes where that is one of them. What is searched
/// with it is corrected by whole reveals, which have each as it is.
fn take_nearest_for_one(dyes: &mut [Swatch]) {
    let mut factors = reach_factors(dyes);
    factors.sort_by(f64::total_cmp);
    let pairs = factors.windows(2).map(|pair| [pair[0], pair[1]]);
    let Some(nearest) = pairs.min_by(|one, other| (one[1] / one[0]).total_cmp(&(other[1] / other[0]))) else { return };
    let between = if nearest.contains(&1.0) { 1.0 } else { (nearest[0] * nearest[1]).sqrt() };
    for component in dyes.iter_mut().flat_map(|dye| &mut dye.components) {
        if nearest.contains(&component.reach_factor) {
            component.reach_factor = between;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mixture(name: &str, factors: [f64; 2]) -> Swatch {
        let srgb = Ground::WHITE;
        let component = |reach_factor: f64| Component { name: reach_factor.to_string(), srgb, percent: 50.0, reach_factor };
        Swatch { components: factors.map(component).to_vec(), ..Swatch::plain(name, srgb) }
    }

    /// Of five reaches those nearest in ratio become one, until three are left; what dyes reach unmixed stays.
    #[test]
    fn the_nearest_reaches_are_taken_for_one() {
        let mut dyes = [Swatch::plain("teal", Ground::WHITE), mixture("grey", [0.5, 1.04]), mixture("slate", [1.9, 2.1])];
        assert_eq!(reach_factors(&dyes).len(), 5);
        take_nearest_for_one(&mut dyes);
        assert_eq!(reach_factors(&dyes), [1.0, 0.5, 1.9, 2.1]);
        take_nearest_for_one(&mut dyes);
        let left = reach_factors(&dyes);
        assert!(left[..2] == [1.0, 0.5] && (left[2] - (1.9_f64 * 2.1).sqrt()).abs() < 1e-12 && left.len() == 3, "{left:?}");
    }
}
