//! The rod as it lies: how much of it is seen from above, where powder and ice come down on it.

use super::rod_binds;
use super::rod_section::{RodSection, rod_section};
use crate::layout::{Layout, Rest};

/// Length over which the rod's breadth is taken as one, mm, as for the cells of a picture.
const STEP_MM: f64 = 2.0;

impl RodSection {
    /// How broad it is, seen from above, when the rod rests so, mm: on its creases as broad as the stack is high.
    #[must_use]
    pub fn from_above_mm(&self, rest: Rest) -> f64 {
        match rest {
            Rest::EdgesUp | Rest::TurnedHalfWay => self.height_mm,
            Rest::OnItsFlat => self.width_mm,
        }
    }
}

/// Area of a stretch of a layout's bound rod as seen from above, mm2, resting as the layout says and in the shape that the reveal
/// gives it: flat between binds, round under them.
#[must_use]
pub fn rod_area_from_above_mm2(layout: &Layout, from_mm: f64, to_mm: f64) -> f64 {
    let (process, binds) = (layout.process(), rod_binds(layout));
    let flat_after = process.calibration.flat_after_diameters;
    let breadth_mm = |along_mm: f64| {
        if let Some(ring) = layout.fold().ring() {
            // A wedge of a disc, by its length along the rim.
            return 0.5 * ring.radius_mm;
        }
        let section = rod_section(layout.fold(), layout.cloth(), &binds, flat_after, along_mm);
        match process.rest {
            // The grid of a flat bundle is wider than its outline may be.
            Rest::OnItsFlat if layout.fold().open().sides => layout.fold().width_mm(along_mm),
            rest => section.from_above_mm(rest),
        }
    };
    let long_mm = (to_mm - from_mm).max(0.0);
    let steps = (long_mm / STEP_MM).ceil().max(1.0);
    let step_mm = long_mm / steps;
    let mut area_mm2 = 0.0;
    let mut step = 0.5;
    while step < steps {
        area_mm2 += breadth_mm(from_mm + step * step_mm) * step_mm;
        step += 1.0;
    }
    area_mm2
}
