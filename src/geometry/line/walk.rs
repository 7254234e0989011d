//! A drawn path as pieces that go on into each other: curves as arcs, and a fan of radius 0 wherever the direction jumps.

use super::biarc;
use super::piece::{Fan, Piece, Strip};
use super::spec::LINE_TOLERANCE_MM;
use kurbo::{BezPath, CubicBez, PathSeg, Point, Vec2};
use std::f64::consts::PI;

/// Jumps of direction below this are none, rad: what lies between is within a piece's slack.
const NO_JUMP_RAD: f64 = 1e-10;
/// How nearly a jump must be a half turn to be a reversal, rad.
const REVERSAL_RAD: f64 = 1e-6;
/// How far from a reversal its sides are looked at, as a share of the pieces beside it.
const BESIDE: f64 = 0.5;

/// The pieces of a path, without corners.
pub(super) fn smooth_pieces(path: &BezPath) -> Vec<Piece> {
    path.segments()
        .flat_map(|segment| match segment {
            PathSeg::Line(line) => Strip::between(line.p0, line.p1).map(Piece::Strip).into_iter().collect(),
            PathSeg::Quad(_) | PathSeg::Cubic(_) => curved(segment.to_cubic()),
        })
        .filter(|piece| piece.length_mm() > SHORTEST_MM)
        .collect()
}

/// Pieces no longer than this are left out, mm: nobody can draw them.
const SHORTEST_MM: f64 = 1e-6;

fn curved(cubic: CubicBez) -> Vec<Piece> {
    if biarc::is_straight(cubic) {
        return Strip::between(cubic.p0, cubic.p3).map(Piece::Strip).into_iter().collect();
    }
    biarc::fit(cubic, LINE_TOLERANCE_MM)
}

/// The same line walked the other way.
pub(super) fn reversed(pieces: &[Piece]) -> Vec<Piece> {
    pieces.iter().rev().map(|piece| backward(*piece)).collect()
}

fn backward(piece: Piece) -> Piece {
    match piece {
        Piece::Strip(strip) => {
            let start = strip.start + strip.length_mm * strip.along;
            Piece::Strip(Strip { start, along: -strip.along, length_mm: strip.length_mm })
        }
        Piece::Fan(fan) => {
            // Its outside is the other one: normals, radius and turn change their signs.
            Piece::Fan(Fan::from_start(piece.point(1.0, 0.0), -piece.normal(1.0), -fan.radius_mm, -fan.turn_rad))
        }
    }
}

/// What comes before the first piece and after the last.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Around {
    /// The last and the first.
    Closed,
    /// Cloth walked over in these directions; none where nothing is.
    Open([Option<Vec2>; 2]),
}

/// Puts a fan of radius 0 wherever the direction jumps.
pub(super) fn with_corners(pieces: Vec<Piece>, around: Around) -> Vec<Piece> {
    let (Some(&first), Some(&last)) = (pieces.first(), pieces.last()) else { return pieces };
    let mut walk = Vec::with_capacity(2 * pieces.len());
    if let Around::Open([Some(before), _]) = around {
        walk.extend(corner(first.point(0.0, 0.0), before, first.along(0.0), 0.0));
    }
    for (at, &piece) in pieces.iter().enumerate() {
        walk.push(piece);
        let next = match around {
            _ if at + 1 < pieces.len() => pieces.get(at + 1),
            Around::Closed => Some(&first),
            Around::Open(_) => None,
        };
        if let Some(next) = next {
            walk.extend(corner(piece.point(1.0, 0.0), piece.along(1.0), next.along(0.0), reversal_side(piece, *next)));
        }
    }
    if let Around::Open([_, Some(after)]) = around {
        walk.extend(corner(last.point(1.0, 0.0), last.along(1.0), after, 0.0));
    }
    walk
}

fn corner(at: Point, before: Vec2, after: Vec2, reversal_side: f64) -> Option<Piece> {
    let turn_rad = before.cross(after).atan2(before.dot(after));
    let turn_rad = if turn_rad.abs() > PI - REVERSAL_RAD && reversal_side != 0.0 {
        PI.copysign(reversal_side)
    } else if turn_rad.abs() > PI - REVERSAL_RAD {
        PI
    } else {
        turn_rad
    };
    (turn_rad.abs() > NO_JUMP_RAD).then(|| Piece::Fan(Fan::corner(at, before, turn_rad)))
}

/// At a cusp, to which side the line turns back: that on which its way out lies as seen along its way in. 0 where it goes back on itself.
fn reversal_side(before: Piece, after: Piece) -> f64 {
    let at = before.point(1.0, 0.0);
    let step_mm = BESIDE * before.length_mm().min(after.length_mm());
    let (arrived, left) =
        (at - before.point(1.0 - step_mm / before.length_mm(), 0.0), after.point(step_mm / after.length_mm(), 0.0) - at);
    let side = arrived.cross(left) / (arrived.hypot() * left.hypot()).max(f64::MIN_POSITIVE);
    if side.abs() < REVERSAL_RAD { 0.0 } else { side }
}
