//! The neck's edges: square to the shoulder seam, so that front and back run on into each other, and bent one way only, judged by a
//! general geometry library.

use geo::IsConvex;
use kurbo::{BezPath, ParamCurve as _, ParamCurveDeriv as _, PathSeg, Point, Vec2};
use pleatwright::geometry::{Garment, GarmentError, GarmentKind, Measure, Panel, RawMeasures};
use proptest::prelude::*;

/// The kinds that have a neck and a shoulder seam.
fn kinds() -> impl Iterator<Item = GarmentKind> {
    GarmentKind::ALL.into_iter().filter(|kind| kind.measures().any(|measure| measure == Measure::ShoulderDrop))
}

/// The panels whose outline shows the neck's edge: a hood hides that of the back.
fn panels(kind: GarmentKind) -> &'static [Panel] {
    if kind == GarmentKind::HoodedTop { &[Panel::Front] } else { &Panel::BOTH }
}

fn every_garment() -> impl Iterator<Item = (String, Garment)> {
    kinds().flat_map(|kind| {
        kind.sizes().into_iter().map(move |size| {
            let garment = Garment::new(kind, Some(size.name), &RawMeasures::default()).expect("a size fits together");
            (format!("{} {}", kind.name(), size.name), garment)
        })
    })
}

/// The neck's edge from the centre line to the high point of the shoulder, and the unit vector along the seam beyond it.
fn neck_and_seam(garment: &Garment, panel: Panel) -> (BezPath, Vec2) {
    let hps = Point::new(garment.value_mm(Measure::NeckWidth).expect("a garment with a neck has its width") / 2.0, 0.0);
    let mut segments = garment.draft().panel(panel).profile().segments();
    let mut neck = Vec::new();
    while neck.last().is_none_or(|seg: &PathSeg| seg.eval(1.0).distance(hps) > 1e-6) {
        neck.push(segments.next().expect("the outline passes the high point of the shoulder"));
    }
    let seam = segments.next().expect("the shoulder follows the neck");
    (BezPath::from_path_segments(neck.into_iter()), (seam.eval(1.0) - hps).normalize())
}

/// The angle between the neck's edge and the shoulder seam where they meet, in degrees, measured through the cloth.
fn angle_at_seam_deg(garment: &Garment, panel: Panel) -> f64 {
    let (neck, seam) = neck_and_seam(garment, panel);
    let PathSeg::Cubic(last) = neck.segments().last().expect("the neck has an edge") else { panic!("a neck is cut in a curve") };
    let back_along_neck = -last.deriv().eval(1.0).to_vec2();
    seam.cross(back_along_neck).atan2(seam.dot(back_along_neck)).to_degrees()
}

/// Whether the edge bends one way only: then edge and chord enclose a convex region.
fn bends_one_way(garment: &Garment, panel: Panel) -> bool {
    let mut points: Vec<geo::Coord> = Vec::new();
    kurbo::flatten(neck_and_seam(garment, panel).0, 1e-4, |el| {
        let p = el.end_point().expect("an open path");
        let p = geo::Coord { x: p.x, y: p.y };
        // Flattening can end a curve with an edge of no length but for rounding, which has no direction to be judged by.
        if points.last().is_none_or(|last| (p.x - last.x).hypot(p.y - last.y) > 1e-6) {
            points.push(p);
        }
    });
    let mut ring = geo::LineString::new(points);
    ring.close();
    ring.is_convex()
}

/// Common practice, no source: a neck is drafted square to the shoulder at both panels.
#[test]
fn front_and_back_meet_the_shoulder_square_and_run_on_into_each_other() {
    for (name, garment) in every_garment() {
        let angles: Vec<f64> = panels(garment.kind()).iter().map(|&panel| angle_at_seam_deg(&garment, panel)).collect();
        for angle_deg in &angles {
            assert!(
                (angle_deg - 90.0).abs() < 10.0,
                "{name}: {angle_deg:.1} degrees at the shoulder, front and back {angles:.1?}"
            );
        }
        if let [front_deg, back_deg] = angles[..] {
            let corner_deg = (180.0 - front_deg - back_deg).abs();
            assert!(corner_deg < 10.0, "{name}: a corner of {corner_deg:.1} degrees at the seam");
        }
    }
}

#[test]
fn no_neck_has_an_inflection() {
    for (name, garment) in every_garment() {
        for &panel in panels(garment.kind()) {
            assert!(bends_one_way(&garment, panel), "{name}, {panel}");
            let inflections: Vec<f64> =
                neck_and_seam(&garment, panel).0.segments().flat_map(|seg| seg.to_cubic().inflections()).collect();
            assert!(inflections.is_empty(), "{name}, {panel}: at {inflections:?}");
        }
    }
}

#[test]
fn a_round_neck_is_level_at_the_centre_and_a_pointed_one_is_not() {
    for (name, garment) in every_garment() {
        for &panel in panels(garment.kind()) {
            let first = neck_and_seam(&garment, panel).0.segments().next().unwrap().to_cubic();
            let leave = (first.p1 - first.p0).normalize();
            if garment.kind() == GarmentKind::VNeckTee && panel == Panel::Front {
                // From upright; a level point would be no point.
                let lean_deg = leave.x.atan2(-leave.y).to_degrees();
                assert!((10.0..70.0).contains(&lean_deg), "{name}: {lean_deg}");
            } else {
                assert!((leave - Vec2::new(1.0, 0.0)).hypot() < 1e-9, "{name}, {panel}: {leave:?}");
            }
        }
    }
}

/// A garment as its size has it but for one measurement.
fn with(garment: &Garment, measure: Measure, value_mm: f64) -> Result<Garment, GarmentError> {
    let mut raw = RawMeasures::default();
    raw.set(measure, Some(value_mm));
    Garment::new(garment.kind(), garment.size(), &raw)
}

/// The last value toward `far_mm` that is accepted, to a thousandth of a millimetre; every refusal on the way names measurements.
fn last_accepted(garment: &Garment, measure: Measure, far_mm: f64) -> Garment {
    let (mut good_mm, mut bad_mm) = (garment.value_mm(measure).expect("a measurement that the kind has"), far_mm);
    let mut best = garment.clone();
    for value_mm in std::iter::once(far_mm).chain(std::iter::repeat_n(f64::NAN, 40)) {
        let value_mm = if value_mm.is_nan() { 0.5 * (good_mm + bad_mm) } else { value_mm };
        if (bad_mm - good_mm).abs() < 1e-3 {
            break;
        }
        match with(garment, measure, value_mm) {
            Ok(accepted) => (good_mm, best) = (value_mm, accepted),
            Err(GarmentError::Mismatch { .. } | GarmentError::OutOfRange { .. }) => bad_mm = value_mm,
            Err(other) => panic!("{} {measure} {value_mm}: {other}", garment.kind().name()),
        }
    }
    best
}

/// At both ends of what is accepted of each measurement the necks still bend one way, and a refusal beyond them names a limit: none
/// is left to the outline crossing itself.
#[test]
fn at_the_edge_of_what_is_accepted_a_neck_still_bends_one_way() {
    for (name, garment) in every_garment() {
        for measure in garment.kind().measures() {
            for far_mm in [*measure.range_mm().start(), *measure.range_mm().end()] {
                let edge = last_accepted(&garment, measure, far_mm);
                let value_mm = edge.value_mm(measure).unwrap();
                for &panel in panels(garment.kind()) {
                    assert!(bends_one_way(&edge, panel), "{name}, {panel}, {measure} {value_mm}");
                }
            }
        }
    }
}

/// Any kind and size with each measurement that shapes the neck anywhere in its accepted range.
fn any_neck() -> impl Strategy<Value = (GarmentKind, usize, [f64; 6])> {
    (prop::sample::select(kinds().collect::<Vec<_>>()), 0_usize..20, prop::array::uniform6(0.0_f64..=1.0))
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 3000,
        rng_seed: prop::test_runner::RngSeed::Fixed(11),
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn every_accepted_neck_bends_one_way((kind, size, shares) in any_neck()) {
        let sizes = kind.sizes();
        let mut raw = RawMeasures::default();
        use Measure::{BackNeckDrop, FrontNeckDrop, NeckWidth, ShoulderDrop, ShoulderToShoulder, StrapWidth};
        for (measure, share) in [NeckWidth, FrontNeckDrop, BackNeckDrop, ShoulderDrop, ShoulderToShoulder, StrapWidth].into_iter().zip(shares) {
            // A quarter of them as the size has them.
            if share > 0.25 && kind.measures().any(|own| own == measure) {
                let (low, high) = measure.range_mm().into_inner();
                raw.set(measure, Some(low + (high - low) * ((share - 0.25) / 0.75).powi(2)));
            }
        }
        let Ok(garment) = Garment::new(kind, Some(sizes[size % sizes.len()].name), &raw) else { return Ok(()) };
        for &panel in panels(kind) {
            prop_assert!(bends_one_way(&garment, panel), "{}", panel);
            let angle_deg = angle_at_seam_deg(&garment, panel);
            prop_assert!((0.0..180.0).contains(&angle_deg), "{}: {}", panel, angle_deg);
        }
    }
}
