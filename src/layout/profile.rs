//! How high the bound rod stands along its length.

use super::{Figures, Layout};
use crate::geometry::rod_size;
use std::f64::consts::PI;

/// A section bulges to so many times its bound thickness at most.
const BULGE: f64 = 1.6;

/// The outline of the bound rod, side on.
#[derive(Debug)]
pub struct RodProfile {
    /// Length of the rod, mm.
    pub length_mm: f64,
    /// Its greatest height, mm.
    pub thickest_mm: f64,
    /// The height at both ends of each stretch of each section, from the centre, mm.
    pub sections: Vec<[f64; Self::STEPS + 1]>,
}

impl RodProfile {
    /// Stretches that a section is parted in.
    pub const STEPS: usize = 14;

    /// The outline of a layout's rod.
    #[must_use]
    pub fn of(layout: &Layout, figures: &Figures) -> Self {
        let section = |inner_mm: f64, outer_mm: f64| {
            std::array::from_fn(|step| {
                let share = step as f64 / Self::STEPS as f64;
                height_mm(layout, inner_mm + (outer_mm - inner_mm) * share, share)
            })
        };
        let sections: Vec<[f64; Self::STEPS + 1]> = figures.sections.iter().map(|of| section(of.inner_mm, of.outer_mm)).collect();
        let thickest_mm = sections.iter().flatten().copied().fold(1.0, f64::max);
        let length_mm = figures.sections.last().map_or(1.0, |section| section.outer_mm).max(1.0);
        Self { length_mm, thickest_mm, sections }
    }
}

/// Height at a place along the rod, `share` of the way through its section: bound round at the ends, free in the middle, mm.
fn height_mm(layout: &Layout, along_mm: f64, share: f64) -> f64 {
    let size = rod_size(layout.fold(), layout.cloth(), along_mm);
    let swell = (PI * share.clamp(0.0, 1.0)).sin().max(0.0).powf(0.6);
    let bound_mm = size.bound_diameter_mm;
    if layout.binds().binds.is_empty() {
        return size.height_mm;
    }
    bound_mm + (size.height_mm.min(BULGE * bound_mm) - bound_mm) * swell
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// At a bind the rod is as thick as its bind, from either side; nowhere more than its bulge.
    #[test]
    fn sections_meet_at_their_binds() {
        for example in EXAMPLE_LAYOUTS {
            let layout = parse_layout(example.text).unwrap();
            let figures = Figures::of(&layout);
            let profile = RodProfile::of(&layout, &figures);
            for (bind, pair) in figures.binds.iter().zip(profile.sections.windows(2)) {
                let bound_mm = bind.rod.bound_diameter_mm;
                assert!(
                    (pair[0][RodProfile::STEPS] - bound_mm).abs() < 1e-6 && (pair[1][0] - bound_mm).abs() < 1e-6,
                    "{}",
                    example.name
                );
            }
            assert!(profile.sections.iter().flatten().all(|&height| height >= 0.0 && height <= profile.thickest_mm));
        }
    }
}
