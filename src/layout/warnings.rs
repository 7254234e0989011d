//! Finding what to warn about.

use super::figures::{BindFigures, BurstFigures};
use super::{Layout, Warning};
use crate::geometry::{Fold as _, Panel, Quantity};

/// Every warning of a layout, in the order of the work: centre, guide arc, pleats, binds.
pub(super) fn find(layout: &Layout, burst: &BurstFigures, binds: &[BindFigures]) -> Vec<Warning> {
    let mut warnings = Vec::new();
    centre(layout, &mut warnings);
    guide_arc(layout, burst, &mut warnings);
    pleats(layout, burst, &mut warnings);
    rod(layout, binds, &mut warnings);
    gaps(layout, binds, &mut warnings);
    warnings
}

fn centre(layout: &Layout, warnings: &mut Vec<Warning>) {
    let centre = layout.burst().centre();
    for (panel, outline) in layout.fold().panels().iter() {
        if !outline.contains(centre) {
            let cloth_begins_mm = outline.centre_line_mm().start;
            warnings.push(Warning::CentreOnOnePanel { bare: panel, centre_mm: centre.y, cloth_begins_mm });
        }
    }
    if layout.burst().is_mirrored_pair() {
        warnings.push(Warning::MirroredPair { from_centre_line_mm: centre.x.abs() });
    }
}

fn guide_arc(layout: &Layout, burst: &BurstFigures, warnings: &mut Vec<Warning>) {
    let limit = layout.raw().limits.least_guide_share;
    for panel in Panel::BOTH {
        let share = *burst.guide_share.of(panel);
        if layout.fold().panels().panel(panel).is_some() && share < limit {
            warnings.push(Warning::GuideArcOffCloth { panel, share, limit });
        }
    }
}

fn pleats(layout: &Layout, burst: &BurstFigures, warnings: &mut Vec<Warning>) {
    let (depth_mm, limits) = (burst.pleat_depth_mm, &layout.raw().limits);
    if depth_mm < limits.shallowest_pleat_mm {
        warnings.push(Warning::PleatTooShallow { depth_mm, limit_mm: limits.shallowest_pleat_mm });
    }
    if depth_mm > limits.deepest_pleat_mm {
        warnings.push(Warning::PleatTooDeep { depth_mm, limit_mm: limits.deepest_pleat_mm });
    }
}

fn rod(layout: &Layout, binds: &[BindFigures], warnings: &mut Vec<Warning>) {
    let thickest = binds.iter().max_by(|a, b| a.rod.bound_diameter_mm.total_cmp(&b.rod.bound_diameter_mm));
    let limit_mm = layout.raw().limits.thickest_rod_mm;
    if let Some(bind) = thickest.filter(|bind| bind.rod.bound_diameter_mm > limit_mm) {
        warnings.push(Warning::RodTooThick { bind: bind.number, diameter_mm: bind.rod.bound_diameter_mm, limit_mm });
    }
    for bind in binds.iter().filter(|bind| bind.rod.cloth_mm <= 0.0) {
        let farthest_mm = layout.fold().length_mm();
        warnings.push(Warning::RingMeetsNoCloth { bind: bind.number, radius_mm: bind.radius_mm, farthest_mm });
    }
}

/// Gaps count as growing toward the centre when they do so by more than this, mm: rounding to marks of a rule may.
const GROWTH_MM: f64 = 1e-6;

fn gaps(layout: &Layout, binds: &[BindFigures], warnings: &mut Vec<Warning>) {
    let placed = layout.binds();
    for note in &placed.notes {
        let outer = placed.binds.iter().zip(binds).find(|(bind, _)| bind.id == note.outer);
        if let Some((_, BindFigures { number: outer_bind, .. })) = outer {
            let (inner_bind, outer_bind) = (outer_bind - 1, *outer_bind);
            warnings.push(Warning::GapTooSmall { inner_bind, outer_bind, gap_mm: note.gap_mm, limit_mm: note.limit_mm });
        }
    }
    let looser = binds.windows(3).find(|three| three[1].gap_inside_mm > three[2].gap_inside_mm + GROWTH_MM);
    if let Some(three) = looser {
        let (gap_mm, outer_gap_mm) = (three[1].gap_inside_mm, three[2].gap_inside_mm);
        warnings.push(Warning::LooserTowardCentre { bind: three[0].number, gap_mm, outer_gap_mm });
    }
    for (side, solved) in [("inward", &layout.binds().inward), ("outward", &layout.binds().outward)] {
        // A span not filled to its end is no surprise: as many gaps were taken as fit.
        for adjustment in solved.adjusted.iter().filter(|adjustment| adjustment.what != Quantity::Span) {
            let quantity = adjustment.what.to_string();
            warnings.push(Warning::Adjusted { side, quantity, asked: adjustment.asked, got: adjustment.got });
        }
    }
}
