//! A pen's strokes as one walk all round them: there and back, and at a branch into the next stroke.

use super::piece::Piece;
use super::walk::reversed;
use kurbo::Point;
use std::f64::consts::TAU;

/// Ends of strokes within this of each other are one branching, mm.
const TOGETHER_MM: f64 = 1e-3;

/// A stroke as it is walked in one direction.
struct Way {
    pieces: Vec<Piece>,
    from: usize,
    to: usize,
}

/// The walk round strokes that hang together by their ends and enclose nothing; none of others. The cloth lies to its outside everywhere.
pub(super) fn all_round(strokes: Vec<Vec<Piece>>) -> Option<Vec<Piece>> {
    let mut knots: Vec<Point> = Vec::new();
    let mut knot = |at: Point| {
        knots.iter().position(|knot| knot.distance(at) < TOGETHER_MM).unwrap_or_else(|| {
            knots.push(at);
            knots.len() - 1
        })
    };
    let mut ways = Vec::new();
    for pieces in strokes {
        let (from, to) = (knot(pieces.first()?.point(0.0, 0.0)), knot(pieces.last()?.point(1.0, 0.0)));
        let back = reversed(&pieces);
        ways.push(Way { pieces, from, to });
        ways.push(Way { pieces: back, from: to, to: from });
    }
    let mut walk = Vec::new();
    let mut at = 0;
    for _ in 0..ways.len() {
        walk.extend_from_slice(&ways[at].pieces);
        at = next(&ways, at)?;
        if at == 0 {
            break;
        }
    }
    // Strokes that enclose something, or don't hang together, are not walked both ways in one round.
    let all: usize = ways.iter().map(|way| way.pieces.len()).sum();
    (walk.len() == all && at == 0).then_some(walk)
}

/// The first way on as one turns from where one came by the outside.
fn next(ways: &[Way], at: usize) -> Option<usize> {
    let came = &ways[at];
    let back_rad = (-came.pieces.last()?.along(1.0)).atan2();
    let turn = |way: &Way| way.pieces.first().map(|first| (first.along(0.0).atan2() - back_rad).rem_euclid(TAU));
    // Back on the same way comes last.
    let turns = ways.iter().enumerate().filter(|(_, way)| way.from == came.to).filter_map(|(number, way)| {
        let is_back = number == at ^ 1;
        Some((number, if is_back { TAU } else { turn(way)? }))
    });
    turns.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(number, _)| number)
}
