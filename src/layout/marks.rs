//! What is marked on the garment as it lies, each line with what it is for: the one list that canvas, template and strips draw from.

use super::Layout;
use crate::geometry::{Crease, Panel, Stretch};

/// What a line across the bundle is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MarkRole {
    /// The line that is pleated along, and the bind on it.
    Guide,
    /// Another bind.
    Bind,
    /// For orientation.
    Reference,
    /// The parallel that is pleated along, where no bind lies on it.
    Pleats,
}

/// A line marked on the cloth where a cut across the bundle runs.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// What it is for.
    pub role: MarkRole,
    /// Its number: of a bind from the tip of the bundle outward, of a reference line in its list; both from 1.
    pub number: u32,
    /// Where along the bundle it runs, mm: the string about a pin.
    pub along_mm: f64,
    /// Where on the laid cloth it runs.
    pub stretches: Vec<Stretch>,
}

/// A bind this near to the parallel that is pleated along lies on it, mm: half the breadth of a chalk line (practice).
const SAME_MM: f64 = 0.5;

impl Layout {
    /// The creases that are marked: from the innermost bind outward, where hands lay pleats; of a flat bundle all of them.
    #[must_use]
    pub fn marked_creases(&self) -> Vec<Crease> {
        let innermost = self.binds.binds.first().filter(|_| self.flat().is_none());
        self.fold().creases(innermost.map_or(0.0, |bind| bind.radius_mm))
    }

    /// The binds from the tip outward, then the reference lines, as far as they run on any of the panels named.
    #[must_use]
    pub fn marks_on(&self, panels: &[Panel]) -> Vec<Mark> {
        let mark = |role, number, along_mm| Mark { role, number, along_mm, stretches: self.fold().parallel(panels, along_mm) };
        let role = |is_guide| if is_guide { MarkRole::Guide } else { MarkRole::Bind };
        let binds = (1..).zip(&self.binds.binds).map(|(number, bind)| mark(role(bind.is_guide()), number, bind.radius_mm));
        let references = (1..).zip(self.references_mm()).map(|(number, along_mm)| mark(MarkRole::Reference, number, along_mm));
        let is_bound = self.binds.binds.iter().any(|bind| (bind.radius_mm - self.pleated_mm()).abs() < SAME_MM);
        // A flat bundle has no pleats to measure, and a spiral's form by themselves.
        let pleats = (!is_bound && self.raw().fold.pleats().is_some()).then(|| mark(MarkRole::Pleats, 1, self.pleated_mm()));
        binds.chain(references).chain(pleats).collect()
    }
}
