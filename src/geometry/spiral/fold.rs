//! The fold map of a spiral.

use super::marks;
use super::puck::Spiral;
use super::wedges::WedgeCutter;
use crate::geometry::{
    Bundle, BundlePoint, CellSize, ClothPoint, Crease, Cut, Extent, Fold, Lay, OpenFaces, Panel, PanelPair, PanelSet, Pin, Ring,
    Stretch,
};
use kurbo::{Point, Vec2};
use std::f64::consts::TAU;
use std::ops::Range;

/// A garment twisted into a puck.
///
/// Along is the distance round the rim, from the zero clockwise as the puck is seen from above: `P psi`. The zero is the line that leaves
/// the pinch straight up. Places are equal steps from the middle to the rim; between them cloth lies at a place in between.
///
/// # Exactness
/// The plan is one to one: cloth that [`Bundle::to_bundle`] carries somewhere is found there again, to rounding, on one of the layers
/// that come to lie there, and what is found at a place and a distance along comes back to both. The height in the puck follows from
/// the plan, so [`Bundle::to_cloth`] gives the same point whatever `across` is asked for: the cloth of all heights there lies within a
/// pleat of it.
#[derive(Debug, Clone)]
pub struct SpiralFold {
    spiral: Spiral,
    lay: Lay,
    cutters: PanelPair<Option<WedgeCutter>>,
    places: u32,
}

/// How broad a place is from the middle to the rim, mm, about: half of what dye reaches through layers.
const PLACE_MM: f64 = 2.5;
/// Most places: with more a puck half a metre across would be too fine to solve.
const MOST_PLACES: f64 = 80.0;
/// What is no farther beyond the fold than this lies on it, mm: rounding of a few metres.
const ROUNDING_MM: f64 = 1e-6;

impl SpiralFold {
    /// Twists the garment that the spiral was laid on.
    #[must_use]
    pub fn new(spiral: Spiral, panels: PanelSet) -> Self {
        let lay = Lay::new(spiral.spec().centring, panels);
        let cutter = |panel| Some(WedgeCutter::new(lay.outline(panel)?, spiral.centre_as_laid(), spiral.plan(), spiral.lag()));
        let cutters = PanelPair::from_fn(cutter);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number up to MOST_PLACES")]
        let places = (spiral.radius_mm() / PLACE_MM).ceil().clamp(4.0, MOST_PLACES) as u32;
        Self { spiral, lay, cutters, places }
    }

    /// The spiral.
    #[must_use]
    pub fn spiral(&self) -> &Spiral {
        &self.spiral
    }

    /// From place to place, mm.
    fn place_mm(&self) -> f64 {
        self.spiral.radius_mm() / f64::from(self.places)
    }

    /// Of the layers that lie on each other, the one that is met at a distance from the middle: they come in turn, there and back, as
    /// pleats laid to and fro have them.
    fn layer(&self, rho_mm: f64) -> u32 {
        let layers = f64::from(self.lay.layers());
        let met = (rho_mm / self.spiral.sheet_mm()).floor().rem_euclid(2.0 * layers);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number below the layers")]
        let layer = if met < layers { met } else { 2.0 * layers - 1.0 - met } as u32;
        layer
    }
}

impl Bundle for SpiralFold {
    fn to_bundle(&self, point: ClothPoint) -> Option<BundlePoint> {
        let there = self.spiral.to_puck(self.lay.as_laid(point));
        Some(BundlePoint {
            along_mm: self.spiral.radius_mm() * there.psi_rad,
            across: there.height,
            place: there.rho_mm / self.place_mm() - 0.5,
        })
    }

    fn to_cloth(&self, point: BundlePoint) -> Option<ClothPoint> {
        let rho_mm = (point.place + 0.5) * self.place_mm();
        if !(0.0..=self.spiral.radius_mm() + ROUNDING_MM).contains(&rho_mm) {
            return None;
        }
        let laid = self.spiral.laid_at(rho_mm, point.along_mm / self.spiral.radius_mm());
        let is_beyond_the_fold = self.lay.is_folded() && laid.x < -ROUNDING_MM;
        (!is_beyond_the_fold).then(|| self.lay.cloth_at(self.layer(rho_mm), laid))
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        self.lay.has_cloth(point)
    }

    fn extent(&self) -> Extent {
        Extent { length_mm: self.spiral.rim_mm(), pleats: self.places, layers: 1, is_closed: false }
    }

    /// Layers stand on their edges between the puck's two faces, and are the longer the farther out.
    fn cell(&self, along_mm: Range<f64>, place: u32, across: Range<f64>) -> CellSize {
        let length_mm = (along_mm.end - along_mm.start) * Ring::length_share(place, self.places);
        CellSize { length_mm, width_mm: self.spiral.height_mm() * (across.end - across.start) }
    }

    /// Over its ridges and valleys cloth goes on within the same place.
    fn mates(&self, _place: u32) -> [Option<u32>; 2] {
        [None; 2]
    }

    /// The cloth from the zero clockwise to a distance along the rim. What is cut is the slope of that: the length of a layer at the rim that
    /// holds as much as the wedge's side meets, which narrows towards the middle.
    fn cut(&self, along_mm: f64) -> PanelPair<Cut> {
        let (halves, radius_mm) = (self.lay.centring().halves(), self.spiral.radius_mm());
        self.cutters.map(|cutter| {
            let cut = cutter.as_ref().map(|cutter| cutter.cut(along_mm, radius_mm)).unwrap_or_default();
            Cut { cloth_mm: halves * cut.cloth_mm, area_mm2: halves * cut.area_mm2 }
        })
    }

    /// The puck's height.
    fn width_mm(&self, _along_mm: f64) -> f64 {
        self.spiral.height_mm()
    }

    /// Nothing: each layer reaches the puck's faces by itself.
    fn wrapped(&self, _place: u32, _outward: Vec2) -> u32 {
        0
    }

    fn open(&self) -> OpenFaces {
        OpenFaces::RING
    }

    fn yields(&self) -> f64 {
        0.0
    }

    fn ring(&self) -> Option<Ring> {
        let held_mm2 = self.spiral.cloth_mm2() / (self.spiral.height_mm() * self.spiral.rim_mm());
        // Places grow from nothing to the whole rim: half as much in the mean.
        Some(Ring { radius_mm: self.spiral.radius_mm(), place_layers: held_mm2 / (0.5 * f64::from(self.places)) })
    }
}

impl Fold for SpiralFold {
    fn lay(&self) -> &Lay {
        &self.lay
    }

    /// A line along which the puck is cut into wedges: straight within the pinch, then winding out; pieces that stray by less than a chalk
    /// is broad.
    fn parallel(&self, panels: &[Panel], along_mm: f64) -> Vec<Stretch> {
        let psi_rad = (along_mm / self.spiral.radius_mm()).rem_euclid(TAU);
        marks::wedge_line(&self.spiral, &self.lay, panels, psi_rad)
    }

    fn along_as_laid_mm(&self, laid: Point) -> f64 {
        self.spiral.radius_mm() * self.spiral.to_puck(laid).psi_rad
    }

    /// None that are folded one by one: pleats form as the pinch is turned.
    fn creases(&self, _from_mm: f64) -> Vec<Crease> {
        Vec::new()
    }

    /// The pinch, about which no string swings a wedge line.
    fn pins(&self) -> Vec<Pin> {
        vec![Pin { at: self.spiral.centre_as_laid(), origin_mm: f64::INFINITY, is_shortening: false }]
    }

    /// The circle that the fingers hold.
    fn source(&self) -> Vec<Stretch> {
        marks::pinch_circle(&self.spiral, &self.lay)
    }
}
