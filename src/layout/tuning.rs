//! What the doses of a layout hang on besides its fold: calibration values, and how far the components of its mixtures reach.

use super::{Calibration, Layout, LayoutSpec, Swatch};

/// How far a component of a mixture reaches, by their names.
#[derive(Debug, Clone, PartialEq)]
pub struct ComponentReach {
    /// The mixture's name among a rotation's colours.
    pub mixture: String,
    /// The component's among its own.
    pub component: String,
    /// How far it reaches, as a factor on how far dyes do.
    pub reach_factor: f64,
}

impl ComponentReach {
    /// How far each component of these colours reaches; nothing of what is not mixed.
    pub fn of<'s>(swatches: impl IntoIterator<Item = &'s Swatch>) -> Vec<Self> {
        let of_swatch = |swatch: &'s Swatch| {
            let of = |one: &super::Component| Self {
                mixture: swatch.name.clone(),
                component: one.name.clone(),
                reach_factor: one.reach_factor,
            };
            swatch.components.iter().map(of).collect::<Vec<_>>()
        };
        swatches.into_iter().flat_map(of_swatch).collect()
    }

    /// Whether it is that component, wherever it reaches.
    #[must_use]
    pub fn is_of(&self, mixture: &str, component: &str) -> bool {
        self.mixture == mixture && self.component == component
    }
}

/// Calibration values and reaches that a layout can be given.
#[derive(Debug, Clone, PartialEq)]
pub struct Tuning {
    /// The calibration values.
    pub calibration: Calibration,
    /// How far components reach. Those that are not named stay as a layout has them, and those that it has not change nothing.
    pub reaches: Vec<ComponentReach>,
}

impl Tuning {
    /// These calibration values alone.
    #[must_use]
    pub fn plain(calibration: Calibration) -> Self {
        Self { calibration, reaches: Vec::new() }
    }

    /// What a layout has.
    #[must_use]
    pub fn of(spec: &LayoutSpec) -> Self {
        Self { calibration: spec.process.calibration, reaches: ComponentReach::of(spec.swatches()) }
    }

    /// How far a component reaches; none of one that is not named.
    #[must_use]
    pub fn reach_of(&self, mixture: &str, component: &str) -> Option<f64> {
        self.reaches.iter().find(|reach| reach.is_of(mixture, component)).map(|reach| reach.reach_factor)
    }

    /// Lets the components of a mixture reach as far as is said of them.
    pub fn tune(&self, swatch: &mut Swatch) {
        for one in &mut swatch.components {
            one.reach_factor = self.reach_of(&swatch.name, &one.name).unwrap_or(one.reach_factor);
        }
    }

    /// The reaches by which a layout would change: what it has, and what it would have.
    #[must_use]
    pub fn changes(&self, spec: &LayoutSpec) -> Vec<(ComponentReach, f64)> {
        let change = |own: ComponentReach| {
            let new = self.reach_of(&own.mixture, &own.component)?;
            new.total_cmp(&own.reach_factor).is_ne().then_some((own, new))
        };
        ComponentReach::of(spec.swatches()).into_iter().filter_map(change).collect()
    }
}

impl LayoutSpec {
    /// Takes calibration values, and for its mixtures, whichever tie or loose cloth has them, how far their components reach.
    pub fn tune(&mut self, to: &Tuning) {
        self.process.calibration = to.calibration;
        if to.reaches.is_empty() {
            return;
        }
        let further = self.ties.iter_mut().flat_map(|ties| {
            let rotations = ties.further.iter_mut().map(|tie| &mut tie.colours.rotation);
            rotations.flatten().chain(&mut ties.loose_dye)
        });
        self.colours.rotation.iter_mut().chain(further).for_each(|swatch| to.tune(swatch));
    }
}

impl Layout {
    /// The same layout tuned otherwise; values that can't be computed with are for the caller to keep out, as by
    /// [`Layout::with_calibration`].
    #[must_use]
    pub fn tuned(&self, to: &Tuning) -> Self {
        let mut other = self.clone();
        other.raw.tune(to);
        other.ties.iter_mut().for_each(|tie| tie.raw.tune(to));
        other
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{Component, TieSpec, TiesSpec};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    fn grey(reach_factor: f64) -> Swatch {
        let srgb = "#5b5450".parse().unwrap();
        let one = |name: &str| Component { name: name.to_owned(), srgb, percent: 50.0, reach_factor };
        Swatch { components: vec![one("blue"), one("rust")], ..Swatch::plain("grey", srgb) }
    }

    /// A mixture reaches alike wherever it lies; others of the same component's name, and what is not named, stay.
    #[test]
    fn a_mixture_is_tuned_in_every_tie_and_on_loose_cloth() {
        let mut spec = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw().clone();
        let dusk = Swatch { name: "dusk".to_owned(), ..grey(1.0) };
        spec.colours.rotation = vec![grey(1.0), dusk];
        let TieSpec { fold, binds, thread, colours, .. } = spec.tie_specs().remove(0);
        let further = vec![TieSpec { name: "hem".to_owned(), fold, binds, thread, colours: colours.clone() }];
        spec.ties = Some(TiesSpec { first: "chest".to_owned(), further, loose: None, loose_dye: Some(grey(1.0)) });
        let reach = ComponentReach { mixture: "grey".to_owned(), component: "rust".to_owned(), reach_factor: 0.7 };
        let calibration = Calibration { seeping_per_mm: 0.02, ..spec.process.calibration };
        let tuning = Tuning { calibration, reaches: vec![reach] };
        assert_eq!(tuning.changes(&spec).len(), 1, "a colour is told once");
        spec.tune(&tuning);
        let ties = spec.ties.as_ref().unwrap();
        let rotations = [&spec.colours.rotation, &ties.further[0].colours.rotation];
        for swatch in rotations.map(|rotation| &rotation[0]).into_iter().chain(&ties.loose_dye) {
            let factors: Vec<f64> = swatch.components.iter().map(|one| one.reach_factor).collect();
            assert_eq!(factors, [1.0, 0.7], "{}", swatch.name);
        }
        assert_eq!(spec.colours.rotation[1].components[1].reach_factor, 1.0);
        assert_eq!(spec.process.calibration, calibration);
        assert!(tuning.changes(&spec).is_empty());
    }
}
