//! What is marked on the laid cloth: every crease, in the order of folding.

use super::facet::{Facet, long_line, nearer};
use super::fold_line::FoldLine;
use super::frame::Frame;
use super::stack::{Pieces, Stack, is_ridge};
use crate::geometry::{Crease, Lay};
use kurbo::{Line, Point, Vec2};

/// Shortest piece of a crease that is marked, mm (own choice).
const SHORTEST_MM: f64 = 0.5;

/// What creases are marked on.
pub(super) struct Marked<'a> {
    pub(super) lay: &'a Lay,
    pub(super) stack: Stack<'a>,
    pub(super) frame: &'a Frame,
    pub(super) facets: &'a [Facet],
}

impl Marked<'_> {
    /// The creases from a distance along the bundle on, the one folded first to begin with. What is folded in one go, through many layers, has
    /// one number.
    pub(super) fn creases(&self, from_mm: f64) -> Vec<Crease> {
        let mut creases: Vec<Crease> = self.facets.iter().flat_map(|facet| self.of_facet(facet, from_mm)).collect();
        creases.sort_by_key(|crease| crease.number);
        creases
    }

    /// Those that a facet ends at on the side of the pieces that come next.
    fn of_facet(&self, facet: &Facet, from_mm: f64) -> Vec<Crease> {
        let stack = Stack { layers: 1, ..self.stack };
        let pieces = Pieces::from_iter(&facet.pieces);
        let own = stack.place(&pieces, 0);
        // What lies before a distance along the bundle, on the laid cloth.
        let begin =
            FoldLine::new(Point::new(from_mm, 0.0), Vec2::new(-1.0, 0.0)).carried(facet.back * self.frame.frame_to_plane());
        let mut before = 0;
        let mut found = Vec::new();
        for (series, own_series) in self.stack.series.iter().enumerate() {
            let piece = pieces.of(series);
            if let Some(crease) = facet.bounds[series][1] {
                let next = stack.place(&pieces.with(series, piece + 1), 0);
                let is_over = is_ridge(own, next, pieces.is_turned());
                let line = long_line(crease.at(), crease.direction());
                let line = facet.part(line, Some(series)).and_then(|line| nearer(line, &begin));
                let number = before + piece + 1;
                let pieces = line.map(|line| self.lay.pieces_on_cloth(line)).unwrap_or_default();
                let is_long = |line: &Line| (line.p1 - line.p0).hypot() > SHORTEST_MM;
                // Rolled, what is folded already is laid onto the next piece; to and fro, all that is left onto what is folded.
                let toward = Some(if own_series.is_rolled() { crease.normal() } else { -crease.normal() });
                let mark = |line: Line| Crease { line, is_over, ends_alone: false, number, toward };
                found.extend(pieces.into_iter().filter(is_long).map(mark));
            }
            before += own_series.pieces() - 1;
        }
        found
    }
}
