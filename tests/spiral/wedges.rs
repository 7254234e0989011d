//! The cloth of a wedge, against the library `geo`, which clips polygons by other means, and against formulas.

use crate::bodies::{at, disc, fold, folds, spec, tee, tightest};
use geo::{Area as _, BooleanOps as _};
use kurbo::PathEl;
use pleatwright::geometry::*;
use std::f64::consts::PI;

/// An outline as straight lines, so finely that what lies between counts for less than the tolerance.
fn geo_outline(outline: &Outline) -> geo::Polygon<f64> {
    let mut points: Vec<geo::Coord> = Vec::new();
    kurbo::flatten(outline.path().iter(), 1e-3, |element| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element {
            points.push(geo::Coord { x: p.x, y: p.y });
        }
    });
    geo::Polygon::new(geo::LineString::new(points), vec![])
}

/// Bands at even distances, so that there are so many wedges; the first at a distance from the zero.
fn bands(fold: &SpiralFold, wedges: u32, first_mm: f64) -> Vec<f64> {
    (0..wedges).map(|band| first_mm + f64::from(band) / f64::from(wedges) * fold.length_mm()).collect()
}

/// A wedge as a polygon on the laid cloth: out along one side, round, and back along the other.
fn wedge(fold: &SpiralFold, [from_mm, to_mm]: [f64; 2]) -> geo::Polygon<f64> {
    let (places, steps) = (f64::from(fold.places()), 3000);
    let corner = |along_mm: f64, out: f64| {
        let place = out * places - 0.5;
        let cloth = fold.to_cloth(BundlePoint { along_mm: along_mm.rem_euclid(fold.length_mm()), across: 0.5, place }).unwrap();
        geo::Coord { x: cloth.x_mm, y: cloth.y_mm }
    };
    // The cloth is sparse where it ends: finer there.
    let out = |step: i32| (0.5 * PI * f64::from(step) / f64::from(steps)).sin();
    let mut ring: Vec<geo::Coord> = (0..=steps).map(|step| corner(from_mm, out(step))).collect();
    ring.extend((0..=200).map(|step| corner(from_mm + f64::from(step) / 200.0 * (to_mm - from_mm), 1.0)));
    ring.extend((0..=steps).rev().map(|step| corner(to_mm, out(step))));
    geo::Polygon::new(geo::LineString::new(ring), vec![])
}

/// Wedges are what `geo` clips of both panels, also the one that runs over the zero.
#[test]
fn wedges_are_what_geo_clips() {
    for (name, fold) in folds().into_iter().filter(|(_, fold)| !fold.lay().is_folded()) {
        for section in sections(&fold, &bands(&fold, 6, 20.0)) {
            let wedge = wedge(&fold, [section.inner_mm, section.outer_mm]);
            for (panel, outline) in fold.lay().panels().iter() {
                let expected = geo_outline(outline.whole()).intersection(&wedge).unsigned_area();
                let found = section.area_mm2.of(panel);
                assert!((found / expected - 1.0).abs() < 2e-3, "{name}, {panel}, {section:?}: {found} of {expected}");
            }
        }
    }
}

/// Together wedges are the cloth, whatever the bands; on a tee they are not equal.
#[test]
fn wedges_add_up_to_the_cloth() {
    for (name, fold) in folds() {
        let cloth_mm2: f64 = fold.lay().panels().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
        for (wedges, first_mm) in [(1, 0.0), (1, 77.0), (4, 0.0), (6, 31.0), (10, 5.0)] {
            let sections = sections(&fold, &bands(&fold, wedges, first_mm));
            assert_eq!(sections.len(), wedges as usize, "{name}");
            let held: f64 = sections.iter().map(|section| section.area_mm2.sum()).sum();
            assert!((held / cloth_mm2 - 1.0).abs() < 1e-9, "{name}: {held} of {cloth_mm2}");
            let long_mm: f64 = sections.iter().map(Section::length_mm).sum();
            assert!((long_mm - fold.length_mm()).abs() < 1e-9);
        }
        assert_eq!(sections(&fold, &[]).len(), 1);
    }
    let fold = tightest(&spec(), tee());
    let six = sections(&fold, &bands(&fold, 6, 0.0));
    let all: f64 = six.iter().map(|section| section.area_mm2.sum()).sum();
    let shares: Vec<f64> = six.iter().map(|section| section.area_mm2.sum() / all).collect();
    assert!(shares.iter().all(|share| (0.12..0.24).contains(share)), "{shares:?}");
    assert!(shares.iter().copied().fold(0.0, f64::max) > 0.18, "{shares:?}");
}

/// A disc pinched in its middle is cut into equal wedges however it is twisted, and a cut meets `R^2 / 2 P` of it.
#[test]
fn a_disc_is_cut_into_equal_wedges() {
    for turns in [0.3, 1.7] {
        let spec = SpiralSpec { centre: at(0.0, 300.0), puck_diameter_mm: 160.0, puck_height_mm: Some(30.0), turns, ..spec() };
        let fold = fold(&spec, disc(300.0));
        for section in sections(&fold, &bands(&fold, 8, 13.0)) {
            let expected = PI * 300.0 * 300.0 / 8.0;
            assert!((section.area_mm2.sum() / expected - 1.0).abs() < 1e-4, "{section:?}");
        }
        for along_mm in [10.0, 200.0, 420.0] {
            let cut_mm = fold.cut(along_mm).front.cloth_mm;
            assert!((cut_mm / (300.0 * 300.0 / 160.0) - 1.0).abs() < 1e-4, "{cut_mm}");
        }
    }
}
