//! Places of a flat bundle, counted through all its series: a mixed radix, read forward to fold and backward to open.

use super::series::Series;

/// Most series of creases one after the other.
pub(crate) const MOST_SERIES: usize = 7;

/// The piece of each series.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Pieces([u32; MOST_SERIES]);

impl Pieces {
    pub(crate) fn of(&self, series: usize) -> u32 {
        self.0.get(series).copied().unwrap_or(0)
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
