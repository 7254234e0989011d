//! What is marked on cloth beside a line's parallels: the line, its pins with their strings, creases that end alone.

use crate::assert_close;
use crate::bodies::{folds, spec, square, tee};
use kurbo::{Point, Size};
use pleatwright::geometry::*;

/// Every arc that a parallel has about a pin is as far from it as the string is long, and corners are pinned.
#[test]
fn strings_reach_the_arcs_about_their_pins() {
    let mut swung = 0;
    for (name, fold) in folds() {
        for along_mm in (1..12).map(|k| fold.length_mm() * f64::from(k) / 12.0) {
            for stretch in fold.parallel(&Panel::BOTH, along_mm) {
                let Stretch::Arc(arc) = stretch else { continue };
                for pin in fold.pins().iter().filter(|pin| pin.at.distance(arc.centre) < 1e-9) {
                    let reaches =
                        |pin: &Pin| pin.string_mm(along_mm).is_some_and(|string_mm| (string_mm - arc.radius_mm).abs() < 1e-9);
                    let others = fold.pins().into_iter().filter(|other| other.at.distance(pin.at) < 1e-9);
                    assert!(others.clone().any(|pin| reaches(&pin)), "{name} at {along_mm}: {arc:?}");
                    swung += 1;
                }
            }
        }
    }
    assert!(swung > 100, "{swung}");
    let (_, star) = &folds()[2];
    assert_eq!(star.pins().len(), 10);
    // A circle is swung about one pin, however many arcs it was fitted with.
    let circle = LineShape::Ring.path(Point::new(0.0, 320.0), Size::new(200.0, 200.0));
    let circle = LineFold::new(&spec(Centring::Open, LineKind::Ring, circle), square(640.0)).unwrap();
    assert_eq!(circle.pins().len(), 1);
    assert!(circle.pins()[0].at.distance(Point::new(0.0, 320.0)) < 1.0);
    assert_close!(circle.pins()[0].string_mm(circle.line_mm() + 40.0).unwrap(), 140.0, 1.0);
}

/// The line itself is as long as was drawn, a stroke too, though it is walked there and back.
#[test]
fn the_line_is_drawn_once() {
    let folds = folds();
    let drawn_mm = |fold: &LineFold| fold.source().iter().map(Stretch::length_mm).sum::<f64>();
    let (heart, ell, point) = (&folds[0].1, &folds[7].1, &folds[8].1);
    assert_close!(drawn_mm(heart), heart.source_length_mm(), 1e-9);
    assert_close!(drawn_mm(ell), 240.0 + 140.0, 1e-9);
    assert_eq!(point.source(), vec![]);
    for stretch in heart.source() {
        assert_close!(heart.along_as_laid_mm(stretch.point(0.5)), heart.line_mm(), 1e-9);
    }
}

/// Creases that end alone end where the cloth beyond is told to bunch; on the ridge, which lies as far from two stretches of the line.
#[test]
fn creases_that_end_alone_are_told_apart() {
    for (name, fold) in folds() {
        let ends: Vec<Point> = fold.unflat().lone_ends_mm.iter().map(|&[x, y]| Point::new(x, y)).collect();
        let creases = fold.creases(0.0);
        for end in &ends {
            let reaches = |crease: &Crease| crease.line.p0.distance(*end) < 1e-6 || crease.line.p1.distance(*end) < 1e-6;
            assert!(creases.iter().any(|crease| crease.ends_alone && reaches(crease)), "{name}: {end:?}");
        }
        assert_eq!(ends.is_empty(), !creases.iter().any(|crease| crease.ends_alone), "{name}");
        // Of straight pieces the ridge is exact but for its bends; a line with bends has stretches where both sides are nearly one.
        for line in fold.ridge().into_iter().filter(|_| name.contains("star") || name.contains("ell laid")) {
            let at = fold.lay().cloth_at(0, line.midpoint());
            let [_, over, ..] = fold.joins(at, 5.0);
            assert!(over.is_some_and(|over| over.away_mm < 1.0), "{name}: {line:?} {over:?}");
        }
    }
}

/// With creases through corners and through the bends that end ridges, a shape with an axis is pleated alike on both sides of it: laid
/// open it bunches as much as folded on the axis.
#[test]
fn an_axis_is_found_without_folding_on_it() {
    let middle = Point::new(0.0, 330.0);
    for shape in
        [LineShape::Heart, LineShape::Star { points: 5, depth: 0.5 }, LineShape::Leaf, LineShape::Drop, LineShape::Diamond]
    {
        let size = shape.natural_size(300.0);
        let bunched = |centring, path| LineFold::new(&spec(centring, LineKind::Ring, path), tee()).unwrap().unflat().bunched_mm2;
        let half_mm2 = bunched(Centring::Nested, shape.half_path(middle, size));
        let open_mm2 = bunched(Centring::Open, shape.path(middle, size));
        assert!((half_mm2 - open_mm2).abs() < 100.0, "{shape:?}: {half_mm2} mm2 folded, {open_mm2} laid open");
        // 40 cm2 of the cloth's 7500.
        assert!(half_mm2 < 4000.0, "{shape:?}: {half_mm2} mm2");
    }
}
