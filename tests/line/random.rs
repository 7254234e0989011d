//! Lines drawn at random on the fold, from edge to edge and as strokes: folded or refused with a reason, and true to the cloth if folded.

use crate::bodies::{spec, tee};
use crate::common::fold_laws::{self, EXACT};
use crate::common::seeded::seeded;
use kurbo::{BezPath, Point, Vec2};
use pleatwright::geometry::*;
use proptest::prelude::*;

/// A smooth curve through points, bent more or less.
fn through(points: &[Point], bend: f64) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(points[0]);
    for k in 1..points.len() {
        let slope = |k: usize| {
            let (before, after) = (points[k.saturating_sub(1)], points[(k + 1).min(points.len() - 1)]);
            bend / 6.0 * (after - before)
        };
        path.curve_to(points[k - 1] + slope(k - 1), points[k] - slope(k), points[k]);
    }
    path
}

fn any_line() -> impl Strategy<Value = (Centring, LineKind, BezPath)> {
    let bend = prop_oneof![Just(0.0), 0.5..1.6_f64];
    let half_ring = (prop::collection::vec(30.0..190.0_f64, 2..6), bend.clone()).prop_map(|(radii, bend)| {
        let steps = radii.len() + 1;
        let around = |k: usize, radius_mm: f64| {
            let turn = k as f64 / steps as f64 - 0.5;
            let at = Point::new(0.0, 360.0) + radius_mm * Vec2::from_angle(turn * std::f64::consts::PI);
            Point::new(if k == 0 || k == steps { 0.0 } else { at.x.max(1.0) }, at.y)
        };
        let all = std::iter::once(120.0).chain(radii.iter().copied()).chain([110.0]);
        let points: Vec<Point> = all.enumerate().map(|(k, radius_mm)| around(k, radius_mm)).collect();
        (Centring::Nested, LineKind::Ring, through(&points, bend))
    });
    let across =
        (prop::collection::vec(150.0..600.0_f64, 2..7), bend.clone(), any::<bool>()).prop_map(|(heights, bend, folded)| {
            let (from_mm, step_mm) = if folded { (0.0, 260.0) } else { (-250.0, 500.0) };
            let last = (heights.len() - 1) as f64;
            let at = |(k, &y): (usize, &f64)| Point::new(from_mm + step_mm * k as f64 / last, y);
            let points: Vec<Point> = heights.iter().enumerate().map(at).collect();
            (if folded { Centring::PlainHalf } else { Centring::Open }, LineKind::Across, through(&points, bend))
        });
    let stroke = (prop::collection::vec((0.0..230.0_f64, 150.0..600.0_f64), 2..5), bend, any::<bool>()).prop_map(
        |(points, bend, folded)| {
            let place = |&(x, y): &(f64, f64)| Point::new(if folded { x } else { x - 115.0 }, y);
            let points: Vec<Point> = points.iter().map(place).collect();
            (if folded { Centring::Nested } else { Centring::Open }, LineKind::Stroke, through(&points, bend))
        },
    );
    prop_oneof![half_ring, across, stroke]
}

proptest! {
    #![proptest_config(seeded(66, 240))]

    #[test]
    fn any_line_is_folded_or_refused(
        (centring, kind, path) in any_line(),
        guide_mm in 0.0..120.0_f64,
        depth_mm in 10.0..60.0_f64,
        places in prop::collection::vec((0.01..0.99_f64, 0.01..0.99_f64, any::<prop::sample::Index>()), 12),
        points in prop::collection::vec((-400.0..400.0_f64, 0.0..720.0_f64, any::<bool>()), 12),
    ) {
        let pleats = Pleats::Depth { depth_mm };
        let fold = match LineFold::new(&LineSpec { guide_mm, pleats, ..spec(centring, kind, path) }, tee()) {
            Ok(fold) => fold,
            Err(refusal) => {
                prop_assert!(!refusal.to_string().is_empty());
                return Ok(());
            }
        };
        let binds = [0.2, 0.5, 0.7].map(|share| share * fold.length_mm());
        let held: f64 = sections(&fold, &binds).iter().map(|section| section.area_mm2.sum()).sum();
        let cloth: f64 = tee().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
        prop_assert!((held - cloth).abs() < 1e-6 * cloth, "{held} of {cloth}");
        for (along, across, place) in places {
            let place = u32::try_from(place.index(fold.places() as usize)).unwrap();
            let along_mm = along * fold.length_mm();
            fold_laws::there_and_back(&fold, BundlePoint { along_mm, across, place: f64::from(place) }, EXACT);
            fold_laws::joins_are_mutual(&fold, place, along_mm, EXACT);
        }
        for (x_mm, y_mm, back) in points {
            let cloth = ClothPoint { panel: if back { Panel::Back } else { Panel::Front }, x_mm, y_mm };
            if fold.has_cloth(cloth) {
                let there = fold.to_bundle(cloth).unwrap();
                prop_assert!((-1e-6..=fold.length_mm() + 1e-6).contains(&there.along_mm), "{there:?} of {}", fold.length_mm());
                let again = fold.to_cloth(there).map(|again| again.position().distance(cloth.position()));
                prop_assert!(again.is_some_and(|off_mm| off_mm < 1e-7), "{cloth:?} at {there:?} comes back {again:?} off");
            }
        }
        let along_mm = 0.4 * fold.length_mm();
        fold_laws::marks_lie_where_the_map_says(&fold, along_mm);
        fold_laws::a_cut_is_the_slope_of_the_area(&fold, along_mm);
    }
}
