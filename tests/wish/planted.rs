//! A layout's own picture as the wish gives its binds and dyes again.

use crate::common::seeded::seeded;
use crate::radial::{by_radius, options, square, swatch};
use pleatwright::layout::{Component, Layout, Swatch};
use pleatwright::reveal::Cancel;
use pleatwright::reveal::colour::{Lab, ciede2000};
use pleatwright::wish::{Tint, Wish, WishColour, WishPart, fulfil};
use proptest::prelude::*;

/// Millimetre by millimetre what the picture shows.
fn wish_of(colours: &[Option<Lab>], dyes: Vec<Swatch>) -> Wish {
    let parts = colours.iter().enumerate().filter_map(|(row, colour)| {
        let from_mm = row as f64;
        Some(WishPart { from_mm, to_mm: from_mm + 1.0, colour: WishColour::Even(Tint::Lab((*colour)?)), weight: 1.0 })
    });
    Wish { name: "Planted".to_owned(), layout: "square.ron".to_owned(), dyes, most_binds: None, parts: parts.collect() }
}

fn is_found(gaps: [&[f64]; 2], is_discharged: bool) {
    found_again(&Layout::try_from(square(gaps, is_discharged)).unwrap(), is_discharged);
}

fn found_again(planted: &Layout, is_discharged: bool) {
    let dyes = planted.raw().colours.rotation.clone();
    let given = Layout::try_from(square([&[20.0], &[20.0]], is_discharged)).unwrap();
    let wished = by_radius(planted);
    let fulfilled = fulfil(&wish_of(&wished, dyes.clone()), &given, &options(), &Cancel::new()).unwrap();
    let at = |layout: &Layout| layout.binds().binds.iter().map(|bind| bind.radius_mm).collect::<Vec<_>>();
    let (found, expected) = (at(&fulfilled.layout), at(planted));
    let near = found.iter().zip(&expected).all(|(found, planted)| (found - planted).abs() <= 1.0 + 1e-9);
    assert!(found.len() == expected.len() && near, "{found:?}, planted {expected:?}");
    let names = |layout: &Layout| {
        let swatches = &layout.raw().colours.rotation;
        layout.section_colours().into_iter().map(|dye| swatches[dye.unwrap()].name.clone()).collect::<Vec<_>>()
    };
    let (found, expected) = (names(&fulfilled.layout), names(planted));
    assert_eq!(found, expected);
    assert!(fulfilled.layout.raw().colours.rotation.iter().all(|dye| dyes.contains(dye)), "what is mixed stays so");
    // The picture of what was found, read off its pixels, is the wish.
    let again = by_radius(&fulfilled.layout);
    let off: Vec<f64> = again.iter().zip(&wished).filter_map(|(again, wished)| Some(ciede2000((*again)?, (*wished)?))).collect();
    let mean = off.iter().sum::<f64>() / off.len() as f64;
    assert!(mean < 0.7, "{mean}");
}

#[test]
fn a_planted_layout_on_white_is_found() {
    is_found([&[18.0, 15.0], &[22.0]], false);
}

#[test]
fn a_planted_layout_that_is_discharged_is_found() {
    is_found([&[21.0, 16.0], &[17.0]], true);
}

/// A mixture on the shelf counts as what it is: the section that had it is found, with its rings and the fringe that it parts into.
#[test]
fn a_planted_layout_with_a_mixture_is_found() {
    let component = |name: &str, colour: &str, percent, reach_factor| Component {
        name: name.to_owned(),
        srgb: colour.parse().unwrap(),
        percent,
        reach_factor,
    };
    let mut spec = square([&[18.0, 15.0], &[22.0]], false);
    let moss = vec![component("pine", "#1f5c4a", 60.0, 0.8), component("straw", "#c9b23c", 40.0, 1.6)];
    spec.colours.rotation[1] = Swatch { components: moss, ..swatch("moss", "#4f7246") };
    found_again(&Layout::try_from(spec).unwrap(), false);
}

/// Of more than three reaches those nearest to each other are searched as one, and whole reveals make up for it.
#[test]
fn mixtures_of_many_reaches_are_found_again() {
    let mut spec = square([&[18.0, 15.0], &[22.0]], false);
    for (number, factors) in [(1, [0.8, 1.6]), (2, [0.83, 1.54])] {
        let dye = &mut spec.colours.rotation[number];
        let half = |name: &str, reach_factor| Component { name: name.to_owned(), srgb: dye.srgb, percent: 50.0, reach_factor };
        dye.components = vec![half("near", factors[0]), half("far", factors[1])];
    }
    found_again(&Layout::try_from(spec).unwrap(), false);
}

/// Gaps about the guide arc and the dye of each section, never the same as its neighbour's.
fn layouts() -> impl Strategy<Value = (Layout, bool)> {
    let gaps = || proptest::collection::vec((14_u8..=24).prop_map(f64::from), 1..=2);
    (gaps(), gaps(), proptest::collection::vec(1_usize..4, 6), 0_usize..4, any::<bool>()).prop_map(
        |(inward, outward, steps, first, is_discharged)| {
            let mut spec = square([&inward, &outward], is_discharged);
            let sections = u32::try_from(inward.len() + outward.len() + 2).unwrap();
            let mut dye = first;
            for (section, step) in (1..=sections).zip(steps) {
                dye = (dye + step) % 4;
                spec.colours.single.insert(section, spec.colours.rotation[dye].name.clone());
            }
            (Layout::try_from(spec).unwrap(), is_discharged)
        },
    )
}

proptest! {
    #![proptest_config(seeded(73, 10))]

    #[test]
    fn any_planted_layout_is_found((planted, is_discharged) in layouts()) {
        found_again(&planted, is_discharged);
    }
}
