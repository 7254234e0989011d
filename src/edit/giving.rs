//! Values of a spacing that decide each other: what was given last holds, what was given longest ago gives way.

use crate::geometry::{
    Adjustment, BindEdit, BindId, Known, KnownValues, MOST_OPENING, Progression, ProgressionError, ProgressionKind, Quantity,
    Side, Solved, SpacingError, SpacingSpec, Span,
};
use crate::layout::{Layout, LayoutError, LayoutSpec};
use crate::telling::Field;

/// In which order the values of a spacing were given.
///
/// Those that nobody has given yet are older than all others: first the factor gives way, then the last gap, the first gap, the number of
/// gaps, all gaps together (our own choice: a maker knows lengths and numbers rather than factors).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GivenOrder([Known; 5]);

impl Default for GivenOrder {
    fn default() -> Self {
        Self([Known::Factor, Known::LastGap, Known::FirstGap, Known::Count, Known::Span])
    }
}

impl GivenOrder {
    /// Takes note that this value was given now.
    pub fn give(&mut self, known: Known) {
        if let Some(at) = self.0.iter().position(|one| *one == known) {
            self.0[at..].rotate_left(1);
        }
    }

    /// The values in this order, the one given longest ago first.
    fn oldest_first(&self) -> impl Iterator<Item = Known> + '_ {
        self.0.iter().copied()
    }
}

/// The layout with a value of one side's spacing given, or taken back, as it is in `values`.
///
/// Given, it holds: of the others those given longest ago give way until all agree, and where too few are left to set the gaps, others
/// hold at what they came out as. Taken back, another one holds at what it came out as in its place. Nothing of this happens where the
/// values do as they are.
///
/// # Errors
/// [`LayoutError`] of the values as they were given, where nothing can give way.
pub(super) fn give(
    layout: &Layout,
    side: Side,
    known: Known,
    values: KnownValues,
    order: &GivenOrder,
) -> Result<LayoutSpec, LayoutError> {
    let (now, solved) = of_side(layout, side);
    let kind = ProgressionKind::of(now);
    let (mut refused, mut nearly) = (None, None);
    for candidate in candidates(known, values, &KnownValues::solved(solved), order) {
        let Some(progression) = candidate.progression(kind) else { continue };
        match laid(layout, side, progression) {
            Ok(laid) if holds(of_side(&laid, side).1, known, &values) => return Ok(laid.raw().clone()),
            Ok(laid) => drop(nearly.get_or_insert(laid)),
            Err(error) => drop(refused.get_or_insert(error)),
        }
    }
    match (nearly, refused) {
        (Some(laid), _) => Ok(laid.raw().clone()),
        (None, Some(error)) => Err(error),
        (None, None) => Ok(layout.raw().clone()),
    }
}

/// The layout with as many binds in all, by hand and by spacing.
///
/// Ratios and spans of the sides hold, and the gaps grow or shrink. The two sides share the gaps so that the ones beside the guide are to
/// each other as nearly as can be what they were: gaps that ran on evenly over the guide still do.
///
/// # Errors
/// [`LayoutError`] of the number of gaps that a side would need.
pub(super) fn give_bind_count(layout: &Layout, count: u32) -> Result<LayoutSpec, LayoutError> {
    if layout.spiral().is_some() {
        let mut raw = layout.raw().clone();
        if let Some(spiral) = raw.fold.spiral_mut() {
            // Each band is two.
            spiral.bands = count.div_ceil(2);
        }
        return Ok(raw);
    }
    if layout.binds().binds.is_empty() && count > 0 {
        // What blocks alone hold: its first bind comes back, and the others beside it.
        let mut raw = layout.raw().clone();
        raw.binds.edits.retain(|edit| *edit != BindEdit::Remove { bind: 0 });
        let (first_mm, length_mm) = (layout.guide_mm(), layout.fold().length_mm());
        let even = |room_mm: f64| Progression::Even {
            count: Some(1),
            gap_mm: None,
            span: Some(Span::ToEnd { leave_mm: (FREE_SHARE * room_mm).round() }),
        };
        (raw.binds.inward, raw.binds.outward) = (even(first_mm), even(length_mm - first_mm));
        return give_bind_count(&Layout::try_from(raw)?, count);
    }
    let placed = layout.binds();
    let now = u32::try_from(placed.binds.len()).unwrap_or(u32::MAX);
    let (inward, outward) = (placed.inward.count, placed.outward.count);
    // What edits add or take away stays.
    let Some(gaps) = (inward + outward).saturating_add(count).checked_sub(now) else {
        let reason = ProgressionError::CountOutOfRange { count: 0.0 };
        let problem = SpacingError::Progression { side: Side::Inward, reason };
        return Err(LayoutError { field: Field::from("binds.inward"), problem: problem.into() });
    };
    let most_inward = if outward > 0 { gaps.saturating_sub(1) } else { gaps };
    let least_inward = u32::from(inward > 0).min(most_inward);
    let share = (u64::from(gaps) * u64::from(inward) + u64::from(inward + outward) / 2) / u64::from((inward + outward).max(1));
    let new_inward = u32::try_from(share).unwrap_or(u32::MAX).clamp(least_inward, most_inward);
    let shared = |new_inward: u32| with_gaps(layout, [new_inward, gaps - new_inward]);
    let mut best = shared(new_inward)?;
    if inward == 0 || outward == 0 || gaps == inward + outward {
        return Ok(best.raw().clone());
    }
    // From the share that they have now, either way as long as it becomes better.
    for step in [-1_i32, 1] {
        let (mut at, mut tried) = (new_inward, 0);
        while let Some(next) = at.checked_add_signed(step).filter(|next| (least_inward..=most_inward).contains(next)) {
            let Some(other) = shared(next).ok().filter(|other| unevenness(layout, other) < unevenness(layout, &best)) else {
                break;
            };
            (best, at, tried) = (other, next, tried + 1);
            if tried == MOST_MOVED {
                break;
            }
        }
    }
    Ok(best.raw().clone())
}

/// What is left free beyond the last bind of a bundle that had none, as a share of the way from the first to the end (our own judgement).
const FREE_SHARE: f64 = 0.2;

/// Most gaps that are moved from one side to the other: beyond, a layout is not what it was (own choice).
const MOST_MOVED: u32 = 40;

/// Whether the gaps open toward the centre over the guide by much, as they did not before, and how far they are from being to each other what they
/// were: the difference of logarithms. Of two, the lesser is the better.
fn unevenness(before: &Layout, after: &Layout) -> (bool, f64) {
    let over_guide = |layout: &Layout| {
        let placed = layout.binds();
        (placed.inward.first_gap_mm / placed.outward.first_gap_mm).ln()
    };
    let [was, is] = [before, after].map(over_guide);
    (is > was.max(MOST_OPENING.ln()), (is - was).abs())
}

/// The layout with so many gaps inward and outward, by its sides' ratios and spans.
fn with_gaps(layout: &Layout, gaps: [u32; 2]) -> Result<Layout, LayoutError> {
    // A maker who counts binds has said nothing of lengths: the gaps beside the guide give way before ratio or exponent do.
    let mut order = GivenOrder::default();
    order.give(Known::Factor);
    let placed = layout.binds();
    let sides = [(Side::Inward, placed.inward.count, gaps[0]), (Side::Outward, placed.outward.count, gaps[1])];
    let mut laid = layout.clone();
    for (side, before, after) in sides.into_iter().filter(|(_, before, after)| before != after) {
        if after == 0 {
            laid = self::laid(&laid, side, Progression::List { gaps_mm: Vec::new() })?;
            continue;
        }
        let by_numbers = with_numbers(&laid, side, before)?;
        let values = KnownValues { count: Some(after), ..KnownValues::of(of_side(&by_numbers, side).0) };
        laid = Layout::try_from(give(&by_numbers, side, Known::Count, values, &order)?)?;
    }
    Ok(laid)
}

/// The layout with a side whose gaps are given by hand turned into one like it that goes by numbers.
fn with_numbers(layout: &Layout, side: Side, gaps: u32) -> Result<Layout, LayoutError> {
    let (progression, solved) = of_side(layout, side);
    match progression {
        Progression::List { .. } if gaps > 0 => laid(layout, side, ProgressionKind::Ratio.like(solved, side, layout.guide_mm())),
        _ => Ok(layout.clone()),
    }
}

/// Values that may stand for those given, the likeliest first.
fn candidates(known: Known, values: KnownValues, came_out: &KnownValues, order: &GivenOrder) -> Vec<KnownValues> {
    let others: Vec<Known> = order.oldest_first().filter(|other| *other != known).collect();
    let (given, free): (Vec<Known>, Vec<Known>) = others.into_iter().partition(|other| values.has(*other));
    let free: Vec<Known> = free.into_iter().rev().filter(|other| came_out.has(*other)).collect();
    let giving_way = if values.has(known) { subsets(&given) } else { vec![Vec::new()] };
    let mut list = Vec::new();
    for way in giving_way {
        let bare = way.iter().fold(values, |values, known| values.without(*known));
        list.extend(subsets(&free).into_iter().map(|held| held.iter().fold(bare, |values, known| values.with(*known, came_out))));
    }
    list
}

/// All choices from a list, the smaller ones first; of equal size those with what comes first in the list.
fn subsets(of: &[Known]) -> Vec<Vec<Known>> {
    let chosen = |bits: u32| of.iter().enumerate().filter(move |(at, _)| bits >> at & 1 == 1).map(|(_, known)| *known).collect();
    let mut all: Vec<Vec<Known>> = (0..1_u32 << of.len()).map(chosen).collect();
    all.sort_by_key(Vec::len);
    all
}

/// Whether a value came out as it was given. Gaps end where they end: a span that could not be filled to the end still holds.
fn holds(solved: &Solved, known: Known, values: &KnownValues) -> bool {
    let is_adjusted = |of: &[Quantity]| solved.adjusted.iter().any(|adjusted: &Adjustment| of.contains(&adjusted.what));
    match known {
        Known::Count => values.count.is_none_or(|count| count == solved.count),
        Known::FirstGap => !is_adjusted(&[Quantity::Gap, Quantity::FirstGap]),
        Known::LastGap => !is_adjusted(&[Quantity::LastGap]),
        Known::Factor => !is_adjusted(&[Quantity::Step, Quantity::Ratio, Quantity::Exponent]),
        Known::Span => true,
    }
}

/// The layout with a side's progression. What was said of binds and sections that it no longer has goes with them.
fn laid(layout: &Layout, side: Side, progression: Progression) -> Result<Layout, LayoutError> {
    let mut raw = layout.raw().clone();
    match side {
        Side::Inward => raw.binds.inward = progression,
        Side::Outward => raw.binds.outward = progression,
    }
    if !raw.binds.edits.is_empty() {
        let bare = SpacingSpec { edits: Vec::new(), ..raw.binds.clone() };
        let placed = Layout::try_from(without_single(LayoutSpec { binds: bare, ..raw.clone() }))?;
        let exists = |number: i32| placed.binds().binds.iter().any(|bind| bind.id == BindId::Numbered(number));
        raw.binds.edits.retain(|edit| match edit {
            BindEdit::Move { bind, .. } | BindEdit::Lock { bind, .. } | BindEdit::Remove { bind } => exists(*bind),
            BindEdit::Add { .. } => true,
        });
    }
    if !raw.colours.is_in_turn() {
        let sections = Layout::try_from(without_single(raw.clone()))?.sections();
        raw.colours.keep_sections(sections);
    }
    Layout::try_from(raw)
}

fn without_single(raw: LayoutSpec) -> LayoutSpec {
    LayoutSpec { colours: raw.colours.in_turn(), ..raw }
}

fn of_side(layout: &Layout, side: Side) -> (&Progression, &Solved) {
    let (raw, placed) = (&layout.raw().binds, layout.binds());
    match side {
        Side::Inward => (&raw.inward, &placed.inward),
        Side::Outward => (&raw.outward, &placed.outward),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Document, EditCommand};
    use crate::geometry::{GarmentKind, RawMeasures, Span};
    use crate::layout::starter_on_marks;
    use crate::measure::RuleMarks;

    fn document(inward: Progression) -> Document {
        let mut raw = starter_on_marks(GarmentKind::CrewTee, Some("M"), &RawMeasures::default(), RuleMarks::Exact).unwrap();
        raw.binds.inward = inward;
        raw.binds.edits.clear();
        Document::new(Layout::try_from(raw).unwrap())
    }

    fn inward(document: &Document) -> (KnownValues, Solved) {
        let (progression, solved) = of_side(document.layout(), Side::Inward);
        (KnownValues::of(progression), solved.clone())
    }

    fn ratio() -> Progression {
        let span = Some(Span::ToEnd { leave_mm: 20.0 });
        Progression::Ratio { count: None, first_gap_mm: Some(30.0), last_gap_mm: None, ratio: Some(0.9), span }
    }

    fn given(
        document: &mut Document,
        known: Known,
        change: impl Fn(&mut KnownValues),
        order: &GivenOrder,
    ) -> Result<(), LayoutError> {
        let mut values = inward(document).0;
        change(&mut values);
        document.perform(&EditCommand::GiveSpacing(Side::Inward, known, values, *order))
    }

    /// A ratio that was given used to refuse a number of gaps.
    #[test]
    fn a_number_of_gaps_holds_and_the_ratio_gives_way() {
        let mut document = document(ratio());
        let (before, text) = (inward(&document).1, document.text());
        for count in [1, 2, before.count, 12, 30] {
            given(&mut document, Known::Count, |values| values.count = Some(count), &GivenOrder::default()).unwrap();
            let (values, solved) = inward(&document);
            assert_eq!(solved.count, count);
            if count > 1 {
                assert_eq!((values.factor, values.first_gap_mm), (None, Some(30.0)), "{count}");
                // The sum of a geometric progression (any textbook of algebra).
                let (ratio, n) = (solved.factor.unwrap(), f64::from(count));
                let sum = 30.0 * if (ratio - 1.0).abs() < 1e-9 { n } else { (1.0 - ratio.powf(n)) / (1.0 - ratio) };
                assert!((sum - (document.layout().guide_mm() - 20.0)).abs() < 1e-6, "{sum}");
            }
            document.undo();
            assert_eq!(document.text(), text, "one step takes it back");
        }
    }

    #[test]
    fn what_was_given_longest_ago_gives_way() {
        let mut order = GivenOrder::default();
        let mut document = document(ratio());
        for known in [Known::FirstGap, Known::Span] {
            order.give(known);
        }
        // The ratio was given in the file, before all else; now it is typed, and the first gap is the oldest.
        order.give(Known::Factor);
        given(&mut document, Known::Count, |values| values.count = Some(7), &order).unwrap();
        let (values, solved) = inward(&document);
        assert_eq!((values.first_gap_mm, values.factor, solved.count), (None, Some(0.9), 7));
    }

    /// Taking the ratio back used to be refused.
    #[test]
    fn what_is_taken_back_follows_from_the_others() {
        let mut document = document(ratio());
        let before = inward(&document).1;
        given(&mut document, Known::Factor, |values| values.factor = None, &GivenOrder::default()).unwrap();
        let (values, solved) = inward(&document);
        assert_eq!((values.factor, values.count), (None, Some(before.count)));
        assert_eq!(solved.count, before.count);
        for known in Known::ALL {
            given(&mut document, known, |values| *values = values.without(known), &GivenOrder::default()).unwrap();
            assert!(!inward(&document).0.has(known), "{known:?}");
        }
    }

    #[test]
    fn what_can_never_be_is_refused_as_it_was_given() {
        let mut document = document(ratio());
        let text = document.text();
        for gap_mm in [-5.0, f64::NAN, 1e9] {
            let refused =
                given(&mut document, Known::FirstGap, |values| values.first_gap_mm = Some(gap_mm), &GivenOrder::default());
            assert!(refused.is_err(), "{gap_mm}");
            assert_eq!(document.text(), text);
        }
    }

    #[test]
    fn binds_are_given_for_the_whole_rod() {
        let span = Some(Span::ToEnd { leave_mm: 20.0 });
        let of_numbers = ProgressionKind::ALL.into_iter().filter_map(|kind| {
            let values = KnownValues {
                count: Some(8),
                factor: Some(if kind == ProgressionKind::Step { -1.0 } else { 1.2 }),
                span,
                ..KnownValues::default()
            };
            values.progression(kind)
        });
        let by_hand = [vec![], vec![30.0, 25.0, 20.0]].map(|gaps_mm| Progression::List { gaps_mm });
        for progression in of_numbers.chain(by_hand) {
            let mut document = document(progression.clone());
            document.perform(&EditCommand::AddBind(7.5)).unwrap();
            for count in [12, 5, 20, 12] {
                let before = document.layout().binds().clone();
                document.perform(&EditCommand::SetBindCount(count)).unwrap();
                let after = document.layout().binds();
                assert_eq!(after.binds.len(), count as usize, "{progression:?}");
                let shares = [&before, after]
                    .map(|placed| f64::from(placed.inward.count) / f64::from(placed.inward.count + placed.outward.count));
                assert!((shares[0] - shares[1]).abs() < 0.5, "{shares:?}");
            }
            assert!(document.perform(&EditCommand::SetBindCount(0)).is_err());
        }
    }

    /// A list of gaps became a progression on the way and stayed one; a factor that gave way stayed away.
    #[test]
    fn a_number_of_binds_tried_and_left_leaves_nothing_behind() {
        let uneven = Progression::List { gaps_mm: vec![40.0, 22.0, 31.0, 8.0] };
        for progression in [ratio(), uneven] {
            let mut document = document(progression);
            document.perform(&EditCommand::RemoveBind(BindId::Numbered(-2))).unwrap();
            let (text, count) = (document.text(), u32::try_from(document.layout().binds().binds.len()).unwrap());
            let counts = [count + 1, count + 2, count + 1, count, count - 1, 2, count];
            let texts = counts.map(|count| {
                document.perform(&EditCommand::SetBindCount(count)).unwrap();
                document.text()
            });
            assert_eq!((&texts[3], &texts[6]), (&text, &text), "back to the number it began with");
            assert_eq!(texts[0], texts[2], "the same number, the same gaps");
            assert_ne!(texts[0], texts[1]);
            // What comes between begins anew.
            document.perform(&EditCommand::SetBindCount(count + 1)).unwrap();
            document.perform(&EditCommand::SetGuideRadius(document.layout().guide_mm() + 5.0)).unwrap();
            let text = document.text();
            document.perform(&EditCommand::SetBindCount(count + 1)).unwrap();
            assert_eq!(document.text(), text);
        }
    }

    #[test]
    fn what_was_said_of_lost_binds_goes_with_them() {
        let mut document = document(ratio());
        let last = i32::try_from(inward(&document).1.count).unwrap();
        document.perform(&EditCommand::RemoveBind(BindId::Numbered(-last))).unwrap();
        let sections = u32::try_from(document.layout().binds().binds.len() + 1).unwrap();
        document
            .perform(&EditCommand::SetSectionColour(sections, Some(document.layout().raw().colours.rotation[0].name.clone())))
            .unwrap();
        document.perform(&EditCommand::SetBindCount(4)).unwrap();
        let raw = document.layout().raw();
        assert!(raw.binds.edits.is_empty() && raw.colours.single.is_empty());
        document.undo();
        assert_eq!((document.layout().raw().binds.edits.len(), document.layout().raw().colours.single.len()), (1, 1));
    }
}
