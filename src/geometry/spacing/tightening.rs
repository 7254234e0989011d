//! How much tighter the gaps are at the centre than at the edge: one number for both sides of the guide arc.

use super::{KnownValues, Placed, Progression, Side, Solved, SpacingSpec, Span};

/// The smallest share that [`tightened`] can be asked for: gaps ten times as tight at the centre (our own choice).
pub const TIGHTEST: f64 = 0.1;

/// The gap at the burst centre as a share of the gap at the edge of the cloth: 1 for even gaps, less where they tighten toward the
/// centre. None with fewer than two gaps.
///
/// Where both sides shrink by the same ratio, the gap that this ratio would lead to; the sides meet at the guide arc, which each fits
/// by itself, so that the gaps there may differ a little.
#[must_use]
pub fn tightening(spec: &SpacingSpec, placed: &Placed) -> Option<f64> {
    let (inward, outward) = (&placed.inward, &placed.outward);
    let gaps = inward.count + outward.count;
    if gaps < 2 {
        return None;
    }
    if let Some(ratio) = shared_ratio(spec, placed) {
        return Some(ratio.powf(f64::from(gaps - 1)));
    }
    let at_centre_mm = if inward.count > 0 { inward.last_gap_mm } else { outward.first_gap_mm };
    let at_edge_mm = if outward.count > 0 { outward.last_gap_mm } else { inward.first_gap_mm };
    Some(at_centre_mm / at_edge_mm)
}

/// Each gap over its outer neighbour, where both sides have the same.
fn shared_ratio(spec: &SpacingSpec, placed: &Placed) -> Option<f64> {
    let of_side = |progression: &Progression, solved: &Solved, side: Side| {
        let is_ratio = matches!(progression, Progression::Ratio { .. }) || solved.count == 0;
        is_ratio.then_some(solved.factor.map(|ratio| toward_centre(ratio, side)))
    };
    let inward = of_side(&spec.inward, &placed.inward, Side::Inward)?;
    let outward = of_side(&spec.outward, &placed.outward, Side::Outward)?;
    match (inward, outward) {
        (Some(one), Some(other)) => ((one - other).abs() <= 1e-9 * one).then_some(one),
        (one, other) => one.or(other),
    }
}

/// A side's ratio as it is from a gap to the next one toward the centre, and back.
fn toward_centre(ratio: f64, side: Side) -> f64 {
    match side {
        Side::Inward => ratio,
        Side::Outward => ratio.recip(),
    }
}

/// The same number of gaps over the same spans, each shrinking by the same ratio toward the centre, so that the one at the centre is
/// `share` (kept from [`TIGHTEST`] to 1) of the one at the edge. A side without gaps stays as it is.
///
/// The sides share the gaps so that they run on over the guide arc as evenly as whole numbers can; where corrections by hand name binds by
/// their numbers, each side keeps its own.
#[must_use]
pub fn tightened(spec: &SpacingSpec, placed: &Placed, share: f64) -> SpacingSpec {
    let gaps = placed.inward.count + placed.outward.count;
    let ratio = share.clamp(TIGHTEST, 1.0).powf(f64::from(gaps.saturating_sub(1).max(1)).recip());
    let counts = if spec.edits.is_empty() { shared(placed, ratio) } else { [placed.inward.count, placed.outward.count] };
    let side = |progression: &Progression, solved: &Solved, side: Side, count: u32| {
        if solved.count == 0 {
            return progression.clone();
        }
        let span = KnownValues::of(progression).span.unwrap_or(Span::Length { length_mm: solved.span_mm });
        let (first_gap_mm, last_gap_mm) = (None, None);
        let ratio = Some(toward_centre(ratio, side));
        Progression::Ratio { count: Some(count), first_gap_mm, last_gap_mm, ratio, span: Some(span) }
    };
    SpacingSpec {
        inward: side(&spec.inward, &placed.inward, Side::Inward, counts[0]),
        outward: side(&spec.outward, &placed.outward, Side::Outward, counts[1]),
        ..spec.clone()
    }
}

/// By what the gap inside the guide arc may be wider than the one outside it where whole numbers of gaps fit no better (own choice: an eye
/// sees half as much again at once).
pub const MOST_OPENING: f64 = 1.5;

/// How many gaps lie inward and outward of the guide arc where all of them shrink by one ratio toward the centre.
///
/// Whole numbers can't share two spans exactly: of those where gaps do not open toward the centre over the guide arc by much, the ones that
/// miss the ratio least.
fn shared(placed: &Placed, ratio: f64) -> [u32; 2] {
    let [inward, outward] = [&placed.inward, &placed.outward];
    let all = inward.count + outward.count;
    let is_filled = |side: &Solved| side.count > 0 && side.span_mm > 0.0;
    if !is_filled(inward) || !is_filled(outward) {
        return [inward.count, outward.count];
    }
    let grows = ratio.recip();
    // The gaps next to the guide arc: of n gaps that grow by r the first is the span over their sum in first gaps.
    let sum = |count: u32| {
        let count = f64::from(count);
        if (grows - 1.0).abs() < 1e-9 { count } else { (grows.powf(count) - 1.0) / (grows - 1.0) }
    };
    let off = |inner: u32| {
        let beside = inward.span_mm / sum(inner) * grows.powf(f64::from(inner) - 1.0);
        let next = outward.span_mm / sum(all - inner);
        // By how much they miss the ratio; what opens toward the centre is worse than any that tightens.
        (beside > MOST_OPENING * next, (beside * grows / next).ln().abs())
    };
    let inner = (1..all).min_by(|&one, &other| {
        let [one, other] = [off(one), off(other)];
        one.0.cmp(&other.0).then(one.1.total_cmp(&other.1))
    });
    inner.map_or([inward.count, outward.count], |inner| [inner, all - inner])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{SpacingContext, place_binds};
    use crate::measure::RuleMarks;

    fn placed(spec: &SpacingSpec) -> Placed {
        let cloth_area = |radius_mm: f64| radius_mm * radius_mm;
        place_binds(spec, &SpacingContext { guide_radius_mm: 300.0, zero_mm: 0.0, farthest_mm: 640.0, cloth_area: &cloth_area })
            .unwrap()
    }

    /// A geometric progression of n gaps changes n - 1 times (any textbook of algebra).
    #[test]
    fn gaps_tighten_by_what_was_asked() {
        for inward in Progression::one_of_each() {
            let outward = Progression::Even { count: Some(4), gap_mm: None, span: Some(Span::ToEnd { leave_mm: 30.0 }) };
            let spec = SpacingSpec { inward, outward, marks: RuleMarks::Exact, smallest_gap_mm: None, edits: Vec::new() };
            let before = placed(&spec);
            for share in [1.0, 0.6, 0.1] {
                let tight = tightened(&spec, &before, share);
                let after = placed(&tight);
                let all = |placed: &Placed| placed.inward.count + placed.outward.count;
                assert_eq!(all(&after), all(&before));
                // Gaps that did not fill their span to the end do now.
                let is_filled = before.inward.adjusted.is_empty();
                assert!(!is_filled || (after.inward.span_mm - before.inward.span_mm).abs() < 1e-6, "{share}");
                let told = tightening(&tight, &after).unwrap();
                assert!((told - share).abs() < 1e-9, "{share} {told}");
                let gaps: Vec<f64> = after.binds.windows(2).map(|pair| pair[1].radius_mm - pair[0].radius_mm).collect();
                let one = share.powf(f64::from(u32::try_from(gaps.len()).unwrap() - 1).recip());
                let guide = after.inward.count as usize;
                for (at, pair) in gaps.windows(2).enumerate().filter(|(at, _)| at + 1 != guide) {
                    assert!((pair[0] / pair[1] - one).abs() < 1e-9, "gap {at}: {pair:?}");
                }
            }
        }
    }

    #[test]
    fn even_gaps_are_told_from_tighter_ones_of_any_kind() {
        let none = Progression::List { gaps_mm: vec![] };
        let of = |inward: Progression| {
            let spec =
                SpacingSpec { inward, outward: none.clone(), marks: RuleMarks::Exact, smallest_gap_mm: None, edits: Vec::new() };
            tightening(&spec, &placed(&spec))
        };
        let even = of(Progression::Even { count: Some(5), gap_mm: Some(20.0), span: None }).unwrap();
        assert!((even - 1.0).abs() < 1e-12);
        let listed = of(Progression::List { gaps_mm: vec![40.0, 20.0, 10.0] }).unwrap();
        assert!((listed - 0.25).abs() < 1e-12);
        assert_eq!(of(Progression::List { gaps_mm: vec![40.0] }), None);
    }
}
