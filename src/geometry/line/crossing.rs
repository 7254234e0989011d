//! Whether a line meets itself.

use super::piece::{Fan, Piece};
use super::tree::Tree;
use kurbo::{Point, Vec2};

/// How near to a piece's end a meeting with the piece that goes on there is their joint, mm.
const JOINT_MM: f64 = 1e-3;

/// By how much a meeting point may be off in closed form, with the farthest centre that an arc has, mm.
const NEAR_MM: f64 = 1.0;
/// Sine of the angle below which two parallels touch rather than cross.
const LEAST_SLANT: f64 = 1e-9;

/// Where two pieces of a line meet, but for the joints between neighbours.
pub(super) fn find(pieces: &[Piece]) -> Option<Point> {
    let tree = Tree::new(pieces);
    let mut found = None;
    for (at, piece) in pieces.iter().enumerate().filter(|(_, piece)| piece.length_mm() > 0.0) {
        let bounds = piece.bounds();
        let (middle, reach_mm) = (bounds.center(), 0.5 * bounds.size().to_vec2().hypot());
        tree.within(middle, reach_mm + JOINT_MM, |other| {
            let with = &pieces[other];
            if found.is_none() && other > at && with.length_mm() > 0.0 {
                let met = carriers_meet(piece, with, 0.0).into_iter().flatten();
                found = met.filter(|&p| is_on(piece, p) && is_on(with, p)).find(|&p| !is_joint(piece, with, p));
            }
        });
        if found.is_some() {
            break;
        }
    }
    found
}

fn is_on(piece: &Piece, p: Point) -> bool {
    piece.distance_mm(p).is_some_and(|distance_mm| distance_mm.abs() < JOINT_MM)
}

/// Whether both pieces end there.
fn is_joint(a: &Piece, b: &Piece, p: Point) -> bool {
    let ends_there = |piece: &Piece| [0.0, 1.0].into_iter().any(|share| piece.point(share, 0.0).distance(p) < JOINT_MM);
    ends_there(a) && ends_there(b)
}

/// Where the parallels at a distance of two whole straight lines or circles meet near both pieces, mm.
pub(super) fn carriers_meet(a: &Piece, b: &Piece, distance_mm: f64) -> [Option<Point>; 2] {
    let met = match (a, b) {
        (Piece::Strip(a), Piece::Strip(b)) => {
            let (from, onto) = (Piece::Strip(*a).point(0.0, distance_mm), Piece::Strip(*b).point(0.0, distance_mm));
            let slant = a.along.cross(b.along);
            [(slant.abs() >= 1e-15).then(|| from + (onto - from).cross(b.along) / slant * a.along), None]
        }
        (Piece::Strip(strip), Piece::Fan(fan)) | (Piece::Fan(fan), Piece::Strip(strip)) => {
            circle_line(fan, distance_mm, Piece::Strip(*strip).point(0.0, distance_mm), strip.along)
        }
        (Piece::Fan(a), Piece::Fan(b)) => circles(a, b, distance_mm),
    };
    // Most meetings of two whole circles are on neither piece.
    let may_be = |at: &Point| a.may_answer(*at, NEAR_MM) && b.may_answer(*at, NEAR_MM);
    met.map(|at| at.filter(may_be).map(|at| polished(a, b, distance_mm, at)))
}

/// A meeting point after two steps of Newton's method: with a far centre the closed forms lose digits.
fn polished(a: &Piece, b: &Piece, distance_mm: f64, at: Point) -> Point {
    (0..2).fold(at, |at, _| {
        let off_mm = [a, b].map(|piece| piece.carrier_distance_mm(at) - distance_mm);
        let [m, n] = [a, b].map(|piece| piece.outward(at));
        let slant = m.cross(n);
        if slant.abs() < LEAST_SLANT {
            return at;
        }
        at - Vec2::new(off_mm[0] * n.y - off_mm[1] * m.y, off_mm[1] * m.x - off_mm[0] * n.x) / slant
    })
}

/// Where the parallel at a distance of a whole straight line or circle meets the fold line, mm.
pub(super) fn meets_fold(piece: &Piece, distance_mm: f64) -> [Option<Point>; 2] {
    match piece {
        Piece::Strip(strip) => {
            let from = piece.point(0.0, distance_mm);
            [(strip.along.x != 0.0).then(|| from - from.x / strip.along.x * strip.along), None]
        }
        Piece::Fan(fan) => circle_line(fan, distance_mm, Point::ORIGIN, Vec2::new(0.0, 1.0)),
    }
}

fn circle_line(fan: &Fan, distance_mm: f64, on: Point, along: Vec2) -> [Option<Point>; 2] {
    let to_centre = fan.centre - on;
    let foot = on + to_centre.dot(along) * along;
    let radius_mm = fan.radius_mm + distance_mm;
    let half_mm2 = radius_mm * radius_mm - (foot - fan.centre).hypot2();
    [-1.0, 1.0].map(|way| (half_mm2 >= 0.0).then(|| foot + way * half_mm2.sqrt() * along))
}

fn circles(a: &Fan, b: &Fan, distance_mm: f64) -> [Option<Point>; 2] {
    let apart = b.centre - a.centre;
    let (first_mm, second_mm) = (a.radius_mm + distance_mm, b.radius_mm + distance_mm);
    let apart_mm = apart.hypot();
    if apart_mm < 1e-9 {
        return [None; 2];
    }
    let at_mm = (apart_mm * apart_mm + (first_mm - second_mm) * (first_mm + second_mm)) / (2.0 * apart_mm);
    let half_mm2 = (first_mm - at_mm) * (first_mm + at_mm);
    let unit = apart / apart_mm;
    let foot = a.centre + at_mm * unit;
    [-1.0, 1.0].map(|way| (half_mm2 >= 0.0).then(|| foot + way * half_mm2.sqrt() * unit.turn_90()))
}
