//! The puck: evenly full, of the volume that the cloth has, its cloth as high on one place as on another.

use crate::bodies::{LAYER_MM, folds, in_puck, numbers, random_cloth, spec, square, tee};
use pleatwright::geometry::*;
use std::f64::consts::PI;

fn cloth_mm2(fold: &SpiralFold) -> f64 {
    fold.lay().panels().iter().map(|(_, panel)| panel.whole().area_mm2()).sum()
}

/// Packing is the cloth's volume over a cylinder's, and the cells of the ring hold all of the cloth.
#[test]
fn the_cells_of_the_ring_hold_the_cloth() {
    for (name, fold) in folds() {
        let (spiral, cloth_mm2) = (fold.spiral(), cloth_mm2(&fold));
        let puck_mm3 = PI * spiral.radius_mm().powi(2) * spiral.height_mm();
        assert!((spiral.packing() * puck_mm3 / (cloth_mm2 * LAYER_MM) - 1.0).abs() < 1e-9, "{name}");
        let ring = fold.ring().unwrap();
        let held_mm2: f64 = (0..fold.places())
            .map(|place| fold.cell(0.0..fold.length_mm(), place, 0.0..1.0))
            .map(|cell| cell.length_mm * cell.width_mm * ring.place_layers)
            .sum();
        assert!((held_mm2 / cloth_mm2 - 1.0).abs() < 1e-9, "{name}: {held_mm2} of {cloth_mm2}");
        let girth_mm = 2.0 * (2.0 * spiral.radius_mm() + spiral.height_mm());
        assert!((spiral.band_girth_mm() - girth_mm).abs() < 1e-9);
        assert!((rod_size(&fold, &Cloth::default(), 40.0).bound_girth_mm - girth_mm).abs() < 1e-9);
    }
}

/// A puck whose height is not given is as high as the cloth is at the ordinary packing.
#[test]
fn the_height_follows_from_the_packing() {
    let spec = SpiralSpec { puck_height_mm: None, centre: crate::bodies::at(0.0, 300.0), puck_diameter_mm: 124.0, ..spec() };
    let spiral = Spiral::new(&spec, &square(600.0), LAYER_MM).unwrap();
    assert!((spiral.packing() - ORDINARY_PACKING).abs() < 1e-12);
    let by_hand_mm = 600.0 * 600.0 * 0.6 / (PI * 62.0 * 62.0 * 0.5);
    assert!((spiral.height_mm() - by_hand_mm).abs() < 1e-6, "{} of {by_hand_mm}", spiral.height_mm());
    assert!(USUAL_PACKING.contains(&spiral.packing()));
}

/// From the middle out it is evenly full: within a share of its area lies that share of the cloth; drawn at random, within three
/// standard deviations (binomial).
#[test]
fn the_puck_is_evenly_full() {
    for (seed, (name, fold)) in (21_u64..).zip(folds()) {
        let (mut next, count) = (numbers(seed), 20_000_u32);
        let mut shares: Vec<f64> = (0..count)
            .map(|_| in_puck(&fold, random_cloth(&fold, &mut next)).to_vec2().hypot2() / fold.spiral().radius_mm().powi(2))
            .collect();
        shares.sort_by(f64::total_cmp);
        for share in [0.1, 0.25, 0.5, 0.75, 0.9] {
            let held = shares.partition_point(|&own| own <= share) as f64 / f64::from(count);
            let deviation = (share * (1.0 - share) / f64::from(count)).sqrt();
            assert!((held - share).abs() < 3.0 * deviation, "{name}: {held} within {share}");
        }
    }
}

/// Pleats reach from face to face: over all of the cloth every height is as frequent as any other, within 0.02; and they rise as steeply as
/// cloth that stands on its edge does, a millimetre to a millimetre.
#[test]
fn heights_are_even_and_as_steep_as_standing_cloth() {
    for (seed, (name, fold)) in (31_u64..).zip(folds().into_iter().take(3)) {
        let (mut next, count) = (numbers(seed), 30_000_u32);
        let points: Vec<ClothPoint> = (0..count).map(|_| random_cloth(&fold, &mut next)).collect();
        let height_mm = |point: ClothPoint| fold.spiral().height_mm() * fold.to_bundle(point).unwrap().across;
        let mut heights: Vec<f64> = points.iter().map(|&point| height_mm(point) / fold.spiral().height_mm()).collect();
        heights.sort_by(f64::total_cmp);
        let off = (0_u32..).zip(&heights).map(|(number, height)| (height - f64::from(number) / f64::from(count)).abs());
        let worst = off.fold(0.0, f64::max);
        assert!(worst < 0.02, "{name}: heights are off an even spread by {worst}");
        let step_mm = 1e-3;
        let slope = |point: &ClothPoint| {
            let at = |dx: f64, dy: f64| {
                height_mm(ClothPoint { x_mm: point.x_mm + dx * step_mm, y_mm: point.y_mm + dy * step_mm, ..*point })
            };
            (at(1.0, 0.0) - at(-1.0, 0.0)).hypot(at(0.0, 1.0) - at(0.0, -1.0)) / (2.0 * step_mm)
        };
        let mut slopes: Vec<f64> = points.iter().step_by(10).map(slope).collect();
        slopes.sort_by(f64::total_cmp);
        let [least, median, most] = [0.05, 0.5, 0.95].map(|share| slopes[(share * slopes.len() as f64) as usize]);
        assert!((median - 1.0).abs() < 0.02 && least > 0.9 && most < 1.4, "{name}: slopes of {least}, {median}, {most}");
    }
}

/// Other seeds pleat otherwise and change nothing else.
#[test]
fn a_seed_moves_the_pleats_alone() {
    let [one, other] = [5, 6].map(|seed| crate::bodies::fold(&SpiralSpec { seed, ..spec() }, tee()));
    let (mut next, mut moved) = (numbers(41), 0);
    for _ in 0..200 {
        let point = random_cloth(&one, &mut next);
        let (own, others) = (one.to_bundle(point).unwrap(), other.to_bundle(point).unwrap());
        assert_eq!((own.along_mm, own.place), (others.along_mm, others.place));
        moved += u32::from((own.across - others.across).abs() > 0.02);
    }
    assert!(moved > 100, "{moved}");
}
