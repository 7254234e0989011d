//! Which piece of a line is nearest to a point: boxes round stretches of the line, halved down to a few pieces.
//!
//! Neighbours on the line are neighbours in the plane, so the stretches are halved by their place on the line alone.

use super::piece::Piece;
use kurbo::{Point, Rect};

/// Pieces in a stretch that is not halved any more.
const FEW: usize = 4;
/// Halvings: more than any line has.
const DEEPEST: usize = 32;

/// Boxes round stretches of a line.
#[derive(Debug, Clone, Default)]
pub(crate) struct Tree {
    nodes: Vec<Node>,
}

/// A stretch of the line and its box.
#[derive(Debug, Clone, Copy)]
struct Node {
    bounds: Rect,
    /// Its pieces.
    from: u32,
    to: u32,
    /// Where its second half stands; its first follows it. 0 of a stretch that is not halved.
    second: u32,
    /// Where what comes after all of it stands.
    after: u32,
}

/// The distance from a point to a box, squared, mm2.
#[inline]
fn away_mm2(bounds: &Rect, point: Point) -> f64 {
    let x = (bounds.x0 - point.x).max(point.x - bounds.x1).max(0.0);
    let y = (bounds.y0 - point.y).max(point.y - bounds.y1).max(0.0);
    x * x + y * y
}

impl Tree {
    pub(crate) fn new(pieces: &[Piece]) -> Self {
        let mut tree = Self { nodes: Vec::with_capacity(pieces.len()) };
        if !pieces.is_empty() {
            tree.push(pieces, 0, pieces.len());
        }
        tree
    }

    fn push(&mut self, pieces: &[Piece], from: usize, to: usize) -> usize {
        let at = self.nodes.len();
        let bounds = pieces[from..to].iter().map(Piece::bounds).reduce(|a, b| a.union(b)).unwrap_or_default();
        // A line has far fewer pieces than numbers.
        let [from_piece, to_piece] = [from, to].map(|piece| u32::try_from(piece).unwrap_or(u32::MAX));
        self.nodes.push(Node { bounds, from: from_piece, to: to_piece, second: 0, after: 0 });
        if to - from > FEW {
            let middle = usize::midpoint(from, to);
            self.push(pieces, from, middle);
            let second = self.push(pieces, middle, to);
            self.nodes[at].second = u32::try_from(second).unwrap_or(0);
        }
        self.nodes[at].after = u32::try_from(self.nodes.len()).unwrap_or(u32::MAX);
        at
    }

    /// Goes through the pieces from the nearest boxes on, as long as a box is nearer than what `visit` returned last, mm2: it is given
    /// the number of a piece.
    #[inline]
    pub(crate) fn nearest(&self, point: Point, most_mm2: f64, mut visit: impl FnMut(usize) -> f64) {
        let Some(mut node) = self.nodes.first() else { return };
        let mut within_mm2 = most_mm2;
        // Halves that were farther than their others, and how far.
        let mut later = [(0_u32, 0.0_f64); DEEPEST];
        let mut open = 0;
        let mut at = 0;
        loop {
            if node.second == 0 {
                for piece in node.from..node.to {
                    within_mm2 = visit(piece as usize);
                }
            } else {
                let halves = [at + 1, node.second];
                let away = halves.map(|half| away_mm2(&self.nodes[half as usize].bounds, point));
                let near = usize::from(away[1] < away[0]);
                if away[1 - near] <= within_mm2 && open < DEEPEST {
                    later[open] = (halves[1 - near], away[1 - near]);
                    open += 1;
                }
                if away[near] <= within_mm2 {
                    at = halves[near];
                    node = &self.nodes[at as usize];
                    continue;
                }
            }
            at = loop {
                if open == 0 {
                    return;
                }
                open -= 1;
                if later[open].1 <= within_mm2 {
                    break later[open].0;
                }
            };
            node = &self.nodes[at as usize];
        }
    }

    /// Goes through all pieces whose boxes are within a distance of a point, in their order.
    #[inline]
    pub(crate) fn within(&self, point: Point, distance_mm: f64, mut visit: impl FnMut(usize)) {
        let within_mm2 = distance_mm * distance_mm;
        let mut at = 0;
        while let Some(node) = self.nodes.get(at) {
            if away_mm2(&node.bounds, point) > within_mm2 {
                at = node.after as usize;
                continue;
            }
            if node.second == 0 {
                for piece in node.from..node.to {
                    visit(piece as usize);
                }
            }
            at += 1;
        }
    }
}
