//! The fold as a hand lays it: what a layout asks for, and the hand's wander on top.

use super::noise;
use crate::geometry::{ClothPoint, Fold, Panel, PanelPair, RodCut, RodPoint};
use crate::layout::Hand;
use kurbo::{Point, Vec2};

/// A fold whose cloth lies where the hand laid it: a point of the cloth lies where the fold would put the point that the hand took
/// for it.
///
/// # Limits
/// The way back is found by steps that close in as long as the hand strays by less than the length over which it changes.
pub(super) struct LaidFold<'a> {
    fold: &'a (dyn Fold + Sync),
    hand: Hand,
}

/// Steps back from where the cloth lies: with the usual hand, which strays by a tenth over its length, within 0.02 mm (computed).
const STEPS_BACK: usize = 3;

impl<'a> LaidFold<'a> {
    pub(super) fn new(fold: &'a (dyn Fold + Sync), hand: &Hand) -> Self {
        Self { fold, hand: *hand }
    }

    /// The cloth that lies at a place of the rod, if any does. A place that no point of the cloth is carried to has none, whatever lies
    /// at the point which the fold names for it: so it is beyond the fold of a garment that is folded beside the burst's centre.
    pub(super) fn cloth_in(&self, rod: RodPoint) -> Option<ClothPoint> {
        let taken = self.fold.to_cloth(rod);
        let is_reached = (self.fold.to_rod(taken).along_mm - rod.along_mm).abs() < SAME_MM;
        Some(self.back_from(taken)).filter(|&cloth| is_reached && self.fold.has_cloth(cloth))
    }

    /// The point that the hand took for this one.
    fn back_from(&self, taken: ClothPoint) -> ClothPoint {
        if self.hand.wander_mm == 0.0 {
            return taken;
        }
        let mut at = taken.position();
        for _ in 0..STEPS_BACK {
            at = taken.position() - stray(&self.hand, taken.panel, at);
        }
        ClothPoint { x_mm: at.x, y_mm: at.y, ..taken }
    }
}

/// Places along the rod that are as near as this are one, mm: more than rounding, less than can be seen.
const SAME_MM: f64 = 1e-3;

impl Fold for LaidFold<'_> {
    fn pleats(&self) -> u32 {
        self.fold.pleats()
    }

    fn layers(&self) -> u32 {
        self.fold.layers()
    }

    fn to_rod(&self, point: ClothPoint) -> RodPoint {
        let taken = point.position() + stray(&self.hand, point.panel, point.position());
        self.fold.to_rod(ClothPoint { x_mm: taken.x, y_mm: taken.y, ..point })
    }

    fn to_cloth(&self, point: RodPoint) -> ClothPoint {
        self.back_from(self.fold.to_cloth(point))
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        self.fold.has_cloth(point)
    }

    fn pleat_width_mm(&self, along_mm: f64) -> f64 {
        self.fold.pleat_width_mm(along_mm)
    }

    fn cut(&self, along_mm: f64) -> PanelPair<RodCut> {
        self.fold.cut(along_mm)
    }

    fn length_mm(&self) -> f64 {
        self.fold.length_mm()
    }

    fn over_fold(&self, point: ClothPoint) -> Option<(ClothPoint, f64)> {
        self.fold.over_fold(point)
    }
}

/// How far a hand strays at a point of the garment's frame, mm.
pub(super) fn stray(hand: &Hand, panel: Panel, at: Point) -> Vec2 {
    if hand.wander_mm == 0.0 {
        return Vec2::ZERO;
    }
    let (x, y) = (at.x / hand.wander_length_mm, at.y / hand.wander_length_mm);
    let seed = hand.seed.wrapping_mul(4) + 2 * u64::from(panel == Panel::Back);
    hand.wander_mm * Vec2::new(noise::in_plane(seed, x, y), noise::in_plane(seed + 1, x, y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// There and back is where one began, but for what the steps leave; an exact hand leaves the fold as it is.
    #[test]
    fn the_way_back_ends_where_it_began() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let laid = LaidFold::new(layout.fold(), &layout.process().hand);
        let exact = LaidFold::new(layout.fold(), &Hand::EXACT);
        let mut strayed = 0.0_f64;
        for step in 0..400_u32 {
            let rod = RodPoint {
                along_mm: 20.0 + f64::from(step),
                across: 0.05 + 0.9 * f64::from(step % 17) / 17.0,
                place: step % layout.fold().places(),
            };
            let cloth = laid.to_cloth(rod);
            let back = laid.to_rod(cloth);
            // Where the hand crosses the centre line, the cloth is the other half's.
            if back.place == rod.place {
                let apart = (back.along_mm - rod.along_mm).hypot((back.across - rod.across) * laid.pleat_width_mm(rod.along_mm));
                assert!(apart < 0.05, "{rod:?} {back:?}");
            }
            assert_eq!(exact.to_cloth(rod), layout.fold().to_cloth(rod));
            strayed = strayed.max(cloth.position().distance(exact.to_cloth(rod).position()));
        }
        assert!((1.5..12.0).contains(&strayed), "{strayed}");
    }
}
