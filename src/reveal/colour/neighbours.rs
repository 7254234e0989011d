//! Neighbouring sections of the rod, as they come out.

use super::{DyeSet, Lab, ciede2000};

/// Two neighbouring sections with different colours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Neighbours {
    /// Number of the inner section, 1 at the centre; the outer one is the next.
    pub inner_section: u32,
    /// The inner section's dye, as an index into the rotation; none leaves it bare.
    pub inner: Option<usize>,
    /// The outer section's dye.
    pub outer: Option<usize>,
    /// CIEDE2000 between the two at full dose.
    pub difference: f64,
    /// CIEDE2000 between the inner section and where half of each dye meets at the bind.
    pub inner_to_mixed: f64,
    /// CIEDE2000 between the outer section and that mixture.
    pub outer_to_mixed: f64,
}

impl Neighbours {
    /// Number of the bind between the two: binds are counted from the centre as sections are.
    #[must_use]
    pub fn bind(&self) -> u32 {
        self.inner_section
    }
}

/// Every two neighbouring sections of different colour, from the centre outward.
///
/// `sections` holds the dye of each section as [`crate::layout::Colours::by_section`] gives it; `discharged` is the share of the
/// garment's colour that is gone in the sections, 0 to 1. Neighbours of one colour are left out: they are meant to be one.
#[must_use]
pub fn neighbours(dyes: &DyeSet, sections: &[Option<usize>], discharged: f64) -> Vec<Neighbours> {
    (1..)
        .zip(sections.windows(2))
        .filter(|(_, pair)| pair[0] != pair[1])
        .map(|(inner_section, pair)| {
            let (inner, outer) = (pair[0], pair[1]);
            let [at_inner, at_outer] = [inner, outer].map(|dye| section_lab(dyes, dye, discharged));
            let mixed = dyes.lab(&dyes.doses(&[(inner, 0.5), (outer, 0.5)]), discharged);
            Neighbours {
                inner_section,
                inner,
                outer,
                difference: ciede2000(at_inner, at_outer),
                inner_to_mixed: ciede2000(at_inner, mixed),
                outer_to_mixed: ciede2000(at_outer, mixed),
            }
        })
        .collect()
}

/// A section at full dose.
pub(super) fn section_lab(dyes: &DyeSet, dye: Option<usize>, discharged: f64) -> Lab {
    dyes.lab(&dyes.doses(&[(dye, 1.0)]), discharged)
}
