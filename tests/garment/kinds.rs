//! Garments against the body measurements of a published survey, against their own measurements, and against a general geometry
//! library.

use crate::common;
use common::seeded::seeded;
use std::collections::BTreeMap;

use geo::{Area, Validation};
use kurbo::{ParamCurveNearest, Point, Shape};
use pleatwright::form::{FileForm as _, WrittenForm as _};
use pleatwright::geometry::{
    Garment, GarmentError, GarmentKind, Measure, Origin, Panel, PanelOutline, Panels, RawMeasures, SizeName, SourceStatus, Wash,
    WashDirection,
};
use pleatwright::layout::form::parts::{GarmentKindForm, MeasuresForm};
use proptest::prelude::*;

fn sized(kind: GarmentKind, size: SizeName) -> Garment {
    Garment::new(kind, Some(size), &RawMeasures::default()).unwrap_or_else(|e| panic!("{kind:?} {size}: {e}"))
}

fn every_size() -> impl Iterator<Item = Garment> {
    GarmentKind::ALL.into_iter().flat_map(|kind| kind.sizes().into_iter().map(move |size| sized(kind, size.name)))
}

fn with(kind: GarmentKind, size: SizeName, given: &[(Measure, f64)]) -> Result<Garment, GarmentError> {
    let mut raw = RawMeasures::default();
    for &(measure, value_mm) in given {
        raw.set(measure, Some(value_mm));
    }
    Garment::new(kind, Some(size), &raw)
}

fn refusal(kind: GarmentKind, size: SizeName, given: &[(Measure, f64)]) -> String {
    with(kind, size, given).expect_err("these do not fit together").to_string()
}

/// Distance from a point to the outline of the whole panel, in mm.
fn distance_mm(half: &PanelOutline, p: Point) -> f64 {
    let outline = half.whole();
    outline.segments().map(|seg| seg.nearest(p, 1e-9).distance_sq).fold(f64::INFINITY, f64::min).sqrt()
}

fn polygon(half: &PanelOutline) -> geo::Polygon {
    let (mut ring, mut last) = (Vec::new(), Point::new(f64::INFINITY, 0.0));
    kurbo::flatten(half.half().path(), 0.05, |el| {
        // Flattening can end a curve with an edge of no length but for rounding, which has no direction to be judged by.
        if let Some(p) = el.end_point().filter(|p| p.distance(last) > 1e-6) {
            last = p;
            ring.push(geo::Coord { x: p.x, y: p.y });
        }
    });
    geo::Polygon::new(ring.into(), Vec::new())
}

/// ANSUR II (NATICK/TR-15/007), chest circumference: the percentile `column` for a sex, in mm.
fn ansur(sex: &str, measure: &str, column: &str) -> f64 {
    let csv = include_str!("../reference/ansur2_summary.csv");
    let mut lines = csv.lines();
    let head = lines.next().expect("the table has a head").split(',');
    let row = lines.find(|line| line.starts_with(&format!("{sex},{measure},"))).expect("the survey has the measure");
    let row: BTreeMap<&str, &str> = head.zip(row.split(',')).collect();
    row[column].parse().expect("percentiles are numbers")
}

#[test]
fn adult_tees_go_around_the_chests_of_the_survey() {
    let around_mm = |size| 2.0 * sized(GarmentKind::CrewTee, size).value_mm(Measure::HalfChest).unwrap();
    assert!(around_mm(SizeName::Xs) <= ansur("female", "chestcircumference", "p5"));
    assert!(around_mm(SizeName::Xl4) >= ansur("male", "chestcircumference", "p95"));
    let median_mm = ansur("male", "chestcircumference", "p50");
    assert!(around_mm(SizeName::M) < median_mm && median_mm < around_mm(SizeName::L), "between M and L");
}

#[test]
fn tee_shoulders_lie_between_the_bones_and_the_arms_of_the_survey() {
    for (sex, size) in [("female", SizeName::S), ("male", SizeName::M), ("male", SizeName::L)] {
        let shoulders_mm = sized(GarmentKind::CrewTee, size).value_mm(Measure::ShoulderToShoulder).unwrap();
        let range_mm = ansur(sex, "biacromialbreadth", "p50")..ansur(sex, "bideltoidbreadth", "p95");
        assert!(range_mm.contains(&shoulders_mm), "{sex} {size}: {shoulders_mm} not in {range_mm:?}");
    }
}

#[test]
fn tee_sizes_are_those_in_common_use() {
    // Finished half chest and length in inches: common practice, no source.
    let sizes = [
        (SizeName::S, 18.0, 28.0),
        (SizeName::M, 20.0, 29.0),
        (SizeName::L, 22.0, 30.0),
        (SizeName::Xl, 24.0, 31.0),
        (SizeName::Xl2, 26.0, 32.0),
        (SizeName::Xl3, 28.0, 33.0),
    ];
    for (size, half_chest_in, length_in) in sizes {
        let tee = sized(GarmentKind::CrewTee, size);
        assert_eq!(tee.value_mm(Measure::HalfChest), Some(half_chest_in * 254.0 / 10.0));
        assert_eq!(tee.value_mm(Measure::Length), Some(length_in * 254.0 / 10.0));
        assert_eq!(tee.measurements()[0].status, Some(SourceStatus::Practice));
    }
}

#[test]
fn sizes_grow() {
    for kind in GarmentKind::ALL.into_iter().filter(|kind| *kind != GarmentKind::FlatCloth) {
        let areas: Vec<f64> = kind.sizes().iter().map(|s| polygon(&sized(kind, s.name).draft().front).unsigned_area()).collect();
        assert!(areas.is_sorted(), "{kind:?}: {areas:?}");
    }
}

#[test]
fn every_figure_line_is_as_long_as_its_measurement() {
    for garment in every_size() {
        for m in garment.measurements() {
            let [a, b] = garment.figure_line(m.measure).unwrap();
            let off_mm = (a.distance(b) - m.value_mm).abs();
            assert!(off_mm < 1e-6, "{:?} {}: off by {off_mm}", garment.kind(), m.measure);
        }
        let foreign = Measure::ALL.into_iter().filter(|m| garment.value_mm(*m).is_none());
        assert!(foreign.into_iter().all(|m| garment.figure_line(m).is_none()));
    }
}

/// The ends of a figure line that lie on the outline, out of the two; the others lie at a level or on the centre line.
fn ends_on_outline(kind: GarmentKind, measure: Measure) -> &'static [usize] {
    match measure {
        // The hood covers the back of the neck.
        Measure::BackNeckDrop if kind == GarmentKind::HoodedTop => &[],
        Measure::FrontNeckDrop | Measure::BackNeckDrop | Measure::ShoulderDrop | Measure::ArmholeDepth => &[1],
        Measure::SleeveFall | Measure::WaistDepth => &[1],
        Measure::HemRise | Measure::HoodHeight | Measure::HandleDrop => &[0],
        Measure::HoodDepth => &[1],
        Measure::Length if kind == GarmentKind::InfantBodysuit => &[1],
        _ => &[0, 1],
    }
}

fn panel_of(measure: Measure) -> Panel {
    match measure {
        Measure::BackNeckDrop | Measure::AcrossBack | Measure::HoodHeight | Measure::HoodDepth => Panel::Back,
        _ => Panel::Front,
    }
}

#[test]
fn the_outline_passes_through_the_points_measured() {
    for garment in every_size() {
        for m in garment.measurements() {
            let half = garment.draft().panel(panel_of(m.measure));
            let ends = garment.figure_line(m.measure).unwrap();
            for &i in ends_on_outline(garment.kind(), m.measure) {
                let off_mm = distance_mm(half, ends[i]);
                assert!(off_mm < 1e-6, "{:?} {:?} {} end {i}: {off_mm}", garment.kind(), garment.size(), m.measure);
            }
        }
    }
}

#[test]
fn outlines_start_and_end_on_the_centre_line_and_enclose_positive_area() {
    for garment in every_size() {
        for panel in [Panel::Front, Panel::Back] {
            let half = garment.draft().panel(panel);
            let ends =
                [half.profile().elements().first(), half.profile().elements().last()].map(|el| el.unwrap().end_point().unwrap());
            assert_eq!(ends, [Point::new(0.0, half.centre_line_mm().start), Point::new(0.0, half.centre_line_mm().end)]);
            assert!(half.half().path().area() > 0.0, "{:?} {panel}", garment.kind());
            assert!((half.whole().path().area() - 2.0 * half.half().path().area()).abs() < 1e-6 * half.whole().path().area());
        }
    }
}

#[test]
fn front_and_back_differ_where_a_body_does() {
    for garment in every_size() {
        let same = matches!(garment.kind(), GarmentKind::ToteBag | GarmentKind::FlatCloth);
        assert_eq!(garment.draft().front == garment.draft().back, same, "{:?}", garment.kind());
    }
}

#[test]
fn a_round_neck_is_level_at_the_centre_and_square_to_the_shoulder() {
    let tee = sized(GarmentKind::CrewTee, SizeName::M);
    let Some(kurbo::PathEl::CurveTo(first, second, hps)) = tee.draft().front.profile().elements().get(1).copied() else {
        panic!("the neck is one cubic")
    };
    assert_eq!(first.y, tee.draft().front.centre_line_mm().start);
    let [_, shoulder] = tee.figure_line(Measure::ShoulderToShoulder).unwrap();
    assert!((hps - second).dot(shoulder - hps).abs() < 1e-9);
}

#[test]
fn cuffs_are_square_to_the_sleeve() {
    for kind in [GarmentKind::CrewTee, GarmentKind::LongSleeveTee, GarmentKind::HoodedTop] {
        let garment = sized(kind, SizeName::L);
        let [sleeve, cuff] = [Measure::SleeveLength, Measure::SleeveOpening].map(|m| garment.figure_line(m).unwrap());
        assert!((sleeve[1] - sleeve[0]).dot(cuff[1] - cuff[0]).abs() < 1e-6);
    }
}

#[test]
fn a_flat_cloth_has_the_area_of_its_rectangle_and_a_tote_that_of_its_parts() {
    let cloth = sized(GarmentKind::FlatCloth, SizeName::Hanging);
    assert!((cloth.draft().front.whole().area_mm2() - 1000.0 * 1500.0).abs() < 1e-6);
    assert_eq!((cloth.panels(), sized(GarmentKind::FlatCloth, SizeName::Pillowcase).panels()), (Panels::One, Panels::Two));
    let given = [(Measure::HandleDrop, 200.0), (Measure::HandleWidth, 30.0), (Measure::HandleSpacing, 100.0)];
    let tote = with(GarmentKind::ToteBag, SizeName::Medium, &given).unwrap();
    // Two straight bands up to where the arch begins, and half of an annulus between the radii 50 and 80 mm.
    let arch_mm2 = std::f64::consts::PI / 2.0 * (80.0 * 80.0 - 50.0 * 50.0);
    let expected_mm2 = 380.0 * 420.0 + 2.0 * 30.0 * 150.0 + arch_mm2;
    let area_mm2 = tote.draft().front.whole().area_mm2();
    // A cubic's quarter circle is off by 3e-4 of its radius at most.
    assert!((area_mm2 - expected_mm2).abs() < 10.0, "{area_mm2} {expected_mm2}");
    let bare = with(GarmentKind::ToteBag, SizeName::Medium, &[(Measure::HandleDrop, 0.0)]).unwrap();
    assert!((bare.draft().front.whole().area_mm2() - 380.0 * 420.0).abs() < 1e-6);
}

#[test]
fn a_hem_that_rises_to_the_side_keeps_the_length_under_the_neck() {
    let straight = sized(GarmentKind::ShirtDress, SizeName::M);
    let curved = with(GarmentKind::ShirtDress, SizeName::M, &[(Measure::HemRise, 90.0)]).unwrap();
    for measure in [Measure::Length, Measure::HemRise, Measure::HemWidth] {
        let ends = curved.figure_line(measure).unwrap();
        assert!((ends[0].distance(ends[1]) - curved.value_mm(measure).unwrap()).abs() < 1e-6);
        for &i in ends_on_outline(GarmentKind::ShirtDress, measure) {
            assert!(distance_mm(&curved.draft().front, ends[i]) < 1e-6, "{measure} end {i}");
        }
    }
    assert!(polygon(&curved.draft().front).is_valid());
    assert!(curved.draft().front.half().area_mm2() < straight.draft().front.half().area_mm2());
    assert!(
        refusal(GarmentKind::ShirtDress, SizeName::Age4, &[(Measure::HemRise, 245.0), (Measure::WaistDepth, 280.0)])
            .contains("the waist lies at the hem")
    );
}

#[test]
fn a_measurement_given_wins_and_the_rest_follows_it() {
    let tee = with(GarmentKind::CrewTee, SizeName::M, &[(Measure::HalfChest, 559.0)]).unwrap();
    let origin = |measure| tee.measurements().iter().find(|m| m.measure == measure).map(|m| (m.value_mm, m.origin, m.status));
    assert_eq!(origin(Measure::HalfChest), Some((559.0, Origin::Overridden, None)));
    assert_eq!(origin(Measure::Length), Some((736.6, Origin::SizeTable, Some(SourceStatus::Practice))));
    assert_eq!(origin(Measure::HemWidth), Some((559.0, Origin::Derived, Some(SourceStatus::Practice))));
    assert_eq!(origin(Measure::BagWidth), None);
}

#[test]
fn a_garment_needs_no_size_if_it_is_measured() {
    let raw = RawMeasures { half_chest_mm: Some(500.0), length_mm: Some(720.0), ..RawMeasures::default() };
    assert!(Garment::new(GarmentKind::CrewTee, None, &raw).is_ok());
    let raw = RawMeasures { half_chest_mm: Some(500.0), ..RawMeasures::default() };
    let e = Garment::new(GarmentKind::CrewTee, None, &raw).unwrap_err();
    assert!(
        e.to_string().starts_with("length_mm: missing, and a crew-neck tee needs it; give it, or choose a size: 0-3 months, "),
        "{e}"
    );
}

#[test]
fn what_does_not_fit_is_refused_by_name() {
    let tee = |given: &[(Measure, f64)]| refusal(GarmentKind::CrewTee, SizeName::M, given);
    let cases = [
        (
            tee(&[(Measure::NeckWidth, 400.0), (Measure::ShoulderToShoulder, 380.0)]),
            "neck_width_mm: 400 mm with shoulder_to_shoulder_mm 380 mm: the neck is wider than the shoulders leave room for; give at \
             most 360 mm, or change shoulder_to_shoulder_mm",
        ),
        (
            tee(&[(Measure::ArmholeDepth, 500.0), (Measure::Length, 480.0)]),
            "length_mm: 480 mm with armhole_depth_mm 500 mm: the armhole reaches below the garment; give at least 540 mm, or change \
             armhole_depth_mm",
        ),
        (
            tee(&[(Measure::FrontNeckDrop, 300.0)]),
            "front_neck_drop_mm: 300 mm with armhole_depth_mm 264 mm: a round neck ends above the underarm; give at most 264 mm, or \
             change armhole_depth_mm",
        ),
        (tee(&[(Measure::HalfChest, 20.0)]), "half_chest_mm: 20 mm is outside the plausible range; give 120 to 1100 mm"),
        (tee(&[(Measure::HalfChest, f64::NAN)]), "half_chest_mm: NaN is not a length; give 120 to 1100 mm"),
        (
            refusal(GarmentKind::ToteBag, SizeName::Small, &[(Measure::SleeveLength, 200.0)]),
            "sleeve_length_mm: not a measurement of a tote bag; it has bag_width_mm, bag_height_mm, handle_drop_mm, handle_width_mm \
             and handle_spacing_mm",
        ),
        (
            refusal(GarmentKind::InfantBodysuit, SizeName::Xl, &[]),
            "\"XL\" is not a size of an infant bodysuit; choose 0-3 months, 3-6 months, 6-12 months, 12-18 months or 18-24 months",
        ),
    ];
    for (said, expected) in cases {
        assert_eq!(said, expected);
    }
}

#[test]
fn the_limit_that_a_refusal_names_is_accepted() {
    let cases = [
        (GarmentKind::CrewTee, Measure::ShoulderToShoulder, 900.0),
        (GarmentKind::CrewTee, Measure::ShoulderDrop, 180.0),
        (GarmentKind::CrewTee, Measure::SleeveOpening, 300.0),
        (GarmentKind::CrewTee, Measure::HemWidth, 1200.0),
        (GarmentKind::CrewTee, Measure::HemWidth, 210.0),
        (GarmentKind::LongSleeveTee, Measure::SleeveFall, 640.0),
        (GarmentKind::CrewTee, Measure::BackNeckDrop, 400.0),
        (GarmentKind::CrewTee, Measure::BackNeckDrop, 120.0),
        (GarmentKind::CrewTee, Measure::FrontNeckDrop, 5.0),
        (GarmentKind::VNeckTee, Measure::FrontNeckDrop, 500.0),
        (GarmentKind::Tank, Measure::AcrossFront, 400.0),
        (GarmentKind::Tank, Measure::AcrossBack, 75.0),
        (GarmentKind::Tank, Measure::ShoulderDrop, 50.0),
        (GarmentKind::HoodedTop, Measure::HoodDepth, 110.0),
        (GarmentKind::HoodedTop, Measure::HoodHeight, 125.0),
        (GarmentKind::ShirtDress, Measure::WaistDepth, 260.0),
        (GarmentKind::ShirtDress, Measure::WaistWidth, 120.0),
    ];
    for (kind, measure, wrong_mm) in cases {
        let error = with(kind, SizeName::M, &[(measure, wrong_mm)]).expect_err("far out");
        let GarmentError::Mismatch { measure: named, limit_mm, .. } = error else { panic!("{kind:?} {measure}: {error}") };
        assert_eq!(named, measure, "{error}");
        // Another measurement may not fit the new value, but this one is then what was asked for.
        if let Err(GarmentError::Mismatch { measure: named, .. }) = with(kind, SizeName::M, &[(measure, limit_mm)]) {
            assert_ne!(named, measure, "{kind:?} {measure} {limit_mm}");
        }
    }
    let baby =
        [(Measure::CrotchWidth, 200.0), (Measure::LegOpening, 55.0), (Measure::HipWidth, 120.0), (Measure::LegOpening, 340.0)];
    for given in baby {
        let error = with(GarmentKind::InfantBodysuit, SizeName::Months6To12, &[given]).expect_err("far out");
        assert!(matches!(error, GarmentError::Mismatch { .. }), "{error}");
    }
    let bag = with(GarmentKind::ToteBag, SizeName::Small, &[(Measure::HandleSpacing, 255.0)]).expect_err("too wide");
    assert!(matches!(bag, GarmentError::Mismatch { measure: Measure::HandleSpacing, .. }), "{bag}");
}

#[test]
fn files_name_measurements_sizes_and_kinds_in_words() {
    for measure in Measure::ALL {
        let mut raw = RawMeasures::default();
        raw.set(measure, Some(170.5));
        let text = ron::to_string(&MeasuresForm::of(raw.clone())).unwrap();
        assert_eq!(text, format!("({}:Some(170.5))", measure.key()));
        assert_eq!(ron::from_str::<MeasuresForm>(&text).unwrap().live(), raw);
    }
    assert!(ron::from_str::<MeasuresForm>("(neckwidth: Some(170.5))").unwrap_err().to_string().contains("neckwidth"));
    for kind in GarmentKind::ALL {
        assert_eq!(ron::to_string(&GarmentKindForm::of(kind).unwrap()).unwrap(), kind.key());
    }
    for size in SizeName::ALL {
        assert_eq!(size.to_string().parse::<SizeName>().unwrap(), size);
    }
    assert!("huge".parse::<SizeName>().unwrap_err().to_string().starts_with("\"huge\" is not a size; sizes are 0-3 months"));
    assert_eq!(" 2xl ".parse::<SizeName>().unwrap(), SizeName::Xl2);
}

#[test]
fn every_measurement_has_words_and_a_range_that_its_sizes_keep() {
    for measure in Measure::ALL {
        assert!(measure.key().ends_with("_mm") && measure.how_to_measure().ends_with('.'), "{measure}");
        assert!(GarmentKind::ALL.into_iter().any(|kind| kind.measures().any(|m| m == measure)), "{measure} is nobody's");
    }
    for garment in every_size() {
        let own: RawMeasures = garment.values().into();
        let again = Garment::new(garment.kind(), None, &own).unwrap();
        assert_eq!(again.draft(), garment.draft());
    }
}

#[test]
fn washing_scales_length_and_width() {
    let tee = sized(GarmentKind::CrewTee, SizeName::M);
    // ISO 5077 (sign convention from memory): 100 (after - before) / before, so 736.6 mm that end as 699.77 mm have lost 5 %.
    let wash = Wash::new(-5.0, -2.0).unwrap();
    let after = wash.measurements_after(&tee);
    assert!((after.value(Measure::Length).unwrap() - 699.77).abs() < 1e-9);
    assert!((after.value(Measure::HalfChest).unwrap() - 497.84).abs() < 1e-9);
    let [sleeve_mm, before_mm] = [after.value(Measure::SleeveLength), tee.value_mm(Measure::SleeveLength)].map(Option::unwrap);
    assert!((0.95..0.98).contains(&(sleeve_mm / before_mm)), "a slanting sleeve shrinks by something between");
    let (washed, unwashed) = (wash.draft_after(&tee).unwrap().front.half().area_mm2(), tee.draft().front.half().area_mm2());
    assert!((washed / unwashed - 0.95 * 0.98).abs() < 1e-12);
    assert_eq!(Wash::default().draft_after(&tee).unwrap(), *tee.draft());
    let error = Wash::new(5.0, f64::NAN).unwrap_err();
    assert_eq!(
        (error.direction, Wash::new(-31.0, 0.0).is_err(), Wash::new(0.0, 10.0).is_ok()),
        (WashDirection::Width, true, true)
    );
}

fn kind_and_size() -> impl Strategy<Value = (GarmentKind, SizeName)> {
    let all: Vec<_> = GarmentKind::ALL.into_iter().flat_map(|k| k.sizes().into_iter().map(move |s| (k, s.name))).collect();
    prop::sample::select(all)
}

/// A garment with any of its measurements multiplied by a factor.
fn altered(factor: impl Strategy<Value = f64>) -> impl Strategy<Value = (GarmentKind, SizeName, Vec<(Measure, f64)>)> {
    (kind_and_size(), prop::collection::vec(factor, Measure::ALL.len())).prop_map(|((kind, size), factors)| {
        let own = sized(kind, size);
        let off = own.measurements().iter().zip(factors).filter(|(_, f)| (f - 1.0).abs() > 0.0);
        (kind, size, off.map(|(m, f)| (m.measure, m.value_mm * f)).collect())
    })
}

/// Off by up to half or double, most of them left alone.
fn far_off() -> impl Strategy<Value = f64> {
    prop_oneof![3 => Just(1.0), 2 => 0.8_f64..1.25, 1 => 0.5_f64..2.0]
}

proptest! {
    #![proptest_config(seeded(7, 1500))]

    /// Judged by the validity check of a general geometry library: no ring meets itself.
    #[test]
    fn every_accepted_garment_has_simple_outlines_of_its_measurements((kind, size, given) in altered(far_off())) {
        let Ok(garment) = with(kind, size, &given) else { return Ok(()) };
        for panel in [Panel::Front, Panel::Back] {
            let polygon = polygon(garment.draft().panel(panel));
            prop_assert!(polygon.is_valid(), "{panel}");
            prop_assert!(garment.draft().panel(panel).half().area_mm2() > 0.0, "{panel}");
        }
        for m in garment.measurements() {
            let [a, b] = garment.figure_line(m.measure).unwrap();
            prop_assert!((a.distance(b) - m.value_mm).abs() < 1e-6);
        }
    }

    /// The checks of the measurements are what refuses a garment; that an outline crosses itself is the last resort.
    #[test]
    fn a_garment_of_other_proportions_is_never_refused_for_its_outline((kind, size, given) in altered(0.85_f64..1.18)) {
        if let Err(e) = with(kind, size, &given) {
            prop_assert!(!matches!(e, GarmentError::OutlineCrosses { .. }), "{e}");
        }
    }

    /// A shirt off its size by a few per cent anywhere is an everyday shirt.
    #[test]
    fn a_garment_a_little_off_its_size_is_accepted((kind, size, given) in altered(0.97_f64..1.03)) {
        let garment = with(kind, size, &given);
        prop_assert!(garment.is_ok(), "{garment:?}");
    }
}
