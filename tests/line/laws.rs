//! The laws of every fold, over every kind of line.

use crate::bodies::{folds, spec, square};
use crate::common::fold_laws::{self, EXACT};
use crate::common::seeded::seeded;
use kurbo::{BezPath, Point, Vec2};
use pleatwright::geometry::*;
use proptest::prelude::*;
use std::sync::LazyLock;

static FOLDS: LazyLock<Vec<(&'static str, LineFold)>> = LazyLock::new(folds);

proptest! {
    #![proptest_config(seeded(61, 600))]

    /// There and back, area, joins, cuts and marks.
    #[test]
    fn lines_keep_the_laws_of_folds(
        which in 0..9_usize,
        along in 0.01..0.99,
        across in 0.01..0.99,
        place: prop::sample::Index,
    ) {
        let (_, fold) = &FOLDS[which];
        let along = along * fold.length_mm();
        let place = u32::try_from(place.index(fold.places() as usize)).unwrap();
        let at = BundlePoint { along_mm: along, across, place: f64::from(place) };
        fold_laws::there_and_back(fold, at, EXACT);
        fold_laws::keeps_area(fold, at, EXACT);
        fold_laws::joins_are_mutual(fold, place, along, EXACT);
    }
}

proptest! {
    #![proptest_config(seeded(62, 60))]

    #[test]
    fn parallels_of_lines_lie_where_the_map_says(which in 0..9_usize, along in 0.01..0.99) {
        let (_, fold) = &FOLDS[which];
        let along = along * fold.length_mm();
        fold_laws::a_cut_is_the_slope_of_the_area(fold, along);
        fold_laws::marks_lie_where_the_map_says(fold, along);
    }
}

proptest! {
    #![proptest_config(seeded(65, 1000))]

    /// Closed curves of cubics drawn at random are folded or refused with a reason, whatever they are, and the cloth of a folded one is the
    /// garment's.
    #[test]
    fn random_curves_are_folded_or_refused(
        nodes in prop::collection::vec((0.2..1.0_f64, -0.4..0.4_f64, -0.5..0.5_f64), 3..8),
        wild in prop::option::weighted(0.2, (-300.0..300.0_f64, 0.0..640.0_f64)),
        depth_mm in 8.0..60.0_f64,
        guide_mm in -40.0..120.0_f64,
    ) {
        let count = f64::from(u32::try_from(nodes.len()).unwrap());
        let node = |k: usize| {
            let (radius, off, _) = nodes[k % nodes.len()];
            let around = (f64::from(u32::try_from(k).unwrap()) + off) * std::f64::consts::TAU / count;
            (Point::new(0.0, 320.0) + 200.0 * radius * Vec2::from_angle(around), around, 200.0 * radius)
        };
        let mut path = BezPath::new();
        path.move_to(node(0).0);
        for k in 0..nodes.len() {
            let ((from, a, r), (to, b, s)) = (node(k), node(k + 1));
            let handle = |angle: f64, length_mm: f64| length_mm / count * (1.0 + nodes[k].2) * Vec2::from_angle(angle);
            let first = from + handle(a + std::f64::consts::FRAC_PI_2, r);
            let second = wild.map_or(to - handle(b + std::f64::consts::FRAC_PI_2, s), |(x, y)| Point::new(x, y));
            path.curve_to(first, second, if k + 1 == nodes.len() { node(0).0 } else { to });
        }
        path.close_path();
        let pleats = Pleats::Depth { depth_mm };
        let spec = LineSpec { guide_mm, pleats, ..spec(Centring::Open, LineKind::Ring, path) };
        match LineFold::new(&spec, square(640.0)) {
            Err(refusal) => prop_assert!(!refusal.to_string().is_empty()),
            Ok(fold) => {
                let sections = sections(&fold, &[0.3, 0.6].map(|share| share * fold.length_mm()));
                let held: f64 = sections.iter().map(|section| section.area_mm2.sum()).sum();
                prop_assert!((held - 640.0 * 640.0).abs() < 1e-3, "{held} of {}", 640 * 640);
                prop_assert!((fold.turning_rad() - std::f64::consts::TAU).abs() < 1e-6, "turns by {}", fold.turning_rad());
                prop_assert!(sections.iter().all(|section| section.area_mm2.front > -1e-6));
            }
        }
    }
}

/// The cells hold the cloth that the outline encloses.
#[test]
fn the_cells_of_lines_hold_their_cloth() {
    for name in ["heart on the fold", "star laid open", "wave laid open", "ell laid open"] {
        let (_, fold) = FOLDS.iter().find(|(of, _)| *of == name).unwrap();
        fold_laws::cells_hold_the_cloth(fold, [200, 8], 1e-2);
    }
}

/// Together the cells of a layer are as wide as each by itself, wherever creases, corners and ridges part them.
#[test]
fn cells_are_as_wide_together_as_alone() {
    for (name, fold) in FOLDS.iter() {
        for (place, along) in (0..fold.places()).flat_map(|place| [0.02, 0.3, 0.55, 0.9].map(|along| (place, along))) {
            let along_mm = along * fold.length_mm();
            let mut together = [0.0; 16];
            fold.cell_widths_mm(along_mm - 1.0..along_mm + 1.0, place, &mut together);
            for (column, width_mm) in (0_u32..).zip(together) {
                let across = f64::from(column) / 16.0..f64::from(column + 1) / 16.0;
                let alone_mm = fold.cell(along_mm - 1.0..along_mm + 1.0, place, across).width_mm;
                assert!((width_mm - alone_mm).abs() < 1e-9, "{name}, {place} at {along_mm} mm: {width_mm} and {alone_mm} mm");
            }
        }
    }
}

/// All sections together are the cloth, and at the bundle's end a cut meets none.
#[test]
fn sections_add_up_to_the_cloth() {
    for (name, fold) in FOLDS.iter() {
        let binds = [0.1, 0.35, 0.5, 0.8].map(|share| share * fold.length_mm());
        let held: f64 = sections(fold, &binds).iter().map(|section| section.area_mm2.sum()).sum();
        let cloth: f64 = fold.lay().panels().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
        assert!((held - cloth).abs() < 1e-9 * cloth, "{name}: {held} of {cloth}");
        let ends = [0.0, fold.length_mm()].map(|along_mm| fold.cut(along_mm).map(|cut| cut.cloth_mm).sum());
        assert!(ends[1] < 1e-3, "{name}: {ends:?}");
    }
}
