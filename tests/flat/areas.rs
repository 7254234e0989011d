//! Areas and cuts of clipped pieces, against the library `geo`, which clips by other means.

use crate::bodies::tee;
use crate::laws::ALL;
use geo::{Area as _, BooleanOps as _};
use kurbo::{PathEl, Point};
use pleatwright::geometry::*;

/// An outline as straight lines, so finely that what lies between counts for less than the tolerance.
fn geo_outline(outline: &Outline) -> geo::Polygon<f64> {
    let mut points: Vec<geo::Coord> = Vec::new();
    kurbo::flatten(outline.path().iter(), 1e-4, |element| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element {
            points.push(geo::Coord { x: p.x, y: p.y });
        }
    });
    geo::Polygon::new(geo::LineString::new(points), vec![])
}

/// What of the bundle's outline lies before a distance along it.
fn before(fold: &FlatFold, along_mm: f64) -> Vec<Point> {
    let corners = fold.outline();
    let mut kept = Vec::new();
    for (index, &from) in corners.iter().enumerate() {
        let to = corners[(index + 1) % corners.len()];
        if from.x <= along_mm {
            kept.push(from);
        }
        if (from.x < along_mm) != (to.x < along_mm) && from.x != to.x {
            kept.push(from.lerp(to, (along_mm - from.x) / (to.x - from.x)));
        }
    }
    kept
}

/// The part of every place before a distance along, opened and clipped by `geo` against the panel that it is of.
#[test]
fn sections_are_what_geo_clips() {
    // Where pieces reach beyond the garment's own fold they are not whole polygons.
    for (name, fold) in ALL.iter().filter(|(name, _)| !(name.contains("chevrons") || name.contains("beside"))) {
        for share in [0.23, 0.61] {
            let along_mm = share * fold.length_mm();
            let ring = before(fold, along_mm);
            for (panel, outline) in Panel::BOTH.into_iter().filter_map(|panel| Some((panel, fold.lay().outline(panel)?))) {
                let cloth = geo_outline(outline);
                let mut held_mm2 = 0.0;
                for place in 0..fold.places() {
                    let cloth_at = |corner: &Point| {
                        let across = corner.y / fold.size().height;
                        fold.to_cloth(BundlePoint { along_mm: corner.x, across, place: f64::from(place) })
                    };
                    // Half a garment's layers lie where the other half's do: its mirror image counts for it.
                    let Some(corners) = ring.iter().map(cloth_at).collect::<Option<Vec<_>>>() else { continue };
                    if corners[0].panel == panel {
                        let corner = |cloth: &ClothPoint| {
                            let laid = fold.lay().as_laid(*cloth);
                            geo::Coord { x: laid.x, y: laid.y }
                        };
                        let piece = geo::Polygon::new(geo::LineString::new(corners.iter().map(corner).collect()), vec![]);
                        held_mm2 += cloth.intersection(&piece).unsigned_area();
                    }
                }
                let own_mm2 = fold.cut(along_mm).of(panel).area_mm2;
                assert!(
                    (own_mm2 / held_mm2 - 1.0).abs() < 1e-6,
                    "{name}, {panel} to {along_mm} mm: {own_mm2}, by geo {held_mm2}"
                );
            }
        }
    }
}

/// All pieces together are the cloth.
#[test]
fn the_pieces_add_up_to_the_cloth() {
    for (name, fold) in ALL.iter() {
        let held: f64 = Panel::BOTH.into_iter().map(|panel| fold.cut(1e5).of(panel).area_mm2).sum();
        let cloth: f64 = fold.lay().panels().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
        assert!((held / cloth - 1.0).abs() < 1e-10, "{name}: {held} of {cloth}");
        let binds = [0.2, 0.5, 0.8].map(|share| share * fold.length_mm());
        let sections: f64 = sections(fold, &binds).iter().map(|section| section.area_mm2.sum()).sum();
        assert!((sections / cloth - 1.0).abs() < 1e-10, "{name}: {sections} of {cloth}");
    }
}

/// Parallel stripes along the bundle's own way: a cut is a straight line across the tee, whose area `geo` clips by a half plane.
#[test]
fn stripes_are_cut_straight_across_the_garment() {
    let (_, fold) = ALL.iter().find(|(name, _)| *name == "stripes laid open").unwrap();
    let turn = 0.61_f64;
    let (up, right) = (Point::new(turn.sin(), -turn.cos()).to_vec2(), Point::new(turn.cos(), turn.sin()).to_vec2());
    for panel in Panel::BOTH {
        let cloth = geo_outline(tee().panel(panel).unwrap().whole());
        // The bundle begins where the lowest cloth of either panel lies.
        let least =
            Panel::BOTH.into_iter().flat_map(|panel| geo_outline(tee().panel(panel).unwrap().whole()).exterior().0.clone());
        let least = least.map(|p| Point::new(p.x, p.y).to_vec2().dot(up)).fold(f64::INFINITY, f64::min);
        for along_mm in [40.0, 300.0, 555.0] {
            let corner = |across: f64, along: f64| {
                let at = across * right + (least + along) * up;
                geo::Coord { x: at.x, y: at.y }
            };
            let ring = vec![corner(-2e3, -2e3), corner(2e3, -2e3), corner(2e3, along_mm), corner(-2e3, along_mm)];
            let below = geo::Polygon::new(geo::LineString::new(ring), vec![]);
            let expected = cloth.intersection(&below).unsigned_area();
            let found = fold.cut(along_mm).of(panel).area_mm2;
            // Curves of 2 m in all, each straight piece within a ten thousandth of a millimetre.
            assert!((found - expected).abs() < 0.2, "{panel} at {along_mm}: {found} of {expected}");
        }
    }
}
