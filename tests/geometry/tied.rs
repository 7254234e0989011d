//! Several ties on one garment: which cloth each takes, against closed forms and general clipping.

use crate::common::fold_laws::{self, EXACT};
use crate::common::seeded::seeded;
use crate::common::{curved_panel, polygon, rows};
use geo::{Area, BooleanOps, MultiPolygon, Polygon};
use kurbo::{BezPath, PathEl, Point};
use pleatwright::geometry::*;
use proptest::prelude::*;
use std::f64::consts::TAU;
use std::sync::Arc;

fn burst(centring: Centring, at: Point, panels: &PanelSet) -> Arc<Folded> {
    let centre = Centre::BelowShoulder { from_centre_line_mm: at.x, below_shoulder_mm: at.y };
    let spec =
        BurstSpec { centring, centre, guide_radius_mm: 60.0, further_arcs_mm: vec![], pleats: Pleats::Count { count: 12 } };
    Arc::new(Folded::Burst(Box::new(BurstFold::new(Burst::new(&spec, panels).unwrap(), panels.clone()))))
}

fn tee() -> PanelSet {
    PanelSet { front: curved_panel(85.0), back: Some(curved_panel(25.0)), top: Top::ShoulderPoint }
}

/// One panel so large that no circle leaves it.
fn sheet() -> PanelSet {
    let half = polygon(&[(0.0, -1000.0), (1000.0, -1000.0), (1000.0, 1000.0), (0.0, 1000.0)]);
    PanelSet { front: PanelOutline::from_half_profile(&open(&half)).unwrap(), back: None, top: Top::ShoulderPoint }
}

/// A closed path left open.
fn open(path: &BezPath) -> BezPath {
    path.elements().iter().filter(|element| !matches!(element, PathEl::ClosePath)).copied().collect()
}

/// Ties in their order, each a fold with how far along its last bind sits.
fn tied(folds: &[(Arc<Folded>, f64)]) -> Vec<TiedFold> {
    let mut taken: Vec<Taken> = Vec::new();
    let one = |(folded, until_mm): &(Arc<Folded>, f64)| {
        let fold = TiedFold::new(folded.clone(), *until_mm, &taken);
        taken.push(fold.taken().clone());
        fold
    };
    folds.iter().map(one).collect()
}

fn area_mm2(fold: &TiedFold) -> PanelPair<f64> {
    fold.cut(fold.taken().until_mm()).map(|cut| cut.area_mm2)
}

/// Source: the lens of two circles, closed form, `tests/reference/geometry_reference.csv`.
#[test]
fn what_two_bursts_have_in_common_is_a_lens() {
    let mut checked = 0;
    for row in rows("geometry_reference.csv").iter().filter(|row| row[0] == "circle_circle_lens") {
        let numbers: Vec<f64> = row[1].split_whitespace().map(|part| part[2..].parse().unwrap()).collect();
        let [big, small, distance] = numbers[..] else { panic!("three numbers in {row:?}") };
        // The table's circles are of any size; ties are some centimetres wide.
        let scale = 200.0 / big;
        let panels = sheet();
        let [first, second] = [0.0, distance * scale].map(|x| burst(Centring::Open, Point::new(x, 0.0), &panels));
        let ties = tied(&[(first, big * scale), (second, small * scale)]);
        let lens_mm2 = row[3].parse::<f64>().unwrap() * scale * scale;
        let circle_mm2 = 0.5 * TAU * (small * scale).powi(2);
        let shared_mm2 = ties[1].shared_mm2().sum();
        assert!((shared_mm2 - lens_mm2).abs() < 1e-4 * circle_mm2, "{row:?}: {shared_mm2} of {lens_mm2} mm2");
        let left_mm2 = area_mm2(&ties[1]).sum();
        assert!((left_mm2 + lens_mm2 - circle_mm2).abs() < 1e-4 * circle_mm2, "{row:?}: {left_mm2} mm2 left");
        checked += 1;
    }
    assert!(checked > 0);
}

fn geo_polygon(path: &BezPath) -> Polygon {
    let mut points = Vec::new();
    kurbo::flatten(path, 1e-3, |element| match element {
        PathEl::MoveTo(at) | PathEl::LineTo(at) => points.push((at.x, at.y)),
        _ => {}
    });
    Polygon::new(points.into(), vec![])
}

fn geo_circle(at: Point, radius_mm: f64) -> MultiPolygon {
    let point = |step: u32| {
        let angle = TAU * f64::from(step) / 1440.0;
        (at.x + radius_mm * angle.cos(), at.y + radius_mm * angle.sin())
    };
    Polygon::new((0..1440).map(point).collect::<Vec<_>>().into(), vec![]).into()
}

/// Three bursts on a garment, one of them mirrored over the fold: each takes what `geo` finds by clipping polygons, and together with the
/// loose cloth they are the garment.
#[test]
fn areas_are_those_of_general_clipping() {
    let panels = tee();
    let at = [Point::new(0.0, 330.0), Point::new(150.0, 420.0), Point::new(330.0, 170.0)];
    let (lays, until_mm) = ([Centring::Nested, Centring::PlainHalf, Centring::Open], [150.0, 110.0, 70.0]);
    let folds: Vec<_> = (0..3).map(|tie| (burst(lays[tie], at[tie], &panels), until_mm[tie])).collect();
    let ties = tied(&folds);
    for (panel, outline) in panels.iter() {
        let mut left: MultiPolygon = geo_polygon(outline.whole().path()).into();
        for (number, tie) in ties.iter().enumerate() {
            let mut circle = geo_circle(at[number], until_mm[number]);
            if lays[number] != Centring::Open {
                circle = circle.union(&geo_circle(Point::new(-at[number].x, at[number].y), until_mm[number]));
            }
            let (taken_mm2, before_mm2) = (left.intersection(&circle).unsigned_area(), left.unsigned_area());
            let own_mm2 = *area_mm2(tie).of(panel);
            assert!((own_mm2 - taken_mm2).abs() < 2e-4 * taken_mm2, "tie {number}, {panel}: {own_mm2} of {taken_mm2} mm2");
            left = left.difference(&circle);
            assert!(left.unsigned_area() < before_mm2);
        }
        let loose_mm2 = *loose_mm2(&panels, ties.iter()).of(panel);
        assert!((loose_mm2 - left.unsigned_area()).abs() < 2e-4 * loose_mm2, "{panel}: {loose_mm2} mm2 loose");
    }
}

/// The second of two ties, the first's cloth partly within it.
fn second(centring: Centring) -> TiedFold {
    let panels = tee();
    let folds = [
        (burst(Centring::Nested, Point::new(0.0, 330.0), &panels), 150.0),
        (burst(centring, Point::new(120.0, 470.0), &panels), 130.0),
    ];
    tied(&folds).remove(1)
}

#[test]
fn a_tie_beside_another_keeps_the_laws_of_folds() {
    for centring in [Centring::Open, Centring::Nested] {
        let fold = second(centring);
        assert!(fold.shared_mm2().sum() > 1000.0 && fold.extent().is_closed);
        for along_mm in [20.3, 71.0, 100.5, 129.0] {
            fold_laws::a_cut_is_the_slope_of_the_area(&fold, along_mm);
            for place in 0..fold.places() {
                fold_laws::joins_are_mutual(&fold, place, along_mm, EXACT);
            }
        }
        fold_laws::cells_hold_the_cloth(&fold, [130, 16], 5e-3);
    }
    // A tie that shares no cloth is marked as any fold is.
    let alone = TiedFold::new(burst(Centring::Nested, Point::new(0.0, 330.0), &tee()), 150.0, &[]);
    [20.0, 90.0, 149.0].into_iter().for_each(|along_mm| fold_laws::marks_lie_where_the_map_says(&alone, along_mm));
}

/// Marks of a tie stop where another's cloth begins, and creases at its own last bind.
#[test]
fn marks_stop_at_the_cloth_of_others() {
    let fold = second(Centring::Open);
    let first = Taken::new(burst(Centring::Nested, Point::new(0.0, 330.0), &tee()), 150.0);
    let drawn = fold.parallel(&[Panel::Front], 120.0);
    let drawn_mm: f64 = drawn.iter().map(Stretch::length_mm).sum();
    assert!((drawn_mm - fold.cut(120.0).front.cloth_mm).abs() < 0.05, "{drawn_mm} mm");
    for point in drawn.iter().flat_map(|stretch| stretch.flattened(0.5)) {
        let cloth = ClothPoint { panel: Panel::Front, x_mm: point.x, y_mm: point.y };
        assert!(first.beyond_mm(cloth) > -1e-3, "{point:?}");
    }
    for crease in fold.creases(5.0) {
        let ends = [crease.line.p0, crease.line.p1].map(|end| fold.along_as_laid_mm(end));
        assert!(ends.iter().all(|along_mm| (4.9..130.01).contains(along_mm)), "{ends:?}");
    }
}

proptest! {
    #![proptest_config(seeded(97, 256))]

    /// Every point of the cloth belongs to one tie at the most: the first whose last bind it lies within.
    #[test]
    fn cloth_has_one_owner(x in -400.0..400.0, y in 0.0..720.0, back: bool, lay in 0..3_usize) {
        let panels = tee();
        let centring = [Centring::Nested, Centring::PlainHalf, Centring::Open][lay];
        let folds = [
            (burst(centring, Point::new(0.0, 330.0), &panels), 150.0),
            (burst(Centring::Open, Point::new(150.0, 420.0), &panels), 110.0),
            (burst(centring, Point::new(-180.0, 500.0), &panels), 160.0),
        ];
        let ties = tied(&folds);
        let taken: Vec<Taken> = ties.iter().map(|tie| tie.taken().clone()).collect();
        let point = ClothPoint { panel: if back { Panel::Back } else { Panel::Front }, x_mm: x, y_mm: y };
        let holders: Vec<usize> = (0..3).filter(|&tie| ties[tie].to_bundle(point).is_some()).collect();
        let owned: Vec<usize> = owner(&taken, point).into_iter().collect();
        prop_assert_eq!(&holders, &owned);
        for &tie in &holders {
            let there = ties[tie].to_bundle(point).unwrap();
            fold_laws::there_and_back(&ties[tie], there, EXACT);
        }
    }
}

/// Round a burst drawn up to a knot the ring at `r` has `2 pi r` of cloth on a circle of `2 pi (r - d)`.
#[test]
fn cloth_crowds_round_a_tie() {
    let taken = Taken::new(burst(Centring::Open, Point::new(0.0, 330.0), &tee()), 100.0);
    let at = |away_mm: f64| crowding(&taken, ClothPoint { panel: Panel::Front, x_mm: away_mm, y_mm: 330.0 });
    assert!((at(200.0) - 2.0).abs() < 1e-12 && (at(400.0) - 4.0 / 3.0).abs() < 1e-12 && at(50.0).is_infinite());
}
