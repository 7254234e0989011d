//! The laws of every fold, over every pattern.

use crate::bodies::{FOLDS, folds};
use crate::common::fold_laws::{self, EXACT};
use crate::common::seeded::seeded;
use pleatwright::geometry::*;
use proptest::prelude::*;
use std::sync::LazyLock;

/// All of them, folded once.
pub(crate) static ALL: LazyLock<Vec<(&'static str, FlatFold)>> = LazyLock::new(folds);

proptest! {
    #![proptest_config(seeded(91, 1500))]

    /// There and back, area and joins.
    #[test]
    fn flat_bundles_keep_the_laws_of_folds(
        which in 0..FOLDS,
        along in 0.01..0.99,
        across in 0.01..0.99,
        place: prop::sample::Index,
    ) {
        let (_, fold) = &ALL[which];
        let along = along * fold.length_mm();
        let place = u32::try_from(place.index(fold.places() as usize)).unwrap();
        let at = BundlePoint { along_mm: along, across, place: f64::from(place) };
        fold_laws::there_and_back(fold, at, EXACT);
        fold_laws::keeps_area(fold, at, EXACT);
        fold_laws::joins_are_mutual(fold, place, along, EXACT);
    }
}

proptest! {
    #![proptest_config(seeded(92, 90))]

    #[test]
    fn binds_across_flat_bundles_lie_where_the_map_says(which in 0..FOLDS, along in 0.01..0.99) {
        let (_, fold) = &ALL[which];
        let along = along * fold.length_mm();
        fold_laws::a_cut_is_the_slope_of_the_area(fold, along);
        fold_laws::marks_lie_where_the_map_says(fold, along);
    }
}

#[test]
fn the_cells_of_flat_bundles_hold_their_cloth() {
    assert_eq!(ALL.len(), FOLDS);
    for (name, fold) in ALL.iter() {
        assert!(fold.places() >= 2, "{name}");
        fold_laws::cells_hold_the_cloth(fold, [70, 32], 1e-2);
    }
}

/// A point of the cloth, drawn evenly from all of it.
fn random_cloth(fold: &FlatFold, next: &mut impl FnMut() -> f64) -> ClothPoint {
    let panels = fold.lay().panels();
    loop {
        let panel = if panels.back.is_some() && next() < 0.5 { Panel::Back } else { Panel::Front };
        let bounds = panels.panel(panel).unwrap().whole().bounds();
        let point = ClothPoint { panel, x_mm: bounds.x0 + next() * bounds.width(), y_mm: bounds.y0 + next() * bounds.height() };
        if fold.has_cloth(point) {
            return point;
        }
    }
}

/// Uniform numbers from a seed (Steele, Lea, Flood 2014, their `SplitMix64`).
fn numbers(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed;
    move || {
        state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        #[expect(clippy::cast_precision_loss, reason = "53 bits")]
        let unit = ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64;
        unit
    }
}

/// A million points of cloth lie within the bundle, each at a place of its own to which nothing else comes: carried there and back each
/// is where it was, on its own panel. Points of one piece keep their distance, and none come apart from what they were
/// beside of by more than that.
#[test]
fn a_million_points_are_carried_without_stretch_or_loss() {
    for (number, (name, fold)) in (1_u64..).zip(ALL.iter()) {
        let mut next = numbers(number);
        for _ in 0..1_000_000 / FOLDS {
            let point = random_cloth(fold, &mut next);
            let there = fold.to_bundle(point).unwrap();
            assert!((-1e-9..=fold.length_mm() + 1e-9).contains(&there.along_mm), "{name}: {point:?} lies at {there:?}");
            let back = fold.to_cloth(there).unwrap_or_else(|| panic!("{name}: {point:?} lies at {there:?}, which has ended"));
            assert!(back.panel == point.panel && back.position().distance(point.position()) < 1e-9, "{name}: {point:?} {back:?}");
            let beside = ClothPoint { x_mm: point.x_mm + 4.0 * (next() - 0.5), y_mm: point.y_mm + 4.0 * (next() - 0.5), ..point };
            if !fold.has_cloth(beside) {
                continue;
            }
            let apart_mm = point.position().distance(beside.position());
            let other = fold.to_bundle(beside).unwrap();
            let across_mm = (other.across - there.across) * fold.size().height;
            let there_mm = (other.along_mm - there.along_mm).hypot(across_mm);
            assert!(there_mm <= apart_mm + 1e-9, "{name}: {apart_mm} mm became {there_mm}");
            let is_one_piece = other.place == there.place;
            assert!(!is_one_piece || (there_mm - apart_mm).abs() < 1e-9, "{name}: {apart_mm} mm became {there_mm}");
        }
    }
}
