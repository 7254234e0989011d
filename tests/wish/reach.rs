//! Parts out of reach, each named by its cause.

use crate::radial::{options, square, swatch};
use crate::rings::{dye, fulfilled, ring, wish};
use pleatwright::layout::{Layout, Srgb};
use pleatwright::reveal::Cancel;
use pleatwright::telling::{Refused as _, Voice};
use pleatwright::wish::{Cause, Tint, Wish, fulfil};

fn screen(srgb: &str) -> Tint {
    Tint::Srgb(srgb.parse().unwrap())
}

/// White can't be had where a discharge leaves sand: no dye makes cloth lighter.
#[test]
fn white_on_a_coloured_garment_is_lighter_than_its_ground() {
    let found = fulfilled(&wish(vec![ring(25.0, 60.0, screen("#ffffff"))]), true);
    let [part] = &found.not_reached[..] else { panic!("{:?}", found.not_reached) };
    let sand: Srgb = "#e2c4a0".parse().unwrap();
    assert_eq!(part.cause, Cause::Ground { ground: sand, is_discharged: true, is_lighter: true });
    assert_eq!(part.with.dye(), None);
    assert!(part.difference > 15.0 && part.say(Voice::FILE).contains("lighter than the ground"), "{}", part.say(Voice::FILE));
}

/// No dye on this shelf is green, and two are never mixed in one section.
#[test]
fn a_hue_that_no_dye_has_is_outside_the_dyes() {
    let shelf = vec![swatch("amber", "#d99a1e"), swatch("plum", "#7b2f63")];
    let wish = Wish { dyes: shelf, ..wish(vec![ring(25.0, 60.0, screen("#2f9e3a"))]) };
    let found = fulfilled(&wish, false);
    let [part] = &found.not_reached[..] else { panic!("{:?}", found.not_reached) };
    assert_eq!(part.cause, Cause::OutsideDyes);
}

/// A ring narrower than the threads of two binds beside each other.
#[test]
fn a_ring_that_thread_covers_is_narrow() {
    let parts = vec![ring(20.0, 44.0, dye("teal")), ring(44.0, 48.0, dye("amber")), ring(48.0, 75.0, dye("teal"))];
    let found = fulfilled(&wish(parts), false);
    let narrow: Vec<_> = found.not_reached.iter().filter(|part| part.cause.key() == "narrow").collect();
    let [part] = &narrow[..] else { panic!("{:?}", found.not_reached) };
    let Cause::Narrow { breadth_mm, least_mm, line_mm } = part.cause else { panic!("{:?}", part.cause) };
    assert!(part.part == 2 && (breadth_mm - 4.0).abs() < 1e-9 && least_mm > 4.9 && line_mm > 2.0, "{part:?}");
}

/// A dark dye where the rod is thick: its swatch is never reached there.
#[test]
fn a_depth_that_dye_does_not_reach_is_deeper() {
    let mut spec = square([&[20.0], &[20.0]], false);
    // A dye that goes nowhere.
    spec.process.calibration.dye_reach.along_mm = 2.0;
    spec.process.calibration.dye_reach.through_mm = 1.0;
    let given = Layout::try_from(spec).unwrap();
    let found = fulfil(&wish(vec![ring(45.0, 75.0, dye("navy"))]), &given, &options(), &Cancel::new()).unwrap();
    let [part] = &found.not_reached[..] else { panic!("{:?}", found.not_reached) };
    assert!(matches!(part.cause, Cause::Deeper { .. }) && part.difference > 5.0, "{part:?}");
}

/// More than a line of the garment's own colour can't be kept by one bind, and the discharge takes what lies between two.
#[test]
fn a_broad_band_of_the_garments_own_colour_is_kept_under_thread_alone() {
    let found = fulfilled(&Wish { most_binds: Some(4), ..wish(vec![ring(20.0, 70.0, Tint::Garment)]) }, true);
    assert_eq!(found.not_reached.iter().map(|part| part.cause.key()).collect::<Vec<_>>(), ["kept-under-thread"]);
}

/// Seven rings can't be parted by three binds, whatever dyes there are.
#[test]
fn rings_that_binds_do_not_suffice_for_are_told_so() {
    let rings = (0..5).map(|ring_at| {
        let from_mm = 25.0 + 25.0 * f64::from(ring_at);
        ring(from_mm, from_mm + 25.0, dye(if ring_at % 2 == 0 { "amber" } else { "navy" }))
    });
    let found = fulfilled(&Wish { most_binds: Some(2), ..wish(rings.collect()) }, false);
    assert!(found.not_reached.len() >= 2, "{:?}", found.not_reached);
    assert!(found.not_reached.iter().any(|part| part.cause == Cause::FewBinds { most: 2 }), "{:?}", found.not_reached);
    assert!(found.not_reached.iter().all(|part| part.cause.key() == "few-binds" || part.difference > 5.0));
}

/// A gradient is told by its two ends, not by a mean that nobody wished for.
#[test]
fn a_gradient_is_told_by_its_ends() {
    use pleatwright::wish::{WishColour, WishPart};
    let colour = WishColour::Ramp(dye("amber"), dye("navy"));
    let found = fulfilled(&wish(vec![WishPart { from_mm: 30.0, to_mm: 100.0, colour, weight: 1.0 }]), false);
    for part in &found.not_reached {
        let said = part.say(Voice::FILE);
        assert!(part.wished[0] != part.wished[1] && said.contains("the gradient from #"), "{said}");
    }
    assert!(!found.not_reached.is_empty(), "binds make steps of it");
}
