//! What is dyed on a flat bundle repeats over the cloth by a group of reflections: the orbit of each point is the group's, by its
//! general positions in the International Tables for Crystallography, volume A, plane groups (from memory).

use crate::bodies::{at, fold, spec, square, squares, triangles};
use kurbo::{Point, Vec2};
use pleatwright::geometry::*;
use std::f64::consts::TAU;

const SIDE_MM: f64 = 640.0;

/// A plane group: its lattice, where its origin lies, and its general positions as matrices in lattice coordinates.
struct PlaneGroup {
    origin: Point,
    lattice: [Vec2; 2],
    positions: Vec<[f64; 4]>,
}

impl PlaneGroup {
    /// All points of the orbit of one that lie on the cloth.
    fn orbit(&self, point: Point) -> Vec<Point> {
        let [a, b] = self.lattice;
        let (from, area) = (point - self.origin, a.cross(b));
        let (x, y) = (from.cross(b) / area, a.cross(from) / area);
        let mut orbit = Vec::new();
        for [xx, xy, yx, yy] in &self.positions {
            for i in -12..=12 {
                for j in -12..=12 {
                    let (u, v) = (xx * x + xy * y + f64::from(i), yx * x + yy * y + f64::from(j));
                    let image = self.origin + u * a + v * b;
                    if image.x.abs() < 0.5 * SIDE_MM && (0.0..SIDE_MM).contains(&image.y) {
                        orbit.push(image);
                    }
                }
            }
        }
        orbit
    }
}

fn check(name: &str, fold: &FlatFold, group: &PlaneGroup, seeds: &[(f64, f64)]) {
    for &(x, y) in seeds {
        let bundle = |at: Point| fold.to_bundle(ClothPoint { panel: Panel::Front, x_mm: at.x, y_mm: at.y }).unwrap();
        let own = bundle(Point::new(x, y));
        let orbit = group.orbit(Point::new(x, y));
        for image in &orbit {
            let there = bundle(*image);
            let off_mm = (there.along_mm - own.along_mm).hypot((there.across - own.across) * fold.size().height);
            assert!(off_mm < 1e-9, "{name}: {image:?} lies {off_mm} mm from ({x}, {y})");
        }
        // And no others: as many places hold cloth at that point of the bundle.
        let holds =
            |place: u32| fold.to_cloth(BundlePoint { place: f64::from(place), ..own }).is_some_and(|cloth| fold.has_cloth(cloth));
        let places = (0..fold.places()).filter(|&place| holds(place)).count();
        assert_eq!(orbit.len(), places, "{name}: ({x}, {y})");
    }
}

const POINTS: [(f64, f64); 6] = [(11.0, 203.0), (-207.3, 88.1), (251.9, 530.2), (-33.3, 611.7), (140.2, 19.4), (-300.1, 400.9)];

/// A rectangle's four sides: p2mm (No. 6).
#[test]
fn squares_repeat_by_p2mm() {
    let width_mm = SIDE_MM / 7.0;
    let positions = vec![[1.0, 0.0, 0.0, 1.0], [-1.0, 0.0, 0.0, -1.0], [-1.0, 0.0, 0.0, 1.0], [1.0, 0.0, 0.0, -1.0]];
    let lattice = [Vec2::new(2.0 * width_mm, 0.0), Vec2::new(0.0, 2.0 * width_mm)];
    let group = PlaneGroup { origin: Point::new(-0.5 * SIDE_MM, 0.0), lattice, positions };
    for pack in [Pack::Zigzag, Pack::Rolled] {
        check("squares", &fold(&spec(Centring::Open, squares(width_mm), pack), square(SIDE_MM)), &group, &POINTS);
    }
}

/// A triangle of 45, 45 and 90 degrees: p4mm (No. 11), its origin where eight triangles meet.
#[test]
fn right_triangles_repeat_by_p4mm() {
    let positions = [
        [1.0, 0.0, 0.0, 1.0],
        [-1.0, 0.0, 0.0, -1.0],
        [0.0, -1.0, 1.0, 0.0],
        [0.0, 1.0, -1.0, 0.0],
        [-1.0, 0.0, 0.0, 1.0],
        [1.0, 0.0, 0.0, -1.0],
        [0.0, 1.0, 1.0, 0.0],
        [0.0, -1.0, -1.0, 0.0],
    ];
    // The strip runs up from the lower edge; its first triangle has its right angle in the lower left corner of the cloth.
    let lattice = [Vec2::new(160.0, 0.0), Vec2::new(0.0, 160.0)];
    let group = PlaneGroup { origin: Point::new(-0.5 * SIDE_MM + 80.0, SIDE_MM), lattice, positions: positions.to_vec() };
    for pack in [Pack::Zigzag, Pack::Rolled] {
        let pattern = triangles(Triangle::Right, 80.0);
        check("right triangles", &fold(&spec(Centring::Open, pattern, pack), square(SIDE_MM)), &group, &POINTS);
    }
}

/// A triangle of three angles of 60 degrees: p3m1 (No. 14), its origin where six triangles meet. (Their net as such has the
/// reflections of p6mm, but what is dyed on one triangle need not be alike in its halves.)
#[test]
fn equilateral_triangles_repeat_by_p3m1() {
    let positions = [
        [1.0, 0.0, 0.0, 1.0],
        [0.0, -1.0, 1.0, -1.0],
        [-1.0, 1.0, -1.0, 0.0],
        [0.0, -1.0, -1.0, 0.0],
        [-1.0, 1.0, 0.0, 1.0],
        [1.0, 0.0, 1.0, -1.0],
    ];
    let width_mm = 106.67;
    let side_mm = 2.0 * width_mm / 3.0_f64.sqrt();
    // Half of the first triangle lies before the cloth: its right corner is the lower edge's.
    let origin = Point::new(-0.5 * SIDE_MM + width_mm, SIDE_MM);
    // Lattice points are two corners apart across the strip's way; the second lattice vector is turned by 120 degrees.
    let a = Vec2::new(2.0 * width_mm, 0.0);
    assert!((a.hypot() - 3.0_f64.sqrt() * side_mm).abs() < 1e-9);
    let turned = |angle: f64| Vec2::new(a.x * angle.cos(), a.x * angle.sin());
    let group = PlaneGroup { origin, lattice: [a, turned(TAU / 3.0)], positions: positions.to_vec() };
    for pack in [Pack::Zigzag, Pack::Rolled] {
        let pattern = triangles(Triangle::Equilateral, width_mm);
        check("triangles", &fold(&spec(Centring::Open, pattern, pack), square(SIDE_MM)), &group, &POINTS);
    }
}

/// Wedges: the dihedral group of half their number; turns by twice a wedge, and reflections in every crease.
#[test]
fn wedges_repeat_by_their_dihedral_group() {
    for wedges in [2_u32, 8, 16, 10] {
        let centre = Point::new(0.0, 320.0);
        let pattern = FlatPattern::Wedges {
            wedges,
            centre: at(centre.x, centre.y),
            first: WedgesFirst::HalfFold { angle_deg: 0.3_f64.to_degrees() },
        };
        let fold = fold(&spec(Centring::Open, pattern, Pack::Zigzag), square(SIDE_MM));
        let bundle = |at: Point| fold.to_bundle(ClothPoint { panel: Panel::Front, x_mm: at.x, y_mm: at.y }).unwrap();
        for (x, y) in [(20.0, 290.0), (133.0, 250.0), (-90.0, 420.0)] {
            let from = Point::new(x, y) - centre;
            let own = bundle(centre + from);
            // Angles clockwise from straight up.
            let angle = from.x.atan2(-from.y);
            for k in 0..wedges / 2 {
                let turn = f64::from(k) * 2.0 * TAU / f64::from(wedges);
                for image in [angle + turn, 2.0 * 0.3 - angle + turn] {
                    let there = bundle(centre + from.hypot() * Vec2::new(image.sin(), -image.cos()));
                    let off_mm = (there.along_mm - own.along_mm).hypot((there.across - own.across) * fold.size().height);
                    assert!(off_mm < 1e-9, "{wedges} wedges: {off_mm} mm off at {image} rad");
                }
            }
        }
    }
}
