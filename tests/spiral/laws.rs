//! What every fold keeps, as far as a puck does.

use crate::bodies::{FOLDS, folds, numbers, random_cloth};
use crate::common::fold_laws;
use crate::common::seeded::seeded;
use pleatwright::geometry::*;
use proptest::prelude::*;
use std::sync::LazyLock;

/// All of them, twisted once.
static ALL: LazyLock<Vec<(&'static str, SpiralFold)>> = LazyLock::new(folds);

/// How far apart two distances along a ring are, mm.
fn apart_mm(fold: &SpiralFold, a: f64, b: f64) -> f64 {
    let away_mm = (a - b).rem_euclid(fold.length_mm());
    away_mm.min(fold.length_mm() - away_mm)
}

proptest! {
    #![proptest_config(seeded(101, 2000))]

    /// What lies at a place comes back to it: at its distance along and its place, at whatever height.
    #[test]
    fn places_come_back(which in 0..FOLDS, along in 0.0..1.0, out in 0.002..0.998) {
        let (name, fold) = &ALL[which];
        let at = BundlePoint { along_mm: along * fold.length_mm(), across: 0.5, place: out * f64::from(fold.places()) - 0.5 };
        if let Some(cloth) = fold.to_cloth(at) {
            let again = fold.to_bundle(cloth).unwrap();
            prop_assert!((again.place - at.place).abs() < 1e-7, "{name}: {at:?} {again:?}");
            // Distances along shrink towards the middle; the rounding of a point does not.
            prop_assert!(apart_mm(fold, again.along_mm, at.along_mm) < 1e-8 / out, "{name}: {at:?} {again:?}");
        }
    }
}

proptest! {
    #![proptest_config(seeded(102, 300))]

    #[test]
    fn cuts_are_slopes_and_areas_only_grow(which in 0..FOLDS, along in 0.001..0.999, further in 0.0..0.2) {
        let (name, fold) = &ALL[which];
        let along_mm = along * fold.length_mm();
        fold_laws::a_cut_is_the_slope_of_the_area(fold, along_mm);
        for panel in Panel::BOTH {
            let within = |along_mm: f64| fold.cut(along_mm).of(panel).area_mm2;
            prop_assert!(within(along_mm + further * fold.length_mm()) >= within(along_mm) - 1e-6, "{name}");
        }
    }
}

/// Points of the cloth lie within the puck and are found there again, on one of the layers that lie at their place.
#[test]
fn cloth_is_found_again() {
    for (seed, (name, fold)) in (51_u64..).zip(ALL.iter()) {
        let mut next = numbers(seed);
        let mut panels = [0; 2];
        for _ in 0..20_000 {
            let point = random_cloth(fold, &mut next);
            let there = fold.to_bundle(point).unwrap();
            assert!(
                (0.0..fold.length_mm()).contains(&there.along_mm) && (0.0..=1.0).contains(&there.across),
                "{name}: {there:?}"
            );
            assert!((-0.5..=f64::from(fold.places()) - 0.5).contains(&there.place), "{name}: {there:?}");
            let back = fold.to_cloth(there).unwrap();
            let apart_mm = fold.lay().as_laid(back).distance(fold.lay().as_laid(point));
            // Far out the puck is full after a little cloth: what is left is as exact as its rounding.
            assert!(apart_mm < 1e-5, "{name}: {point:?} lies at {there:?}, where {back:?} is");
            panels[usize::from(back.panel == Panel::Back)] += 1;
        }
        let has_back = fold.lay().panels().back.is_some();
        assert!(if has_back { panels.iter().all(|&found| found > 8000) } else { panels[1] == 0 }, "{name}: {panels:?}");
    }
}

/// A line between wedges lies where the map says and is nowhere broken but at the cloth's edge; the pinch is a circle.
#[test]
fn wedge_lines_lie_where_the_map_says() {
    for (name, fold) in ALL.iter() {
        let spiral = fold.spiral();
        for along_mm in [0.0, 0.31, 0.74].map(|share| share * fold.length_mm()) {
            for panel in Panel::BOTH.into_iter().filter(|&panel| fold.lay().panels().panel(panel).is_some()) {
                let pieces = fold.parallel(&[panel], along_mm);
                assert!(pieces.len() > 10, "{name}: {} pieces", pieces.len());
                for (at, piece) in pieces.iter().flat_map(|piece| [0.02, 0.5, 0.98].map(|share| (piece.point(share), piece))) {
                    let r_mm = at.distance(spiral.centre_as_laid());
                    // What a puck's direction is off, as it lies on the cloth a little beside.
                    let off_rad = apart_mm(fold, fold.along_as_laid_mm(at), along_mm) / spiral.radius_mm();
                    let most_mm = 0.03 * (1.0 + r_mm * steepness(fold, r_mm));
                    assert!(r_mm * off_rad < most_mm, "{name}: {at:?} of {piece:?} is {} mm off", r_mm * off_rad);
                    let outline = fold.lay().outline(panel).unwrap();
                    assert!(outline.contains(at), "{name}: {at:?} is off the {panel}");
                }
            }
        }
        let circle = fold.source();
        let round_mm: f64 = circle.iter().map(Stretch::length_mm).sum();
        let share = if name == &"on the fold" { 0.5 } else { 1.0 };
        let expected_mm = share * std::f64::consts::TAU * spiral.spec().pinch_radius_mm;
        assert!((round_mm / expected_mm - 1.0).abs() < 1e-3, "{name}: {round_mm} of {expected_mm}");
        let pins = fold.pins();
        assert_eq!((pins.len(), pins[0].at, pins[0].string_mm(50.0)), (1, spiral.centre_as_laid(), None));
        assert!(
            fold.creases(0.0).is_empty()
                && fold.joins(
                    fold.to_cloth(BundlePoint { along_mm: 0.0, across: 0.0, place: 3.0 }).unwrap_or(ClothPoint {
                        panel: Panel::Front,
                        x_mm: 1.0,
                        y_mm: 300.0
                    }),
                    50.0
                ) == Joins::default()
        );
    }
}

/// How fast the direction in the puck turns with the distance from the pinch, rad/mm.
fn steepness(fold: &SpiralFold, r_mm: f64) -> f64 {
    let at = |r_mm: f64| fold.along_as_laid_mm(fold.spiral().centre_as_laid() + kurbo::Vec2::new(0.3, 0.95).normalize() * r_mm);
    apart_mm(fold, at(r_mm + 0.1), at((r_mm - 0.1).max(0.0))) / (0.2 * fold.spiral().radius_mm())
}
