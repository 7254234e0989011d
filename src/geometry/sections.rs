//! Sections: the cloth between neighbouring binds, for which dye is chosen and weighed.

use super::{Bundle, PanelPair};

/// The cloth between two neighbouring binds, on both panels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Where it begins along the rod, mm; of a ring's section that runs on over its zero, so far before that.
    pub inner_mm: f64,
    /// Where it ends, mm.
    pub outer_mm: f64,
    /// Its cloth, mm2, both halves of each panel.
    pub area_mm2: PanelPair<f64>,
}

impl Section {
    /// Its length along the rod, mm.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        self.outer_mm - self.inner_mm
    }

    /// Its mass, g, for cloth of `grams_per_m2`.
    #[must_use]
    pub fn mass_g(&self, grams_per_m2: f64) -> f64 {
        self.area_mm2.sum() * grams_per_m2 / MM2_PER_M2
    }
}

/// Square millimetres in a square metre.
pub const MM2_PER_M2: f64 = 1e6;

/// The sections of a rod bound at these distances (mm, rising from its tip): one within the first bind, one between each two
/// neighbours, one beyond the last as far as there is cloth. Always one more than there are binds; together all the cloth.
///
/// A bundle that is closed at its last bind ([`Extent::is_closed`](super::Extent)) has none beyond: as many sections as binds.
///
/// A ring has as many as binds, or one without any: the first ends at the first bind and begins at the last, over the ring's zero.
#[must_use]
pub fn sections(fold: &dyn Bundle, binds_mm: &[f64]) -> Vec<Section> {
    if fold.ring().is_some() && !binds_mm.is_empty() {
        return round_a_ring(fold, binds_mm);
    }
    let end_mm = binds_mm.last().copied().unwrap_or(0.0).max(fold.length_mm());
    let beyond_mm = (!fold.extent().is_closed).then_some(end_mm);
    let mut from_mm = 0.0;
    let mut below_mm2 = PanelPair::default();
    binds_mm
        .iter()
        .copied()
        .chain(beyond_mm)
        .map(|to_mm| {
            let within_mm2 = fold.cut(to_mm).map(|cut| cut.area_mm2);
            let section = Section { inner_mm: from_mm, outer_mm: to_mm, area_mm2: within_mm2 - below_mm2 };
            (from_mm, below_mm2) = (to_mm, within_mm2);
            section
        })
        .collect()
}

fn round_a_ring(fold: &dyn Bundle, binds_mm: &[f64]) -> Vec<Section> {
    let within_mm2 = |along_mm: f64| fold.cut(along_mm).map(|cut| cut.area_mm2);
    let (length_mm, last_mm) = (fold.length_mm(), binds_mm.last().copied().unwrap_or(0.0));
    // What lies before the zero counts as taken away already.
    let before_mm2 = within_mm2(last_mm) - within_mm2(length_mm);
    let (mut from_mm, mut below_mm2) = (last_mm - length_mm, before_mm2);
    let section = |&to_mm: &f64| {
        let upto_mm2 = within_mm2(to_mm);
        let section = Section { inner_mm: from_mm, outer_mm: to_mm, area_mm2: upto_mm2 - below_mm2 };
        (from_mm, below_mm2) = (to_mm, upto_mm2);
        section
    };
    binds_mm.iter().map(section).collect()
}
