//! Lines drawn elsewhere, put on a garment; lines beside the garment's own edge.

use crate::assert_close;
use crate::bodies::{square, tee};
use kurbo::{Affine, BezPath, ParamCurve as _, ParamCurveNearest as _, PathSeg, Point, Shape as _, Size};
use pleatwright::geometry::*;
use pleatwright::layout::{FoldStart, GarmentSpec, Layout, starter_on};
use pleatwright::measure::RuleMarks;

const MIDDLE: Centre = Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 320.0 };

fn free(path: BezPath) -> FreeLine {
    FreeLine { name: "drawn".to_owned(), path, width_mm: None, kind: None }
}

fn farthest_mm(path: &BezPath, from: &BezPath) -> f64 {
    let off = |p: Point| from.segments().map(|side| side.nearest(p, 1e-4).distance_sq).fold(f64::INFINITY, f64::min).sqrt();
    let points = path.segments().flat_map(|side| (0..=20).map(move |k| side.eval(f64::from(k) / 20.0)));
    points.map(off).fold(0.0, f64::max)
}

/// A shape drawn elsewhere comes to lie as the program's own: halved where its halves mirror each other, else whole on the garment laid open.
#[test]
fn a_drawn_shape_lies_as_the_programs_own() {
    for shape in LineShape::ALL {
        let width_mm = if shape.kind() == LineKind::Across { 640.0 } else { 260.0 };
        let size = Size::new(width_mm, 220.0);
        // Anywhere, turned about to begin at another point, drawn at half its size.
        let whole = shape.path(Point::new(-700.0, 45.0), size);
        let drawn = FreeLine { width_mm: Some(width_mm), ..free(Affine::scale(0.5) * whole.reverse_subpaths()) };
        if drawn.path.subpaths().count() > 1 {
            continue;
        }
        let laid = drawn.on(&square(640.0), MIDDLE).unwrap();
        let middle = Point::new(0.0, 320.0);
        let is_mirrored = shape.is_mirrored();
        assert_eq!(laid.centring.is_folded(), is_mirrored, "{shape:?}");
        let right = if is_mirrored { shape.half_path(middle, size) } else { shape.path(middle, size) };
        assert!(farthest_mm(&laid.path, &right) < 0.06 && farthest_mm(&right, &laid.path) < 0.06, "{shape:?} {:?}", laid.path);
        assert_eq!(laid.kind, shape.kind(), "{shape:?}");
    }
}

/// A half was once cut in two at some sizes, where the last digits of two sides' ends differ.
#[test]
fn a_half_is_one_part_at_any_size() {
    let buoy = "M100 20C125 20 138 44 128 74L160 200C192 214 190 262 152 275C120 286 80 286 48 275C10 262 8 214 40 200L72 74C62 44 75 20 100 20Z";
    for width_mm in (150..=320).map(f64::from) {
        let line = FreeLine { width_mm: Some(width_mm), ..free(BezPath::from_svg(buoy).unwrap()) };
        let laid = line.on(&square(640.0), MIDDLE).unwrap();
        assert_eq!((laid.path.subpaths().count(), laid.centring.is_folded()), (1, true), "{width_mm}");
        assert_close!(2.0 * laid.path.bounding_box().x1, width_mm, 2e-3);
    }
}

#[test]
fn what_a_line_is_to_the_cloth_follows_from_its_form() {
    let panels = square(640.0);
    let kind = |path: &str| free(BezPath::from_svg(path).unwrap()).on(&panels, MIDDLE).unwrap();
    // On the half of the cloth of 640 mm the edge is 320 mm from the fold.
    assert_eq!(kind("M0 0L300 40L640 0").kind, LineKind::Across);
    assert_eq!(kind("M0 0L300 0L632 60").kind, LineKind::Across, "4 mm from either edge");
    assert_eq!(kind("M0 0L300 40L500 0").kind, LineKind::Stroke);
    assert_eq!(kind("M0 0L300 40L100 90Z").kind, LineKind::Ring);
    let arch = kind("M0 100L50 0L150 0L200 100");
    assert_eq!((arch.kind, arch.centring), (LineKind::Stroke, Centring::Nested));
    assert_eq!(arch.path.elements()[0].end_point().unwrap().x, 0.0, "it begins on the fold");
    // Asked for otherwise it is what it is asked to be.
    let across = FreeLine { kind: Some(LineKind::Across), ..free(BezPath::from_svg("M0 100L50 0L150 0L200 100").unwrap()) };
    assert_eq!(across.on(&panels, MIDDLE).unwrap().kind, LineKind::Across);
    // Half a millimetre beside its mirror image is alike, two are not.
    assert!(kind("M0 0L100 100.4L200 0L100 300Z").centring.is_folded());
    assert!(!kind("M0 0L100 100L200 2L100 300Z").centring.is_folded());
}

#[test]
fn what_can_not_be_placed_is_refused() {
    let panels = square(640.0);
    let refused = |line: FreeLine| line.on(&panels, MIDDLE).unwrap_err();
    assert_eq!(refused(free(BezPath::new())), LineError::NoLine);
    assert_eq!(
        refused(free(BezPath::from_svg("M0 0L1 1").unwrap().elements().iter().copied().take(1).collect())),
        LineError::NoLine
    );
    let line = || free(BezPath::from_svg("M0 0L100 50").unwrap());
    for width_mm in [0.0, -3.0, 4.9, 5001.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(refused(FreeLine { width_mm: Some(width_mm), ..line() }), LineError::Length { .. }), "{width_mm}");
    }
    let tall = free(BezPath::from_svg("M0 0L10 9000").unwrap());
    assert!(matches!(refused(tall), LineError::Length { .. }));
    for inset_mm in [0.0, -5.0, 6000.0, f64::NAN] {
        assert!(matches!(GarmentEdge::Hem.parallel(inset_mm, &panels), Err(LineError::Length { .. })), "{inset_mm}");
    }
}

/// Every point of the parallel is as far from the edge as asked: distances by `kurbo`'s nearest points. Its ends are continued.
#[test]
fn parallels_keep_their_distance_from_the_edge() {
    for kind in GarmentKind::ALL {
        let size = kind.sizes().last().unwrap().name.to_string();
        for (edge, inset_mm) in [(GarmentEdge::Hem, 60.0), (GarmentEdge::Neck, 60.0), (GarmentEdge::Neck, 25.0)] {
            let start = FoldStart::Beside(edge, inset_mm);
            let raw = starter_on(start, &GarmentSpec::sized(kind, Some(&size), &RawMeasures::default()), RuleMarks::Millimetres1);
            let layout = raw.and_then(Layout::try_from).unwrap_or_else(|error| panic!("{kind} {edge:?} {inset_mm}: {error}"));
            let Some(DrawnLine::Path { kind: LineKind::Across, path }) = layout.raw().fold.line().map(|line| line.line.clone())
            else {
                panic!("{kind}: {:?}", layout.raw().fold)
            };
            let front = layout.panels().iter().next().unwrap().1;
            let edge_sides: Vec<PathSeg> =
                front.profile().segments().chain((Affine::FLIP_X * front.profile().clone()).segments()).collect();
            let off =
                |p: Point| edge_sides.iter().map(|side| side.nearest(p, 1e-5).distance_sq).fold(f64::INFINITY, f64::min).sqrt();
            let start = path.elements()[0].end_point().unwrap();
            assert!(start.x.abs() < 1e-9, "{kind} {edge:?}: it begins on the fold, {start:?}");
            // Near its ends, and over a narrow crotch, other edges are nearer.
            let whole_mm = path.perimeter(1e-3);
            let mut at_mm = 0.0;
            for side in path.segments() {
                for share in [0.0, 0.3, 0.7, 1.0] {
                    let off_mm = off(side.eval(share));
                    assert!(off_mm <= inset_mm + 0.02, "{kind} {edge:?}: {off_mm} mm at {:?}", side.eval(share));
                    if at_mm < 0.2 * whole_mm && share < 0.5 && (kind, edge) != (GarmentKind::InfantBodysuit, GarmentEdge::Hem) {
                        assert_close!(off_mm, inset_mm, 0.02, "{kind} {edge:?} at {:?}", side.eval(share));
                    }
                }
                at_mm += side.to_cubic().p0.distance(side.to_cubic().p3);
            }
        }
    }
    let hem = GarmentEdge::Hem.parallel(60.0, &tee()).unwrap().path;
    assert_eq!(hem.segments().count(), 1, "a straight hem has a straight parallel");
}
