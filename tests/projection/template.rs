//! The same geometry as on the sheets: lines of the printed template, read back from its SVG file, beside those in the picture.

use crate::common::seeded::seeded;
use crate::{Planted, projector};
use kurbo::{Affine, Arc, BezPath, Line, ParamCurve as _, ParamCurveNearest as _, PathSeg, Point, Rect, SvgArc, Vec2};
use pleatwright::layout::{Figures, Layout};
use pleatwright::print::parts::{TemplateOptions, template};
use pleatwright::print::write_svg;
use pleatwright::projection::{MarkSet, Placement, Role, TableLine, TableScene};
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use std::cell::Cell;
use std::collections::BTreeSet;

/// How far the projection may stray from the sheets, mm on the table.
const TOLERANCE_MM: f64 = 0.05;
/// Points compared of each layout, each way.
const POINTS: u32 = 100;
const PICTURE: [u32; 2] = [3840, 2160];

/// A line of the file.
#[derive(Debug, Clone, Copy)]
enum Drawn {
    Seg(PathSeg),
    Arc(Arc),
}

impl Drawn {
    fn at(&self, share: f64) -> Point {
        match self {
            Self::Seg(segment) => segment.eval(share),
            Self::Arc(arc) => around(arc, arc.start_angle + share * arc.sweep_angle),
        }
    }

    fn distance_mm(&self, point: Point) -> f64 {
        match self {
            Self::Seg(segment) => segment.nearest(point, 1e-9).distance_sq.sqrt(),
            Self::Arc(arc) => {
                let angle = (point - arc.center).atan2();
                let from_start = ((angle - arc.start_angle) * arc.sweep_angle.signum()).rem_euclid(std::f64::consts::TAU);
                let ends = [0.0, 1.0].map(|share| self.at(share).distance(point));
                let nearest = ends[0].min(ends[1]);
                let is_beside = from_start <= arc.sweep_angle.abs();
                if is_beside { nearest.min((point.distance(arc.center) - arc.radii.x).abs()) } else { nearest }
            }
        }
    }
}

fn around(arc: &Arc, angle: f64) -> Point {
    arc.center + arc.radii.x * Vec2::from_angle(angle)
}

/// The lines of the printed template by the names of its layers, as an XML reader finds them in the file.
fn read_back(layout: &Layout, figures: &Figures) -> Vec<(String, Drawn)> {
    let text = write_svg(&template(layout, figures, &TemplateOptions::default())).unwrap();
    let file = roxmltree::Document::parse(&text).unwrap();
    let mut found = Vec::new();
    for group in file.descendants().filter(|node| node.has_tag_name("g")) {
        let name = group.attribute("id").unwrap();
        for shape in group.children() {
            let number = |key: &str| shape.attribute(key).unwrap().parse::<f64>().unwrap();
            match shape.tag_name().name() {
                "line" => {
                    let line = Line::new((number("x1"), number("y1")), (number("x2"), number("y2")));
                    found.push((name.to_owned(), Drawn::Seg(PathSeg::Line(line))));
                }
                "path" => found.extend(path(shape.attribute("d").unwrap()).into_iter().map(|drawn| (name.to_owned(), drawn))),
                _ => {}
            }
        }
    }
    found
}

/// Arcs are kept as arcs: the reader of the library would flatten them too coarsely for this.
fn path(data: &str) -> Vec<Drawn> {
    if !data.contains('A') {
        return BezPath::from_svg(data).unwrap().segments().map(Drawn::Seg).collect();
    }
    let numbers = |text: &str| text.split(' ').map(|number| number.parse::<f64>().unwrap()).collect::<Vec<_>>();
    let mut pieces = data.trim_start_matches('M').split('A').map(numbers);
    let start = pieces.next().unwrap();
    let mut from = Point::new(start[0], start[1]);
    let arc = |piece: Vec<f64>| {
        let to = Point::new(piece[5], piece[6]);
        let radii = Vec2::new(piece[0], piece[1]);
        let svg = SvgArc { from, to, radii, x_rotation: 0.0, large_arc: piece[3] != 0.0, sweep: piece[4] != 0.0 };
        from = to;
        Drawn::Arc(Arc::from_svg_arc(&svg).unwrap())
    };
    pieces.map(arc).collect()
}

/// Names of layers in the file and what they are in the picture.
fn are_same(name: &str, role: Role) -> bool {
    match role {
        Role::Edge => name == "outline",
        Role::EdgeBehind => name == "other-panel",
        Role::Axis => name == "centre-line",
        Role::Guide => matches!(name, "guide-arc" | "first-bind" | "line" | "arc" | "extra-line"),
        Role::Source => matches!(name, "line" | "pinch-circle" | "tick"),
        Role::Bind => name == "bind",
        Role::Extra => matches!(name, "arc" | "extra-line"),
        Role::CreaseOver | Role::CreaseUnder => matches!(name, "crease" | "crease-ends-alone"),
        Role::Ridge => name == "ridge",
        Role::Block => name == "block",
        Role::Thread => name == "thread",
        Role::Pin => matches!(name, "burst-centre" | "centre" | "pinch" | "pin"),
        Role::Stitch => false,
    }
}

/// A map, where the garment lies, and a seed.
fn trials() -> Vec<(Planted, Placement)> {
    let middle = Point::new(1900.0, 1050.0);
    vec![
        (Planted::seen(0.02, 2.0, [5e-5, -1e-4], middle), Placement::of(Point::new(150.0, 350.0), Point::new(30.0, -20.0), 0.4)),
        (Planted::seen(3.0, 1.7, [-1.2e-4, 6e-5], middle), Placement::of(Point::new(150.0, 350.0), Point::ZERO, -1.3)),
    ]
}

/// Lines in the picture, px, by what they are.
type Seen = Vec<(Role, Vec<Line>)>;

/// The whole chain: marks in the picture, alignment, placement, flattening, clipping.
fn seen(scene: &TableScene, planted: &Planted, placement: Placement, picture: Rect) -> Seen {
    let alignment = projector(planted, PICTURE, MarkSet::Corners).alignment().unwrap();
    let of = |line: &TableLine| {
        // Through, so that a point of the sheets never falls between dashes.
        let through = TableLine { role: Role::Bind, ..line.placed(placement.table_from_garment()) };
        let pieces = through.drawn(alignment.picture_from_table(), picture);
        (line.role, pieces.iter().flat_map(|piece| piece.windows(2).map(|two| Line::new(two[0], two[1]))).collect())
    };
    scene.lines().iter().map(of).collect()
}

/// Layers of the file that hold words and arrows beside them, or crosses and holes of a size of their own.
const NOT_COMPARED: [&str; 7] = ["text", "arrow", "burst-centre", "centre", "pinch", "pin", "pounce"];

/// From the file to the picture, each layer as often as any other; how many points were compared.
fn compare(name: &str, printed: &[(String, Drawn)], seen: &Seen, planted: &Planted, placement: Placement) -> u32 {
    let picture = Rect::new(0.0, 0.0, f64::from(PICTURE[0]), f64::from(PICTURE[1]));
    let of_table = |at: Point| planted.apply(own_placement(placement, at));
    let layers: BTreeSet<&str> = printed.iter().map(|(layer, _)| layer.as_str()).collect();
    let layers: Vec<&str> = layers.into_iter().filter(|layer| !NOT_COMPARED.contains(layer)).collect();
    let compared = Cell::new(0);
    TestRunner::new(seeded(47, POINTS))
        .run(&(0.0..1.0_f64, 0.0..1.0_f64), |(which, share)| {
            let (layer, within) = part(which, layers.len());
            let of_layer: Vec<&Drawn> = printed.iter().filter(|(own, _)| own == layers[layer]).map(|(_, drawn)| drawn).collect();
            let point = of_layer[part(within, of_layer.len()).0].at(share);
            let shown = of_table(point);
            if picture.contains(shown) {
                let near = seen.iter().filter(|(role, _)| are_same(layers[layer], *role)).flat_map(|(_, lines)| lines);
                let off_px = near.map(|line| line.nearest(shown, 1e-9).distance_sq.sqrt()).fold(f64::INFINITY, f64::min);
                let off_mm = off_px / shown.distance(of_table(point + Vec2::new(1.0, 0.0)));
                prop_assert!(off_mm < TOLERANCE_MM, "{name}: {off_mm} mm off the {} at {point:?}", layers[layer]);
                compared.set(compared.get() + 1);
            }
            Ok(())
        })
        .unwrap();
    compared.get()
}

/// Against the definition of the planted map and the lines in the file.
#[test]
fn the_picture_shows_what_the_sheets_show() {
    for example in EXAMPLE_LAYOUTS {
        let layout = parse_layout(example.text).unwrap();
        let figures = Figures::of(&layout);
        let printed = read_back(&layout, &figures);
        let scene = TableScene::of(&layout);
        for (planted, placement) in trials() {
            let picture = Rect::new(0.0, 0.0, f64::from(PICTURE[0]), f64::from(PICTURE[1]));
            let seen = seen(&scene, &planted, placement, picture);
            let compared = compare(example.name, &printed, &seen, &planted, placement);
            assert!(compared > POINTS / 2, "{}: {compared}", example.name);
        }
    }
}

/// Nothing is in the picture that the sheets don't have.
#[test]
fn the_sheets_show_what_the_picture_shows() {
    for example in EXAMPLE_LAYOUTS {
        let layout = parse_layout(example.text).unwrap();
        let figures = Figures::of(&layout);
        let printed = read_back(&layout, &figures);
        let scene = TableScene::of(&layout);
        let mut runner = TestRunner::new(seeded(48, POINTS));
        let lines: Vec<_> = scene.lines().iter().filter(|line| !matches!(line.role, Role::Pin | Role::Stitch)).collect();
        runner
            .run(&(0.0..1.0_f64, 0.0..1.0_f64, 0.0..1.0_f64), |(which, piece, share)| {
                let line = lines[part(which, lines.len()).0];
                let (piece, _) = part(piece, line.points.len() - 1);
                let point = line.points[piece].lerp(line.points[piece + 1], share);
                let is_crease = matches!(line.role, Role::CreaseOver | Role::CreaseUnder | Role::Ridge);
                let near = printed.iter().filter(|(name, _)| are_same(name, line.role));
                let off_mm = near
                    .map(|(_, drawn)| match drawn {
                        // The sheets leave a gap at every word.
                        Drawn::Seg(PathSeg::Line(line)) if is_crease => {
                            let along = (line.p1 - line.p0).normalize();
                            along.cross(point - line.p0).abs()
                        }
                        drawn => drawn.distance_mm(point),
                    })
                    .fold(f64::INFINITY, f64::min);
                prop_assert!(off_mm < TOLERANCE_MM, "{}: {off_mm} mm, {:?} at {point:?}", example.name, line.role);
                Ok(())
            })
            .unwrap();
    }
}

/// Which of so many equal parts a number from 0 to 1 lies in, and where in it.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "a few thousand parts")]
fn part(number: f64, parts: usize) -> (usize, f64) {
    let along = number * parts as f64;
    ((along as usize).min(parts - 1), along.fract())
}

/// Turned, then moved: as the placement says that it is.
fn own_placement(placement: Placement, at: Point) -> Point {
    let (sin, cos) = placement.turn_rad.sin_cos();
    Point::new(placement.origin.x + cos * at.x - sin * at.y, placement.origin.y + sin * at.x + cos * at.y)
}

/// The pins of a burst are its centre, in the middle of a cross.
#[test]
fn the_cross_is_at_the_burst_centre() {
    for example in EXAMPLE_LAYOUTS {
        let layout = parse_layout(example.text).unwrap();
        let Some(centre) = layout.burst().map(|burst| burst.centre_as_laid()) else { continue };
        let scene = TableScene::of(&layout);
        let crosses: Vec<_> = scene.lines().iter().filter(|line| line.role == Role::Pin).collect();
        assert!(crosses.iter().any(|line| line.points[0].midpoint(line.points[1]).distance(centre) < 1e-9), "{}", example.name);
        // It is the same once it is placed, whatever the layout is.
        let placed = crosses[0].placed(Affine::translate((5.0, 6.0)));
        assert!(placed.points[0].distance(crosses[0].points[0] + Vec2::new(5.0, 6.0)) < 1e-12);
    }
}
