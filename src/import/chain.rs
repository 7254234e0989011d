//! Pieces of a line that were drawn one by one, joined where their ends meet.

use super::raw::RawLine;
use kurbo::{BezPath, PathEl, Point};
use std::collections::HashMap;

/// An end of a piece: the piece's index, and whether it is the last one.
type End = (usize, bool);

/// The lines, pieces of one layer joined wherever exactly two ends meet within `join_mm`; where three or more do, nobody can tell how the
/// line goes on, and none is joined. What then ends where it begins is closed. Each line stands where its first piece stood.
pub(super) fn joined(lines: Vec<RawLine>, join_mm: f64) -> Vec<RawLine> {
    let ends = Ends::of(&lines, join_mm);
    let mut is_taken = vec![false; lines.len()];
    let mut whole = Vec::new();
    for index in 0..lines.len() {
        if is_taken[index] {
            continue;
        }
        let walk = ends.walk(index);
        for &(piece, _) in &walk {
            is_taken[piece] = true;
        }
        whole.push(line(&lines, &walk, ends.closes(&walk)));
    }
    whole
}

/// Which end meets which.
struct Ends {
    mates: HashMap<End, End>,
}

impl Ends {
    fn of(lines: &[RawLine], join_mm: f64) -> Self {
        let open = || lines.iter().enumerate().filter(|(_, line)| line.path.elements().last() != Some(&PathEl::ClosePath));
        let ends: Vec<(End, Point)> = open()
            .flat_map(|(index, line)| [false, true].map(|is_last| ((index, is_last), end_point(&line.path, is_last))))
            .collect();
        let cell = |p: Point| [p.x, p.y].map(|at| whole_cell(at / join_mm));
        let mut cells: HashMap<[i64; 2], Vec<usize>> = HashMap::new();
        for (at, (_, p)) in ends.iter().enumerate() {
            cells.entry(cell(*p)).or_default().push(at);
        }
        let near = |at: usize| {
            let (end, p) = ends[at];
            let [column, row] = cell(p);
            let around = (-1..=1).flat_map(move |dx| (-1..=1).map(move |dy| [column.saturating_add(dx), row.saturating_add(dy)]));
            let layer = &lines[end.0].layer;
            around
                .filter_map(|cell| cells.get(&cell))
                .flatten()
                .filter(|&&other| other != at && ends[other].1.distance(p) <= join_mm && &lines[ends[other].0.0].layer == layer)
                .take(2)
                .copied()
                .collect::<Vec<_>>()
        };
        let mates = (0..ends.len()).filter_map(|at| match near(at)[..] {
            // Each is the other's only one.
            [other] if near(other)[..] == [at] => Some((ends[at].0, ends[other].0)),
            _ => None,
        });
        Self { mates: mates.collect() }
    }

    /// The pieces that hang together with one, in order, each with whether it is walked from its last end to its first.
    fn walk(&self, piece: usize) -> Vec<(usize, bool)> {
        let ahead = |start: End| {
            let mut walk = Vec::new();
            let mut leaving = start;
            while let Some(&(next, is_last)) = self.mates.get(&leaving) {
                if next == start.0 {
                    break;
                }
                walk.push((next, is_last));
                leaving = (next, !is_last);
            }
            walk
        };
        let after = ahead((piece, true));
        let is_round = after.last().map_or_else(
            || self.meet((piece, true), (piece, false)),
            |&(last, is_backward)| self.meet((last, !is_backward), (piece, false)),
        );
        let before = if is_round { Vec::new() } else { ahead((piece, false)) };
        let turned = before.into_iter().rev().map(|(piece, is_backward)| (piece, !is_backward));
        turned.chain([(piece, false)]).chain(after).collect()
    }

    /// Whether a walk ends where it begins.
    fn closes(&self, walk: &[(usize, bool)]) -> bool {
        match (walk.first(), walk.last()) {
            (Some(&(first, turned)), Some(&(last, is_backward))) => self.meet((last, !is_backward), (first, turned)),
            _ => false,
        }
    }

    fn meet(&self, one: End, other: End) -> bool {
        self.mates.get(&one) == Some(&other)
    }
}

#[expect(clippy::cast_possible_truncation, reason = "saturates; far beyond any cloth everything is one cell")]
fn whole_cell(cells: f64) -> i64 {
    cells.floor() as i64
}

fn end_point(path: &BezPath, is_last: bool) -> Point {
    let mut points = path.elements().iter().filter_map(PathEl::end_point);
    if is_last { points.next_back() } else { points.next() }.unwrap_or_default()
}

/// The pieces of a walk as one line.
fn line(lines: &[RawLine], walk: &[(usize, bool)], is_closed: bool) -> RawLine {
    let pieces = || walk.iter().map(|&(piece, _)| &lines[piece]);
    let mut path = BezPath::new();
    for &(piece, is_backward) in walk {
        let piece = &lines[piece].path;
        let piece = if is_backward { piece.reverse_subpaths() } else { piece.clone() };
        // The next begins where the one before ended.
        path.extend(piece.elements().iter().skip(usize::from(!path.elements().is_empty())).copied());
    }
    if is_closed {
        let start = end_point(&path, false);
        if let Some(PathEl::LineTo(p) | PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p)) = path.elements_mut().last_mut() {
            *p = start;
        }
        path.close_path();
    }
    RawLine { name: pieces().find_map(|piece| piece.name.clone()), layer: pieces().find_map(|piece| piece.layer.clone()), path }
}
