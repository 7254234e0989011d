//! The rod's cross-section: flat between binds, round under them.

use super::binds::{self, RodBind};
use crate::geometry::{Bundle, Cloth};
use std::f64::consts::PI;

/// The cross-section of the rod at one slab.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RodSection {
    /// Extent across the pleats, mm.
    pub width_mm: f64,
    /// Extent through the stack, mm.
    pub height_mm: f64,
    /// Width of the pleat's cloth, crease to crease, mm.
    pub pleat_mm: f64,
    /// Thickness of one layer, mm.
    pub layer_mm: f64,
    /// How round it is, 0 flat to 1 round.
    pub roundness: f64,
}

/// Height over width at which a stack on its edge no longer stands: where pleats are narrow the free rod bunches until it is no
/// steeper (our own judgement).
const STEEPEST: f64 = 1.5;

/// A flat bundle's cross-section: as wide as the grid, whose columns know what of it lies within the bundle's outline.
fn flat_section(fold: &dyn Bundle, cloth: &Cloth, along_mm: f64, layers: f64) -> RodSection {
    let width_mm = fold.cell(along_mm..along_mm, 0, 0.0..1.0).width_mm;
    let layer_mm = cloth.free_thickness_mm;
    RodSection { width_mm, height_mm: layers * layer_mm, pleat_mm: width_mm, layer_mm, roundness: 0.0 }
}

/// The rod's cross-section; a ring's is from its middle to its rim, its places alike. A rod's: the free rod's width and height, drawn toward a disc of the pressed cloth's area as far as it is round.
pub(super) fn rod_section(
    fold: &dyn Bundle,
    cloth: &Cloth,
    binds: &[RodBind],
    flat_after_diameters: f64,
    along_mm: f64,
) -> RodSection {
    let cloth_mm = fold.cut(along_mm).map(|cut| cut.cloth_mm).sum();
    let pleat_mm = fold.width_mm(along_mm).max(f64::MIN_POSITIVE);
    let layers = (cloth_mm / pleat_mm).max(1.0);
    if let Some(ring) = fold.ring() {
        let (width_mm, layer_mm) = (pleat_mm, ring.radius_mm / f64::from(fold.places().max(1)));
        return RodSection { width_mm, height_mm: ring.radius_mm, pleat_mm, layer_mm, roundness: 0.0 };
    }
    if fold.open().sides {
        return flat_section(fold, cloth, along_mm, layers);
    }
    let roundness = fold.yields() * binds::roundness(binds, along_mm, flat_after_diameters);
    let diameter_mm = 2.0 * (cloth.pressed_thickness_mm * layers * pleat_mm / (cloth.packing * PI)).sqrt();
    let drawn = |free_mm: f64| free_mm.powf(1.0 - roundness) * diameter_mm.powf(roundness);
    let stack_mm = layers * cloth.free_thickness_mm;
    let free_width_mm = pleat_mm.max((pleat_mm * stack_mm / STEEPEST).sqrt());
    let (width_mm, height_mm) = (drawn(free_width_mm), drawn(pleat_mm * stack_mm / free_width_mm));
    RodSection { width_mm, height_mm, pleat_mm, layer_mm: height_mm / layers, roundness }
}
