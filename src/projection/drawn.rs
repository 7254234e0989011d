//! Lines of the table as they are drawn in the picture.

use super::{Homography, Role, TableLine, clipped};
use kurbo::{Affine, BezPath, PathEl, Point, Rect};

/// Dashes and gaps of what is folded under, of the back's edge, of the centre line and of extra lines, mm on the table.
const UNDER_MM: [f64; 2] = [6.0, 6.0];
const BEHIND_MM: [f64; 2] = [10.0, 8.0];
const AXIS_MM: [f64; 4] = [24.0, 6.0, 3.0, 6.0];
const EXTRA_MM: [f64; 2] = [3.0, 5.0];

impl Role {
    /// Dashes and gaps in turn, mm on the table; none of what is drawn through. What differs on the cloth differs to the eye without colours.
    #[must_use]
    pub const fn dashes_mm(self) -> &'static [f64] {
        match self {
            Self::CreaseUnder => &UNDER_MM,
            Self::EdgeBehind => &BEHIND_MM,
            Self::Axis | Self::Ridge | Self::Block | Self::Thread => &AXIS_MM,
            Self::Extra => &EXTRA_MM,
            Self::Edge | Self::Pin | Self::Guide | Self::Source | Self::Bind | Self::CreaseOver | Self::Stitch => &[],
        }
    }
}

impl TableLine {
    /// The same moved by a map that keeps lengths, such as from the laid garment onto the table.
    #[must_use]
    pub fn placed(&self, map: Affine) -> Self {
        Self { points: self.points.iter().map(|point| map * *point).collect(), ..self.clone() }
    }

    /// The pieces of it that lie within `picture`, px, dashed as its role is; each has at least two points.
    #[must_use]
    pub fn drawn(&self, picture_from_table: &Homography, picture: Rect) -> Vec<Vec<Point>> {
        let pieces = dashed(&self.points, self.role.dashes_mm());
        pieces.iter().flat_map(|points| within(points, picture_from_table, picture)).collect()
    }
}

/// A line in dashes: pieces with their points.
fn dashed(points: &[Point], dashes_mm: &[f64]) -> Vec<Vec<Point>> {
    if dashes_mm.is_empty() || points.is_empty() {
        return vec![points.to_vec()];
    }
    let through = points.iter().enumerate().map(|(index, at)| if index == 0 { PathEl::MoveTo(*at) } else { PathEl::LineTo(*at) });
    let path: BezPath = through.collect();
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    for element in kurbo::dash(path.into_iter(), 0.0, dashes_mm) {
        match element {
            PathEl::MoveTo(at) => pieces.push(vec![at]),
            PathEl::LineTo(at) => pieces.last_mut().into_iter().for_each(|piece| piece.push(at)),
            // Straight lines have none of these.
            PathEl::QuadTo(..) | PathEl::CurveTo(..) | PathEl::ClosePath => {}
        }
    }
    pieces.retain(|piece| piece.len() > 1);
    pieces
}

/// What of a line lies within the picture: a new piece wherever it comes in again.
fn within(points: &[Point], picture_from_table: &Homography, picture: Rect) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    for pair in points.windows(2) {
        let Some([from, to]) = clipped(picture_from_table, [pair[0], pair[1]], picture) else { continue };
        match pieces.last_mut() {
            Some(piece) if piece.last().is_some_and(|last| last.distance(from) < JOINED_PX) => piece.push(to),
            _ => pieces.push(vec![from, to]),
        }
    }
    pieces
}

/// Pieces that meet as near as this go on, px: they differ by rounding alone.
const JOINED_PX: f64 = 1e-6;

#[cfg(test)]
mod tests {
    use super::*;

    const PICTURE: Rect = Rect::new(0.0, 0.0, 100.0, 100.0);

    fn plain() -> Homography {
        Homography::from_rows([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]], Point::ZERO).unwrap()
    }

    #[test]
    fn a_line_that_leaves_the_picture_and_comes_back_is_in_two_pieces() {
        let points = [(10.0, 10.0), (150.0, 10.0), (150.0, 90.0), (10.0, 90.0)].map(Point::from).to_vec();
        let line = TableLine { role: Role::Bind, number: Some(1), points };
        let pieces = line.drawn(&plain(), PICTURE);
        assert_eq!(pieces.len(), 2, "{pieces:?}");
        assert!(pieces.iter().all(|piece| piece.len() == 2 && piece.iter().all(|at| at.x <= 100.0 + 1e-9)));
    }

    #[test]
    fn dashes_are_as_long_as_they_are_meant() {
        let line = TableLine { role: Role::CreaseUnder, number: None, points: vec![Point::new(2.0, 5.0), Point::new(62.0, 5.0)] };
        let pieces = line.drawn(&plain(), PICTURE);
        assert_eq!(pieces.len(), 5);
        for piece in pieces {
            assert!((piece[0].distance(piece[1]) - UNDER_MM[0]).abs() < 1e-9);
        }
    }
}
