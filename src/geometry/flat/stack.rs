//! Places of a flat bundle, counted through all its series: a mixed radix, read forward to fold and backward to open.

use super::series::{Series, is_turned};

/// Most series of creases one after the other.
pub(crate) const MOST_SERIES: usize = 7;

/// The piece of each series.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Pieces([u32; MOST_SERIES]);

/// The piece of each series in turn.
impl<'a> FromIterator<&'a u32> for Pieces {
    fn from_iter<I: IntoIterator<Item = &'a u32>>(of_series: I) -> Self {
        of_series.into_iter().enumerate().fold(Self::default(), |pieces, (series, &piece)| pieces.with(series, piece))
    }
}

impl Pieces {
    pub(crate) fn of(&self, series: usize) -> u32 {
        self.0.get(series).copied().unwrap_or(0)
    }

    /// The same but for the piece of one series.
    pub(crate) fn with(&self, series: usize, piece: u32) -> Self {
        let mut pieces = *self;
        pieces.set(series, piece);
        pieces
    }

    /// Whether what lies on them is the other way up than the garment was laid.
    pub(crate) fn is_turned(&self) -> bool {
        self.0.iter().filter(|&&piece| is_turned(piece)).count() % 2 == 1
    }

    pub(crate) fn set(&mut self, series: usize, piece: u32) {
        if let Some(own) = self.0.get_mut(series) {
            *own = piece;
        }
    }
}

/// The series of a bundle, and the layers of the garment as it was laid.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stack<'a> {
    pub(crate) series: &'a [Series],
    pub(crate) layers: u32,
}

impl Stack<'_> {
    /// Places in all.
    pub(crate) fn places(&self) -> u32 {
        self.series.iter().map(Series::pieces).product::<u32>() * self.layers
    }

    /// The place of a layer of these pieces.
    pub(crate) fn place(&self, pieces: &Pieces, layer: u32) -> u32 {
        let mut places = self.layers;
        self.series.iter().enumerate().fold(layer, |below, (number, series)| {
            let place = series.place(pieces.of(number), below, places);
            places *= series.pieces();
            place
        })
    }

    /// The pieces of a place, and its layer.
    pub(crate) fn decoded(&self, place: u32) -> (Pieces, u32) {
        let (mut places, mut pieces, mut at) = (self.places(), Pieces::default(), place);
        for (number, series) in self.series.iter().enumerate().rev() {
            places /= series.pieces();
            let (piece, below) = series.piece_and_below(at, places);
            pieces.set(number, piece);
            at = below;
        }
        (pieces, at)
    }
}

/// Whether the crease between a place and one beside it is a ridge as the garment was laid: on a piece that lies so, what comes to
/// lie on it rises in a valley; on one turned over, it is a ridge.
pub(crate) fn is_ridge(place: u32, beside: u32, is_turned: bool) -> bool {
    (beside > place) == is_turned
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::flat::fold_line::FoldLine;
    use crate::geometry::flat::pack::Pack;
    use kurbo::{Point, Vec2};

    #[test]
    fn every_place_is_read_back() {
        let creases =
            |count: u32| (1..=count).map(|k| FoldLine::new(Point::new(f64::from(k), 0.0), Vec2::new(1.0, 0.0))).collect();
        let series =
            [Series::new(creases(4), Pack::Rolled), Series::new(creases(1), Pack::Zigzag), Series::new(creases(6), Pack::Zigzag)];
        let stack = Stack { series: &series, layers: 4 };
        assert_eq!(stack.places(), 5 * 2 * 7 * 4);
        for place in 0..stack.places() {
            let (pieces, layer) = stack.decoded(place);
            assert_eq!(stack.place(&pieces, layer), place);
        }
    }
}
