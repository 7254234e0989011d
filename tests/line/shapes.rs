//! The lines to begin with: each can be folded, laid open and on the fold, and is as large as asked.

use crate::assert_close;
use crate::bodies::{spec, square, tee};
use geo::algorithm::buffer::{BufferStyle, LineJoin};
use geo::{Area, Buffer};
use kurbo::{BezPath, PathEl, Point, Shape as _, Size};
use pleatwright::geometry::*;

const MIDDLE: Point = Point::new(0.0, 320.0);

fn varied() -> Vec<LineShape> {
    let mut shapes = LineShape::ALL.to_vec();
    shapes.extend([3, 4, 7, 24].map(|points| LineShape::Star { points, depth: 0.4 }));
    shapes.extend([3, 4, 5, 9].map(|sides| LineShape::Polygon { sides }));
    shapes.extend([1, 5].map(|crests| LineShape::Wave { crests }));
    shapes.extend([1, 4].map(|teeth| LineShape::Zigzag { teeth }));
    shapes.extend([0.1, 0.8].map(|bar| LineShape::Cross { bar }));
    shapes
}

#[test]
fn every_shape_folds_laid_open_and_in_half() {
    for shape in varied() {
        let size = Size::new(if shape.kind() == LineKind::Across { 640.0 } else { 300.0 }, 280.0);
        let path = shape.path(MIDDLE, size);
        let bounds = path.bounding_box();
        assert_close!(bounds.center().distance(MIDDLE), 0.0, 1e-9, "{shape:?}");
        assert!((bounds.width() - size.width).abs() < 1e-9 && (bounds.height() - 280.0).abs() < 1e-9, "{shape:?} {bounds:?}");
        let open = LineFold::new(&spec(Centring::Open, shape.kind(), path), square(640.0));
        let open = open.unwrap_or_else(|error| panic!("{shape:?}: {error}"));
        if !shape.is_mirrored() {
            continue;
        }
        let half = LineFold::new(&spec(Centring::Nested, shape.kind(), shape.half_path(MIDDLE, size)), square(640.0));
        let half = half.unwrap_or_else(|error| panic!("half of {shape:?}: {error}"));
        // Half of it mirrors to the whole: the same parallels, twice half as long.
        for d in [-25.0, 0.0, 30.0, 111.0] {
            let [whole, halves] = [&open, &half].map(|fold| fold.cut(d + fold.line_mm()).front);
            assert_close!(whole.cloth_mm, halves.cloth_mm, 1e-6, "{shape:?} at {d}");
            assert_close!(whole.area_mm2, halves.area_mm2, 1e-3, "{shape:?} at {d}");
        }
    }
}

/// Source: buffers of line strings by the `geo` crate, within 2e-3 of their area.
#[test]
fn letters_are_walked_all_round() {
    for letter in 'A'..='Z' {
        let path = LineShape::Letter { letter }.path(MIDDLE, Size::new(180.0, 270.0));
        let fold = LineFold::new(&spec(Centring::Open, LineKind::Stroke, path.clone()), square(640.0));
        let fold = fold.unwrap_or_else(|error| panic!("{letter}: {error}"));
        for d in [5.0, 14.0, 40.0] {
            let theirs = strings(&path).buffer_with_style(BufferStyle::new(d).line_join(LineJoin::Round(0.02))).unsigned_area();
            assert_close!(fold.cut(d).front.area_mm2, theirs, 5e-3 * theirs, "{letter} at {d}");
        }
    }
}

fn strings(path: &BezPath) -> geo::MultiLineString<f64> {
    let mut strings: Vec<Vec<(f64, f64)>> = Vec::new();
    kurbo::flatten(path.elements().iter().copied(), 0.02, |element| match element {
        PathEl::MoveTo(p) => strings.push(vec![(p.x, p.y)]),
        PathEl::LineTo(p) => strings.last_mut().unwrap().push((p.x, p.y)),
        _ => {}
    });
    geo::MultiLineString::new(strings.into_iter().map(geo::LineString::from).collect())
}

/// What can't be folded is refused with its place and a cure.
#[test]
fn refusals_say_where_and_what_would_be_right() {
    let line = |points: &[(f64, f64)]| {
        let mut path = BezPath::new();
        path.move_to(points[0]);
        points[1..].iter().for_each(|&p| path.line_to(p));
        path
    };
    let closed = |points: &[(f64, f64)]| {
        let mut path = line(points);
        path.close_path();
        path
    };
    let bow_tie = closed(&[(-100.0, 200.0), (100.0, 400.0), (200.0, 300.0), (-100.0, 400.0)]);
    let tight = LineShape::Ring.path(Point::new(120.0, 400.0), Size::new(12.0, 12.0));
    let cases: [(Centring, LineKind, BezPath, &str); 9] = [
        (Centring::Open, LineKind::Ring, bow_tie, "line: the line meets itself 50 mm from the centre line and 350 mm below"),
        (Centring::Open, LineKind::Ring, line(&[(0.0, 200.0), (90.0, 300.0), (0.0, 400.0)]), "ends are 200 mm apart; close it"),
        (Centring::Nested, LineKind::Ring, line(&[(20.0, 200.0), (90.0, 300.0), (0.0, 400.0)]), "lie on the fold line"),
        (Centring::Nested, LineKind::Ring, closed(&[(-40.0, 200.0), (90.0, 300.0), (9.0, 400.0)]), "across the fold line, 40 mm"),
        (
            Centring::Open,
            LineKind::Ring,
            closed(&[(900.0, 200.0), (990.0, 300.0), (909.0, 400.0)]),
            "no cloth lies under the line",
        ),
        (Centring::Open, LineKind::Ring, tight, "the line bends round 6 mm within a pleat"),
        (Centring::Open, LineKind::Stroke, closed(&[(0.0, 200.0), (90.0, 300.0), (0.0, 400.0)]), "enclose cloth"),
        (Centring::Open, LineKind::Across, BezPath::new(), "no length"),
        (Centring::Open, LineKind::Ring, line(&[(0.0, 200.0), (0.0, 400.0), (0.0, 200.0)]), "encloses nothing"),
    ];
    for (centring, kind, path, said) in cases {
        let spec = LineSpec { guide_mm: 0.0, ..spec(centring, kind, path) };
        let refusal = LineFold::new(&spec, tee()).unwrap_err().to_string();
        assert!(refusal.contains(said), "{refusal}");
    }
    let stroke = line(&[(-50.0, 300.0), (50.0, 300.0)]);
    let guided =
        |guide_mm| LineFold::new(&LineSpec { guide_mm, ..spec(Centring::Open, LineKind::Stroke, stroke.clone()) }, tee());
    let refusal = guided(0.0).unwrap_err().to_string();
    assert_eq!(refusal, "guide_mm: 0 mm is out of range; give 1 to 5000 mm");
    assert_eq!(guided(80.0).unwrap().first_bind_mm(), 80.0);
    let ring = LineShape::Ring.path(MIDDLE, Size::new(200.0, 200.0));
    let with = |guide_mm, pleats| {
        LineFold::new(&LineSpec { guide_mm, pleats, ..spec(Centring::Open, LineKind::Ring, ring.clone()) }, tee())
    };
    assert!(matches!(with(f64::NAN, Pleats::Count { count: 8 }), Err(LineError::Length { .. })));
    assert!(matches!(with(9.0, Pleats::Depth { depth_mm: 0.2 }), Err(LineError::Length { .. })));
    assert!(matches!(with(9.0, Pleats::Count { count: 0 }), Err(LineError::PleatCount { .. })));
    assert!(matches!(with(9.0, Pleats::Depth { depth_mm: 1.0 }), Err(LineError::PleatCount { .. })));
    assert_eq!(with(9.0, Pleats::Count { count: 22 }).unwrap().pleats(), 22);
}
