//! The bound rod: how much cloth a cut meets, how thick it is, and the thread that a bind takes.

use super::Bundle;
use serde::Serialize;
use std::f64::consts::PI;

/// The cloth of a garment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cloth {
    /// Mass per area, g/m2. Single jersey for shirts runs from 140 to 200; 180 is the default (common practice, no source).
    pub grams_per_m2: f64,
    /// Thickness lying free, mm. 0.6 for jersey (from memory: measure a stack of ten).
    pub free_thickness_mm: f64,
    /// Thickness under the light pressure of a bind, mm. 0.45 for jersey (from memory: measure a stack of ten under a book).
    pub pressed_thickness_mm: f64,
    /// The share of a bound rod's cross-section that is cloth, in (0, 1]. 0.85 (a calibration value of our own, no source):
    /// compare the girth at a bind with a tape and correct it.
    pub packing: f64,
}

impl Default for Cloth {
    fn default() -> Self {
        Self { grams_per_m2: 180.0, free_thickness_mm: 0.6, pressed_thickness_mm: 0.45, packing: 0.85 }
    }
}

/// What the rod is bound with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThreadKind {
    /// Waxed thread: tightens on itself and bars a discharge bath, so that the cloth under it keeps its colour.
    Waxed,
    /// Plain string: holds, but lets a bath through.
    PlainString,
    /// A rubber band.
    RubberBand,
}

impl ThreadKind {
    /// Plain words for it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Waxed => "waxed thread",
            Self::PlainString => "plain string",
            Self::RubberBand => "rubber band",
        }
    }
}

/// Thread and the habits of tying it. Every default is common practice, no source, unless it says otherwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thread {
    /// What it is.
    pub kind: ThreadKind,
    /// Diameter, mm. About 1.
    pub diameter_mm: f64,
    /// Wraps of an ordinary bind. Two to four are usual; 3.
    pub wraps: u32,
    /// Further wraps where the rod is thin: 2.
    pub thin_extra_wraps: u32,
    /// A bind counts as thin when its girth is below this share of the guide arc's: 0.5.
    pub thin_below: f64,
    /// Length of each of the two tails, mm: enough to wind round two fingers and pull, 120.
    pub tail_mm: f64,
}

impl Default for Thread {
    fn default() -> Self {
        Self { kind: ThreadKind::Waxed, diameter_mm: 1.0, wraps: 3, thin_extra_wraps: 2, thin_below: 0.5, tail_mm: 120.0 }
    }
}

/// The rod where a bind sits, or anywhere along it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RodSize {
    /// Length of cloth that a cut meets, all layers, mm.
    pub cloth_mm: f64,
    /// Layers of cloth on each other, counted as if each were a full pleat wide; missing cloth makes it fall.
    pub layers: f64,
    /// Width of the free rod, crease to crease, mm.
    pub width_mm: f64,
    /// Height of the free rod, mm.
    pub height_mm: f64,
    /// Diameter when a bind presses it round, mm.
    pub bound_diameter_mm: f64,
    /// Girth of what a bind goes round, mm: pressed round, or flat where it lies flat.
    pub bound_girth_mm: f64,
}

/// The rod at a distance along it, mm.
///
/// The cross-section of cloth is its pressed thickness times the length that a cut meets, whatever the pleats; under a bind it
/// becomes a disc, the shape of least girth for its area (the isoperimetric identity `girth^2 = 4 pi area`).
///
/// A flat bundle is held flat: its girth runs about the pressed stack, and the diameter tells how thick a rod of as much cloth would be.
///
/// A ring is not pressed round: its height here is from its middle to its rim, and what is tied goes over both its faces.
///
/// # Limits
/// A thick rod bound with few wraps stays somewhat flat: its girth is then greater than a disc's.
#[must_use]
pub fn rod_size(fold: &dyn Bundle, cloth: &Cloth, along_mm: f64) -> RodSize {
    let cloth_mm = fold.cut(along_mm).map(|cut| cut.cloth_mm).sum();
    let width_mm = fold.width_mm(along_mm);
    let layers = if width_mm > 0.0 { cloth_mm / width_mm } else { 0.0 };
    if let Some(ring) = fold.ring() {
        let bound_girth_mm = 2.0 * (2.0 * ring.radius_mm + width_mm);
        let (height_mm, bound_diameter_mm) = (ring.radius_mm, bound_girth_mm / PI);
        return RodSize { cloth_mm, layers, width_mm, height_mm, bound_diameter_mm, bound_girth_mm };
    }
    let section_mm2 = cloth.pressed_thickness_mm * cloth_mm / cloth.packing;
    let round_girth_mm = 2.0 * (PI * section_mm2).sqrt();
    // What no bind rounds is held flat: its girth runs about the pressed stack.
    let flat_girth_mm = 2.0 * (width_mm + layers * cloth.pressed_thickness_mm);
    let bound_girth_mm = if fold.yields() > 0.0 { round_girth_mm } else { flat_girth_mm };
    RodSize {
        cloth_mm,
        layers,
        width_mm,
        height_mm: layers * cloth.free_thickness_mm,
        bound_diameter_mm: round_girth_mm / PI,
        bound_girth_mm,
    }
}

/// Wraps for a bind of this girth, where the bind at the guide arc has `guide_girth_mm`.
#[must_use]
pub fn wraps(thread: &Thread, girth_mm: f64, guide_girth_mm: f64) -> u32 {
    thread.wraps + if girth_mm < thread.thin_below * guide_girth_mm { thread.thin_extra_wraps } else { 0 }
}

/// The smallest gap between two binds, ring to ring, that leaves `bare_threads` diameters of cloth bare between their wraps, mm. The
/// wraps lie side by side, to either side of the ring alike.
///
/// ```
/// use pleatwright::geometry::{Thread, least_gap_mm};
/// // Five wraps of 1 mm beside three reach 2.5 and 1.5 mm toward each other.
/// assert_eq!(least_gap_mm(&Thread::default(), [5, 3], 2.0), 6.0);
/// ```
#[must_use]
pub fn least_gap_mm(thread: &Thread, wraps: [u32; 2], bare_threads: f64) -> f64 {
    thread.diameter_mm * (0.5 * wraps.map(f64::from).iter().sum::<f64>() + bare_threads)
}

/// Thread to cut for one bind, mm: its wraps, measured along the thread's own middle, and two tails.
#[must_use]
pub fn thread_length_mm(thread: &Thread, girth_mm: f64, wraps: u32) -> f64 {
    f64::from(wraps) * (girth_mm + PI * thread.diameter_mm) + 2.0 * thread.tail_mm
}

/// The order in which binds are tied, as indices into radii that rise from the centre outward: the guide arc's first, then
/// inward to the centre, then outward to the edge.
#[must_use]
pub fn tying_order(binds: usize, guide: usize) -> Vec<usize> {
    (0..=guide.min(binds.saturating_sub(1))).rev().chain(guide + 1..binds).take(binds).collect()
}
