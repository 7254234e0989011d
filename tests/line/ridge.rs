//! The ridge of lines: where it runs, that the fold is one to one off it, and that it can be folded.

use crate::assert_close;
use crate::bodies::{ellipse, folds, spec, square, tee};
use crate::common::seeded::seeded;
use kurbo::{Affine, Line, ParamCurve as _, Point, Vec2};
use pleatwright::geometry::*;
use proptest::prelude::*;

/// Sources: the evolute of an ellipse has its cusps at +-(a2 - b2)/a on the axis, where the medial axis ends, and the least radius of
/// curvature is b2/a (textbooks of differential geometry). The arcs within 0.05 mm bring the ends within 0.6 mm.
#[test]
fn the_ridge_of_an_ellipse_ends_at_its_evolutes_cusps() {
    let (a, b) = (150.0, 90.0);
    let fold =
        LineFold::new(&spec(Centring::Open, LineKind::Ring, ellipse(Point::new(0.0, 320.0), a, b)), square(640.0)).unwrap();
    let shortest_mm = (0..2000).map(|k| fold.ridge_mm(f64::from(k) / 2000.0)[1]).fold(f64::INFINITY, f64::min);
    assert_close!(shortest_mm, b * b / a, 0.6);
    let inside =
        fold.ridge().into_iter().flat_map(|line| [line.p0, line.p1]).filter(|p| (p.x / a).hypot((p.y - 320.0) / b) < 1.0);
    let points: Vec<Point> = inside.collect();
    let farthest_mm = points.iter().map(|p| p.x.abs()).fold(0.0, f64::max);
    assert_close!(farthest_mm, (a * a - b * b) / a, 0.6);
    for p in points {
        assert_close!(p.y, 320.0, 1e-6);
    }
    // Deepest within lies the middle.
    assert_close!(fold.line_mm(), b, LINE_TOLERANCE_MM);
}

proptest! {
    #![proptest_config(seeded(64, 4000))]

    /// Every point of the cloth has one place, and comes back from it to where it was.
    #[test]
    fn every_point_of_the_cloth_has_one_place(which in 0..9_usize, x in 0.0..1.0, y in 0.0..1.0, back: bool) {
        let (name, fold) = &FOLDS[which];
        let panel = if back { Panel::Back } else { Panel::Front };
        let Some(outline) = fold.lay().panels().panel(panel) else { return Ok(()) };
        let bounds = outline.whole().bounds();
        let cloth = ClothPoint { panel, x_mm: bounds.x0 + x * bounds.width(), y_mm: bounds.y0 + y * bounds.height() };
        if !fold.has_cloth(cloth) {
            return Ok(());
        }
        let there = fold.to_bundle(cloth).unwrap();
        prop_assert!((0.0..=1.0).contains(&there.across) && there.layer() < fold.places());
        prop_assert!((-1e-6..=fold.length_mm() + 1e-6).contains(&there.along_mm), "{} {:?} of {}", name, there, fold.length_mm());
        let again = fold.to_cloth(there).unwrap();
        prop_assert_eq!(again.panel, panel);
        prop_assert!(again.position().distance(cloth.position()) < 1e-8, "{}: {:?} became {:?}", name, cloth, again);
    }

    /// What lies over a ridge lies as far from it, at the same distance along, and back over it is where it was.
    #[test]
    fn over_the_ridge_and_back(which in 0..9_usize, x in 0.0..1.0, y in 0.0..1.0) {
        let (name, fold) = &FOLDS[which];
        let bounds = fold.lay().panels().front.whole().bounds();
        let panel = Panel::Front;
        let cloth = ClothPoint { panel, x_mm: bounds.x0 + x * bounds.width(), y_mm: bounds.y0 + y * bounds.height() };
        if !fold.has_cloth(cloth) {
            return Ok(());
        }
        let [over_fold, over_ridge, ..] = fold.joins(cloth, 3.0);
        if let Some(over) = over_fold {
            prop_assert!(fold.to_bundle(over.point).unwrap().place != fold.to_bundle(cloth).unwrap().place);
        }
        let Some(over) = over_ridge else { return Ok(()) };
        prop_assert!(over.away_mm >= 0.0 && over.away_mm < 3.0);
        let apart_mm = over.point.position().distance(cloth.position());
        prop_assert!((apart_mm - 2.0 * over.away_mm).abs() < 0.6, "{}: {:?} {:?}", name, cloth, over);
        let (here, there) = (fold.to_bundle(cloth).unwrap(), fold.to_bundle(over.point).unwrap());
        prop_assert!((here.along_mm - there.along_mm).abs() < 0.2, "{}: {:?} {:?}", name, here, there);
    }
}

static FOLDS: std::sync::LazyLock<Vec<(&'static str, LineFold)>> = std::sync::LazyLock::new(folds);

/// Where a place lies among all places along the line.
fn order(fold: &LineFold, at: BundlePoint) -> f64 {
    let pleat = at.layer() / fold.layers();
    f64::from(pleat) + if pleat % 2 == 1 { 1.0 - at.across } else { at.across }
}

/// Joins over the ridge at one distance along never cross in the stack, so that it can be folded: of two pairs that are joined there, one
/// lies within the other or beside it.
#[test]
fn joined_places_never_cross() {
    for (name, fold) in FOLDS.iter().filter(|(name, _)| name.contains("heart") || name.contains("star")) {
        let mut pairs: Vec<(f64, f64, f64)> = Vec::new();
        for line in fold.ridge() {
            for share in [0.15, 0.5, 0.85] {
                let at = line.eval(share);
                let cloth = fold.lay().cloth_at(0, at + Vec2::new(1e-3, 1e-3));
                let [_, Some(over), ..] = fold.joins(cloth, 1.0) else { continue };
                let (here, there) = (fold.to_bundle(cloth).unwrap(), fold.to_bundle(over.point).unwrap());
                let (a, b) = (order(fold, here), order(fold, there));
                pairs.push((here.along_mm, a.min(b), a.max(b)));
            }
        }
        assert!(pairs.len() > 40, "{name}: {} pairs", pairs.len());
        let mut compared = 0;
        for (k, one) in pairs.iter().enumerate() {
            for other in &pairs[k + 1..] {
                if (one.0 - other.0).abs() < 1.0 && (one.0 < fold.line_mm()) == (other.0 < fold.line_mm()) {
                    compared += 1;
                    let slack = 0.1;
                    let crosses =
                        |p: &(f64, f64, f64), q: &(f64, f64, f64)| p.1 + slack < q.1 && q.1 + slack < p.2 && p.2 + slack < q.2;
                    assert!(!crosses(one, other) && !crosses(other, one), "{name}: {one:?} {other:?}");
                }
            }
        }
        assert!(compared > 20, "{name}: {compared}");
    }
}

/// Source: the condition of T. Kawasaki and J. Justin (1989): round a point that folds flat, the product of the reflections about its
/// creases is the identity. Two creases of the star end there, and the ridge comes in and goes on.
#[test]
fn creases_that_end_in_pairs_fold_flat() {
    let (_, star) = &FOLDS[2];
    let reflection = |along: Vec2| {
        let (u, v) = (along.x / along.hypot(), along.y / along.hypot());
        Affine::new([2.0 * u * u - 1.0, 2.0 * u * v, 2.0 * u * v, 2.0 * v * v - 1.0, 0.0, 0.0])
    };
    let creases: Vec<Line> = star.creases(0.0).into_iter().map(|crease| crease.line).collect();
    let ends = |line: &Line| [line.p0, line.p1];
    let mut checked = 0;
    for (k, one) in creases.iter().enumerate() {
        for other in &creases[k + 1..] {
            let Some(at) = ends(one).into_iter().find(|p| ends(other).iter().any(|q| p.distance(*q) < 1e-6)) else { continue };
            let ridge: Vec<Line> =
                star.ridge().into_iter().filter(|line| ends(line).iter().any(|p| p.distance(at) < 1e-6)).collect();
            let away = |line: &Line| if line.p0.distance(at) < 1e-6 { line.p1 - at } else { line.p0 - at };
            let slant = away(one).cross(away(other)).abs() / (away(one).hypot() * away(other).hypot());
            // Only where two creases meet the ridge between them: not on the star itself, nor at its middle.
            let is_on_line = (star.along_as_laid_mm(at) - star.line_mm()).abs() < 1.0;
            if slant < 1e-3 || is_on_line || at.distance(Point::new(0.0, 320.0)) < 1.0 || ridge.is_empty() {
                continue;
            }
            let along = away(&ridge[0]);
            let product = reflection(away(one)) * reflection(along) * reflection(away(other)) * reflection(along);
            let off =
                product.as_coeffs().iter().zip([1.0, 0.0, 0.0, 1.0, 0.0, 0.0]).map(|(c, i)| (c - i).abs()).fold(0.0, f64::max);
            assert!(off < 1e-6, "at {at:?} the reflections come to {product:?}");
            checked += 1;
        }
    }
    assert!(checked >= 10, "{checked} pairs");
}

/// With creases at its corners a star lies flat; a heart folded on its axis nearly so, laid open not: the advice that is given.
#[test]
fn creases_at_corners_and_a_fold_on_the_axis_help() {
    let (_, star) = &FOLDS[2];
    assert!(star.unflat().bunched_mm2 < 100.0, "{:?}", star.unflat());
    let (_, heart) = &FOLDS[0];
    let cloth_mm2: f64 = tee().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
    assert!(heart.unflat().bunched_mm2 < 0.01 * cloth_mm2, "{:?}", heart.unflat());
}
