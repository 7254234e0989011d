//! The geometry against figures from outside the project, and the laws that it must keep.

#![allow(clippy::unwrap_used, clippy::cast_possible_truncation, reason = "a failed unwrap is a failed test")]

use crate::common;
use common::fold_laws::{self, EXACT};
use common::seeded::seeded;
use common::{curved_panel, polygon, rows};
use geo::{Area, BooleanOps, Length as _};
use kurbo::{Circle, PathEl, Point, Shape};
use pleatwright::geometry::*;
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

/// The outline of a half disc of radius 1 round (0, 0) would be round; a long rectangle under a chord gives the handbook's segment.
fn segment_above_chord(radius: f64, height: f64) -> DiscMeasure {
    let chord_y = radius - height;
    let strip = Outline::from_path(&polygon(&[
        (-9.0 * radius, chord_y),
        (9.0 * radius, chord_y),
        (9.0 * radius, 9.0 * radius),
        (-9.0 * radius, 9.0 * radius),
    ]));
    DiscCutter::new(&strip.unwrap(), Point::ZERO).measure(radius)
}

/// Source: worked example of circular segments in engineering handbooks (chord 21, height 6), and the table "segments of circles
/// for radius = 1" by its closed form. `tests/reference/geometry_reference.csv`.
#[test]
fn handbook_circular_segments() {
    let value = |case: &str, input: &str, quantity: &str| -> f64 {
        let found = rows("geometry_reference.csv").into_iter().find(|r| r[0] == case && r[1] == input && r[2] == quantity);
        found.expect("a row of the reference table")[3].parse().unwrap()
    };
    let worked = |quantity| value("segment", "chord=21 height=6", quantity);
    let measure = segment_above_chord(worked("radius"), 6.0);
    assert_close!(measure.area_mm2, worked("segment_area"), 1e-6);
    assert_close!(measure.arc_mm, worked("arc"), 1e-6);
    for angle in [30, 60, 90, 120, 150, 180] {
        let table = |quantity| value("segment_unit_radius", &format!("angle={angle}"), quantity);
        let measure = segment_above_chord(1.0, table("height"));
        assert_close!(measure.area_mm2, table("segment_area"), 2e-9, "{angle} degrees");
        assert_close!(measure.arc_mm, table("arc"), 2e-9, "{angle} degrees");
    }
}

/// Source: lens of two circles, closed form, `tests/reference/geometry_reference.csv`. The outline is a circle of cubics, fitted to
/// 1e-9 of its radius.
#[test]
fn lens_of_two_circles() {
    for row in rows("geometry_reference.csv").iter().filter(|row| row[0] == "circle_circle_lens") {
        let numbers: Vec<f64> = row[1].split_whitespace().map(|part| part[2..].parse().unwrap()).collect();
        let [big, small, distance] = numbers[..] else { panic!("three numbers in {row:?}") };
        let outline = Outline::from_path(&Circle::new((distance, 0.0), small).to_path(1e-9 * small)).unwrap();
        let area: f64 = row[3].parse().unwrap();
        assert_close!(DiscCutter::new(&outline, Point::ZERO).measure(big).area_mm2, area, 1e-7 * area);
    }
}

fn fixture() -> Vec<(f64, f64)> {
    let text = std::fs::read_to_string(common::reference("outline_fixture.json")).unwrap();
    let json: serde_json::Value = serde_json::from_str(&text).unwrap();
    let pair = |v: &serde_json::Value| (v[0].as_f64().unwrap(), v[1].as_f64().unwrap());
    let mut vertices: Vec<_> = json["vertices"].as_array().unwrap().iter().map(pair).collect();
    if polygon(&vertices).area() < 0.0 {
        vertices.reverse();
    }
    vertices
}

/// Source: exact areas and arcs of 40 discs over a shirt-like polygon, closed form, agreeing with shapely and a raster.
#[test]
fn discs_over_the_fixture() {
    let outline = Outline::from_path(&polygon(&fixture())).unwrap();
    assert_close!(outline.area_mm2(), 422_075.0, 1e-9);
    let mut checked = 0;
    for row in rows("outline_fixture_rings.csv") {
        let n: Vec<f64> = row.iter().map(|cell| cell.parse().unwrap()).collect();
        let measure = DiscCutter::new(&outline, Point::new(n[0], n[1])).measure(n[2]);
        assert_close!(measure.area_mm2, n[3], 0.01, "{row:?}");
        assert_close!(measure.arc_mm, n[6], 1e-4, "{row:?}");
        checked += 1;
    }
    assert_eq!(checked, 40);
}

/// Independent reference: polygon clipping by the `geo` crate, both curves flattened to 1e-4 mm.
#[test]
fn section_areas_agree_with_a_general_geometry_library() {
    let panel = curved_panel(85.0);
    let centre = Point::new(0.0, 300.0);
    let cutter = DiscCutter::new(panel.half(), centre);
    let cloth = geo_polygon(panel.half().path().elements());
    for radius in [20.0, 120.0, 235.0, 310.0, 402.0] {
        let disc = geo_polygon(Circle::new(centre, radius).to_path(1e-6).elements());
        let clipped = cloth.intersection(&disc).unsigned_area();
        assert_close!(cutter.measure(radius).area_mm2, clipped, 1e-6 * clipped, "radius {radius}");
    }
}

/// Independent reference: the ring clipped to the cloth as it is laid by the `geo` crate. A mirrored pair is pleated about its centre on
/// the folded half, where a ring ends at the fold.
#[test]
fn rings_are_whole_up_to_where_a_general_geometry_library_breaks_them() {
    let cases = [
        (Centring::Nested, 88.8, 300.0),
        (Centring::PlainHalf, -88.8, 300.0),
        (Centring::Nested, 200.0, 250.0),
        (Centring::Nested, 3.0, 420.0),
        (Centring::Nested, 0.0, 300.0),
        (Centring::Open, 88.8, 300.0),
        (Centring::Open, -60.0, 120.0),
    ];
    for (centring, x, y) in cases {
        let fold = BurstFold::new(burst(centring, x, y, 235.0, 18), panels());
        let centre = fold.burst().centre_as_laid();
        for (panel, outline) in panels().iter() {
            let on_a_half = centring != Centring::Open && x != 0.0;
            let cloth = if on_a_half { outline.half() } else { outline.whole() };
            let cloth = geo_polygon(cloth.path().elements());
            let whole_share = |radius: f64| {
                let ring = geo_polygon(Circle::new(centre, radius).to_path(1e-6).elements()).exterior().clone();
                let around = geo::Euclidean.length(&ring);
                geo::Euclidean.length(&cloth.clip(&geo::MultiLineString::new(vec![ring]), false)) / around
            };
            let to_mm = fold.whole_ring_to_mm(panel);
            let (inside, outside) = (whole_share(to_mm - 0.01), whole_share(to_mm + 1.0));
            let case = format!("{centring:?} {x} {y} {panel}: whole up to {to_mm}");
            assert!(to_mm > 1.0 && inside > 1.0 - 1e-6, "{case}, but a little within it {inside} of the ring lies on cloth");
            assert!(outside < 1.0 - 1e-4, "{case}, but 1 mm beyond it {outside} of the ring lies on cloth");
        }
    }
}

fn geo_polygon(elements: &[PathEl]) -> geo::Polygon<f64> {
    let mut ring = Vec::new();
    kurbo::flatten(elements.iter().copied(), 1e-5, |el| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = el {
            ring.push((p.x, p.y));
        }
    });
    geo::Polygon::new(ring.into(), vec![])
}

/// The two ways to a section's area: the exact area between two radii, and the arc length integrated over them (Gauss-Legendre
/// between the radii at which the arc has a kink).
#[test]
fn section_areas_two_ways() {
    let burst = burst(Centring::Nested, 0.0, 300.0, 235.0, 19);
    let fold = BurstFold::new(burst, panels());
    let edges = [14.0, 60.0, 140.0, 235.0, 300.0, 380.0, 430.0];
    for section in sections(&fold, &edges) {
        for panel in Panel::BOTH {
            let integral = adaptive_integral(&|r| fold.cut(r).of(panel).cloth_mm, section.inner_mm, section.outer_mm, 40);
            let area = *section.area_mm2.of(panel);
            assert_close!(integral, area, 1e-6 * area.max(1.0), "{panel:?} {section:?}");
        }
    }
}

/// Adaptive Simpson (textbook), down to where kinks and square-root ends no longer matter.
fn adaptive_integral(f: &dyn Fn(f64) -> f64, a: f64, b: f64, depth: u32) -> f64 {
    let simpson = |a: f64, b: f64| (b - a) / 6.0 * (f(a) + 4.0 * f(0.5 * (a + b)) + f(b));
    let mid = 0.5 * (a + b);
    let (whole, halves) = (simpson(a, b), simpson(a, mid) + simpson(mid, b));
    if depth == 0 || (depth < 36 && (whole - halves).abs() < 1e-9 * (b - a)) {
        return halves + (halves - whole) / 15.0;
    }
    adaptive_integral(f, a, mid, depth - 1) + adaptive_integral(f, mid, b, depth - 1)
}

#[test]
fn sections_add_up_to_the_cloth() {
    let fold = BurstFold::new(burst(Centring::PlainHalf, 0.0, 310.0, 200.0, 15), panels());
    let all: f64 = sections(&fold, &[30.0, 90.0, 200.0, 333.0]).iter().map(|s| s.area_mm2.sum()).sum();
    let cloth: f64 = panels().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
    assert_close!(all, cloth, 1e-9 * cloth);
}

fn panels() -> PanelSet {
    PanelSet { front: curved_panel(85.0), back: Some(curved_panel(25.0)), top: Top::ShoulderPoint }
}

fn burst(centring: Centring, x: f64, y: f64, guide_radius_mm: f64, count: u32) -> Burst {
    let centre = Centre::BelowShoulder { from_centre_line_mm: x, below_shoulder_mm: y };
    let spec = BurstSpec { centring, centre, guide_radius_mm, further_arcs_mm: vec![], pleats: Pleats::Count { count } };
    Burst::new(&spec, &panels()).unwrap()
}

fn any_burst() -> impl Strategy<Value = Burst> {
    let centring = prop_oneof![Just(Centring::Nested), Just(Centring::PlainHalf), Just(Centring::Open)];
    let x = prop_oneof![Just(0.0), -200.0..200.0];
    (centring, x, 120.0..650.0, 20.0..400.0, 1_u32..60).prop_map(|(c, x, y, r, n)| burst(c, x, y, r, n))
}

proptest! {
    #![proptest_config(seeded(39, 256))]

    /// Every point of the cloth has one place in the bundle, and comes back from it to where it was.
    #[test]
    fn every_point_of_the_cloth_has_one_place(burst in any_burst(), x in -400.0..400.0, y in 0.0..720.0, back: bool) {
        let fold = BurstFold::new(burst, panels());
        let panel = if back { Panel::Back } else { Panel::Front };
        let cloth = ClothPoint { panel, x_mm: x, y_mm: y };
        let there = fold.to_bundle(cloth).unwrap();
        prop_assert!((0.0..=1.0).contains(&there.across) && there.layer() < fold.places() && there.along_mm >= 0.0);
        let again = fold.to_cloth(there).unwrap();
        prop_assert_eq!(again.panel, panel);
        prop_assert!((again.position() - cloth.position()).hypot() < 1e-9, "{:?} became {:?} through {:?}", cloth, again, there);
    }

    /// A burst keeps the laws of every fold, wherever its centre lies.
    #[test]
    fn a_burst_keeps_the_laws_of_folds(
        burst in any_burst(),
        along in 0.5..400.0,
        across in 0.01..0.99,
        place: prop::sample::Index,
    ) {
        let fold = BurstFold::new(burst, panels());
        let place = u32::try_from(place.index(fold.places() as usize)).unwrap();
        let at = BundlePoint { along_mm: along, across, place: f64::from(place) };
        fold_laws::there_and_back(&fold, at, EXACT);
        fold_laws::keeps_area(&fold, at, EXACT);
        fold_laws::joins_are_mutual(&fold, place, along, EXACT);
        fold_laws::a_cut_is_the_slope_of_the_area(&fold, along);
        fold_laws::marks_lie_where_the_map_says(&fold, along);
    }

    /// Area within a radius grows with it, from nothing to the whole outline, and never faster than the arc says.
    #[test]
    fn disc_area_is_monotone(x in -300.0..300.0, y in -50.0..800.0, r in 0.0..900.0_f64, dr in 0.0..50.0_f64) {
        let outline = curved_panel(85.0);
        let cutter = DiscCutter::new(outline.whole(), Point::new(x, y));
        let (inner, outer) = (cutter.measure(r), cutter.measure(r + dr));
        prop_assert!(inner.area_mm2 <= outer.area_mm2 + 1e-7);
        prop_assert!(inner.arc_mm <= TAU * r + 1e-9);
        let all = cutter.measure(cutter.farthest_mm() + 1.0);
        prop_assert!((all.area_mm2 - outline.whole().area_mm2()).abs() < 1e-6 && all.arc_mm < 1e-6);
        prop_assert_eq!(cutter.measure(0.0), DiscMeasure::default());
    }
}

/// On the fold, beside it and laid open the cells hold the cloth that the outline encloses.
#[test]
fn the_cells_of_a_burst_hold_its_cloth() {
    for (centring, x) in [(Centring::Nested, 0.0), (Centring::PlainHalf, 88.8), (Centring::Open, -60.0)] {
        let fold = BurstFold::new(burst(centring, x, 300.0, 235.0, 18), panels());
        fold_laws::cells_hold_the_cloth(&fold, [400, 16], 2e-3);
    }
}

/// A crease of a half turn at the fold leads on into the other half of the same panel, and a full turn closes.
#[test]
fn the_first_and_the_last_pleat_are_joined_as_the_garment_is() {
    let fold = BurstFold::new(burst(Centring::Nested, 0.0, 300.0, 235.0, 19), panels());
    // Nested: front left, front right, back right, back left.
    assert_eq!((fold.mates(0)[0], fold.mates(2)[0]), (Some(1), Some(3)));
    let closed = BurstFold::new(burst(Centring::Open, 0.0, 300.0, 235.0, 18), panels());
    assert_eq!(closed.mates(0)[0], Some(closed.places() - 1));
    let single = PanelSet { front: curved_panel(85.0), back: None, top: Top::UpperEdge };
    let once = BurstFold::new(burst(Centring::Open, 0.0, 300.0, 235.0, 2), single);
    assert_eq!((once.mates(0), once.mates(1)), ([Some(1); 2], [Some(0); 2]));
}

/// Each layer of the stack is one half of one panel; nested, the halves of a panel touch; plain, the fronts touch.
#[test]
fn layer_orders() {
    let order = |centring| {
        let fold = BurstFold::new(burst(centring, 0.0, 300.0, 235.0, 19), panels());
        (0..fold.layers())
            .map(|place| {
                let cloth = fold.to_cloth(BundlePoint { along_mm: 100.0, across: 0.5, place: f64::from(place) }).unwrap();
                format!("{} {}", cloth.panel.name(), if cloth.x_mm > 0.0 { "left" } else { "right" })
            })
            .collect::<Vec<_>>()
    };
    assert_eq!(order(Centring::Nested), ["front left", "front right", "back right", "back left"]);
    assert_eq!(order(Centring::PlainHalf), ["back left", "front left", "front right", "back right"]);
}

/// Isoperimetric identity: the disc of girth g has area g^2 / 4 pi, so girth and cross-section of a bound rod determine each other.
#[test]
fn girth_is_a_discs() {
    let fold = BurstFold::new(burst(Centring::Nested, 0.0, 300.0, 235.0, 19), panels());
    let cloth = Cloth::default();
    for r in [20.0, 150.0, 235.0, 330.0] {
        let size = rod_size(&fold, &cloth, r);
        let section_mm2 = size.cloth_mm * cloth.pressed_thickness_mm / cloth.packing;
        assert_close!(size.bound_girth_mm * size.bound_girth_mm, 4.0 * PI * section_mm2, 1e-9 * section_mm2);
        assert_close!(size.layers * size.width_mm, size.cloth_mm, 1e-9);
    }
    // Where all the cloth is present the stack has every layer of every pleat.
    assert_close!(rod_size(&fold, &cloth, 150.0).layers, f64::from(fold.places()), 1e-9);
}

#[test]
fn pleats_follow_from_depth() {
    let spec = |pleats| BurstSpec {
        centring: Centring::Nested,
        centre: Centre::AboveMiddle { from_centre_line_mm: 0.3, above_middle_mm: 57.5 },
        guide_radius_mm: 235.0,
        further_arcs_mm: vec![],
        pleats,
    };
    let burst = Burst::new(&spec(Pleats::Depth { depth_mm: 38.0 }), &panels()).unwrap();
    // pi 235 / 38 = 19.43
    assert_eq!((burst.pleats(), burst.creases_rad().len()), (19, 20));
    assert_eq!(burst.centre(), Point::new(0.0, 300.0));
    assert!(matches!(Burst::new(&spec(Pleats::Count { count: 0 }), &panels()), Err(BurstError::PleatCount { .. })));
    assert!(matches!(Burst::new(&spec(Pleats::Depth { depth_mm: f64::NAN }), &panels()), Err(BurstError::Length { .. })));
    assert!(matches!(Burst::new(&spec(Pleats::Depth { depth_mm: 0.1 }), &panels()), Err(BurstError::PleatCount { .. })));
}

#[test]
fn a_centre_off_the_cloth_is_refused() {
    let centre = Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 5.0 };
    let spec = BurstSpec {
        centring: Centring::Open,
        centre,
        guide_radius_mm: 100.0,
        further_arcs_mm: vec![],
        pleats: Pleats::Count { count: 8 },
    };
    let refusal = Burst::new(&spec, &panels()).unwrap_err().to_string();
    assert!(refusal.contains("or 25 to 715 mm below the shoulder point"), "{refusal}");
}

/// A bandana has one layer, two when folded.
#[test]
fn cloth_of_one_panel() {
    let panels = PanelSet { front: curved_panel(85.0), back: None, top: Top::UpperEdge };
    let fold = BurstFold::new(burst(Centring::Nested, 0.0, 300.0, 235.0, 19), panels);
    assert_eq!((fold.layers(), fold.places()), (2, 38));
    assert_eq!(fold.cut(100.0).back, Cut::default());
    assert_close!(fold.cut(100.0).front.cloth_mm, TAU * 100.0, 1e-9);
    let right = fold.to_cloth(BundlePoint { along_mm: 100.0, across: 0.5, place: 1.0 }).unwrap();
    assert!(right.panel == Panel::Front && right.x_mm < 0.0);
}

#[test]
fn binds_are_tied_from_the_guide_arc_inward_then_outward() {
    assert_eq!(tying_order(6, 3), [3, 2, 1, 0, 4, 5]);
    assert_eq!(tying_order(1, 0), [0]);
}
