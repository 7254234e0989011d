//! The colours of what a mixed dye is made of, and of all of it together.

use super::observer::BANDS;
use super::{Lab, Spectrum, ciede2000, k_over_s, reflectance};
use crate::layout::{Component, Srgb, Swatch, shares};

/// The cloth that components are seen on.
const WHITE: Srgb = Srgb { red: 255, green: 255, blue: 255 };

/// K/S of cloth of a colour.
pub(super) fn k_over_s_of(colour: Srgb) -> [f64; BANDS] {
    Spectrum::of(colour).bands().map(k_over_s)
}

/// K/S of a dye by itself: that of its swatch less that of the cloth under it.
pub(super) fn own_k_over_s(swatch: Srgb, over: Srgb) -> [f64; BANDS] {
    let (swatch, over) = (k_over_s_of(swatch), k_over_s_of(over));
    std::array::from_fn(|band| (swatch[band] - over[band]).max(0.0))
}

/// K/S of each component's part of a mixture, at the mixture's full strength; together exactly the mixture's own.
///
/// By Duncan's rule the components' K/S, each times its share of the powder, would add up to the mixture's. They are the maker's guess, and the
/// mixture's own colour is what was seen on cloth: so in each band of the spectrum the mixture's K/S is shared out among the components in the
/// proportion of `share x K/S`. A guess that fits gives every component its own spectrum; one that does not is bent until it does,
/// and the mixture looks as its swatch wherever its components lie together. Where no component takes any light, they share by weight.
pub(super) fn parted(mixture: &[f64; BANDS], components: &[Component]) -> Vec<[f64; BANDS]> {
    let shares = shares(components);
    let guessed: Vec<[f64; BANDS]> =
        components.iter().zip(&shares).map(|(one, share)| own_k_over_s(one.srgb, WHITE).map(|k| share * k)).collect();
    let mut parts = guessed.clone();
    for band in 0..BANDS {
        let all: f64 = guessed.iter().map(|k_over_s| k_over_s[band]).sum();
        for (number, part) in parts.iter_mut().enumerate() {
            let share = if all > 0.0 { guessed[number][band] / all } else { shares[number] };
            part[band] = share * mixture[band];
        }
    }
    parts
}

/// How a mixture's components look together, by themselves: what the maker's guess of them comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Together {
    /// On white cloth at full strength, as a screen shows it.
    pub srgb: Srgb,
    /// CIEDE2000 between that and the mixture's own colour.
    pub difference: f64,
}

impl Together {
    /// The CIEDE2000 up to which components are told to look like their mixture: 5, about what a hand-dyed section varies within itself (our
    /// own judgement, no source).
    pub const ALIKE: f64 = 5.0;

    /// How the components of a dye look together; none of an unmixed one.
    #[must_use]
    pub fn of(swatch: &Swatch) -> Option<Self> {
        let components = &swatch.components;
        if components.is_empty() {
            return None;
        }
        let mut k_over_s = k_over_s_of(WHITE);
        for (one, share) in components.iter().zip(shares(components)) {
            let own = own_k_over_s(one.srgb, WHITE);
            k_over_s.iter_mut().zip(own).for_each(|(sum, k)| *sum += share * k);
        }
        let srgb = Spectrum::from_bands(k_over_s.map(reflectance)).to_linear_rgb().to_srgb();
        Some(Self { srgb, difference: ciede2000(Lab::from(srgb), Lab::from(swatch.srgb)) })
    }

    /// Whether they look like the mixture.
    #[must_use]
    pub fn is_alike(&self) -> bool {
        self.difference <= Self::ALIKE
    }
}
