//! All binds of a burst, from the progressions over the edits to the marks of the rule.

use super::edit::{Wanted, apply_edits};
use super::rounding::round_to_marks;
use super::{BindEdit, BindId, BindOrigin, Progression, Side, Solved, SpacingContext, SpacingError, solve};
use crate::geometry::LARGEST_RADIUS_MM;
use crate::measure::RuleMarks;

/// Where the binds are to go, as written in a layout.
#[derive(Debug, Clone, PartialEq)]
pub struct SpacingSpec {
    /// From the guide arc to the burst centre.
    pub inward: Progression,
    /// From the guide arc to the edge of the cloth.
    pub outward: Progression,
    /// The marks that radii are rounded to.
    pub marks: RuleMarks,
    /// Gaps below this can't be tied, mm, ring to ring; 0 or more. Smaller ones are warned about. None: what the wraps of the binds at
    /// either side make of it, see [`crate::geometry::least_gap_mm`].
    pub smallest_gap_mm: Option<f64>,
    /// Corrections by hand.
    pub edits: Vec<BindEdit>,
}

/// One bind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bind {
    /// Its name.
    pub id: BindId,
    /// Distance from the burst centre, mm, above 0.
    pub radius_mm: f64,
    /// How it came there.
    pub origin: BindOrigin,
    /// The radius before rounding, mm, if rounding changed it.
    pub rounded_from_mm: Option<f64>,
}

impl Bind {
    /// Whether it lies on the guide arc.
    #[must_use]
    pub fn is_guide(&self) -> bool {
        self.id == BindId::GUIDE
    }

    /// The radius before rounding, mm.
    #[must_use]
    pub fn unrounded_mm(&self) -> f64 {
        self.rounded_from_mm.unwrap_or(self.radius_mm)
    }

    /// How far rounding moved it, mm: positive is away from the burst centre.
    #[must_use]
    pub fn rounded_by_mm(&self) -> f64 {
        self.radius_mm - self.unrounded_mm()
    }

    /// Whether it was moved, locked or added by hand.
    #[must_use]
    pub fn is_by_hand(&self) -> bool {
        self.origin != BindOrigin::Progression
    }
}

/// All binds of a burst.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// In order from the burst centre; radii strictly increase.
    pub binds: Vec<Bind>,
    /// The inward progression as solved, before edits and rounding.
    pub inward: Solved,
    /// The outward progression as solved, before edits and rounding.
    pub outward: Solved,
}

/// Places all binds: solves both progressions, applies the edits, rounds to the marks.
///
/// The guide arc comes first: it lies on the mark nearest to its radius, and the progressions begin there. Rounding keeps every two
/// neighbouring gaps that differ in their order, or makes them equal. Locked and added binds stay where they were put.
///
/// # Errors
/// [`SpacingError`]: an unsolvable progression, an edit that names no bind or passes a neighbour, a bind beyond
/// [`LARGEST_RADIUS_MM`], gaps too small for the marks.
pub fn place_binds(spec: &SpacingSpec, context: &SpacingContext<'_>) -> Result<Placed, SpacingError> {
    if let Some(value_mm) = spec.smallest_gap_mm.filter(|limit_mm| !(0.0..=LARGEST_RADIUS_MM).contains(limit_mm)) {
        return Err(SpacingError::SmallestGap { value_mm });
    }
    let zero_mm = context.zero_mm;
    let context = &SpacingContext { guide_radius_mm: on_mark(spec.marks, context.guide_radius_mm, zero_mm), ..*context };
    let inward = solve(&spec.inward, Side::Inward, context)?;
    let outward = solve(&spec.outward, Side::Outward, context)?;
    let mut numbered: Vec<(i32, f64)> = (1..).zip(&inward.radii_mm).map(|(k, &radius)| (-k, radius)).collect();
    numbered.reverse();
    numbered.push((0, context.guide_radius_mm));
    numbered.extend((1..).zip(outward.radii_mm.iter().copied()));
    let edits: Vec<BindEdit> = spec.edits.iter().map(|edit| edit.counted_from(zero_mm)).collect();
    let wanted = apply_edits(numbered, &edits)?;
    check_reach(&wanted)?;
    let radii = match spec.marks.step_mm() {
        Some(step_mm) => round_to_marks(&wanted, step_mm, zero_mm)?,
        None => wanted.iter().map(|bind| bind.radius_mm).collect(),
    };
    let binds = wanted.iter().zip(radii).map(|(wanted, radius_mm)| bind(wanted, radius_mm)).collect();
    Ok(Placed { binds, inward, outward })
}

/// The mark nearest to a place along the bundle, mm. What lies on the zero stays there: a rule's first mark is one further.
fn on_mark(marks: RuleMarks, along_mm: f64, zero_mm: f64) -> f64 {
    match along_mm - zero_mm {
        from_mm if from_mm > 0.0 => zero_mm + marks.nearest_mm(from_mm),
        from_mm if from_mm < 0.0 && zero_mm > 0.0 => zero_mm - marks.nearest_mm(-from_mm),
        _ => along_mm,
    }
}

/// Refuses binds that no sheet and no drawing could hold; those merely beyond the cloth are the layout's to warn about.
fn check_reach(wanted: &[Wanted]) -> Result<(), SpacingError> {
    match wanted.iter().find(|bind| bind.radius_mm > LARGEST_RADIUS_MM) {
        Some(&Wanted { id: bind, radius_mm, origin }) => {
            Err(SpacingError::TooFar { bind, radius_mm, by_hand: origin != BindOrigin::Progression })
        }
        None => Ok(()),
    }
}

fn bind(wanted: &Wanted, radius_mm: f64) -> Bind {
    let is_changed = (radius_mm - wanted.radius_mm).abs() > 1e-9;
    Bind { id: wanted.id, radius_mm, origin: wanted.origin, rounded_from_mm: is_changed.then_some(wanted.radius_mm) }
}
