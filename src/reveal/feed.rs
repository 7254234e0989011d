//! How well a face of the rod is fed, by which way it looks.

use crate::layout::{DyeBy, Process, Rest};

/// A face of the rod's cross-section, in a frame in which the rod fills -1 to 1 across the pleats and through the stack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Face {
    pub(super) across: f64,
    pub(super) through: f64,
    pub(super) width_mm: f64,
    pub(super) height_mm: f64,
    pub(super) roundness: f64,
    /// Which way it looks across the pleats and through the stack where that is known, as of a flat bundle's faces.
    pub(super) looks: Option<(f64, f64)>,
}

/// Exponent of the superellipse that the cross-section of a free rod follows: nearly a rectangle with its corners worn (our own
/// judgement). A bound one is an ellipse, with exponent 2.
const FREE_EXPONENT: f64 = 5.0;

impl Face {
    /// The outward normal's parts across the pleats and through the stack, on the superellipse through this point of the frame.
    fn normal(&self) -> (f64, f64) {
        if let Some(looks) = self.looks {
            return looks;
        }
        let exponent = FREE_EXPONENT + (2.0 - FREE_EXPONENT) * self.roundness;
        let part = |at: f64, extent_mm: f64| at.signum() * at.abs().powf(exponent - 1.0) / extent_mm;
        let (across, through) = (part(self.across, self.width_mm), part(self.through, self.height_mm));
        let length = across.hypot(through).max(f64::MIN_POSITIVE);
        (across / length, through / length)
    }
}

/// How well dye feeds a face, 0 to 1.
pub(super) fn dye_feed(process: &Process, face: &Face) -> f64 {
    if process.dye != DyeBy::PowderUnderIce {
        return 1.0;
    }
    let (across, through) = face.normal();
    match process.rest {
        Rest::EdgesUp => powder_feed(process, across),
        Rest::OnItsFlat => powder_feed(process, through),
        Rest::TurnedHalfWay => 0.5 * (powder_feed(process, across) + powder_feed(process, -across)),
    }
}

/// How well dye feeds loose cloth over its faces, 0 to 1: of what lies any way, in the mean, half looks up and half looks down.
pub(super) fn loose_feed(process: &Process) -> f64 {
    match process.dye {
        DyeBy::PowderUnderIce => 0.5 * (powder_feed(process, 1.0) + powder_feed(process, -1.0)),
        DyeBy::ByHand | DyeBy::Dipped => 1.0,
    }
}

/// Powder lies on what looks up and slides from what overhangs; run-off wets the underside.
fn powder_feed(process: &Process, upward: f64) -> f64 {
    let (catch, underside) = (process.calibration.side_catch, process.calibration.underside);
    let lit = ((upward + catch) / (1.0 + catch)).clamp(0.0, 1.0);
    underside + (1.0 - underside) * lit * lit * (3.0 - 2.0 * lit)
}
