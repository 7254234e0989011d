//! The checked layout: every value usable, the garment drafted, the burst folded, the binds placed.

use super::{LayoutSpec, Process};
use crate::geometry::{Bind, Burst, Cloth, Fold, Folded, Garment, Lay, PanelSet, Placed, RodSize, Thread, Wash, rod_size, wraps};
use crate::measure::RuleMarks;

/// A layout that can be worked from. Made from its raw form, which it keeps unchanged.
#[derive(Debug, Clone)]
pub struct Layout {
    pub(super) raw: LayoutSpec,
    pub(super) garment: Garment,
    pub(super) wash: Wash,
    pub(super) folded: Folded,
    pub(super) binds: Placed,
}

impl Layout {
    /// The layout as the maker gave it.
    #[must_use]
    pub fn raw(&self) -> &LayoutSpec {
        &self.raw
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.raw.name
    }

    /// The garment, measured and drafted.
    #[must_use]
    pub fn garment(&self) -> &Garment {
        &self.garment
    }

    /// What a wash does to it.
    #[must_use]
    pub fn wash(&self) -> &Wash {
        &self.wash
    }

    /// The cloth.
    #[must_use]
    pub fn cloth(&self) -> &Cloth {
        &self.raw.garment.cloth
    }

    /// The thread.
    #[must_use]
    pub fn thread(&self) -> &Thread {
        &self.raw.thread
    }

    /// The marks of the rule that it is laid out with.
    #[must_use]
    pub fn marks(&self) -> RuleMarks {
        self.raw.binds.marks
    }

    /// How the rod is dyed.
    #[must_use]
    pub fn process(&self) -> &Process {
        &self.raw.process
    }

    /// The garment folded up, whichever way.
    #[must_use]
    pub fn fold(&self) -> &dyn Fold {
        self.folded.as_fold()
    }

    /// The burst that it is folded along; none where it is folded otherwise.
    #[must_use]
    pub fn burst(&self) -> Option<&Burst> {
        self.folded.burst()
    }

    /// The garment as it lies before it is folded up.
    #[must_use]
    pub fn lay(&self) -> &Lay {
        self.fold().lay()
    }

    /// The garment's panels.
    #[must_use]
    pub fn panels(&self) -> &PanelSet {
        self.lay().panels()
    }

    /// Where along the bundle the guide runs, the line that is pleated along and tied first, mm.
    #[must_use]
    pub fn guide_mm(&self) -> f64 {
        match &self.folded {
            Folded::Burst(fold) => fold.burst().guide_radius_mm(),
        }
    }

    /// Where along the bundle further lines are marked, for orientation, mm.
    #[must_use]
    pub fn references_mm(&self) -> &[f64] {
        match &self.folded {
            Folded::Burst(fold) => fold.burst().further_arcs_mm(),
        }
    }

    /// The binds, from the centre outward.
    #[must_use]
    pub fn binds(&self) -> &Placed {
        &self.binds
    }

    /// For each bind, from the centre outward, the rod there and its wraps of thread.
    #[must_use]
    pub fn bound_rods(&self) -> Vec<(RodSize, u32)> {
        let rod = |radius_mm: f64| rod_size(self.fold(), self.cloth(), radius_mm);
        let guide_girth_mm = rod(self.guide_mm()).bound_girth_mm;
        let bound = |bind: &Bind| {
            let size = rod(bind.radius_mm);
            (size, wraps(self.thread(), size.bound_girth_mm, guide_girth_mm))
        };
        self.binds.binds.iter().map(bound).collect()
    }

    /// For each section, from the centre outward, the index of its colour in the rotation.
    #[must_use]
    pub fn section_colours(&self) -> Vec<Option<usize>> {
        self.raw.colours.by_section(self.binds.binds.len() + 1)
    }
}
