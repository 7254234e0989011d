//! The order of layers: joined places never cross, so that the bundle can be folded; and what is wrapped round what.

use crate::bodies::{at, fold, spec, square, tee};
use crate::laws::ALL;
use kurbo::{Point, Vec2};
use pleatwright::geometry::*;
use std::collections::{BTreeMap, BTreeSet};

/// Which side of the bundle's outline runs through a point of it; none near a corner or within.
fn side_at(fold: &FlatFold, there: &BundlePoint) -> Option<usize> {
    let corners = fold.outline();
    let point = Point::new(there.along_mm, there.across * fold.size().height);
    let away = |side: usize| {
        let (from, to) = (corners[side], corners[(side + 1) % corners.len()]);
        (point - from).cross(to - from).abs() / (to - from).hypot()
    };
    let mut sides: Vec<usize> = (0..corners.len()).collect();
    sides.sort_by(|a, b| away(*a).total_cmp(&away(*b)));
    (away(sides[0]) < 1e-4 && away(sides[1]) > 0.5).then_some(sides[0])
}

/// Pairs of places joined over each side of the outline, as points to either side of each crease have them.
fn joins(fold: &FlatFold) -> BTreeMap<usize, BTreeSet<(u32, u32)>> {
    let mut joins: BTreeMap<usize, BTreeSet<(u32, u32)>> = BTreeMap::new();
    for crease in fold.creases(-1e6) {
        let run = (crease.line.p1 - crease.line.p0).normalize();
        for share in [0.2, 0.5, 0.83] {
            let on = crease.line.p0.lerp(crease.line.p1, share);
            for layer in 0..fold.layers() {
                let there = |off_mm: f64| {
                    let cloth = fold.lay().cloth_at(layer, on + off_mm * Vec2::new(-run.y, run.x));
                    fold.to_bundle(cloth).unwrap()
                };
                let (here, beyond) = (there(1e-6), there(-1e-6));
                assert_ne!(here.place, beyond.place, "nothing is folded at {on:?}");
                if let Some(side) = side_at(fold, &here) {
                    let [a, b] = [here.layer(), beyond.layer()];
                    joins.entry(side).or_default().insert((a.min(b), a.max(b)));
                }
            }
        }
    }
    joins
}

/// Cloth that goes on from one place to another over a side of the bundle would run through what is joined across it (Justin 1997, Lang
/// 2011: the taco-taco condition, from memory).
#[test]
fn joined_places_never_cross() {
    for (name, fold) in ALL.iter() {
        let mut pairs = 0;
        for (side, joins) in joins(fold) {
            for &(a, b) in &joins {
                for &(c, d) in &joins {
                    pairs += 1;
                    assert!(!(a < c && c < b && b < d), "{name}, side {side}: {a} to {b} crosses {c} to {d}");
                }
            }
        }
        assert!(pairs > 0, "{name}: nothing was compared");
    }
}

/// A ridge on one side of the cloth is where places fall; counted by the places on its two sides, as they lie.
#[test]
fn ridges_and_valleys_are_what_the_layers_say() {
    for (name, fold) in ALL.iter() {
        for crease in fold.creases(-1e6) {
            let run = (crease.line.p1 - crease.line.p0).normalize();
            let there = |off_mm: f64| {
                let at = crease.line.midpoint() + off_mm * Vec2::new(-run.y, run.x);
                // Where the garment's lowest layer came to lie, among the layers of its piece: it is turned over if the next one is below.
                let [lowest, next] =
                    [0, fold.layers() - 1].map(|layer| fold.to_bundle(fold.lay().cloth_at(layer, at)).unwrap().place);
                (lowest, next < lowest)
            };
            if fold.layers() < 2 {
                continue;
            }
            let ((here, is_turned), (beyond, _)) = (there(1e-6), there(-1e-6));
            // On a piece that lies as it was laid, what comes over from above makes a valley.
            assert_eq!(crease.is_over, (beyond > here) == is_turned, "{name}: {crease:?}");
        }
    }
}

/// Beside a crease that is marked the opened cloth has it as near as it is, as a ridge or a valley as it was folded.
#[test]
fn creases_stand_out_beside_where_they_are_marked() {
    for (name, fold) in ALL.iter() {
        for crease in fold.creases(-1e6) {
            let run = (crease.line.p1 - crease.line.p0).normalize();
            let beside = crease.line.midpoint() + 1e-3 * Vec2::new(-run.y, run.x);
            let away_mm = fold.creased(fold.lay().cloth_at(0, beside), 5.0).unwrap();
            let own_mm = away_mm[usize::from(!crease.is_over)];
            assert!((own_mm - 1e-3).abs() < 1e-8, "{name}: {crease:?} is {away_mm:?} away");
        }
    }
}

#[test]
fn creases_are_numbered_in_the_order_of_folding() {
    for (name, fold) in ALL.iter() {
        let numbers: BTreeSet<u32> = fold.creases(-1e6).iter().map(|crease| crease.number).collect();
        assert_eq!(numbers.first(), Some(&1), "{name}");
        let (last, count) = (*numbers.last().unwrap(), u32::try_from(numbers.len()).unwrap());
        // Creases at the very ends of the cloth may have no length that is worth a mark.
        assert!(count >= last.saturating_sub(2), "{name}: {numbers:?}");
    }
}

/// Stripes laid to and fro on a garment of four layers: round each crease the garment's outer layers enclose the inner ones, as in pleats.
#[test]
fn stripes_are_wrapped_like_pleats() {
    let pattern = FlatPattern::Stripes { width_mm: 60.0, angle_deg: 0.0, start: None };
    let fold = fold(&spec(Centring::PlainHalf, pattern, Pack::Zigzag), tee());
    let side = Vec2::new(0.0, 1.0);
    let wrapped: Vec<u32> = (0..8).map(|place| fold.wrapped(place, side)).collect();
    assert_eq!(wrapped, [0, 1, 2, 3, 3, 2, 1, 0]);
    // Four layers to either side of a crease: the outer half circle is 3 layers of radius more (pi times 3 t).
    assert!((fold.creep_mm(0.6) - 3.0 * 0.6 * std::f64::consts::PI).abs() < 1e-9, "{}", fold.creep_mm(0.6));
}

/// Rolled up, each crease encloses all those before it, and cloth creeps round it.
#[test]
fn a_roll_wraps_all_that_went_before() {
    let pattern = FlatPattern::Stripes { width_mm: 80.0, angle_deg: 0.0, start: Some(at(0.0, 0.0)) };
    let fold = fold(&spec(Centring::Open, pattern, Pack::Rolled), square(640.0));
    // Eight stripes: the last crease goes round six of them.
    assert_eq!(fold.places(), 8);
    assert!((fold.creep_mm(1.0) - 3.0 * std::f64::consts::PI).abs() < 1e-9, "{}", fold.creep_mm(1.0));
}
