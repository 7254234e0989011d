//! From a progression to the radii of one side's binds.

use super::equal_cloth::{ClothKnowns, solve_equal_cloth};
use super::law::{Adjustment, Knowns, Law, check_count, check_length, solve_law};
use super::solve_even::solve_even;
use super::solve_power::PowerLaw;
use super::solve_ratio::RatioLaw;
use super::solve_step::StepLaw;
use super::{Progression, ProgressionError, Quantity, Side, SpacingContext, SpacingError, Span};

/// One side's binds.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Solved {
    /// Radii in order from the guide arc, without its own, mm; all above 0.
    pub radii_mm: Vec<f64>,
    /// The gap next to the guide arc, mm; 0 without binds.
    pub first_gap_mm: f64,
    /// The farthest gap, mm; 0 without binds.
    pub last_gap_mm: f64,
    /// All gaps together, mm.
    pub span_mm: f64,
    /// The number of gaps, which is that of the radii.
    pub count: u32,
    /// Step (mm), ratio or exponent; none for progressions without one.
    pub factor: Option<f64>,
    /// The values that could not be kept as asked.
    pub adjusted: Vec<Adjustment>,
}

/// Distances from the guide arc, the factor, the adjustments.
type Distances = (Vec<f64>, Option<f64>, Vec<Adjustment>);

/// Solves one side's progression from whatever choice of values it gives.
///
/// Any values that decide the gaps will do. Values beyond need are accepted if they agree to within a millionth. Without a count, first
/// gap, factor and span take as many gaps as fit; other choices give a count that is rounded to the nearest whole one. Then first gap
/// and span are kept (without a first gap: last gap and span; without a span: first and last gap), the factor is solved again, and
/// everything that changed is listed in [`Solved::adjusted`].
///
/// # Errors
/// [`SpacingError::Progression`] with the reason; a guide radius or farthest cloth that is no positive number.
///
/// ```
/// use pleatwright::geometry::{Progression, Side, SpacingContext, Span, solve};
/// let disc = |r: f64| std::f64::consts::PI * r * r;
/// let context = SpacingContext { guide_radius_mm: 300.0, zero_mm: 0.0, farthest_mm: 600.0, cloth_area: &disc };
/// let span = Some(Span::ToEnd { leave_mm: 20.0 });
/// let inward = Progression::Ratio { count: Some(8), first_gap_mm: None, last_gap_mm: None, ratio: Some(0.85), span };
/// let solved = solve(&inward, Side::Inward, &context)?;
/// assert_eq!(solved.radii_mm.len(), 8);
/// assert!((solved.radii_mm[7] - 20.0).abs() < 1e-9);
/// # Ok::<(), pleatwright::geometry::SpacingError>(())
/// ```
pub fn solve(progression: &Progression, side: Side, context: &SpacingContext<'_>) -> Result<Solved, SpacingError> {
    context.check()?;
    let with_side = |reason| SpacingError::Progression { side, reason };
    let (distances, factor, adjusted) = distances(progression, side, context).map_err(with_side)?;
    let guide_mm = context.guide_radius_mm;
    let radii_mm: Vec<f64> = distances.iter().map(|d| guide_mm + side.sign() * d).collect();
    let span_mm = distances.last().copied().unwrap_or(0.0);
    if radii_mm.last().is_some_and(|&r| r <= guide_mm * 1e-12) {
        return Err(with_side(ProgressionError::PastCentre { span_mm, guide_mm }));
    }
    check_order(&radii_mm, side, guide_mm).map_err(with_side)?;
    let gap = |i: usize| distances[i] - if i == 0 { 0.0 } else { distances[i - 1] };
    let ends = if distances.is_empty() { (0.0, 0.0) } else { (gap(0), gap(distances.len() - 1)) };
    let count = (0..).zip(&radii_mm).last().map_or(0, |(i, _)| i + 1);
    Ok(Solved { radii_mm, first_gap_mm: ends.0, last_gap_mm: ends.1, span_mm, count, factor, adjusted })
}

/// Gaps far below what `f64` resolves at this radius vanish: refused like any gap that is not above zero.
fn check_order(radii_mm: &[f64], side: Side, guide_mm: f64) -> Result<(), ProgressionError> {
    let mut before = guide_mm;
    for (number, &radius) in (1..).zip(radii_mm) {
        let gap_mm = side.sign() * (radius - before);
        if !(gap_mm > 0.0 && gap_mm.is_finite()) {
            return Err(ProgressionError::NegativeGap { number, gap_mm });
        }
        before = radius;
    }
    Ok(())
}

fn distances(progression: &Progression, side: Side, context: &SpacingContext<'_>) -> Result<Distances, ProgressionError> {
    let length = |span: &Option<Span>| span.map(|span| span_length(span, side, context)).transpose();
    match progression {
        Progression::Even { count, gap_mm, span } => {
            let (count, gap, adjusted) = solve_even(*count, *gap_mm, length(span)?)?;
            Ok(((1..=count).map(|i| f64::from(i) * gap).collect(), None, adjusted))
        }
        Progression::Step { count, first_gap_mm, last_gap_mm, step_mm, span } => {
            let (first, last, span) = (*first_gap_mm, *last_gap_mm, length(span)?);
            from_law(&StepLaw, &Knowns { count: *count, first, last, span, factor: *step_mm })
        }
        Progression::Ratio { count, first_gap_mm, last_gap_mm, ratio, span } => {
            let (first, last, span) = (*first_gap_mm, *last_gap_mm, length(span)?);
            from_law(&RatioLaw, &Knowns { count: *count, first, last, span, factor: *ratio })
        }
        Progression::Power { count, first_gap_mm, last_gap_mm, exponent, span } => {
            let (first, last, span) = (*first_gap_mm, *last_gap_mm, length(span)?);
            from_law(&PowerLaw { side }, &Knowns { count: *count, first, last, span, factor: *exponent })
        }
        Progression::EqualCloth { count, first_gap_mm, last_gap_mm, span } => {
            let (first, last, span) = (*first_gap_mm, *last_gap_mm, length(span)?);
            let knowns = ClothKnowns { count: *count, first, last, span };
            solve_equal_cloth(&knowns, side, context).map(|(distances, adjusted)| (distances, None, adjusted))
        }
        Progression::List { gaps_mm } => from_list(gaps_mm),
    }
}

fn from_law(law: &impl Law, knowns: &Knowns) -> Result<Distances, ProgressionError> {
    let (terms, adjusted) = solve_law(law, knowns)?;
    let mut distances: Vec<f64> = (1..terms.count).map(|i| law.distance(&terms, i)).collect();
    distances.push(terms.span);
    Ok((distances, Some(terms.factor), adjusted))
}

fn from_list(gaps_mm: &[f64]) -> Result<Distances, ProgressionError> {
    if let Some(count) = u32::try_from(gaps_mm.len()).ok().filter(|&n| n > 0) {
        check_count(f64::from(count))?;
    }
    let mut at = 0.0;
    let mut distances = Vec::new();
    for &gap in gaps_mm {
        check_length(Quantity::Gap, Some(gap))?;
        at += gap;
        distances.push(at);
    }
    Ok((distances, None, Vec::new()))
}

fn span_length(span: Span, side: Side, context: &SpacingContext<'_>) -> Result<f64, ProgressionError> {
    match span {
        Span::Length { length_mm } => Ok(length_mm),
        Span::ToEnd { leave_mm } => {
            let room_mm = match side {
                Side::Inward => context.guide_radius_mm,
                Side::Outward => context.farthest_mm - context.guide_radius_mm,
            };
            let fits = (0.0..room_mm).contains(&leave_mm);
            if fits { Ok(room_mm - leave_mm) } else { Err(ProgressionError::NoRoom { leave_mm, room_mm }) }
        }
    }
}
