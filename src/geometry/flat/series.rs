//! A series of straight creases: the pieces between them, laid onto the first by reflections, and the order that they lie in.

use super::fold_line::FoldLine;
use super::pack::Pack;
use kurbo::{Affine, Point};

/// Creases that don't cross on the cloth, each beyond the one before it.
///
/// Piece `j` lies beyond `j` creases. It comes onto the first piece by `T_j = T_(j-1) after M_j`, where `M_j` is the reflection in
/// the crease before it and `T_0` leaves everything where it is. Of a stack of `n` places the place `z` of piece `j` becomes
/// `rank_j n + z`, or `rank_j n + n - 1 - z` where the piece is turned over.
#[derive(Debug, Clone)]
pub(crate) struct Series {
    creases: Vec<FoldLine>,
    onto: Vec<Affine>,
    back: Vec<Affine>,
    /// The pieces from the bottom up.
    order: Vec<u32>,
    rank: Vec<u32>,
    pack: Pack,
}

/// How far beyond a crease a point may still count as on it, mm: rounding over a few metres.
const ON_CREASE_MM: f64 = 1e-7;

impl Series {
    pub(crate) fn new(creases: Vec<FoldLine>, pack: Pack) -> Self {
        let mut onto = vec![Affine::IDENTITY];
        for crease in &creases {
            onto.push(onto[onto.len() - 1] * crease.mirror());
        }
        // Exact where the inverse of the matrix would divide by a determinant of 1.
        let mut back = vec![Affine::IDENTITY];
        for crease in &creases {
            back.push(crease.mirror() * back[back.len() - 1]);
        }
        let order = pack.order(u32::try_from(creases.len() + 1).unwrap_or(u32::MAX));
        let mut rank = vec![0; order.len()];
        for (place, &piece) in (0..).zip(&order) {
            rank[piece as usize] = place;
        }
        Self { creases, onto, back, order, rank, pack }
    }

    /// Whether it is rolled up.
    pub(crate) fn is_rolled(&self) -> bool {
        self.pack == Pack::Rolled
    }

    /// Number of pieces.
    pub(crate) fn pieces(&self) -> u32 {
        u32::try_from(self.order.len()).unwrap_or(u32::MAX)
    }

    /// The crease before a piece and the one after it.
    pub(crate) fn beside(&self, piece: u32) -> [Option<&FoldLine>; 2] {
        let piece = piece as usize;
        [piece.checked_sub(1).and_then(|before| self.creases.get(before)), self.creases.get(piece)]
    }

    /// The piece that a point lies on.
    pub(crate) fn piece(&self, at: Point) -> u32 {
        let beyond = self.creases.iter().filter(|crease| crease.beyond_mm(at) > 0.0).count();
        u32::try_from(beyond).unwrap_or(u32::MAX)
    }

    /// Whether a point lies on a piece, its edges included.
    pub(crate) fn is_on(&self, piece: u32, at: Point) -> bool {
        let piece = piece as usize;
        let (before, after) = self.creases.split_at(piece.min(self.creases.len()));
        before.iter().all(|crease| crease.beyond_mm(at) > -ON_CREASE_MM)
            && after.iter().all(|crease| crease.beyond_mm(at) < ON_CREASE_MM)
    }

    /// Carries a piece onto the first.
    pub(crate) fn onto(&self, piece: u32) -> Affine {
        self.onto[piece as usize]
    }

    /// Carries what lies on the first piece back to this one.
    pub(crate) fn back(&self, piece: u32) -> Affine {
        self.back[piece as usize]
    }

    /// The place that a piece's place `below` of `places` comes to.
    pub(crate) fn place(&self, piece: u32, below: u32, places: u32) -> u32 {
        self.rank[piece as usize] * places + if is_turned(piece) { places - 1 - below } else { below }
    }

    /// The piece that a place is of, and which of its `places` it was.
    pub(crate) fn piece_and_below(&self, place: u32, places: u32) -> (u32, u32) {
        let piece = self.order[(place / places) as usize % self.order.len()];
        let in_piece = place % places;
        (piece, if is_turned(piece) { places - 1 - in_piece } else { in_piece })
    }
}

/// Whether a piece lies the other way up than the first.
pub(crate) fn is_turned(piece: u32) -> bool {
    piece % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Vec2;

    #[test]
    fn what_is_carried_on_is_carried_back() {
        let creases = (1..=6).map(|k| FoldLine::new(Point::new(20.0 * f64::from(k), 3.0), Vec2::new(1.0, 0.3))).collect();
        for pack in [Pack::Zigzag, Pack::Rolled] {
            let series = Series::new(Vec::clone(&creases), pack);
            for piece in 0..series.pieces() {
                let at = Point::new(20.0 * f64::from(piece) + 7.0, 11.0);
                assert!(series.piece(at) == piece && series.is_on(piece, at));
                assert!((series.back(piece) * (series.onto(piece) * at)).distance(at) < 1e-12);
                for below in 0..4 {
                    assert_eq!(series.piece_and_below(series.place(piece, below, 4), 4), (piece, below));
                }
            }
        }
    }
}
