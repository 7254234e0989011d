//! Pleats on each other: how the layers of a fan fold count as places, and over which edge each goes on.
//!
//! At every crease the cloth turns over: in odd pleats it is counted backwards from edge to edge, and its layers lie backwards too.

use super::Lay;

/// The pleats of a fan fold, each of all the layers of the garment as it lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct PleatStack {
    pub(crate) pleats: u32,
    pub(crate) layers: u32,
}

/// What lies beyond the first or the last crease.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FanEnd {
    /// The pleat at its other end: the fan closes.
    Closes,
    /// The garment's own fold: the same pleat in the layer over it.
    OnFold,
    /// No cloth.
    Bare,
}

/// Whether a pleat lies the other way up than the first.
fn is_turned(pleat: u32) -> bool {
    pleat % 2 == 1
}

impl PleatStack {
    /// The pleat of a place, and its layer.
    pub(crate) fn pleat_and_layer(self, place: u32) -> (u32, u32) {
        let (pleat, in_pleat) = (place / self.layers, place % self.layers);
        (pleat, if is_turned(pleat) { self.layers - 1 - in_pleat } else { in_pleat })
    }

    /// The place of a layer of a pleat.
    pub(crate) fn place(self, pleat: u32, layer: u32) -> u32 {
        pleat * self.layers + if is_turned(pleat) { self.layers - 1 - layer } else { layer }
    }

    /// Where across a pleat a share of it lies that is counted along the fan; and the other way round, that share.
    pub(crate) fn across(pleat: u32, share: f64) -> f64 {
        if is_turned(pleat) { 1.0 - share } else { share }
    }

    /// The places that a place is joined to where across is 0 and where it is 1.
    pub(crate) fn mates(self, place: u32, lay: &Lay, ends: [FanEnd; 2]) -> [Option<u32>; 2] {
        let (pleat, layer) = self.pleat_and_layer(place);
        let joined = |beside: Option<u32>, end: usize| match (beside, ends[end]) {
            (Some(beside), _) => Some(self.place(beside, layer)),
            (None, FanEnd::Closes) => Some(self.place(if end == 0 { self.pleats - 1 } else { 0 }, layer)),
            (None, FanEnd::OnFold) => lay.over_the_fold(layer).map(|layer| self.place(pleat, layer)),
            (None, FanEnd::Bare) => None,
        };
        let before = joined(pleat.checked_sub(1), 0);
        let after = joined(Some(pleat + 1).filter(|&after| after < self.pleats), 1);
        let mates = if is_turned(pleat) { [after, before] } else { [before, after] };
        mates.map(|mate| mate.filter(|&mate| mate != place))
    }
}
