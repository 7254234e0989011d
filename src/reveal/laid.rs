//! The fold as a hand lays it: what a layout asks for, and the hand's wander on top.

use super::clear::{Clear, ClearMap};
use super::noise;
use crate::geometry::{Bundle, BundlePoint, CellSize, ClothPoint, Cut, Extent, Joins, OpenFaces, Panel, PanelPair, Ring};
use crate::layout::Hand;
use kurbo::{Point, Vec2};
use std::ops::Range;

/// A `Fold` with hand error: each point is shifted by the hand's wander (mm) before folding.
///
/// # Limits
/// The way back is found by steps that close in as long as the hand strays by less than the length over which it changes.
#[derive(Debug, Clone, Copy)]
pub struct LaidFold<'a> {
    fold: &'a dyn Bundle,
    hand: Hand,
}

/// What is clear of a panel's outline.
#[derive(Debug)]
pub(super) struct ClearOf {
    /// By as much as the hand strays at the most: for points that it took for others.
    taken: ClearMap,
    /// By nothing: for points of the cloth itself.
    cloth: ClearMap,
}

/// Edges of the cells of the two maps, mm (found by trial).
const WIDE_MM: f64 = 6.0;
const NARROW_MM: f64 = 2.0;

/// Steps back from where the cloth lies: with the usual hand, which strays by a tenth over its length, within 0.02 mm (computed).
const STEPS_BACK: usize = 3;

impl<'a> LaidFold<'a> {
    /// The fold as this hand lays it.
    #[must_use]
    pub fn new(fold: &'a dyn Bundle, hand: &Hand) -> Self {
        Self { fold, hand: *hand }
    }

    /// Whether all places are equally wide.
    pub(super) fn is_even(&self) -> bool {
        self.fold.is_even()
    }

    /// The cloth that lies at a place of the bundle, if any does.
    pub(super) fn cloth_in(&self, at: BundlePoint) -> Option<ClothPoint> {
        self.to_cloth(at).filter(|&cloth| self.fold.has_cloth(cloth))
    }

    /// Whether cloth lies at a place of the bundle. Where a map of the panel is sure, the hand needn't be followed, or at least the outline
    /// not asked.
    pub(super) fn has_cloth_in(&self, at: BundlePoint, clear: &PanelPair<Option<ClearOf>>) -> bool {
        let Some(taken) = self.fold.to_cloth(at) else { return false };
        let clear = clear.of(taken.panel).as_ref();
        let is_cloth = |known: Option<Clear>| match known {
            Some(Clear::Cloth) => Some(true),
            Some(Clear::Bare) => Some(false),
            Some(Clear::Near) | None => None,
        };
        is_cloth(clear.map(|maps| maps.taken.at(taken.position()))).unwrap_or_else(|| {
            let cloth = self.back_from(taken);
            is_cloth(clear.map(|maps| maps.cloth.at(cloth.position()))).unwrap_or_else(|| self.fold.has_cloth(cloth))
        })
    }

    /// What is clear of the outlines of both panels.
    pub(super) fn clear(&self) -> PanelPair<Option<ClearOf>> {
        let most_mm = self.hand.wander_mm * std::f64::consts::SQRT_2 * noise::plane_scale();
        PanelPair::from_fn(|panel| {
            let outline = self.fold.outline(panel)?;
            Some(ClearOf { taken: ClearMap::of(outline, most_mm, WIDE_MM), cloth: ClearMap::of(outline, 0.0, NARROW_MM) })
        })
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

impl Bundle for LaidFold<'_> {
    fn to_bundle(&self, point: ClothPoint) -> Option<BundlePoint> {
        let taken = point.position() + stray(&self.hand, point.panel, point.position());
        self.fold.to_bundle(ClothPoint { x_mm: taken.x, y_mm: taken.y, ..point })
    }

    fn to_cloth(&self, at: BundlePoint) -> Option<ClothPoint> {
        self.fold.to_cloth(at).map(|taken| self.back_from(taken))
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        self.fold.has_cloth(point)
    }

    fn extent(&self) -> Extent {
        self.fold.extent()
    }

    fn cell(&self, along_mm: Range<f64>, place: u32, across: Range<f64>) -> CellSize {
        self.fold.cell(along_mm, place, across)
    }

    fn cell_widths_mm(&self, along_mm: Range<f64>, place: u32, widths_mm: &mut [f64]) {
        self.fold.cell_widths_mm(along_mm, place, widths_mm);
    }

    fn is_even(&self) -> bool {
        self.fold.is_even()
    }

    fn mates(&self, place: u32) -> [Option<u32>; 2] {
        self.fold.mates(place)
    }

    fn cut(&self, along_mm: f64) -> PanelPair<Cut> {
        self.fold.cut(along_mm)
    }

    fn width_mm(&self, along_mm: f64) -> f64 {
        self.fold.width_mm(along_mm)
    }

    fn joins(&self, point: ClothPoint, within_mm: f64) -> Joins {
        self.fold.joins(point, within_mm)
    }

    fn has_joins(&self) -> bool {
        self.fold.has_joins()
    }

    fn creased(&self, point: ClothPoint, within_mm: f64) -> Option<[f64; 2]> {
        let taken = point.position() + stray(&self.hand, point.panel, point.position());
        self.fold.creased(ClothPoint { x_mm: taken.x, y_mm: taken.y, ..point }, within_mm)
    }

    fn wrapped(&self, place: u32, outward: Vec2) -> u32 {
        self.fold.wrapped(place, outward)
    }

    fn footprint(&self, along_mm: Range<f64>, across: Range<f64>) -> f64 {
        self.fold.footprint(along_mm, across)
    }

    fn open(&self) -> OpenFaces {
        self.fold.open()
    }

    fn yields(&self) -> f64 {
        self.fold.yields()
    }

    fn ring(&self) -> Option<Ring> {
        self.fold.ring()
    }
}

/// How far a hand strays at a point of the garment's frame, mm.
pub(super) fn stray(hand: &Hand, panel: Panel, at: Point) -> Vec2 {
    if hand.wander_mm == 0.0 {
        return Vec2::ZERO;
    }
    let (x, y) = (at.x / hand.wander_length_mm, at.y / hand.wander_length_mm);
    let seed = hand.seed.wrapping_mul(4) + 2 * u64::from(panel == Panel::Back);
    hand.wander_mm * Vec2::from(noise::two_in_plane([seed, seed + 1], x, y))
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
            let rod = BundlePoint {
                along_mm: 20.0 + f64::from(step),
                across: 0.05 + 0.9 * f64::from(step % 17) / 17.0,
                place: f64::from(step % layout.fold().places()),
            };
            let cloth = laid.to_cloth(rod).unwrap();
            let back = laid.to_bundle(cloth).unwrap();
            // Where the hand crosses the centre line, the cloth is the other half's.
            if back.place == rod.place {
                let apart =
                    (back.along_mm - rod.along_mm).hypot((back.across - rod.across) * layout.fold().width_mm(rod.along_mm));
                assert!(apart < 0.05, "{rod:?} {back:?}");
            }
            assert_eq!(exact.to_cloth(rod), layout.fold().to_cloth(rod));
            strayed = strayed.max(cloth.position().distance(exact.to_cloth(rod).unwrap().position()));
        }
        assert!((1.5..12.0).contains(&strayed), "{strayed}");
    }
}
