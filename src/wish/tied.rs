//! From binds along the rod and dyes between them to an ordinary layout.

use super::shelf::NOTHING;
use crate::geometry::{Pleats, Progression, SpacingSpec};
use crate::layout::{Colours, FoldSpec, Layout, LayoutError, LayoutSpec, RotationStart, Swatch};
use crate::measure::RuleMarks;

/// The layout with binds at these distances from the tip, mm, rising, and for each section from the centre outward one of the swatches.
///
/// Of a burst the bind nearest to its guide arc becomes the guide arc, its pleats as many as before, so that it is folded alike. A line's own
/// bind, along which its cloth is pleated, has to be among them.
///
/// # Errors
/// [`LayoutError`].
pub(super) fn tied(
    layout: &Layout,
    at_mm: &[f64],
    dyes: &[usize],
    swatches: &[Swatch],
    marks: RuleMarks,
) -> Result<Layout, LayoutError> {
    let mut spec: LayoutSpec = layout.raw().clone();
    let away_mm = |at: &usize| (at_mm[*at] - layout.guide_mm()).abs();
    let guide = (0..at_mm.len()).min_by(|a, b| away_mm(a).total_cmp(&away_mm(b))).unwrap_or_default();
    if let (FoldSpec::Burst(spec), Some(burst), Some(&guide_mm)) = (&mut spec.fold, layout.burst(), at_mm.get(guide)) {
        spec.pleats = Pleats::Count { count: burst.pleats() };
        spec.guide_radius_mm = guide_mm;
    }
    let gap = |pair: &[f64]| rounded(pair[1] - pair[0]);
    let mut inward: Vec<f64> = at_mm[..=guide.min(at_mm.len().saturating_sub(1))].windows(2).map(gap).collect();
    inward.reverse();
    spec.binds = SpacingSpec {
        inward: Progression::List { gaps_mm: inward },
        outward: Progression::List { gaps_mm: at_mm[guide..].windows(2).map(gap).collect() },
        marks,
        smallest_gap_mm: spec.binds.smallest_gap_mm,
        edits: Vec::new(),
    };
    spec.colours = colours(dyes, swatches);
    Layout::try_from(spec)
}

/// To a millionth of a mm, so that a file shows gaps as a rule does.
fn rounded(mm: f64) -> f64 {
    (mm * 1e6).round() / 1e6
}

/// The dyes in use in the order of the shelf, and of each section the one that it gets where that is not its turn; the first of the swatches stands
/// for none.
fn colours(dyes: &[usize], swatches: &[Swatch]) -> Colours {
    let used: Vec<usize> = (1..swatches.len()).filter(|dye| dyes.contains(dye)).collect();
    let numbered = || dyes.iter().enumerate().filter_map(|(at, dye)| Some((u32::try_from(at + 1).ok()?, at, *dye)));
    let turn = |at: usize| used.get(at % used.len().max(1)).copied();
    let single = numbered().filter(|(_, at, dye)| *dye != NOTHING && turn(*at) != Some(*dye));
    Colours {
        single: single.map(|(number, _, dye)| (number, swatches[dye].name.clone())).collect(),
        bare: numbered().filter(|(_, _, dye)| *dye == NOTHING).map(|(number, ..)| number).collect(),
        rotation: used.into_iter().map(|dye| swatches[dye].clone()).collect(),
        start: RotationStart::Centre,
    }
}

/// The layout to compute with: an exact hand, and these swatches in turn on its sections.
pub(super) fn plain(layout: &Layout, swatches: &[Swatch]) -> Result<Layout, LayoutError> {
    let mut spec: LayoutSpec = layout.raw().clone();
    spec.process.hand = crate::layout::Hand::EXACT;
    spec.colours = Colours { rotation: swatches.to_vec(), ..Colours::default() };
    Layout::try_from(spec)
}
