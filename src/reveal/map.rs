//! What a picture of the opened cloth can show: the cloth itself, or a quantity on it as a scale of one colour.

/// What a picture shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum PictureMap {
    /// The cloth as it may come out.
    #[default]
    Cloth,
    /// The dose of all dyes together; hatched where it is below the calibration's reached dose.
    DoseReached,
    /// The share of the garment's own colour that is left.
    GroundLeft,
}

/// Steps of a scale.
const STOPS: usize = 9;

/// Blue, CIE hue 265 degrees, from L\* 90 to L\* 22 in even steps of 8.5: even to the eye, and since lightness alone tells the
/// values apart, the same to eyes that miss a colour (computed; chroma 5 at the ends, 38 between).
const DOSE: [[u8; 3]; STOPS] = [
    [221, 227, 236],
    [183, 205, 232],
    [145, 183, 225],
    [107, 161, 214],
    [71, 139, 198],
    [37, 118, 176],
    [13, 96, 148],
    [14, 75, 116],
    [23, 55, 82],
];

/// Brick, CIE hue 40 degrees, with the same lightnesses.
const GROUND: [[u8; 3]; STOPS] = [
    [237, 224, 220],
    [233, 194, 184],
    [224, 166, 150],
    [210, 139, 120],
    [191, 114, 94],
    [168, 92, 73],
    [140, 73, 57],
    [110, 57, 44],
    [79, 43, 34],
];

impl PictureMap {
    /// Every map, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::Cloth, Self::DoseReached, Self::GroundLeft];

    /// The two greys of the hatching where the dyes' dose is below the reached one.
    pub const HATCH: [[u8; 3]; 2] = [[243, 241, 236], [184, 180, 172]];
    /// What the hatching means.
    pub const HATCH_MEANS: &'static str = "hatched: too little dye to count as reached";

    /// A few words for it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Cloth => "as it may come out",
            Self::DoseReached => "dose reached",
            Self::GroundLeft => "garment colour left",
        }
    }

    /// What the values of its scale are, with what 0 and 1 mean; nothing for the cloth itself, which has no scale.
    #[must_use]
    pub fn words(self) -> Option<&'static str> {
        match self {
            Self::Cloth => None,
            Self::DoseReached => Some("dose of all dyes: 0 none, 1 as much as at a fully fed surface"),
            Self::GroundLeft => Some("garment colour left: 0 none, 1 all"),
        }
    }

    /// The stops of its scale, value and sRGB, values rising from 0 to 1; between them colours go straight. Empty for the cloth.
    #[must_use]
    pub fn legend(self) -> Vec<(f64, [u8; 3])> {
        let scale = |stops: &[[u8; 3]; STOPS]| (0..).zip(stops).map(|(step, &rgb)| (f64::from(step) / 8.0, rgb)).collect();
        match self {
            Self::Cloth => Vec::new(),
            Self::DoseReached => scale(&DOSE),
            Self::GroundLeft => scale(&GROUND),
        }
    }
}

/// The colour of a dose, held between 0 and 1.
pub(super) fn dose_colour(dose: f32) -> [u8; 3] {
    between(&DOSE, dose)
}

/// The colour of a share of ground left, held between 0 and 1.
pub(super) fn ground_colour(share: f32) -> [u8; 3] {
    between(&GROUND, share)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the scale, and between two bytes")]
fn between(stops: &[[u8; 3]; STOPS], value: f32) -> [u8; 3] {
    // The second bound turns a NaN into 0.
    let at = value.clamp(0.0, 1.0).max(0.0) * (STOPS - 1) as f32;
    let low = (at as usize).min(STOPS - 2);
    let share = at - low as f32;
    std::array::from_fn(|channel| {
        let (from, to) = (f32::from(stops[low][channel]), f32::from(stops[low + 1][channel]));
        (from + share * (to - from)).round() as u8
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Srgb;
    use crate::reveal::colour::Lab;

    fn lab([red, green, blue]: [u8; 3]) -> Lab {
        Lab::from(Srgb { red, green, blue })
    }

    /// Lightness falls straight with the value, so that equal steps look equal and no colour vision is needed.
    #[test]
    fn scales_are_even_in_lightness_and_of_one_hue() {
        for colour in [dose_colour, ground_colour] {
            for step in 0..=200_u8 {
                let value = f32::from(step) / 200.0;
                let found = lab(colour(value)).l;
                assert!((found - (90.0 - 68.0 * f64::from(value))).abs() < 0.7, "{value}: {found}");
            }
            let hue = |value: f32| {
                let lab = lab(colour(value));
                lab.b.atan2(lab.a).to_degrees().rem_euclid(360.0)
            };
            let middle = hue(0.5);
            assert!([0.1, 0.3, 0.7, 0.9].iter().all(|&value| (hue(value) - middle).abs() < 3.0));
        }
    }

    #[test]
    fn legends_say_what_is_painted() {
        for (map, colour) in
            [(PictureMap::DoseReached, dose_colour as fn(f32) -> [u8; 3]), (PictureMap::GroundLeft, ground_colour)]
        {
            let legend = map.legend();
            assert_eq!((legend[0].0, legend[STOPS - 1].0), (0.0, 1.0));
            for (value, rgb) in legend {
                #[expect(clippy::cast_possible_truncation, reason = "an eighth")]
                let painted = colour(value as f32);
                assert_eq!(painted, rgb);
            }
            assert!(map.words().is_some());
        }
        assert_eq!((PictureMap::Cloth.legend().len(), PictureMap::Cloth.words()), (0, None));
        assert_eq!((dose_colour(f32::NAN), dose_colour(7.0)), (DOSE[0], DOSE[STOPS - 1]));
    }
}
