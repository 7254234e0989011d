//! Rings with known edges.

use crate::common::seeded::seeded;
use crate::radial::{by_radius, dyes, options, square};
use pleatwright::layout::{Layout, Srgb};
use pleatwright::reveal::colour::{Lab, ciede2000};
use pleatwright::reveal::{Cancel, Cells, GridSpec, RevealOptions};
use pleatwright::wish::{Fulfilled, Tint, Wish, WishColour, WishOptions, WishPart, fulfil};
use proptest::prelude::*;

pub(crate) fn ring(from_mm: f64, to_mm: f64, tint: Tint) -> WishPart {
    WishPart { from_mm, to_mm, colour: WishColour::Even(tint), weight: 1.0 }
}

pub(crate) fn dye(name: &str) -> Tint {
    Tint::Dye(name.to_owned())
}

pub(crate) fn wish(parts: Vec<WishPart>) -> Wish {
    Wish { name: "Rings".to_owned(), layout: "square.ron".to_owned(), dyes: dyes(), most_binds: None, parts }
}

pub(crate) fn fulfilled(wish: &Wish, is_discharged: bool) -> Fulfilled {
    let given = Layout::try_from(square([&[20.0], &[20.0]], is_discharged)).unwrap();
    fulfil(wish, &given, &options(), &Cancel::new()).unwrap()
}

/// Where the picture, read off its pixels, crosses half-way between two colours next to a radius.
fn crossing(colours: &[Option<Lab>], near_mm: f64, inside: Lab, beyond: Lab) -> f64 {
    let axis = [inside.l - beyond.l, inside.a - beyond.a, inside.b - beyond.b];
    let length2: f64 = axis.iter().map(|part| part * part).sum();
    let share = |row: usize| {
        let at = colours[row].unwrap();
        (axis[0] * (at.l - beyond.l) + axis[1] * (at.a - beyond.a) + axis[2] * (at.b - beyond.b)) / length2 - 0.5
    };
    let crossings = (1..88).filter(|row| (share(*row) > 0.0) != (share(row + 1) > 0.0));
    let at = crossings.map(|row| row as f64 + 0.5 + share(row) / (share(row) - share(row + 1)));
    at.min_by(|a, b| (a - near_mm).abs().total_cmp(&(b - near_mm).abs())).unwrap()
}

/// A ring beside nothing comes out where it was wished, and in its dye; `inverse`'s trials had free edges within 0.7 mm.
#[test]
fn a_ring_with_free_edges_comes_out_where_it_was_wished() {
    for is_discharged in [false, true] {
        let found = fulfilled(&wish(vec![ring(30.0, 55.0, dye("teal"))]), is_discharged);
        let colours = by_radius(&found.layout);
        let inside = colours[42].unwrap();
        let binds: Vec<f64> = found.layout.binds().binds.iter().map(|bind| bind.radius_mm).collect();
        for (edge, &wished_mm) in [30.0, 55.0].iter().enumerate() {
            let bind_mm = binds.iter().copied().min_by(|a, b| (a - wished_mm).abs().total_cmp(&(b - wished_mm).abs())).unwrap();
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a distance of some mm")]
            let at_mm = crossing(&colours, wished_mm, inside, colours[bind_mm as usize].unwrap());
            let told_mm = found.parts[0].as_ref().unwrap().edges_mm[edge].unwrap();
            assert!((at_mm - wished_mm).abs() <= 0.7, "{wished_mm} came out at {at_mm}, binds {binds:?}");
            assert!((told_mm - at_mm).abs() <= 0.4, "told {told_mm}, the picture has {at_mm}");
        }
        // Beside the ring nothing is wished, so nothing is dyed: one dye in the rotation, one section that gets it.
        let colours = &found.layout.raw().colours;
        assert_eq!(colours.rotation.iter().map(|dye| &*dye.name).collect::<Vec<_>>(), ["teal"]);
        assert_eq!(found.layout.section_colours().iter().flatten().count(), 1, "{colours:?}");
        let part = found.parts[0].as_ref().unwrap();
        let seen = ciede2000(inside, Lab::from(part.reached));
        assert!(seen < 2.0, "told {}, the picture has {:?}", part.reached, inside.to_srgb());
    }
}

/// Two rings that meet are parted by one bind on their edge.
#[test]
fn rings_that_meet_share_a_bind() {
    let found = fulfilled(&wish(vec![ring(20.0, 45.0, dye("amber")), ring(45.0, 70.0, dye("navy"))]), false);
    let binds: Vec<f64> = found.layout.binds().binds.iter().map(|bind| bind.radius_mm).collect();
    assert_eq!(binds.iter().filter(|at_mm| (40.0..50.0).contains(*at_mm)).collect::<Vec<_>>(), [&45.0]);
    assert!(found.line_mm > 2.0 && found.line_mm < 7.0, "{}", found.line_mm);
}

/// With fewer binds allowed than it takes, no more are tied.
#[test]
fn no_more_binds_are_tied_than_allowed() {
    let parts = || {
        vec![
            ring(10.0, 25.0, dye("amber")),
            ring(25.0, 40.0, dye("navy")),
            ring(40.0, 55.0, dye("amber")),
            ring(55.0, 70.0, dye("navy")),
        ]
    };
    let found = fulfilled(&Wish { most_binds: Some(2), ..wish(parts()) }, false);
    assert!(found.layout.binds().binds.len() <= 2);
    assert!(found.not_reached.iter().any(|part| part.cause.key() == "few-binds"), "{:?}", found.not_reached);
}

#[test]
fn the_same_wish_gives_the_same_layout() {
    let wish = wish(vec![ring(20.0, 45.0, dye("amber"))]);
    let [first, second] = [(); 2].map(|()| fulfilled(&wish, true));
    assert_eq!(first.layout.raw(), second.layout.raw());
    assert_eq!(first.profile, second.profile);
}

fn tints() -> impl Strategy<Value = Tint> {
    prop_oneof![
        any::<[u8; 3]>().prop_map(|[red, green, blue]| Tint::Srgb(Srgb { red, green, blue })),
        (0.0..100.0, -150.0..150.0, -150.0..150.0).prop_map(|(l, a, b)| Tint::Lab(Lab { l, a, b })),
        proptest::sample::select(vec!["teal", "amber", "plum", "navy"]).prop_map(dye),
        Just(Tint::Garment),
        Just(Tint::Ground),
    ]
}

fn parts() -> impl Strategy<Value = Vec<WishPart>> {
    let colour = prop_oneof![
        3 => tints().prop_map(WishColour::Even),
        1 => (tints(), tints()).prop_map(|(from, to)| WishColour::Ramp(from, to)),
    ];
    let part = (0.0..40.0, 1.0..60.0, colour, 0.01..10.0);
    proptest::collection::vec(part, 1..6).prop_map(|parts| {
        let mut at_mm = 0.0;
        let laid = parts.into_iter().map(|(gap_mm, breadth_mm, colour, weight)| {
            let from_mm: f64 = at_mm + if gap_mm < 10.0 { 0.0 } else { gap_mm };
            at_mm = from_mm + breadth_mm;
            WishPart { from_mm, to_mm: at_mm, colour, weight }
        });
        laid.collect()
    })
}

proptest! {
    #![proptest_config(seeded(72, 12))]

    /// Whatever is wished, a layout comes of it or a refusal, and what is told of it is of sound mind.
    #[test]
    fn no_wish_panics(parts in parts(), is_discharged: bool, most_binds in proptest::option::of(1_u32..5)) {
        let given = Layout::try_from(square([&[20.0], &[20.0]], is_discharged)).unwrap();
        let reveal = RevealOptions { cells: Cells::Of(GridSpec { cell_mm: 5.0, across: 2 }), ..RevealOptions::preview() };
        let options = WishOptions { reveal, cell_mm: 5.0, samples: 12, rounds: 2 };
        if let Ok(found) = fulfil(&Wish { most_binds, ..wish(parts) }, &given, &options, &Cancel::new()) {
            prop_assert!(found.difference.is_finite() && found.difference >= 0.0);
            prop_assert!(most_binds.is_none_or(|most| found.layout.binds().binds.len() <= most as usize));
            prop_assert!(found.parts.iter().flatten().all(|part| part.difference.is_finite()));
        }
    }
}
