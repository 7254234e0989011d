//! Finding what to warn about.

use super::{BindFigures, BurstFigures, Figures, FlatFigures, FoldFigures, LineFigures, SpiralFigures};
use crate::geometry::{
    Bind, BindOrigin, Burst, LineFold, LineKind, ON_THE_FOLD_MM, Panel, Pleats, Quantity, Side, USUAL_PACKING, least_gap_mm,
};
use crate::layout::{DyeBy, Layout, Serves, Warning, serves};

/// Every warning of a layout, in the order of the work: cloth, centre, guide arc, pleats, binds.
///
/// `figures` are those of the layout; what they hold of warnings is not looked at.
pub(super) fn find(layout: &Layout, figures: &Figures) -> Vec<Warning> {
    let Figures { fold, burst, line, flat, spiral, binds, .. } = figures;
    let mut warnings = Vec::new();
    cloth(layout, &mut warnings);
    if layout.process().dye == DyeBy::Dipped && layout.dips().is_empty() {
        warnings.push(Warning::NothingDipped);
    }
    if let Some((of, figures)) = layout.burst().zip(burst.as_ref()) {
        centre(layout, of, &mut warnings);
        guide_arc(layout, figures, &mut warnings);
    }
    if let Some((of, figures)) = layout.line().zip(line.as_ref()) {
        along_line(layout, of, figures, &mut warnings);
    }
    if let Some(flat) = flat {
        bundle(layout, flat, &mut warnings);
        wound(layout, binds, &mut warnings);
    }
    if let Some(spiral) = spiral {
        puck(spiral, &mut warnings);
        return warnings;
    }
    further_arcs(layout, fold, &mut warnings);
    pleats(layout, fold, binds, &mut warnings);
    rod(layout, binds, &mut warnings);
    gaps(layout, binds, &mut warnings);
    warnings
}

fn cloth(layout: &Layout, warnings: &mut Vec<Warning>) {
    warnings.extend(match serves(&layout.raw().garment.fibres) {
        Serves::Well => None,
        Serves::Paler { fibre, percent } => Some(Warning::ClothPaler { fibre, percent }),
        Serves::Hardly { fibre, percent } => Some(Warning::ClothHardlyDyed { fibre, percent }),
        Serves::Harms { fibre, percent } => Some(Warning::ClothHarmed { fibre, percent }),
    });
}

fn centre(layout: &Layout, burst: &Burst, warnings: &mut Vec<Warning>) {
    let centre = burst.centre();
    for (panel, outline) in layout.panels().iter() {
        if !outline.contains(centre) {
            let cloth_begins_mm = outline.centre_line_mm().start;
            warnings.push(Warning::CentreOnOnePanel {
                bare: panel,
                top: layout.panels().top,
                centre_mm: centre.y,
                cloth_begins_mm,
            });
        }
    }
    if burst.is_mirrored_pair() {
        warnings.push(Warning::MirroredPair { from_centre_line_mm: centre.x.abs() });
    }
}

fn guide_arc(layout: &Layout, burst: &BurstFigures, warnings: &mut Vec<Warning>) {
    let limit = layout.raw().limits.least_guide_share;
    for panel in Panel::BOTH {
        if let Some(share) = burst.guide_share.of(panel).filter(|&share| share < limit) {
            warnings.push(Warning::GuideArcOffCloth { panel, share, limit });
        }
    }
}

/// How far a pleat's depth may lie beyond a limit by being one of a whole number, mm: no hand folds finer (own choice).
const WHOLE_PLEATS_MM: f64 = 0.5;
/// Cloth that can't lie flat is warned about from so much on, mm2: 10 cm2, a bunch as large as a thumb (our own judgement).
const BUNCHED_MM2: f64 = 1000.0;
/// The deepest pleat over the shallowest one from which on they are called uneven (our own judgement).
const UNEVEN: f64 = 2.0;

fn along_line(layout: &Layout, of: &LineFold, line: &LineFigures, warnings: &mut Vec<Warning>) {
    let laid_open = !layout.lay().is_folded();
    if let Some(at) = layout.middle().filter(|at| !laid_open && at.x.abs() > ON_THE_FOLD_MM) {
        warnings.push(Warning::LineTwice { from_centre_line_mm: at.x.abs() });
    }
    let (bunched_mm2, lone_ends) = (line.unflat.bunched_mm2, line.unflat.lone_ends_mm.len());
    if bunched_mm2 > BUNCHED_MM2 {
        let strokes = of.kind() == LineKind::Stroke;
        warnings.push(Warning::CantLieFlat { bunched_mm2, lone_ends, laid_open, strokes });
    }
    let [least_mm, most_mm] = line.pleat_depths_mm;
    if most_mm > UNEVEN * least_mm {
        warnings.push(Warning::UnevenPleats { least_mm, most_mm });
    }
}

/// Cloth that falls short at a crease is warned about from this share of a piece's width on (our own judgement).
const CREEP_SHARE: f64 = 0.25;

/// Blocks that reach over the edge by no more than this are not worth a warning, mm: no hand lays them more exactly (own choice).
const OVER_EDGE_MM: f64 = 2.0;

fn bundle(layout: &Layout, flat: &FlatFigures, warnings: &mut Vec<Warning>) {
    if let Some(width_mm) = flat.width_mm.filter(|width_mm| flat.creep_mm > CREEP_SHARE * width_mm) {
        warnings.push(Warning::Creep { creep_mm: flat.creep_mm, width_mm });
    }
    if layout.binds().binds.is_empty() && flat.blocks.is_none() && flat.wrap.is_none() {
        warnings.push(Warning::NothingHolds);
    }
    if let Some((fold, block)) = layout.flat().zip(layout.blocks()) {
        let over_mm = fold.over_edge_mm(block);
        if over_mm > OVER_EDGE_MM {
            warnings.push(Warning::BlocksOverEdge { over_mm });
        }
    }
}

/// Threads from turn to turn at which as much is bare as is covered.
const LEAST_GAP_THREADS: f64 = 2.0;

fn wound(layout: &Layout, binds: &[BindFigures], warnings: &mut Vec<Warning>) {
    let Some(wrap) = layout.wrap() else { return };
    let (gap_mm, limit_mm) = (wrap.spec().gap_mm, LEAST_GAP_THREADS * layout.thread().diameter_mm);
    if gap_mm < limit_mm {
        warnings.push(Warning::WrapTooClose { gap_mm, limit_mm });
    }
    let over_mm = wrap.over_end_mm();
    if over_mm > 0.0 {
        warnings.push(Warning::WrapOverEnd { over_mm, length_mm: layout.fold().length_mm() });
    }
    let stretch = wrap.stretch_mm();
    let is_met = |bind: &&BindFigures| {
        let half_mm = 0.5 * f64::from(bind.wraps) * layout.thread().diameter_mm;
        (stretch.start - half_mm..stretch.end + half_mm).contains(&bind.radius_mm)
    };
    let mut met = binds.iter().filter(is_met);
    if let Some(first) = met.next() {
        warnings.push(Warning::WrapMeetsBind { bind: first.reference(), others: met.count() });
    }
    if layout.blocks().is_some_and(|block| wrap.meets(block)) {
        warnings.push(Warning::WrapMeetsBlocks);
    }
}

/// More turns than the cloth allows by no more than this are not worth a warning: no hand counts them so finely.
const TURNS_ROUND: f64 = 0.01;

fn puck(spiral: &SpiralFigures, warnings: &mut Vec<Warning>) {
    let &SpiralFigures { turns, most_turns: most, packing, puck_height_mm: height_mm, .. } = spiral;
    if turns > most + TURNS_ROUND {
        warnings.push(Warning::TooManyTurns { turns, most: spiral.told_most_turns() });
    }
    let (least, usual_most) = (USUAL_PACKING.start, USUAL_PACKING.end);
    // As much cloth in another height.
    if packing < least {
        warnings.push(Warning::PuckTooLoose { packing, least, height_mm, most_height_mm: height_mm * packing / least });
    }
    if packing > usual_most {
        let least_height_mm = height_mm * packing / usual_most;
        warnings.push(Warning::PuckTooTight { packing, most: usual_most, height_mm, least_height_mm });
    }
}

/// A further arc this near to the guide arc is the same line, mm: half the breadth of a chalk line (practice).
const SAME_ARC_MM: f64 = 0.5;

fn further_arcs(layout: &Layout, fold: &FoldFigures, warnings: &mut Vec<Warning>) {
    let words = fold.words;
    for (arc, &radius_mm) in (1..).zip(&fold.references_mm) {
        if layout.fold().cut(radius_mm).map(|cut| cut.cloth_mm).sum() <= 0.0 {
            let [radius_mm, farthest_mm] = [radius_mm, fold.length_mm].map(|along_mm| along_mm - fold.zero_mm);
            warnings.push(Warning::FurtherArcMeetsNoCloth { words, arc, radius_mm, farthest_mm });
        } else if (radius_mm - fold.guide_mm).abs() < SAME_ARC_MM {
            warnings.push(Warning::FurtherArcOnGuideArc { words, arc, radius_mm: radius_mm - fold.zero_mm });
        }
    }
}

fn pleats(layout: &Layout, fold: &FoldFigures, binds: &[BindFigures], warnings: &mut Vec<Warning>) {
    // A flat bundle has pieces as wide as they were asked for.
    let Some(given) = layout.raw().fold.pleats() else { return };
    if let Pleats::Count { count: asked } = given
        && asked != fold.pleats
    {
        warnings.push(Warning::PleatsMadeEven { asked, got: fold.pleats });
    }
    let outside_mm = layout.raw().limits.deepest_outside_mm();
    if let Some(bind) = binds.last().filter(|bind| bind.pleat_depth_mm > outside_mm && bind.rod.cloth_mm > 0.0) {
        let (depth_mm, limit_mm) = (bind.pleat_depth_mm, outside_mm);
        warnings.push(Warning::PleatTooDeepOutside { bind: bind.reference(), depth_mm, limit_mm });
    }
    let (words, depth_mm, limits) = (fold.words, fold.pleat_depth_mm, &layout.raw().limits);
    // Whole pleats come out a little off what was asked for.
    if depth_mm < limits.shallowest_pleat_mm - WHOLE_PLEATS_MM {
        warnings.push(Warning::PleatTooShallow { words, depth_mm, limit_mm: limits.shallowest_pleat_mm });
    }
    if depth_mm > limits.deepest_pleat_mm + WHOLE_PLEATS_MM {
        warnings.push(Warning::PleatTooDeep { words, depth_mm, limit_mm: limits.deepest_pleat_mm });
    }
}

fn rod(layout: &Layout, binds: &[BindFigures], warnings: &mut Vec<Warning>) {
    let thickest = binds.iter().max_by(|a, b| a.rod.bound_diameter_mm.total_cmp(&b.rod.bound_diameter_mm));
    let limit_mm = layout.raw().limits.thickest_rod_mm;
    if let Some(bind) = thickest.filter(|bind| bind.rod.bound_diameter_mm > limit_mm) {
        warnings.push(Warning::RodTooThick { bind: bind.reference(), diameter_mm: bind.rod.bound_diameter_mm, limit_mm });
    }
    for bind in binds.iter().filter(|bind| bind.rod.cloth_mm <= 0.0) {
        let [radius_mm, farthest_mm] = [bind.radius_mm, layout.fold().length_mm()].map(|along_mm| layout.from_zero_mm(along_mm));
        let is_taken = layout.tied_fold().is_some() && radius_mm < farthest_mm;
        let (words, bind) = (layout.words(), bind.reference());
        warnings.push(Warning::RingMeetsNoCloth { words, bind, radius_mm, farthest_mm, is_taken });
    }
}

/// A bind that rounding moves by no more than this is not worth a warning, mm: the breadth of a chalk line (practice).
const CHALK_LINE_MM: f64 = 1.0;

/// The bind that the marks move farthest, if by more than half of one and so far that it shows.
fn rounded_far(layout: &Layout, binds: &[BindFigures]) -> Option<Warning> {
    let (marks, least_mm) = (layout.marks(), CHALK_LINE_MM.max(0.5 * layout.marks().step_mm()?));
    let far = || binds.iter().filter(|bind| bind.rounded_by_mm.abs() > least_mm + GROWTH_MM);
    let farthest = far().max_by(|a, b| a.rounded_by_mm.abs().total_cmp(&b.rounded_by_mm.abs()))?;
    let others = far().count() - 1;
    Some(Warning::RoundedFar { bind: farthest.reference(), by_mm: farthest.rounded_by_mm, marks, others })
}

/// Gaps count as growing toward the centre when they do so by more than this, mm, both as rounded and before: rounding to the marks
/// of a rule makes even gaps differ, which is no choice of the maker's.
const GROWTH_MM: f64 = 1e-6;

/// Nor when they do so by less than this part of a mark, which rounding alone can make a whole one of.
const GROWTH_MARKS: f64 = 0.5;

/// The smallest gap that can be tied between two neighbouring binds, mm: as the maker says, or as their wraps need it.
fn smallest_gap_mm(layout: &Layout, pair: &[BindFigures]) -> f64 {
    let by_wraps = || least_gap_mm(layout.thread(), [pair[0].wraps, pair[1].wraps], layout.raw().limits.smallest_gap_threads);
    layout.raw().binds.smallest_gap_mm.unwrap_or_else(by_wraps)
}

fn gaps(layout: &Layout, binds: &[BindFigures], warnings: &mut Vec<Warning>) {
    let placed = layout.binds();
    for pair in binds.windows(2) {
        let (gap_mm, limit_mm) = (pair[1].gap_inside_mm, smallest_gap_mm(layout, pair));
        // A gap of just the limit, but for the rounding errors of a difference, can be tied.
        if gap_mm < limit_mm - 1e-9 {
            let (inner_bind, outer_bind) = (pair[0].reference(), pair[1].reference());
            warnings.push(Warning::GapTooSmall { inner_bind, outer_bind, gap_mm, limit_mm });
        }
    }
    warnings.extend(rounded_far(layout, binds));
    // A bind added by hand cuts a gap in two: how wide the parts are is the maker's own choice.
    let is_added = |bind: &Bind| bind.origin == BindOrigin::Added;
    let exact_gap = |pair: &[Bind]| pair[1].unrounded_mm() - pair[0].unrounded_mm();
    let least_growth_mm = GROWTH_MM.max(layout.marks().step_mm().map_or(0.0, |step_mm| GROWTH_MARKS * step_mm));
    let looser = placed.binds.windows(3).zip(binds.windows(3)).find(|(exact, rounded)| {
        let is_looser = |gap_mm: f64, outer_gap_mm: f64| gap_mm > outer_gap_mm + least_growth_mm;
        !exact.iter().any(is_added)
            && is_looser(exact_gap(exact), exact_gap(&exact[1..]))
            && is_looser(rounded[1].gap_inside_mm, rounded[2].gap_inside_mm)
    });
    if let Some((_, three)) = looser {
        let (gap_mm, outer_gap_mm) = (three[1].gap_inside_mm, three[2].gap_inside_mm);
        warnings.push(Warning::LooserTowardCentre { words: layout.words(), bind: three[0].reference(), gap_mm, outer_gap_mm });
    }
    for (side, solved) in [(Side::Inward, &layout.binds().inward), (Side::Outward, &layout.binds().outward)] {
        // A span not filled to its end is no surprise: as many gaps were taken as fit.
        for adjustment in solved.adjusted.iter().filter(|adjustment| adjustment.what != Quantity::Span) {
            let quantity = adjustment.what;
            warnings.push(Warning::Adjusted { side, quantity, asked: adjustment.asked, got: adjustment.got });
        }
    }
}
