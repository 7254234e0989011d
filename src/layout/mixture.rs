//! What a mixed dye is made of, by its maker's guess.
//!
//! A powder that is sold or mixed as one colour may be two or three dyes. Each goes into the rod as far as it does: where one reaches
//! farther than another, the mixture parts along the cloth, as inks part on paper (chromatography: what is held back less goes farther).
//! Which powders part, and how far, is common practice, no source: components are what the maker says, and nothing is known of any dye by
//! its name.

use super::Srgb;
use super::usual::{self, LONGEST_NAME};
use crate::measure::neat;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};

/// Components that a mixture may have.
pub const COMPONENTS: [usize; 2] = [2, 3];
/// Factors on the reach that can be meant (own judgement): from two fifths of what dyes reach to two and a half times as far.
pub const REACH_FACTORS: [f64; 2] = [0.4, 2.5];
/// Least share of a component, percent: what a kitchen scale can still tell in 50 g (own judgement).
pub const LEAST_PERCENT: f64 = 0.5;
/// How far shares may be from 100 % in all by rounding, percent.
pub const SHARES_ROUND_PERCENT: f64 = 0.5;

/// A dye in a mixture, by the maker's guess.
#[derive(Debug, Clone, PartialEq)]
pub struct Component {
    /// Plain words for it.
    pub name: String,
    /// How it looks by itself, at full strength on white cloth.
    pub srgb: Srgb,
    /// Its share of the mixture's powder by weight, percent.
    pub percent: f64,
    /// How far it reaches into the rod, as a factor on how far dyes do: 1 goes as far as they.
    pub reach_factor: f64,
}

impl Component {
    /// By how much farther than dyes do it reaches, percent; less far below 0.
    #[must_use]
    pub fn farther_percent(&self) -> f64 {
        (1e7 * (self.reach_factor - 1.0)).round() / 1e5
    }

    /// The same component, reaching so much farther than dyes do, percent.
    #[must_use]
    pub fn spread_farther(self, percent: f64) -> Self {
        Self { reach_factor: 1.0 + percent / 100.0, ..self }
    }

    /// What it is, how much of the powder, and how far it goes, in words: `blue, 60 %, reaches 25 % farther`.
    #[must_use]
    pub fn words(&self) -> String {
        let farther = self.farther_percent();
        let reach = match farther {
            _ if farther > 0.0 => format!(", reaches {} % farther", neat(farther)),
            _ if farther < 0.0 => format!(", reaches {} % less far", neat(-farther)),
            _ => String::new(),
        };
        format!("{}, {} %{reach}", self.name, neat(self.percent))
    }
}

/// What is wrong with a mixture.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum MixtureProblem {
    /// One component, or too many.
    Count {
        /// How many there are.
        count: usize,
    },
    /// A name that no sheet can show.
    Name {
        /// Its number of characters.
        length: usize,
    },
    /// Two components of one name.
    NameTwice {
        /// The name.
        name: String,
    },
    /// A share or a factor out of range.
    Number {
        /// The given value.
        value: f64,
        /// Least allowed.
        least: f64,
        /// Greatest allowed.
        most: f64,
    },
    /// A garment's colour that is said to be mixed.
    OfCloth {
        /// How many components it is given.
        count: usize,
    },
    /// Shares that are not all of the powder.
    Shares {
        /// Their sum, percent.
        percent: f64,
    },
}

displayed_as_in_files!(MixtureProblem);

impl Refused for MixtureProblem {
    fn told(&self, voice: Voice) -> Told {
        self.of(&Field::default(), voice)
    }
}

impl MixtureProblem {
    /// What is wrong with a field of a mixture, and what would be right.
    pub(crate) fn of(&self, field: &Field, voice: Voice) -> Told {
        let [fewest, most] = COMPONENTS;
        match self {
            Self::Count { count: 1 } => Told::new("1 component makes no mixture", format!("give {fewest} or {most}, or none")),
            Self::Count { count } => Told::new(format!("{count} components are too many"), format!("give {fewest} or {most}")),
            Self::Name { length } => usual::name(*length, LONGEST_NAME),
            Self::NameTwice { name } => usual::twice(name),
            Self::Number { value, least, most } => Told::new(
                format!("{} is out of range", field.value(voice, *value)),
                format!("give {}", field.values(voice, *least, *most)),
            ),
            Self::OfCloth { count } => Told::new(
                format!("{count} components of a colour of cloth, which has one"),
                "say what dyes are mixed of in the rotation",
            ),
            Self::Shares { percent } => Told::new(
                format!("the components make {} % together", voice.number(*percent)),
                "give shares by weight, 100 % in all",
            ),
        }
    }
}

/// Refuses components that make no mixture: of an unmixed dye there are none. The field is within the swatch.
///
/// # Errors
/// The field and what is wrong with it.
pub fn check_components(components: &[Component]) -> Result<(), (Field, MixtureProblem)> {
    let list = || Field::from("components");
    if components.is_empty() {
        return Ok(());
    }
    if !(COMPONENTS[0]..=COMPONENTS[1]).contains(&components.len()) {
        return Err((list(), MixtureProblem::Count { count: components.len() }));
    }
    for (index, one) in components.iter().enumerate() {
        let field = |key: &'static str| list().item(index + 1).then(key);
        let length = one.name.chars().count();
        if !(1..=LONGEST_NAME).contains(&length) || one.name.trim().is_empty() || one.name.contains(char::is_control) {
            return Err((field("name"), MixtureProblem::Name { length }));
        }
        if components[..index].iter().any(|earlier| earlier.name == one.name) {
            return Err((field("name"), MixtureProblem::NameTwice { name: one.name.clone() }));
        }
        let numbers = [("percent", one.percent, [LEAST_PERCENT, 100.0]), ("reach_factor", one.reach_factor, REACH_FACTORS)];
        for (key, value, [least, most]) in numbers {
            // Written so that a NaN is refused too.
            if !(least..=most).contains(&value) {
                return Err((field(key), MixtureProblem::Number { value, least, most }));
            }
        }
    }
    let percent: f64 = components.iter().map(|one| one.percent).sum();
    if (percent - 100.0).abs() > SHARES_ROUND_PERCENT {
        return Err((list(), MixtureProblem::Shares { percent }));
    }
    Ok(())
}

/// Each component's share of the powder, 0 to 1: exactly 1 in all.
#[must_use]
pub fn shares(components: &[Component]) -> Vec<f64> {
    let all: f64 = components.iter().map(|one| one.percent).sum();
    components.iter().map(|one| one.percent / all).collect()
}

/// The components with another share for one of them, percent; the others share out the rest as before. Held to what leaves each of the
/// others something.
#[must_use]
pub fn with_share(components: &[Component], index: usize, percent: f64) -> Vec<Component> {
    let others = components.len().saturating_sub(1) as f64;
    let percent = percent.clamp(LEAST_PERCENT, 100.0 - LEAST_PERCENT * others);
    let before: f64 = components.iter().enumerate().filter(|(at, _)| *at != index).map(|(_, one)| one.percent).sum();
    // What every other one keeps at least is shared out first.
    let (spare, given) = ((before - LEAST_PERCENT * others).max(0.0), 100.0 - percent - LEAST_PERCENT * others);
    let mut changed = components.to_vec();
    for (at, one) in changed.iter_mut().enumerate() {
        let part = if spare > 0.0 { (one.percent - LEAST_PERCENT) / spare } else { 1.0 / others.max(1.0) };
        one.percent = if at == index { percent } else { tenths(LEAST_PERCENT + given * part) };
    }
    close(changed, index)
}

/// The components with one more, of an equal share and of this colour; as they are where there is no room for one.
#[must_use]
pub fn with_another(components: &[Component], srgb: Srgb) -> Vec<Component> {
    let count = components.len() + 1;
    if count > COMPONENTS[1] {
        return components.to_vec();
    }
    let share = 1.0 / count as f64;
    let mut changed: Vec<Component> = components.to_vec();
    changed.iter_mut().for_each(|one| one.percent = tenths(one.percent * (1.0 - share)).max(LEAST_PERCENT));
    let name = (1..).map(|number| format!("component {number}")).find(|name| components.iter().all(|one| one.name != *name));
    changed.push(Component { name: name.unwrap_or_default(), srgb, percent: tenths(100.0 * share), reach_factor: 1.0 });
    let last = changed.len() - 1;
    close(changed, last)
}

/// The components without one of them, which the others share out; none where but one is left.
#[must_use]
pub fn without(components: &[Component], index: usize) -> Vec<Component> {
    let mut left = components.to_vec();
    if index < left.len() {
        left.remove(index);
    }
    if left.len() < COMPONENTS[0] {
        return Vec::new();
    }
    let all: f64 = left.iter().map(|one| one.percent).sum();
    left.iter_mut().for_each(|one| one.percent = tenths(100.0 * one.percent / all).max(LEAST_PERCENT));
    close(left, 0)
}

/// Two components of the mixture's own colour, half of each, that go as far as all dyes do: what a maker begins with, and by which nothing
/// looks otherwise.
#[must_use]
pub fn first_components(srgb: Srgb) -> Vec<Component> {
    let half = |number: u32| Component { name: format!("component {number}"), srgb, percent: 50.0, reach_factor: 1.0 };
    vec![half(1), half(2)]
}

/// To tenths of a percent, as scales tell.
fn tenths(percent: f64) -> f64 {
    (10.0 * percent).round() / 10.0
}

/// Gives what rounding left to the largest of the others than `kept`.
fn close(mut components: Vec<Component>, kept: usize) -> Vec<Component> {
    let all: f64 = components.iter().map(|one| one.percent).sum();
    let others = components.iter_mut().enumerate().filter(|(at, _)| *at != kept).map(|(_, one)| one);
    if let Some(largest) = others.max_by(|a, b| a.percent.total_cmp(&b.percent)) {
        largest.percent = (1e6 * (largest.percent + 100.0 - all)).round() / 1e6;
    }
    components
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seeded::seeded;
    use proptest::prelude::*;

    fn components(percents: &[f64]) -> Vec<Component> {
        let one = |(number, &percent): (usize, &f64)| Component {
            name: format!("part {number}"),
            srgb: Srgb { red: 40, green: 60, blue: 90 },
            percent,
            reach_factor: 1.0,
        };
        percents.iter().enumerate().map(one).collect()
    }

    #[test]
    fn what_makes_no_mixture_is_refused_at_its_field() {
        let two = || components(&[60.0, 40.0]);
        let changed = |change: fn(&mut Vec<Component>)| {
            let mut changed = two();
            change(&mut changed);
            check_components(&changed).map_err(|(field, problem)| (field.to_string(), problem))
        };
        let refused = |field: &str, problem| Err((field.to_owned(), problem));
        assert_eq!(changed(|_| {}), Ok(()));
        assert_eq!(changed(Vec::clear), Ok(()));
        assert_eq!(changed(|of| of.truncate(1)), refused("components", MixtureProblem::Count { count: 1 }));
        let four = components(&[25.0; 4]);
        assert_eq!(check_components(&four).unwrap_err().1, MixtureProblem::Count { count: 4 });
        assert_eq!(changed(|of| of[1].name.clear()), refused("components.2.name", MixtureProblem::Name { length: 0 }));
        let twice = MixtureProblem::NameTwice { name: "part 0".to_owned() };
        assert_eq!(changed(|of| of[1].name = "part 0".to_owned()), refused("components.2.name", twice));
        let share = MixtureProblem::Number { value: 0.0, least: LEAST_PERCENT, most: 100.0 };
        assert_eq!(changed(|of| of[0].percent = 0.0), refused("components.1.percent", share));
        let reach = MixtureProblem::Number { value: 9.0, least: 0.4, most: 2.5 };
        assert_eq!(changed(|of| of[1].reach_factor = 9.0), refused("components.2.reach_factor", reach));
        assert!(matches!(changed(|of| of[1].reach_factor = f64::NAN), Err((_, MixtureProblem::Number { .. }))));
        assert_eq!(changed(|of| of[0].percent = 70.0), refused("components", MixtureProblem::Shares { percent: 110.0 }));
        assert_eq!(changed(|of| of[0].percent = 60.3), Ok(()), "rounding is let pass");
    }

    #[test]
    fn how_far_a_component_goes_is_told_beside_other_dyes() {
        let [one, ..] = &components(&[60.0, 40.0])[..] else { panic!("two components") };
        assert_eq!(one.clone().spread_farther(25.0).words(), "part 0, 60 %, reaches 25 % farther");
        assert_eq!(one.clone().spread_farther(-12.5).words(), "part 0, 60 %, reaches 12.5 % less far");
        assert_eq!(one.words(), "part 0, 60 %");
        assert_eq!(one.clone().spread_farther(33.1).farther_percent(), 33.1);
    }

    #[test]
    fn a_component_comes_and_goes_and_shares_stay_whole() {
        let three = with_another(&components(&[60.0, 40.0]), Srgb { red: 1, green: 2, blue: 3 });
        assert_eq!(three.iter().map(|one| one.percent).collect::<Vec<_>>(), [40.0, 26.7, 33.3]);
        assert_eq!(with_another(&three, Srgb { red: 1, green: 2, blue: 3 }), three, "there is room for three");
        assert_eq!(without(&three, 2).iter().map(|one| one.percent).collect::<Vec<_>>(), [60.0, 40.0]);
        assert_eq!(without(&components(&[60.0, 40.0]), 0), []);
        assert_eq!(check_components(&first_components(Srgb { red: 1, green: 2, blue: 3 })), Ok(()));
    }

    proptest! {
        #![proptest_config(seeded(91, 256))]

        /// Whatever share is given to one, the mixture stays one, and the others keep their proportion as well as tenths let them.
        #[test]
        fn a_share_is_given_and_the_others_give_way(
            first in 1.0..98.0_f64, part in 0.1..0.9_f64, three in any::<bool>(), index in 0..2_usize, percent in -20.0..130.0_f64,
        ) {
            let first = tenths(first);
            let second = if three { tenths((100.0 - first) * part).max(0.5) } else { 100.0 - first };
            let mut given = vec![first, second];
            if three { given.push(100.0 - first - second) }
            prop_assume!(given.iter().all(|percent| *percent >= LEAST_PERCENT));
            let changed = with_share(&components(&given), index, percent);
            prop_assert_eq!(check_components(&changed), Ok(()), "{:?}", &changed);
            let all: f64 = changed.iter().map(|one| one.percent).sum();
            prop_assert!((all - 100.0).abs() < 1e-6);
            if (5.0..90.0).contains(&percent) {
                prop_assert!((changed[index].percent - percent).abs() < 1e-9);
            }
        }
    }
}
