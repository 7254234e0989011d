//! Equal cloth: the same area of cloth, over all layers, between neighbouring binds.

use super::SpacingContext;
use super::law::{Adjustment, SAME, agrees, check_count, check_length, contradictory, same, whole_count};
use super::progression_error::ProgressionError;
use super::quantity::{Clash, Given, Need, Quantity, Side};
use super::root::increasing_root;

/// How exactly a distance is found, mm.
const ACCURACY_MM: f64 = 1e-10;
/// Taken off an area before it is looked up, so that where the cloth pauses (the neck, under a sleeve) the near end is found.
const NEAR_END: f64 = 1.0 - 1e-12;
/// Places looked at when a span is sought that may not be the only one.
const SAMPLES: u32 = 256;

/// The values that are given; lengths in mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct ClothKnowns {
    pub count: Option<u32>,
    pub first: Option<f64>,
    pub last: Option<f64>,
    pub span: Option<f64>,
}

/// The cloth along one side, by distance from the guide arc.
struct Cloth<'a> {
    context: &'a SpacingContext<'a>,
    side: Side,
    /// The distance to the end of the side.
    reach_mm: f64,
}

impl Cloth<'_> {
    /// Cloth between the guide arc and a distance from it, mm2.
    fn area(&self, distance_mm: f64) -> f64 {
        let at = |radius_mm: f64| (self.context.cloth_area)(radius_mm);
        let guide_mm = self.context.guide_radius_mm;
        (at((guide_mm + self.side.sign() * distance_mm).max(0.0)) - at(guide_mm)).abs()
    }

    /// The distance within `limit_mm` that cuts off an area.
    fn distance(&self, area: f64, limit_mm: f64) -> Result<f64, ProgressionError> {
        let cloth_mm2 = self.area(limit_mm);
        let is_enough = area > 0.0 && area <= cloth_mm2 * (1.0 + SAME);
        let no_cloth = ProgressionError::NoCloth { cloth_mm2, wanted_mm2: area };
        if !is_enough {
            return Err(no_cloth);
        }
        increasing_root(|d| self.area(d) - area * NEAR_END, 0.0, limit_mm, ACCURACY_MM).ok_or(no_cloth)
    }

    fn last_gap_area(&self, span_mm: f64, last_mm: f64) -> f64 {
        self.area(span_mm) - self.area(span_mm - last_mm)
    }

    /// The one span, from `from_mm` to the end of the side, where `miss` changes its sign; `none` if there is none.
    fn lone_span(&self, miss: impl Fn(f64) -> f64, from_mm: f64, none: ProgressionError) -> Result<f64, ProgressionError> {
        let at = |i: u32| from_mm + (self.reach_mm - from_mm) * f64::from(i) / f64::from(SAMPLES);
        let mut found: Option<f64> = None;
        for (low, high) in (0..SAMPLES).map(|i| (at(i), at(i + 1))) {
            let (at_low, at_high) = (miss(low), miss(high));
            let crosses = at_low * at_high < 0.0 || (at_high == 0.0 && at_low != 0.0);
            if !crosses {
                continue;
            }
            let rise = if at_low < 0.0 { 1.0 } else { -1.0 };
            let Some(span) = increasing_root(|s| rise * miss(s), low, high, ACCURACY_MM) else { continue };
            match found {
                Some(one) if (one - span).abs() > 1e-6 => {
                    return Err(ProgressionError::SeveralSolutions { what: Quantity::Span, one, other: span });
                }
                _ => found = Some(span),
            }
        }
        found.ok_or(none)
    }
}

/// The distances of the binds from the guide arc, and what had to be adjusted.
pub(super) fn solve_equal_cloth(
    knowns: &ClothKnowns,
    side: Side,
    context: &SpacingContext<'_>,
) -> Result<(Vec<f64>, Vec<Adjustment>), ProgressionError> {
    check_count(knowns.count.map_or(1.0, f64::from))?;
    for (what, length) in lengths(knowns) {
        check_length(what, length)?;
    }
    let reach_mm = match side {
        Side::Inward => context.guide_radius_mm,
        Side::Outward => context.farthest_mm - context.guide_radius_mm,
    };
    // A span to the end of the side is exact to rounding; lengths beyond the cloth are refused below by what they ask for.
    let cloth = Cloth { context, side, reach_mm: reach_mm.max(0.0) };
    if let Some((what, Some(length))) = lengths(knowns).into_iter().find(|(_, l)| l.is_some_and(|l| l > reach_mm * (1.0 + SAME)))
    {
        let (value, why) = (reach_mm.max(0.0), Clash::ClothEnds);
        return Err(contradictory((what, length), (Quantity::Span, value), why));
    }
    let (count, span_mm) = count_and_span(knowns, &cloth)?;
    let distances = divide(&cloth, count, span_mm)?;
    let adjusted = compare(knowns, &distances)?;
    Ok((distances, adjusted))
}

const fn lengths(knowns: &ClothKnowns) -> [(Quantity, Option<f64>); 3] {
    [(Quantity::FirstGap, knowns.first), (Quantity::LastGap, knowns.last), (Quantity::Span, knowns.span)]
}

fn count_and_span(knowns: &ClothKnowns, cloth: &Cloth<'_>) -> Result<(u32, f64), ProgressionError> {
    match (knowns.count, knowns.first, knowns.last, knowns.span) {
        (Some(1), Some(gap), _, _) | (Some(1), None, Some(gap), _) => Ok((1, gap)),
        (Some(n), _, _, Some(span)) => Ok((n, span)),
        (Some(n), Some(first), _, _) => Ok((n, cloth.distance(f64::from(n) * cloth.area(first), cloth.reach_mm)?)),
        (Some(n), None, Some(last), None) => {
            let why = Clash::NoSpanEnds;
            let none = contradictory((Quantity::Count, f64::from(n)), (Quantity::LastGap, last), why);
            let miss = |span: f64| cloth.area(span) - f64::from(n) * cloth.last_gap_area(span, last);
            Ok((n, cloth.lone_span(miss, last, none)?))
        }
        (None, Some(first), _, Some(span)) => fill(cloth, first, span),
        (None, None, Some(last), Some(span)) => Ok((nearest_count(cloth, span, cloth.last_gap_area(span, last))?, span)),
        (None, Some(first), Some(last), None) => {
            let why = Clash::NoSpanBetween;
            let none = contradictory((Quantity::FirstGap, first), (Quantity::LastGap, last), why);
            let share = cloth.area(first);
            let miss = |span: f64| cloth.last_gap_area(span, last) - share;
            let count = nearest_count(cloth, cloth.lone_span(miss, last, none)?, share)?;
            Ok((count, cloth.distance(f64::from(count) * share, cloth.reach_mm)?))
        }
        _ => Err(too_few(knowns)),
    }
}

/// As many gaps with the cloth of the first one as fit into the span.
fn fill(cloth: &Cloth<'_>, first: f64, span: f64) -> Result<(u32, f64), ProgressionError> {
    if first > span * (1.0 + SAME) {
        let why = Clash::FirstGapTooLong;
        return Err(contradictory((Quantity::FirstGap, first), (Quantity::Span, span), why));
    }
    let (share, total) = (cloth.area(first), cloth.area(span));
    if !(share > 0.0 && total.is_finite()) {
        return Err(ProgressionError::NoCloth { cloth_mm2: share, wanted_mm2: share });
    }
    let fitting = total / share;
    let count = whole_count((fitting * (1.0 + SAME)).floor().max(1.0))?;
    if same(fitting, f64::from(count)) {
        return Ok((count, span));
    }
    Ok((count, cloth.distance(f64::from(count) * share, span)?))
}

fn nearest_count(cloth: &Cloth<'_>, span: f64, share: f64) -> Result<u32, ProgressionError> {
    let total = cloth.area(span);
    if share > 0.0 && total.is_finite() {
        whole_count((total / share).round().max(1.0))
    } else {
        Err(ProgressionError::NoCloth { cloth_mm2: total, wanted_mm2: share })
    }
}

/// Cuts the cloth within a span into equal shares.
fn divide(cloth: &Cloth<'_>, count: u32, span_mm: f64) -> Result<Vec<f64>, ProgressionError> {
    let share = cloth.area(span_mm) / f64::from(count);
    let mut distances = Vec::new();
    for i in 1..count {
        distances.push(cloth.distance(share * f64::from(i), span_mm)?);
    }
    distances.push(span_mm);
    for (number, pair) in (1..).zip(distances.windows(2)) {
        if pair[1] <= pair[0] {
            return Err(ProgressionError::NegativeGap { number: number + 1, gap_mm: pair[1] - pair[0] });
        }
    }
    Ok(distances)
}

/// What came out otherwise than asked; refused where the count was given, for then it is a contradiction.
fn compare(knowns: &ClothKnowns, distances: &[f64]) -> Result<Vec<Adjustment>, ProgressionError> {
    let gap = |i: usize| distances[i] - if i == 0 { 0.0 } else { distances[i - 1] };
    let end = distances.len() - 1;
    let mut adjusted = Vec::new();
    for ((what, asked), got) in lengths(knowns).into_iter().zip([gap(0), gap(end), distances[end]]) {
        let Some(asked) = asked else { continue };
        if !agrees(asked, got) {
            adjusted.push(Adjustment { what, asked, got });
        }
    }
    let is_overdetermined = knowns.count.is_some() || lengths(knowns).iter().all(|(_, length)| length.is_some());
    match adjusted.first() {
        Some(&Adjustment { what, asked, got }) if is_overdetermined => {
            Err(ProgressionError::TooManyKnowns { what, asked, follows: got })
        }
        _ => Ok(adjusted),
    }
}

fn too_few(knowns: &ClothKnowns) -> ProgressionError {
    let all = [
        (Quantity::Count, knowns.count.is_some()),
        (Quantity::FirstGap, knowns.first.is_some()),
        (Quantity::LastGap, knowns.last.is_some()),
        (Quantity::Span, knowns.span.is_some()),
    ];
    ProgressionError::TooFewKnowns { given: Given::of(&all), need: Need::TwoForCloth }
}
