//! What every way of folding up cloth keeps, whichever it is. Each law takes a bundle and places in it, and says what broke.

use pleatwright::geometry::{Bundle, BundlePoint, Fold, Panel};

/// How exactly a bundle keeps the laws.
#[derive(Debug, Clone, Copy)]
pub struct Exactness {
    /// How far from where it was a point may come back to, mm.
    pub back_mm: f64,
    /// How much a cell's area may differ from that of its cloth, as a share.
    pub area: f64,
}

/// For what is computed in closed form.
pub const EXACT: Exactness = Exactness { back_mm: 1e-9, area: 1e-5 };

/// A place that holds cloth and comes back from it to itself; a place that has ended holds none.
pub fn there_and_back(bundle: &dyn Bundle, at: BundlePoint, exactness: Exactness) {
    let Some(cloth) = bundle.to_cloth(at) else { return };
    let again = bundle.to_bundle(cloth).unwrap_or_else(|| panic!("{at:?} holds {cloth:?}, which is nowhere"));
    let slip =
        |name: &str, off: f64, most: f64| assert!(off.abs() <= most, "{at:?} holds {cloth:?}, at {again:?}: {name} off by {off}");
    slip("place", again.place - at.place, 0.0);
    slip("along", again.along_mm - at.along_mm, exactness.back_mm);
    let width_mm = bundle.cell(at.along_mm..at.along_mm, at.layer(), 0.0..1.0).width_mm;
    // A point of the cloth is only as exact as its coordinates are.
    slip("across", (again.across - at.across) * width_mm, 100.0 * exactness.back_mm);
    let back = bundle.to_cloth(again).unwrap_or_else(|| panic!("{again:?} has ended"));
    assert_eq!(back.panel, cloth.panel);
    assert!(back.position().distance(cloth.position()) <= exactness.back_mm, "{cloth:?} came back as {back:?}");
}

/// Cloth is neither stretched nor shrunk: a small cell has the area of the cloth that it holds.
pub fn keeps_area(bundle: &dyn Bundle, at: BundlePoint, exactness: Exactness) {
    let (da, du) = (1e-3, 1e-4);
    let cloth = |along: f64, across: f64| {
        bundle.to_cloth(BundlePoint { along_mm: at.along_mm + along * da, across: at.across + across * du, place: at.place })
    };
    let corners = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)].map(|(along, across)| cloth(along, across));
    let [Some(outward), Some(inward), Some(onward), Some(backward)] = corners else { return };
    let held_mm2 = (outward.position() - inward.position()).cross(onward.position() - backward.position()).abs();
    let cell = bundle.cell(at.along_mm - da..at.along_mm + da, at.layer(), at.across - du..at.across + du);
    let cell_mm2 = cell.length_mm * cell.width_mm;
    assert!((held_mm2 / cell_mm2 - 1.0).abs() <= exactness.area, "{at:?}: {held_mm2} mm2 of cloth in a cell of {cell_mm2} mm2");
}

/// Joined places name each other at an edge, and there they hold the same point of the cloth.
pub fn joins_are_mutual(bundle: &dyn Bundle, place: u32, along_mm: f64, exactness: Exactness) {
    for (end, mate) in bundle.mates(place).into_iter().enumerate() {
        let Some(mate) = mate else { continue };
        assert!(mate < bundle.places() && mate != place, "place {place} is joined to {mate} of {}", bundle.places());
        let at = |place: u32, end: usize| {
            let across = if end == 0 { 0.0 } else { 1.0 };
            bundle.to_cloth(BundlePoint { along_mm, across, place: f64::from(place) })
        };
        // Two pleats round a full turn are joined at both ends.
        let back = (0..2).filter(|&end| bundle.mates(mate)[end] == Some(place));
        assert!(back.clone().count() > 0, "place {place} is joined to {mate}, which does not know of it");
        let apart_mm = back.map(|back| match (at(place, end), at(mate, back)) {
            (Some(own), Some(other)) if own.panel == other.panel => own.position().distance(other.position()),
            (Some(_), Some(_)) => f64::INFINITY,
            // Both have ended, or the hand carried one of them beyond the end.
            _ => 0.0,
        });
        let apart_mm = apart_mm.fold(f64::INFINITY, f64::min);
        assert!(apart_mm <= exactness.back_mm, "places {place} and {mate} meet {apart_mm} mm apart");
    }
}

/// The cloth that a cut meets is the slope of the area up to it.
pub fn a_cut_is_the_slope_of_the_area(bundle: &dyn Bundle, along_mm: f64) {
    let step_mm = 1e-3;
    for panel in Panel::BOTH {
        let at = |along_mm: f64| *bundle.cut(along_mm).of(panel);
        let slope_mm = (at(along_mm + step_mm).area_mm2 - at(along_mm - step_mm).area_mm2) / (2.0 * step_mm);
        let (before, after) = (at(along_mm - step_mm).cloth_mm, at(along_mm + step_mm).cloth_mm);
        // Where the outline is met or left within the step, the cut itself changes.
        let slack_mm = 1e-4 + (after - before).abs();
        let cloth_mm = at(along_mm).cloth_mm;
        assert!((slope_mm - cloth_mm).abs() <= slack_mm, "{panel} at {along_mm} mm: {cloth_mm} mm cut, {slope_mm} by its area");
    }
}

/// All cells together hold the cloth: weighed by what a cut meets, to a share.
pub fn cells_hold_the_cloth(bundle: &dyn Bundle, cells: [u32; 2], share: f64) {
    let [slabs, across] = cells.map(f64::from);
    let cell_mm = bundle.length_mm() / slabs;
    let mut held_mm2 = 0.0;
    for slab in 0..cells[0] {
        let from_mm = f64::from(slab) * cell_mm;
        for place in 0..bundle.places() {
            for column in 0..cells[1] {
                let from = f64::from(column) / across;
                let middle =
                    BundlePoint { along_mm: from_mm + 0.5 * cell_mm, across: from + 0.5 / across, place: f64::from(place) };
                if bundle.to_cloth(middle).is_some_and(|cloth| bundle.has_cloth(cloth)) {
                    let cell = bundle.cell(from_mm..from_mm + cell_mm, place, from..from + 1.0 / across);
                    held_mm2 += cell.length_mm * cell.width_mm;
                }
            }
        }
    }
    let all_mm2: f64 = Panel::BOTH.into_iter().map(|panel| bundle.cut(bundle.length_mm()).of(panel).area_mm2).sum();
    assert!((held_mm2 / all_mm2 - 1.0).abs() <= share, "cells hold {held_mm2} of {all_mm2} mm2");
}

/// What is marked for a distance along lies at that distance, on cloth, and is as long as the cut there.
pub fn marks_lie_where_the_map_says(fold: &dyn Fold, along_mm: f64) {
    for panel in Panel::BOTH.into_iter().filter(|&panel| fold.lay().panels().panel(panel).is_some()) {
        let stretches = fold.parallel(&[panel], along_mm);
        let drawn_mm: f64 = stretches.iter().map(|stretch| fold.lay().centring().halves() * stretch.length_mm()).sum();
        let cut_mm = fold.cut(along_mm).of(panel).cloth_mm;
        assert!((drawn_mm - cut_mm).abs() < 1e-6, "{panel} at {along_mm} mm: {drawn_mm} mm drawn of {cut_mm} mm");
        for point in stretches.iter().flat_map(|stretch| [0.1, 0.5, 0.9].map(|share| stretch.point(share))) {
            let off_mm = fold.along_as_laid_mm(point) - along_mm;
            assert!(off_mm.abs() < 1e-9, "{point:?} is marked for {along_mm} mm, {off_mm} mm off");
            let cloth = (0..fold.layers()).map(|layer| fold.lay().cloth_at(layer, point)).find(|cloth| cloth.panel == panel);
            let cloth = cloth.unwrap_or_else(|| panic!("no layer is the {panel}"));
            let there = fold.to_bundle(cloth).unwrap_or_else(|| panic!("{cloth:?} is marked and not in the bundle"));
            assert!((there.along_mm - along_mm).abs() < 1e-9 && fold.has_cloth(cloth), "{cloth:?} is marked at {there:?}");
        }
    }
    for crease in fold.creases(along_mm) {
        let cloth = fold.lay().cloth_at(0, crease.line.midpoint());
        let across = fold.to_bundle(cloth).map_or(f64::NAN, |there| there.across);
        // Elsewhere the cloth on its two sides is known to be joined.
        let is_joined = fold.joins(cloth, 1e-6).iter().flatten().any(|beyond| beyond.away_mm < 1e-7);
        assert!(is_joined || across.min(1.0 - across).abs() < 1e-7, "a crease runs at {across} across");
    }
}
